"""All strikes of a search: a lattice over pace, height and side, each with its aim."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.planning.aim_field import AimField
from stunline.planning.request import Ranges
from stunline.shot.aiming.strike_limits import tip_limits
from stunline.shot.position import Position, Strike

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

# Along one axis more than this only shows rounding. [-]
_MOST_ALONG = 400
# How the strikes are shared among pace, height and side when all three vary. [-]
_SHARES = (1.5, 1.0, 0.7)
_MISCUE_SLACK = 1e-12  # as where strikes are checked


@dataclass(frozen=True, slots=True)
class StrikeSpace:
    """Strikes on a lattice.

    Attributes:
        axes: paces [m s⁻¹], heights and sides [m]; one number each where nothing varies
        rows: (N, 5), columns ``STRIKE_`` of ``mechanics.layout``
        struck: (N,) whether the tip would stay on the ball; the others are not played
    """

    axes: tuple[Floats, Floats, Floats]
    rows: Floats
    struck: Flags

    @property
    def shape(self) -> tuple[int, int, int]:
        """Of the lattice; row k is its k-th node, the side running fastest."""
        paces, heights, sides = self.axes
        return len(paces), len(heights), len(sides)

    @property
    def steps(self) -> tuple[float, float, float]:
        """Between neighbours; infinite where there is one only."""
        paces, heights, sides = (
            float(axis[1] - axis[0]) if len(axis) > 1 else math.inf for axis in self.axes
        )
        return paces, heights, sides


def strike_space(position: Position, ranges: Ranges, field: AimField, strikes: int) -> StrikeSpace:
    """About that many strikes, evenly over the ranges."""
    axes = _axes(ranges, strikes)
    paces, heights, sides = (grid.ravel() for grid in np.meshgrid(*axes, indexing="ij"))
    rows: Floats = np.empty((len(paces), layout.STRIKE_COLUMNS))
    rows[:, layout.STRIKE_AIM] = field.aims(paces, heights, sides)
    rows[:, layout.STRIKE_PACE] = paces
    rows[:, layout.STRIKE_HEIGHT] = heights
    rows[:, layout.STRIKE_SIDE] = sides
    raised = np.array([field.elevation(float(height)) for height in axes[1]])
    rows[:, layout.STRIKE_ELEVATION] = np.interp(heights, axes[1], raised)
    return StrikeSpace(axes, rows, struck(position, rows))


def struck(position: Position, rows: Floats) -> Flags:
    """(N,) whether the tip would stay on the ball, short of a miscue, and the pace is one."""
    _, limit = tip_limits(position)
    offset = np.hypot(rows[:, layout.STRIKE_HEIGHT], rows[:, layout.STRIKE_SIDE])
    fine: Flags = (offset <= limit * (1.0 + _MISCUE_SLACK)) & (rows[:, layout.STRIKE_PACE] > 0.0)
    return fine


def strike_of(row: Floats) -> Strike:
    """One row as a strike."""
    return Strike(*(float(value) for value in row))


def _axes(ranges: Ranges, strikes: int) -> tuple[Floats, Floats, Floats]:
    spans = (ranges.pace, ranges.height, ranges.side)
    free = [k for k, (low, high) in enumerate(spans) if high > low]
    weights = [_SHARES[k] if len(free) == len(spans) else 1.0 for k in free]
    each = (strikes / math.prod(weights)) ** (1.0 / len(free)) if free else 1.0
    counts = [1, 1, 1]
    for k, weight in zip(free, weights, strict=True):
        counts[k] = max(2, min(_MOST_ALONG, int(each * weight)))
    paces, heights, sides = (
        np.linspace(*span, count) for span, count in zip(spans, counts, strict=True)
    )
    return paces, heights, sides
