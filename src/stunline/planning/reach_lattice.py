"""Strikes for a reach: a lattice over two of pace, height and side, in slices over the third.

Along the pace the lattice is even in its square: how far a rolling ball runs goes with that, so
places between two nodes lie nearly where a straight line has them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.planning.aim_field import AimField
from stunline.planning.request import Ranges
from stunline.planning.strike_space import struck
from stunline.shot.position import Position

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PACE, HEIGHT, SIDE = 0, 1, 2
_SLICES = 5  # over the third
_LEVELS = 33  # heights at which the elevation is found
_SHARE = 1.6  # nodes along the first of the two, over those along the second [-]


@dataclass(frozen=True, slots=True)
class Lattice:
    """Which numbers vary, and the nodes.

    Attributes:
        position, field: of the search
        spans: least and most of the squared pace, height, side
        first, second: the two that are varied, as ``PACE``, ``HEIGHT``, ``SIDE``; one or both may
            be fixed
        nodes: (S, A, B, 3) squared pace, height and side
        raised: (L,) elevation at heights spread evenly over their span [rad]
    """

    position: Position
    field: AimField
    spans: Floats
    first: int
    second: int
    nodes: Floats
    raised: Floats

    @property
    def free(self) -> tuple[int, ...]:
        """Those of the two that do vary."""
        return tuple(k for k in (self.first, self.second) if self.spans[k, 1] > self.spans[k, 0])

    def width(self, axis: int) -> float:
        """Of the span of one of the three."""
        return float(self.spans[axis, 1] - self.spans[axis, 0])

    def rows(self, points: Floats) -> Floats:
        """(N, 5) strikes with their aims; points (N, 3) as in ``nodes``."""
        points = np.clip(points, self.spans[:, 0], self.spans[:, 1])
        paces, heights, sides = np.sqrt(points[:, PACE]), points[:, HEIGHT], points[:, SIDE]
        rows: Floats = np.empty((len(points), layout.STRIKE_COLUMNS))
        rows[:, layout.STRIKE_AIM] = self.field.aims(paces, heights, sides)
        rows[:, layout.STRIKE_PACE] = paces
        rows[:, layout.STRIKE_HEIGHT] = heights
        rows[:, layout.STRIKE_SIDE] = sides
        levels = _evenly(self.spans[HEIGHT], len(self.raised))
        rows[:, layout.STRIKE_ELEVATION] = np.interp(heights, levels, self.raised)
        return rows

    def fine(self, rows: Floats) -> NDArray[np.bool_]:
        """(N,) whether the tip stays on the ball."""
        return struck(self.position, rows)


def points_of(rows: Floats) -> Floats:
    """(N, 3) squared pace, height and side of strikes."""
    columns = [layout.STRIKE_PACE, layout.STRIKE_HEIGHT, layout.STRIKE_SIDE]
    points: Floats = rows[:, columns].copy()
    points[:, PACE] **= 2
    return points


def lattice(position: Position, ranges: Ranges, field: AimField, strikes: int) -> Lattice:
    """About that many nodes over the ranges."""
    spans = np.array([np.square(ranges.pace), ranges.height, ranges.side])
    free = [k for k in (PACE, HEIGHT, SIDE) if spans[k, 1] > spans[k, 0]]
    first, second = (free + [k for k in (PACE, HEIGHT, SIDE) if k not in free])[:2]
    third = next(k for k in (PACE, HEIGHT, SIDE) if k not in (first, second))
    slices = _third_values(spans[third])
    each = strikes / len(slices)
    along = max(2, round((each * _SHARE) ** 0.5))
    across = max(2, round(each / along))
    if len(free) < 2:
        along, across = (max(2, min(round(each), 4 * along)) if free else 1), 1
    nodes: Floats = np.empty((len(slices), along, across, 3))
    nodes[..., third] = slices[:, None, None]
    nodes[..., first] = _evenly(spans[first], along)[None, :, None]
    nodes[..., second] = _evenly(spans[second], across)[None, None, :]
    levels = _evenly(spans[HEIGHT], _LEVELS if HEIGHT in free else 1)
    raised = np.array([field.elevation(float(level)) for level in levels])
    return Lattice(position, field, spans, first, second, nodes, raised)


def _evenly(span: Floats, count: int) -> Floats:
    """So many values from the least to the most."""
    return np.linspace(float(span[0]), float(span[1]), count)


def _third_values(span: Floats) -> Floats:
    """Slices over the third number: evenly, and at nought when it lies within."""
    low, high = span
    if high <= low:
        return np.array([low])
    values = _evenly(span, _SLICES)
    return np.unique(np.append(values, 0.0)) if low < 0.0 < high else values
