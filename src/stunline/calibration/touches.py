"""Where balls that go straight come to a cushion: near 0, right 1, far 2, left 3."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.model import Point, Table

_NEAR = 0.002  # of a ball's centre from where it touches a cushion, to be there [m]


@dataclass(frozen=True, slots=True)
class Touches:
    """The four lines on which a ball's centre stands when it touches a cushion.

    Attributes:
        table: with its size
        reach: from such a line to the nose line [m]
    """

    table: Table
    reach: float

    @classmethod
    def of(cls, table: Table, ball: str) -> Touches:
        """For that ball of the table."""
        return cls(table, nose_contact_distance(table.balls[ball].radius, table.nose_height))

    def line(self, cushion: int) -> tuple[int, float]:
        """The coordinate that is the same all along a cushion's line, and its value. [m]"""
        axis = 1 if cushion in (0, 2) else 0
        size = self.table.length if axis else self.table.width
        return axis, self.reach if cushion in (0, 3) else size - self.reach

    def along(self, start: Point, direction: float, cushion: int) -> float | None:
        """Where along a cushion a ball from there comes to its line; None if it goes away. [m]"""
        if not math.isfinite(direction):
            return None
        heading = (math.cos(direction), math.sin(direction))
        axis, line = self.line(cushion)
        if (line - start[axis]) * heading[axis] <= 0.0:
            return None
        way = (line - start[axis]) / heading[axis]
        return start[1 - axis] + way * heading[1 - axis]

    def first(self, start: Point, direction: float) -> int | None:
        """The cushion that a ball from there comes to first."""
        for cushion in range(4):
            along = self.along(start, direction, cushion)
            size = self.table.width if cushion in (0, 2) else self.table.length
            if along is not None and self.reach <= along <= size - self.reach:
                return cushion
        return None

    def at(self, place: Point) -> int | None:
        """The cushion that a ball's centre at that place touches."""
        for cushion in range(4):
            axis, line = self.line(cushion)
            if abs(place[axis] - line) < _NEAR:
                return cushion
        return None
