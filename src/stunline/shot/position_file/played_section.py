"""The [played] of a position file: what really happened after the stroke."""

from __future__ import annotations

from collections.abc import Mapping

from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.model import Point
from stunline.files.toml_fields import NumberField, Section
from stunline.files.words import Limits, listed, shown
from stunline.shot.happened import CushionMet, Happened
from stunline.shot.position_file.balls_section import place_in
from stunline.shot.position_file.names import Scene, balls_in_list
from stunline.shot.reading_error import HAND_TIME, TIMED_BY
from stunline.shot.words import with_article
from stunline.units import millimetres

PLAYED = "played"
SEEN = (
    "white_rest", "white_passed", "white_met", "white_missed", "white_cushion",
    "object_rest", "potted", "not_potted", "in_off", "time",
)  # fmt: skip
_KEYS = (*SEEN, "timed_by")
_EXAMPLE = "white_rest = [889.0, 1784.5]"
_CUSHION_EXAMPLE = '{ cushion = "right", at = 2100.0 }'
_TIME = NumberField("the time", Limits(0.1, 120.0, "s"), "6.4")
# A ball by a cushion seems nearer to it than can be when its place is read. [m] As in records of
# gauging; common practice, no source.
_TAPE_SLACK = 0.015


def read_played(root: Section, scene: Scene) -> Happened | None:
    """What happened; None when the file does not tell. Faults are noted."""
    section = root.section(PLAYED, _KEYS, f"[{PLAYED}] with {_EXAMPLE}")
    return None if section is None else happened_in(section, scene)


def happened_of(values: Mapping[str, object], scene: Scene) -> Happened:
    """The same of values that stand in no file. Faults are noted."""
    return happened_in(Section(values, (PLAYED,), scene.faults, _KEYS), scene)


def happened_in(section: Section, scene: Scene) -> Happened:
    """What the keys of the section say."""
    if not any(key in section for key in SEEN):
        section.faults.add(
            section.path,
            "nothing of what happened is told",
            given=listed(section) or "an empty table",
            allowed=f"one or more of {listed(SEEN)}",
            remedy=_EXAMPLE,
        )
    by = section.name("timed_by", "the way of timing", tuple(TIMED_BY))
    happened = Happened(
        white_rest=_place(section, "white_rest", scene),
        white_passed=_place(section, "white_passed", scene),
        object_rest=_place(section, "object_rest", scene),
        met=_balls(section, "white_met", scene),
        missed=_balls(section, "white_missed", scene),
        cushion=_cushion(section, scene),
        potted=_balls(section, "potted", scene),
        not_potted=_balls(section, "not_potted", scene),
        in_off=section.flag("in_off", "in_off"),
        time=section.number("time", _TIME),
        time_error=HAND_TIME if by is None else TIMED_BY[by],
    )
    _check_against_each_other(section, happened, scene)
    return happened


def _place(section: Section, key: str, scene: Scene) -> Point | None:
    """A ball's centre, on the table."""
    if key not in section:
        return None
    table = scene.table
    place = place_in(section[key], section.at(key), table, scene.faults)
    if place is None:
        return None
    least = nose_contact_distance(table.balls[table.cue_ball].radius, table.nose_height)
    near = least - _TAPE_SLACK
    x, y = place
    if near <= x <= table.width - near and near <= y <= table.length - near:
        return place
    scene.faults.add(
        section.at(key),
        "a ball's centre cannot be there",
        given=shown(section[key]),
        allowed=(
            f"{millimetres(least):.0f} to {millimetres(table.width - least):.0f} mm from the left, "
            f"{millimetres(least):.0f} to {millimetres(table.length - least):.0f} mm from the "
            f"{table.words.cushions[0]} cushion, and {millimetres(_TAPE_SLACK):.0f} mm beyond for "
            "the tape"
        ),
        remedy=f"the ball's centre; of {with_article(scene.white)} that fell: in_off = true",
    )
    return None


def _balls(section: Section, key: str, scene: Scene) -> tuple[str, ...]:
    """A ball, or a list of balls."""
    value = section.get(key)
    if isinstance(value, str):
        one = Section({key: [value]}, section.path, section.faults, (key,))
        return balls_in_list(one, key, scene)
    return balls_in_list(section, key, scene)


def _cushion(section: Section, scene: Scene) -> CushionMet | None:
    """A cushion by name, or with the place along it."""
    table, key = scene.table, "white_cushion"
    names = table.words.cushions
    value = section.get(key)
    if value is None:
        return None
    if isinstance(value, str):
        name = section.name(key, "the cushion", names)
        return None if name is None else CushionMet(names.index(name))
    entry = section.section(key, ("cushion", "at"), _CUSHION_EXAMPLE)
    if entry is None:
        return None
    entry.require("cushion", "the cushion", listed(names), _CUSHION_EXAMPLE)
    name = entry.name("cushion", "the cushion", names)
    if name is None:
        return None
    number = names.index(name)
    along = millimetres(table.length if number % 2 else table.width)
    at = entry.length(
        "at", NumberField("the place along the cushion", Limits(0.0, along, "mm"), "2100.0")
    )
    return None if "at" in entry and at is None else CushionMet(number, at)


def _check_against_each_other(section: Section, happened: Happened, scene: Scene) -> None:
    """What can't both be."""
    both = (
        ("white_missed", happened.met, happened.missed, "met and missed"),
        ("not_potted", happened.potted, happened.not_potted, "potted and not potted"),
    )
    for key, one, other, words in both:
        for name in other:
            if name in one:
                section.faults.add(
                    section.at(key),
                    f"{name} is said to be both {words}",
                    given=f'"{name}"',
                    allowed="each ball in one of the two lists",
                    remedy=f"leave {name} out of one",
                )
    if happened.in_off and happened.white_rest is not None:
        section.faults.add(
            section.at("in_off"),
            f"{scene.white} cannot both rest on the table and have gone in",
            given="white_rest and in_off = true",
            allowed="one of them",
            remedy="leave out white_rest, or in_off",
        )
