"""Places of a record: on the table, in mm, apart from each other."""

from __future__ import annotations

import math

from stunline.calibration.record import READING, Reading
from stunline.equipment.model import Point, Table
from stunline.files.toml_fields import NumberField, Section, length
from stunline.files.words import Limits, kind_of, shown
from stunline.units import MILLIMETRES_PER_INCH, millimetres

_TAPE_SLACK = 0.015  # that a place may seem to be nearer to a cushion or ball than can be [m]
_IN_INCHES = f"multiply by {MILLIMETRES_PER_INCH:g}, or write the unit: "


class Places:
    """Reads the places of one ``[[measured]]``."""

    def __init__(self, section: Section, table: Table) -> None:
        self._section = section
        self._table = table
        self._radius = table.balls[table.cue_ball].radius

    def place(self, key: str) -> Point | None:
        """A ball's centre [m]; None when absent or faulty."""
        section = self._section
        if key not in section:
            return None
        value = section[key]
        if not isinstance(value, list) or len(value) != 2:
            given = f"{len(value)} numbers" if isinstance(value, list) else kind_of(value)
            section.faults.add(
                section.at(key), f"{key} must be two lengths, not {given}", given=shown(value),
                allowed="[mm from the left cushion, mm from the baulk cushion]",
                remedy=f"{key} = [889, 2650]",
            )  # fmt: skip
            return None
        if self._looks_like_inches(key, value):
            return None
        x = self._coordinate(key, 0, value[0], self._table.width)
        y = self._coordinate(key, 1, value[1], self._table.length)
        return None if x is None or y is None else (x, y)

    def rest(self, key: str) -> Reading | None:
        """A resting place."""
        place = self.place(key)
        return None if place is None else Reading(key, place, READING)

    def touch(self, key: str) -> Reading | None:
        """Where a cushion was touched: which, and how far along it."""
        table, section = self._table, self._section
        cushions = table.words.cushions
        if key not in section:
            return None
        entry = section.section(
            key, ("cushion", "at"), f'{key} = {{ cushion = "right", at = 2100 }}'
        )
        if entry is None:
            return None
        for part in ("cushion", "at"):
            entry.require(part, f"{part} of {key}", "the cushion and mm along it", "add it")
        name = entry.name("cushion", "the cushion", cushions)
        along = 0.0 if name is None else (
            table.width if name in (cushions[0], cushions[2]) else table.length
        )  # fmt: skip
        limits = Limits(0.0, millimetres(along or table.length), "mm")
        at = entry.length("at", NumberField("the place along the cushion", limits, "2100"))
        if name is None or at is None:
            return None
        return Reading(key, (at,), READING, cushions.index(name))

    def apart(self, one: Point, other: Point | None, key: str) -> bool:
        """Whether two balls can stand there; a fault when they can't."""
        if other is None:
            return True
        distance = math.dist(one, other)
        if distance > 2.0 * self._radius - _TAPE_SLACK:
            return True
        self._section.faults.add(
            self._section.at(key), "the two balls would stand in one another",
            given=f"{millimetres(distance):.0f} mm between their centres",
            allowed=f"{2000 * self._radius:.1f} mm or more",
            remedy="measure both places again: was one written down twice?",
        )  # fmt: skip
        return False

    def _coordinate(self, key: str, index: int, value: object, size: float) -> float | None:
        cushion = self._table.words.cushions[3 if index == 0 else 0]
        what = f"the distance of {key} from the {cushion} cushion"
        limits = Limits(0.0, millimetres(size), "mm")
        path = (*self._section.at(key), index)
        return length(value, path, NumberField(what, limits, "889"), self._section.faults)

    def _looks_like_inches(self, key: str, value: list[object]) -> bool:
        """Two plain numbers that are a place on the table in inches, and a pocket in mm."""
        numbers = [one for one in value if isinstance(one, (int, float))]
        sizes = (self._table.width, self._table.length)
        as_inches = [one * MILLIMETRES_PER_INCH / 1000.0 for one in numbers]
        fits = len(numbers) == 2 and all(
            0.0 < inch <= size for inch, size in zip(as_inches, sizes, strict=False)
        )
        if not fits:
            return False
        self._section.faults.add(
            self._section.at(key), f"{key} looks like inches", given=shown(value),
            allowed="millimetres, or texts with their unit",
            remedy=_IN_INCHES + str([f"{one:g} in" for one in numbers]).replace("'", '"'),
        )  # fmt: skip
        return True
