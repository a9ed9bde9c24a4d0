"""Reads a table file's groups of balls and its racks of touching balls."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from stunline.equipment.measures import ROWS, Measures
from stunline.equipment.model import Point
from stunline.files.toml_fields import Section, name_in
from stunline.files.words import kind_of, shown

_RACK_KEYS = ("group", "balls", "shape", "rows", "apex_spot", "apex_above_spot")
_REQUIRED = ("rows", "apex_spot", "apex_above_spot")


def triangle(rows: int) -> tuple[int, ...]:
    """Balls in each row, the apex first: 1, 2, 3, …"""
    return tuple(range(1, rows + 1))


def diamond(rows: int) -> tuple[int, ...]:
    """Balls in each row of an odd number of rows: 1, 2, 3, 2, 1."""
    widest = (rows + 1) // 2
    return tuple(min(row, 2 * widest - row) for row in range(1, 2 * widest))


_SHAPES = {"triangle": triangle, "diamond": diamond}


def rack_places(apex: Point, rows: Sequence[int], radius: float) -> tuple[Point, ...]:
    """Touching balls, the apex towards the near end.

    Balls of a row stand 2R apart, rows R√3. From the apex row by row, each row from left
    to right seen from the near end.

    Args:
        apex: centre of the ball at the apex [m]
        rows: how many balls stand in each
        radius: R of every ball [m]
    """
    x, y = apex
    return tuple(
        (x + (2 * place - count + 1) * radius, y + row * radius * math.sqrt(3.0))
        for row, count in enumerate(rows)
        for place in range(count)
    )


def read_groups(root: Section, balls: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """Names of the balls that a position file may place under one key."""
    section = root.named("groups", 'reds = ["red1", "red2"]')
    if section is None:
        return {}
    read = {group: names_of_balls(section, group, balls) for group in section}
    return {group: names for group, names in read.items() if names is not None}


def names_of_balls(section: Section, key: str, balls: tuple[str, ...]) -> tuple[str, ...] | None:
    """The balls of the set that a list names; None with a fault noted when it is no list."""
    members = section[key]
    if not isinstance(members, list):
        section.faults.add(
            section.at(key),
            f"{key} must be a list of balls, not {kind_of(members)}",
            given=shown(members),
            allowed="names of balls of the set",
            remedy='["red1", "red2"]',
        )
        return None
    read = [
        name_in(name, (*section.at(key), index), "the ball", balls, section.faults)
        for index, name in enumerate(members)
    ]
    return tuple(dict.fromkeys(name for name in read if name is not None))


def read_racks(
    root: Section,
    measures: Measures,
    spots: Mapping[str, Point],
    groups: Mapping[str, tuple[str, ...]],
    radii: Mapping[str, float],
) -> dict[str, dict[str, Point]]:
    """Each rack's balls with their places, from the apex row by row. [m]"""
    entries = root.tables("racks", _RACK_KEYS, "[racks.triangle]")
    read = {name: _rack(entry, measures, spots, groups, radii) for name, entry in entries.items()}
    return {name: places for name, places in read.items() if places is not None}


def _rack(
    entry: Section,
    measures: Measures,
    spots: Mapping[str, Point],
    groups: Mapping[str, tuple[str, ...]],
    radii: Mapping[str, float],
) -> dict[str, Point] | None:
    for key in _REQUIRED:
        entry.require(key, key.replace("_", " "), "what a rack needs", "see a shipped table")
    members = _members(entry, groups, tuple(radii))
    shape = _SHAPES[entry.name("shape", "the shape", tuple(_SHAPES)) or "triangle"]
    spot = entry.name("apex_spot", "the spot", tuple(spots))
    rows = measures.read(entry, "rows", ROWS)
    above = measures.read(entry, "apex_above_spot", measures.lengths(signed=True))
    if members is None or spot is None or rows is None or above is None:
        return None
    counts = shape(int(rows))
    sizes = {radii[name] for name in members}
    if rows != int(rows) or sum(counts) != len(members) or len(sizes) != 1:
        entry.faults.add(
            entry.at("rows"),
            "the rack does not fit its balls",
            given=f"{rows:g} rows for {len(members)} balls of {len(sizes)} sizes",
            allowed="balls of one size that fill rows of 1, 2, 3, …, or 1, 2, 3, 2, 1",
            remedy="5 rows for 15 balls",
        )
        return None
    x, y = spots[spot]
    places = rack_places((x, y + above), counts, sizes.pop())
    return dict(zip(members, places, strict=True))


def _members(
    entry: Section, groups: Mapping[str, tuple[str, ...]], balls: tuple[str, ...]
) -> tuple[str, ...] | None:
    """The balls of a rack in the order of its places: a group's, or listed one by one."""
    if ("group" in entry) == ("balls" in entry):
        entry.faults.add(
            entry.path,
            "a rack is filled with a group, or with balls named one by one",
            given="both group and balls" if "group" in entry else "neither group nor balls",
            allowed="one of the two",
            remedy=f'group = "{next(iter(groups), "reds")}"',
        )
        return None
    if "group" in entry:
        group = entry.name("group", "the group", tuple(groups))
        return None if group is None else groups[group]
    return names_of_balls(entry, "balls", balls)
