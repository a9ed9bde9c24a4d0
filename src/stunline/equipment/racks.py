"""Reads a table file's groups of balls and its racks of touching balls."""

from __future__ import annotations

import math
from collections.abc import Mapping

from stunline.equipment.measures import ROWS, Measures
from stunline.equipment.model import Point
from stunline.files.toml_fields import Section, name_in
from stunline.files.words import kind_of, shown

_RACK_KEYS = ("group", "rows", "apex_spot", "apex_above_spot")


def triangle(apex: Point, rows: int, radius: float) -> tuple[Point, ...]:
    """Touching balls in rows of 1, 2, 3, …, the apex towards baulk.

    Balls of a row stand 2R apart, rows R√3. From the apex row by row, each row from left
    to right seen from baulk.

    Args:
        apex: centre of the ball at the apex [m]
        rows: how many
        radius: R of every ball [m]
    """
    x, y = apex
    return tuple(
        (x + (2 * place - row) * radius, y + row * radius * math.sqrt(3.0))
        for row in range(rows)
        for place in range(row + 1)
    )


def read_groups(root: Section, balls: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """Names of the balls that a position file may place under one key."""
    section = root.named("groups", 'reds = ["red1", "red2"]')
    groups: dict[str, tuple[str, ...]] = {}
    if section is None:
        return groups
    for group in section:
        members = section[group]
        if not isinstance(members, list):
            section.faults.add(
                section.at(group),
                f"a group must be a list of balls, not {kind_of(members)}",
                given=shown(members),
                allowed="names of balls of the set",
                remedy='["red1", "red2"]',
            )
            continue
        read = [
            name_in(name, (*section.at(group), index), "the ball", balls, section.faults)
            for index, name in enumerate(members)
        ]
        groups[group] = tuple(name for name in read if name is not None)
    return groups


def read_racks(
    root: Section,
    measures: Measures,
    spots: Mapping[str, Point],
    groups: Mapping[str, tuple[str, ...]],
    radii: Mapping[str, float],
) -> dict[str, tuple[Point, ...]]:
    """Places of each rack, in the order of the names it fills. [m]"""
    entries = root.tables("racks", _RACK_KEYS, "[racks.triangle]")
    read = {name: _rack(entry, measures, spots, groups, radii) for name, entry in entries.items()}
    return {name: places for name, places in read.items() if places is not None}


def _rack(
    entry: Section,
    measures: Measures,
    spots: Mapping[str, Point],
    groups: Mapping[str, tuple[str, ...]],
    radii: Mapping[str, float],
) -> tuple[Point, ...] | None:
    for key in _RACK_KEYS:
        entry.require(key, key.replace("_", " "), "a rack's four keys", "see a shipped table")
    group = entry.name("group", "the group", tuple(groups))
    spot = entry.name("apex_spot", "the spot", tuple(spots))
    rows = measures.read(entry, "rows", ROWS)
    above = measures.read(entry, "apex_above_spot", measures.lengths(signed=True))
    if group is None or spot is None or rows is None or above is None:
        return None
    members = groups[group]
    count = int(rows) * (int(rows) + 1) // 2
    sizes = {radii[name] for name in members}
    if rows != int(rows) or count != len(members) or len(sizes) != 1:
        entry.faults.add(
            entry.at("rows"),
            "the rack does not fit its group",
            given=f"{rows:g} rows for {len(members)} balls of {len(sizes)} sizes",
            allowed="rows of 1, 2, 3, … balls of one size that use up the group",
            remedy="5 rows for 15 balls",
        )
        return None
    x, y = spots[spot]
    return triangle((x, y + above), int(rows), sizes.pop())
