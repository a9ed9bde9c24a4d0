"""The [strike] of a position file: what the coach asks for."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace

from stunline.files.toml_fields import Faults, NumberField, Section, length, number
from stunline.files.toml_lines import KeyPath
from stunline.files.words import Limits, listed, nearest_name, plain, shown
from stunline.shot.position import (
    Aim,
    Arrive,
    ContactAim,
    DirectAim,
    Height,
    Lengths,
    NamedHeight,
    Pace,
    PocketWeight,
    StrikePlan,
)
from stunline.shot.position_file.names import (
    FULL,
    Scene,
    object_ball,
    pot,
    side_of_ball,
)
from stunline.shot.position_file.names import thickness as read_thickness
from stunline.units import millimetres, radians

AIMS = ("pot", "contact", "aim")
KEYS = (*AIMS, "pace", "height", "arrive", "side", "elevation")
POCKET_WEIGHT = "pocket weight"
HEIGHT_NAMES = ("centre", "max follow", "max screw")
# Follow ratio Rω/v on arrival. The cue can give (5/2)·(height/R), at most 1.25 at the miscue
# limit, and the cloth only brings it nearer to 1 from there.
_LARGEST_FOLLOW_RATIO = 1.25
ARRIVE_WORDS = {"stun": 0.0, "rolling": 1.0}

PACE = NumberField(
    "the pace",
    Limits(0.02, 15.0, unit="m/s"),
    "1.7",
    f'a text such as "2.5 lengths", or "{POCKET_WEIGHT}"',
)
# Fifteen m/s run about a dozen lengths on a fast cloth; solving says when a pace is out of reach.
LENGTHS = NumberField("the pace", Limits(0.0, 20.0, unit="lengths", above_low=True), "2.5")
AIM = NumberField("the aim", Limits(-360.0, 360.0, unit="degrees"), "63.2")
ELEVATION = NumberField("the elevation", Limits(0.0, 80.0, unit="degrees"), "0.0")
ARRIVE = NumberField(
    "the follow ratio on arrival",
    Limits(-_LARGEST_FOLLOW_RATIO, _LARGEST_FOLLOW_RATIO),
    "-0.4",
    'the text "stun" or "rolling"',
)
_FARTHEST_OFFSET = 1000.0  # mm; only keeps nonsense out, the miscue limit is checked after
HEIGHT = NumberField(
    "the height",
    Limits(-_FARTHEST_OFFSET, _FARTHEST_OFFSET, unit="mm"),
    "10.5",
    'the text "centre", "max follow" or "max screw"',
    with_unit="3/8 in",
)
SIDE = NumberField(
    "the side",
    Limits(-_FARTHEST_OFFSET, _FARTHEST_OFFSET, unit="mm"),
    "8.0 for right side, -8.0 for left",
    with_unit="5/16 in",
)
_LENGTHS_TEXT = re.compile(r"\s*([0-9]{1,6}(?:\.[0-9]{0,12})?|\.[0-9]{1,12})\s*lengths?\s*")
# A contact point at the very limit, summed from two offsets, may lie a rounding beyond [m].
_ROUNDING = 1e-12


def read_strike(root: Section, scene: Scene) -> StrikePlan | None:
    """The plan; None when a fault leaves it without an aim or a pace. Faults are noted."""
    root.require("strike", "[strike]", "pot, contact or aim; and a pace", "[strike]")
    section = root.section("strike", KEYS, "[strike]")
    if section is None:
        return None
    aim = _aim(section, scene)
    pace = _required_pace(section, scene)
    height = _height(section, scene)
    side = section.length("side", on_the_white(SIDE, scene)) or 0.0
    elevation = radians(section.number("elevation", ELEVATION) or 0.0)
    check_miscue(height, side, scene, section.at("height" if "height" in section else "side"))
    if aim is None or pace is None:
        return None
    return StrikePlan(aim, pace, height, side, elevation)


def read_pace(value: object, path: KeyPath, potting: bool, scene: Scene) -> Pace | None:
    """A pace in m/s, in lengths, or pocket weight; None with a fault noted.

    Args:
        potting: whether the strike pots a ball, which pocket weight needs
    """
    faults = scene.faults
    if not isinstance(value, str):
        return number(value, path, PACE, faults)
    if value == POCKET_WEIGHT:
        if potting:
            return PocketWeight()
        faults.add(
            path,
            "pocket weight is the pace at which a potted ball just drops, and no ball is potted",
            given=shown(value),
            allowed="pocket weight only with a pot",
            remedy=f"pot = {scene.pot_example}, or a pace such as 1.7",
        )
        return None
    match = _LENGTHS_TEXT.fullmatch(value)
    if match is None:
        _unknown_pace(value, path, faults)
        return None
    lengths = number(float(match[1]), path, LENGTHS, faults)
    return None if lengths is None else Lengths(lengths)


def on_the_white(field: NumberField, scene: Scene) -> NumberField:
    """The field of a height or a side, with the limits beyond which the tip slips off."""
    table = scene.table
    limit = millimetres(table.cue.miscue_offset * table.balls[table.cue_ball].radius)
    end = plain(round(limit, 4))
    return replace(field, within=f"-{end} to {end} mm, beyond which the tip slips off")


def read_height(value: object, path: KeyPath, scene: Scene) -> Height | None:
    """A height [m] or the name of one; None with a fault noted."""
    if value == "centre":
        return NamedHeight("centre")
    if value == "max follow":
        return NamedHeight("max follow")
    if value == "max screw":
        return NamedHeight("max screw")
    near = nearest_name(value, HEIGHT_NAMES) if isinstance(value, str) else None
    if near is None:
        return length(value, path, on_the_white(HEIGHT, scene), scene.faults)
    scene.faults.add(
        path,
        "there is no height of that name",
        given=shown(value),
        allowed=f"a number of mm, or {listed(HEIGHT_NAMES)}",
        remedy=f'"{near}"',
    )
    return None


def check_miscue(height: Height, side: float, scene: Scene, path: KeyPath) -> None:
    """Notes a fault when the tip would slip off the white.

    Args:
        height, side: of the contact point [m]
    """
    table = scene.table
    radius = table.balls[table.cue_ball].radius
    share = table.cue.miscue_offset
    words = f"{'half' if share == 0.5 else plain(share) + ' of'} {scene.white}'s radius"
    up = 0.0
    if isinstance(height, float):
        up = height
    elif isinstance(height, NamedHeight) and height.name != "centre":
        share, words = (
            table.cue.safe_offset,
            "this cue's advised limit, which max follow and screw keep",
        )
    limit, offset = share * radius, math.hypot(up, side)
    if offset <= limit + _ROUNDING:
        return
    inward = math.floor(limit / offset * 1e4) / 1e4
    parts = [("height", up), ("side", side)]
    given = [f"{name} {plain(round(millimetres(value), 3))} mm" for name, value in parts if value]
    remedy = [
        f"{name} = {math.copysign(math.floor(abs(millimetres(value)) * inward * 10) / 10, value):g}"
        for name, value in parts
        if value
    ]
    scene.faults.add(
        path,
        "the tip would slip off (a miscue): the contact point is "
        f"{millimetres(offset):.2f} mm from {scene.white}'s centre",
        given=", ".join(given),
        allowed=f"at most {plain(round(millimetres(limit), 4))} mm, {words}",
        remedy=", ".join(remedy),
    )


def _aim(section: Section, scene: Scene) -> Aim | None:
    """The one of pot, contact and aim that is given."""
    given = [key for key in AIMS if key in section]
    readers: dict[str, Callable[[], Aim | None]] = {
        "pot": lambda: pot(section, scene),
        "contact": lambda: _contact(section, scene),
        "aim": lambda: _direction(section),
    }
    if not given:
        section.faults.add(
            section.path,
            f"nothing says where {scene.white} should go",
            given="none of pot, contact, aim",
            allowed="exactly one of pot, contact, aim",
            remedy=f"pot = {scene.pot_example}"
            if scene.table.pockets
            else f"contact = {scene.contact_example}",
        )
    elif len(given) > 1:
        section.faults.add(
            section.at(given[1]),
            f"more than one key says where {scene.white} should go",
            given=listed(given, " and "),
            allowed="exactly one of pot, contact, aim",
            remedy=f"keep {given[0]}, and put a # before {listed(given[1:], ' and ')}",
        )
    aims = [readers[key]() for key in given]
    return aims[0] if len(aims) == 1 else None


def _direction(section: Section) -> DirectAim | None:
    angle = section.number("aim", AIM)
    return None if angle is None else DirectAim(radians(angle))


def _contact(section: Section, scene: Scene) -> ContactAim | None:
    example = scene.contact_example
    entry = section.section("contact", ("ball", "thickness", "on"), example)
    if entry is None:
        return None
    for key in ("ball", "thickness"):
        entry.require(key, f"the {key} of the contact", "a ball and a thickness", example)
    ball = object_ball(entry["ball"], entry.at("ball"), scene) if "ball" in entry else None
    thickness = None
    if "thickness" in entry:
        thickness = read_thickness(entry["thickness"], entry.at("thickness"), scene.faults)
    side = side_of_ball(entry)
    if thickness is not None and thickness < FULL and "on" not in entry:
        scene.faults.add(
            entry.at("on"),
            f"the contact does not say on which side {scene.white} meets the ball",
            given=f"thickness {shown(entry['thickness'])}, no side",
            allowed='on = "left" or on = "right", unless the contact is full',
            remedy=f'on = "left", the left side seen along {scene.white}\'s way',
        )
        return None
    if ball is None or thickness is None:
        return None
    return ContactAim(ball, thickness, side)


def _required_pace(section: Section, scene: Scene) -> Pace | None:
    section.require("pace", "the pace", PACE.allowed(), "pace = 1.7")
    if "pace" not in section:
        return None
    return read_pace(section["pace"], section.at("pace"), "pot" in section, scene)


def _height(section: Section, scene: Scene) -> Height:
    """The height or the way of arriving; centre when neither is given or a fault is noted."""
    if "arrive" not in section:
        if "height" not in section:
            return 0.0
        height = read_height(section["height"], section.at("height"), scene)
        return 0.0 if height is None else height
    arrive = _arrive(section["arrive"], section.at("arrive"), section.faults)
    if "height" in section:
        section.faults.add(
            section.at("arrive"),
            "both height and arrive are given, and arrive solves the height",
            given=f"height {shown(section['height'])}, arrive {shown(section['arrive'])}",
            allowed="one of the two",
            remedy="put a # before one of them",
        )
    return 0.0 if arrive is None else arrive


def _arrive(value: object, path: KeyPath, faults: Faults) -> Arrive | None:
    if isinstance(value, str) and value in ARRIVE_WORDS:
        return Arrive(ARRIVE_WORDS[value])
    if isinstance(value, str):
        near = nearest_name(value, tuple(ARRIVE_WORDS))
        faults.add(
            path,
            "there is no way of arriving of that name",
            given=shown(value),
            allowed=f'"stun", "rolling", or the follow ratio Rω/v, {ARRIVE.limits.words()}',
            remedy=f'"{near}"' if near else "-0.4 for 40 % screw",
        )
        return None
    ratio = number(value, path, ARRIVE, faults)
    return None if ratio is None else Arrive(ratio)


def _unknown_pace(value: str, path: KeyPath, faults: Faults) -> None:
    """Notes a pace in words that are not known, most often one with its unit."""
    match = re.match(r"\s*([0-9]*\.?[0-9]+)\s*(m/s|$)?", value)
    near = nearest_name(value, (POCKET_WEIGHT,))
    remedy = f'"{near}"' if near else '1.7, or "2.5 lengths"'
    if match and not near:
        metres_per_second = match[2] is not None
        remedy = f"{match[1]} without quotes" if metres_per_second else f'"{match[1]} lengths"'
    faults.add(
        path,
        "this pace is not understood",
        given=shown(value),
        allowed=PACE.allowed(),
        remedy=remedy,
    )
