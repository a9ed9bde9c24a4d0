"""The [ladder] of a position file: the same shot again with one thing changed."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from pathlib import Path

from stunline.equipment.based_on import is_table_file
from stunline.equipment.model import Table
from stunline.files.toml_fields import NumberField, Section, length, name_in
from stunline.files.toml_lines import KeyPath
from stunline.files.words import Limits, kind_of, listed, quoted, shown
from stunline.shot.position import (
    Arrive,
    ContactAim,
    LadderPlan,
    LadderVariable,
    PotAim,
    StrikePlan,
)
from stunline.shot.position_file import touching
from stunline.shot.position_file.balls_section import ROUNDING, inside_cushions
from stunline.shot.position_file.names import Scene, thickness, too_many
from stunline.shot.position_file.strike_section import (
    SIDE,
    check_miscue,
    on_the_white,
    read_height,
    read_pace,
)
from stunline.shot.position_file.table_section import read_table
from stunline.shot.words import ball_in_file

_VARIABLES: tuple[LadderVariable, ...] = (
    "pace",
    "height",
    "side",
    "thickness",
    "distance",
    "table",
    "cloth",
)
_MOST_RUNGS = 200  # a shot takes milliseconds to tens of them; more rungs only make a longer wait
_EXAMPLE = "values = [1.0, 1.7, 2.2]"
_EXAMPLES: Mapping[str, str] = {
    "height": "values = [-10.5, 0.0, 10.5]",
    "side": "values = [-5.0, 0.0, 5.0]",
    "thickness": 'values = ["half", "quarter"]',
    "distance": "values = [300.0, 600.0]",
    "table": 'values = ["snooker-12ft"]',
    "cloth": 'values = ["match", "club"]',
}
# Stands in for a faulty [strike], so that the rungs' own faults are still found.
_ANY_STRIKE = StrikePlan(PotAim("", ""), 1.0)
_Reader = Callable[[object, KeyPath], object]


def read_ladder(
    root: Section, plan: StrikePlan | None, scene: Scene, folder: Path | None
) -> LadderPlan | None:
    """The ladder; None when there is none or a fault leaves it empty. Faults are noted."""
    section = root.section("ladder", ("vary", "values"), "[ladder]")
    if section is None:
        return None
    section.require("vary", "what varies", listed(_VARIABLES), 'vary = "pace"')
    name = section.name("vary", "what varies", _VARIABLES)
    vary = next((variable for variable in _VARIABLES if variable == name), None)
    values = _values(section, name or "pace")
    if vary is None:
        return None
    if plan is not None:
        _check_against_strike(section, vary, plan, scene)
    reader = _reader(vary, plan or _ANY_STRIKE, scene, folder)
    read = [reader(value, (*section.at("values"), index)) for index, value in enumerate(values)]
    kept = tuple(value for value in read if value is not None)
    return LadderPlan(vary, kept) if kept else None


def _values(section: Section, vary: str) -> list[object]:
    """The rungs as they stand in the file."""
    example = _EXAMPLES.get(vary, _EXAMPLE)
    section.require("values", "the list of values", "one value for each rung", example)
    values = section.get("values")
    if values is None:
        return []
    if not isinstance(values, list) or not values:
        empty = isinstance(values, list)
        section.faults.add(
            section.at("values"),
            "the ladder has no rungs" if empty else f"values must be a list, not {kind_of(values)}",
            given=shown(values),
            allowed="one value for each rung, in square brackets",
            remedy=example,
        )
        return []
    if len(values) > _MOST_RUNGS:
        too_many(section, "values", len(values), _MOST_RUNGS, "one shot is played for each")
    return values[:_MOST_RUNGS]


def _check_against_strike(section: Section, vary: str, plan: StrikePlan, scene: Scene) -> None:
    """What varies must be something that the strike leaves open."""
    path = section.at("vary")
    if vary == "height" and isinstance(plan.height, Arrive):
        section.faults.add(
            path,
            "the height cannot be varied while arrive solves it",
            given='vary = "height", with arrive in [strike]',
            allowed="a height ladder with a height in [strike]",
            remedy="replace arrive by height = 0.0 in [strike]",
        )
    if vary == "thickness":
        _check_thickness(section, path, plan, scene)


def _check_thickness(section: Section, path: KeyPath, plan: StrikePlan, scene: Scene) -> None:
    """A ladder of thicknesses needs a contact, and the side of the ball it is on."""
    contact = isinstance(plan.aim, ContactAim)
    if not contact:
        section.faults.add(
            path,
            "a thickness can only be varied in a contact",
            given=f"[strike] with {'a pot' if isinstance(plan.aim, PotAim) else 'an aim'}",
            allowed="a thickness ladder with contact in [strike]",
            remedy=f"contact = {scene.contact_example} in [strike]",
        )
    elif isinstance(plan.aim, ContactAim) and plan.aim.on is None:
        section.faults.add(
            path,
            f"the contact in [strike] does not say on which side {scene.white} meets the ball",
            given="a full contact, no side",
            allowed='on = "left" or on = "right" in the contact',
            remedy='on = "left"',
        )


def _reader(vary: LadderVariable, plan: StrikePlan, scene: Scene, folder: Path | None) -> _Reader:
    """How a rung of that kind is read."""
    faults = scene.faults
    longest = round(scene.table.length * 1000.0)
    distance = NumberField("the distance", Limits(0.0, longest, unit="mm"), "300.0")
    readers: Mapping[LadderVariable, _Reader] = {
        "pace": lambda value, path: read_pace(value, path, isinstance(plan.aim, PotAim), scene),
        "height": lambda value, path: _height(value, path, plan, scene),
        "side": lambda value, path: _side(value, path, plan, scene),
        "thickness": lambda value, path: thickness(value, path, faults),
        "distance": lambda value, path: length(value, path, distance, faults),
        "table": lambda value, path: _table(value, path, plan, scene, folder),
        "cloth": lambda value, path: name_in(
            value, path, "the cloth", tuple(scene.table.cloths), faults
        ),
    }
    return readers[vary]


def _height(value: object, path: KeyPath, plan: StrikePlan, scene: Scene) -> object:
    height = read_height(value, path, scene)
    if height is not None:
        check_miscue(height, plan.side, scene, path)
    return height


def _side(value: object, path: KeyPath, plan: StrikePlan, scene: Scene) -> object:
    side = length(value, path, on_the_white(SIDE, scene), scene.faults)
    if side is not None:
        check_miscue(plan.height, side, scene, path)
    return side


def _table(
    value: object, path: KeyPath, plan: StrikePlan, scene: Scene, folder: Path | None
) -> object:
    """Another table's name: one on which the same balls can stand at the same places."""
    table = read_table(value, path, folder, scene.faults)
    if table is None:
        return None
    unfit = _unfit(table, plan, scene)
    if not unfit:
        # Kept with its folder: the file stands beside the position, wherever that is read from.
        if folder is not None and is_table_file(str(value)):
            return str(folder / str(value))
        return value
    scene.faults.add(
        path,
        f"the position can't be played on that table: {unfit}",
        given=shown(value),
        allowed="tables with the same balls and pockets, on which every ball finds its place",
        remedy="leave it out, or move the balls",
    )
    return None


def _unfit(table: Table, plan: StrikePlan, scene: Scene) -> str:
    """Why the file's balls can't stand on that table, or ""."""
    strangers = [name for name in scene.on_table if name not in table.balls]
    if strangers:
        return f"it has no ball {quoted(strangers[:1])}"
    pockets = [pocket.name for pocket in table.pockets]
    if isinstance(plan.aim, PotAim) and plan.aim.pocket and plan.aim.pocket not in pockets:
        return f"it has no pocket {quoted([plan.aim.pocket])}"
    radii = {name: table.balls[name].radius for name in scene.places}
    for name, place in scene.places.items():
        if math.dist(inside_cushions(place, radii[name], table), place) > ROUNDING:
            return f"{ball_in_file(name)} would be off it or in a cushion"
    for one in touching.overlaps(scene.places, radii):
        if one.depth > touching.TOUCHING_TOLERANCE:
            return f"{ball_in_file(one.first)} and {ball_in_file(one.second)} would overlap"
    return ""
