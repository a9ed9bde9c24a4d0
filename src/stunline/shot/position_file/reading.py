"""Position files: TOML in millimetres, degrees and m/s, read into frozen SI data.

The whole schema of the file is owned here and in the modules beside it, one for
each section. Every fault of a file is reported at once, each with its line, the value
given, what is allowed and what to try.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

from stunline.equipment.based_on import STANDARD, is_table_file, table_names
from stunline.equipment.catalogue import load_table
from stunline.equipment.model import Cloth, Table
from stunline.errors import Fault, InputError
from stunline.files.text_file import read_text_file
from stunline.files.toml_fields import Faults, Section
from stunline.files.toml_lines import parse_toml
from stunline.files.words import quoted
from stunline.shot.goal import Goal
from stunline.shot.happened import Happened
from stunline.shot.position import LadderPlan, Position, StrikePlan
from stunline.shot.position_file.balls_section import read_balls
from stunline.shot.position_file.coefficients_section import read_coefficients
from stunline.shot.position_file.goal_section import read_goal
from stunline.shot.position_file.ladder_section import read_ladder
from stunline.shot.position_file.names import Scene
from stunline.shot.position_file.played_section import read_played
from stunline.shot.position_file.rack_value import SetRack
from stunline.shot.position_file.strike_section import read_strike
from stunline.shot.position_file.table_section import read_table

DisplayUnits = Literal["mm", "in"]
DISPLAY_UNITS: tuple[DisplayUnits, DisplayUnits] = ("mm", "in")
RECORD_KEY = "measured"  # plays of a gauging record, which no position has
_KEYS = (
    "title",
    "table",
    "cloth",
    "units",
    "coefficients",
    "balls",
    "strike",
    "ladder",
    "goal",
    "played",
)


@dataclass(frozen=True, slots=True)
class PositionFile:
    """A position file's contents, validated, in SI units and radians.

    Attributes:
        title: for people, or ""
        position: the balls on the table, with the coefficients in force
        plan: the strike that is asked for
        ladder: the same shot again with one thing changed, or None
        goal: what the coach wants of the shot, or None
        units: that lengths are shown in, "mm" or "in"
        source: the file's name as it was given, or ""
        racks: key of [balls] → the rack that it sets up
        happened: what really happened after the stroke, or None
    """

    title: str
    position: Position
    plan: StrikePlan
    ladder: LadderPlan | None = None
    goal: Goal | None = None
    units: DisplayUnits = "mm"
    source: str = ""
    racks: Mapping[str, SetRack] = field(default_factory=dict)
    happened: Happened | None = None


def read_position_file(path: str | os.PathLike[str]) -> PositionFile:
    """A position file's contents.

    Raises:
        InputError: with every fault of the file and its line; or that the file is missing,
            larger than 1 MB, not UTF-8 or not TOML.
    """
    source = os.fspath(path)
    text = read_text_file(source, "a position file")
    return parse_position(text, source, Path(source).parent)


def parse_position(text: str, source: str = "", folder: Path | None = None) -> PositionFile:
    """The contents of a position file's text.

    Args:
        text: TOML
        source: the file's name, for messages
        folder: that a table file named in it stands in; None: only shipped tables

    Raises:
        InputError: with every fault of the text and its line.
    """
    faults = Faults()
    values = parse_toml(text, source)
    if RECORD_KEY in values and not {"balls", "strike"} & set(values):
        raise InputError([_a_record(source)], source)
    root = Section(values, (), faults, _KEYS)
    read = _read(root, source, folder)
    faults.raise_if_any(text, source)
    if read is None or read.file is None:
        raise AssertionError("a position file without faults must give a position")
    return read.file


def _a_record(source: str) -> Fault:
    return Fault(
        "this is a gauging record, not a position",
        given=f"[[{RECORD_KEY}]], and neither [balls] nor [strike]",
        allowed="a position file",
        remedy=f"stunline gauge fit {source or 'RECORD'}",
    )


@dataclass(frozen=True, slots=True)
class ReadValues:
    """What values of a position file come to, whether or not they are in order.

    Attributes:
        file: the contents, or None when there are faults
        playable: the same without ladder, goal and what happened, whose faults do not keep the
            shot from being played; None when others do
        faults: every fault, with its key and without a line
        position: the balls where they were asked to stand, overlapping perhaps: for a picture
        scene: what the names of a strike may refer to
    """

    file: PositionFile | None
    playable: PositionFile | None
    faults: tuple[Fault, ...]
    position: Position
    scene: Scene


def read_values(values: Mapping[str, object], folder: Path | None = None) -> ReadValues:
    """The values of a position file that never were text: the same checks, faults by key.

    Args:
        values: as a TOML parser gives them
        folder: that a table file named in them stands in; None: only shipped tables
    """
    faults = Faults()
    read = _read(Section(values, (), faults, _KEYS), "", folder)
    stood_in = read is None
    if read is None:  # a table file with faults; the shipped table stands in for the picture
        shipped = Section({**values, "table": STANDARD}, (), Faults(), _KEYS)
        read = _read(shipped, "", None)
    assert read is not None
    in_order, playable = (None, None) if stood_in else (read.file, read.playable)
    return ReadValues(in_order, playable, faults.by_key(), read.position, read.scene)


@dataclass(frozen=True, slots=True)
class _Read:
    """What the sections come to; no file when a fault leaves none to give back."""

    position: Position
    scene: Scene
    file: PositionFile | None = None
    playable: PositionFile | None = None


def _read(root: Section, source: str, folder: Path | None) -> _Read | None:
    """Every section in turn; None when there is no table to read them for."""
    title = root.text("title", "the title", "Black to the top right pocket") or ""
    units = root.name("units", "the units", DISPLAY_UNITS) or "mm"
    table = _table(root, folder)
    if table is None:
        return None
    cloth = _cloth(root, table)
    coefficients = read_coefficients(root, cloth)
    balls = read_balls(root, table)
    pockets = tuple(pocket.name for pocket in table.pockets) if coefficients.pockets else ()
    scene = Scene(table, balls.named, pockets, root.faults, balls.places)
    plan = read_strike(root, scene)
    can_be_played = not root.faults
    ladder = read_ladder(root, plan, scene, folder)
    goal = read_goal(root, scene, plan)
    happened = read_played(root, scene)
    position = Position(table, cloth.name, coefficients, balls.places, title)
    if plan is None or not can_be_played:
        return _Read(position, scene)
    shown_in: DisplayUnits = "in" if units == "in" else "mm"
    playable = PositionFile(title, position, plan, units=shown_in, source=source, racks=balls.racks)
    file = None if root.faults else replace(playable, ladder=ladder, goal=goal, happened=happened)
    return _Read(position, scene, file, playable)


def _table(root: Section, folder: Path | None) -> Table | None:
    """The table. Where its name is missing or unknown the rest is checked on a shipped one."""
    names = table_names()
    root.require("table", "the table", f"{quoted(names)}, or a table file", f'table = "{STANDARD}"')
    value = root.get("table")
    table = None if value is None else read_table(value, root.at("table"), folder, root.faults)
    if table is None and not (isinstance(value, str) and is_table_file(value)):
        return load_table(STANDARD)
    return table


def _cloth(root: Section, table: Table) -> Cloth:
    name = root.name("cloth", "the cloth", tuple(table.cloths))
    return table.default_cloth() if name is None else table.cloths[name]
