"""One pot for many values of something that is varied, all solved together.

Between two values that are solved the window of aims is near where a straight line between
theirs has it; there it is looked for, for as many values at once as there are.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.aiming.pot_aim import balls_near_the_ways
from stunline.shot.aiming.windows_at_once import close_in_windows
from stunline.shot.batch_input import strike_rows
from stunline.shot.play import Prepared
from stunline.shot.position import PotAim, Strike

Floats = NDArray[np.float64]

# Edges are closed in to this. [rad] A five hundredth of a narrow window: its middle is off by
# less than a tenth of what a change may be off by that.
_EDGE_TOLERANCE = 1e-6
# The first step beyond an edge where it is expected: this share of the window's width, or of
# how far the edge lies from one solved neighbour to the other. [-]
_STEP, _STEP_OF_CHANGE = 0.002, 0.05
_STEP_ALONE = 0.03  # beside only one neighbour
# A value is not solved where it lies beside one that was as guessed to this: over half as far a
# straight line is off by a quarter as much, and by as much beside a corner. [rad], [m] Off a cut
# the white's way turns some ten times as much as the aim.
_AIM_AS_GUESSED, _HEIGHT_AS_GUESSED = 1e-5, 1e-6


@dataclass(frozen=True, slots=True)
class Solved:
    """A pot solved for one value.

    Attributes:
        low, high: the edges of its window [rad]
        height: [m]
        as_guessed: whether a straight line between its neighbours had it quite so
    """

    low: float
    high: float
    height: float
    as_guessed: bool = False


class PotsAtOnce:
    """Solves one pot on one position for many values; serves one thread, and uses all cores.

    A window is followed from one value to the next while another may become the wider one.
    """

    def __init__(self, prepared: Prepared, pot: PotAim, follow_ratio: float | None) -> None:
        """``follow_ratio``: at arrival, that heights are solved for; None where they are given."""
        self._prepared = prepared.only(balls_near_the_ways(prepared.position, pot))
        self._pot, self._follow_ratio = pot, follow_ratio
        self._values: list[float] = []
        self._known: dict[float, Solved] = {}

    def know(self, value: float, solved: Solved) -> None:
        """Take in what was solved elsewhere."""
        if value not in self._known:
            insort(self._values, value)
        self._known[value] = solved

    def solve(self, values: Sequence[float], strikes: Sequence[Strike]) -> list[Strike | None]:
        """The strikes for these values with their aims, and heights if solved.

        Args:
            strikes: with all else.

        Returns:
            None for values at which the window was not found.
        """
        if not self._values or not values:
            return [None] * len(values)
        rows = strike_rows(strikes)
        guesses = [self._guess(value) for value in values]
        windows = np.array([(one.low, one.high, one.step) for one in guesses])
        if self._follow_ratio is not None:
            rows[:, layout.STRIKE_HEIGHT] = [one.height for one in guesses]
        rows[:, layout.STRIKE_AIM] = 0.5 * (windows[:, 0] + windows[:, 1])
        found = np.full(len(values), compiled.FOUND)
        asked = np.array([not one.sure for one in guesses])
        if asked.any():
            part, edges = rows[asked], windows[asked]
            found[asked] = close_in_windows(
                self._prepared, self._pot, part, edges, _EDGE_TOLERANCE, self._follow_ratio
            )
            rows[asked], windows[asked] = part, edges
        made = found == compiled.FOUND
        for index in np.flatnonzero(made & asked).tolist():
            self._keep(values[index], guesses[index], windows[index], rows[index])
        return [Strike(*row.tolist()) if one else None for row, one in zip(rows, made, strict=True)]

    def _keep(self, value: float, guess: _Guess, window: Floats, row: Floats) -> None:
        low, high, _ = window.tolist()
        height = float(row[layout.STRIKE_HEIGHT])
        as_guessed = (
            guess.between
            and max(abs(low - guess.low), abs(high - guess.high)) < _AIM_AS_GUESSED
            and (self._follow_ratio is None or abs(height - guess.height) < _HEIGHT_AS_GUESSED)
        )
        self.know(value, Solved(low, high, height, as_guessed))

    def _guess(self, value: float) -> _Guess:
        """What a straight line between the neighbours, or the only one, says."""
        at = bisect_left(self._values, value)
        after = self._values[min(at, len(self._values) - 1)]
        before = self._values[max(at - 1, 0)]
        between = before < value < after
        one, other = self._known[before], self._known[after]
        if not between:
            one = other = self._known[min(before, after, key=lambda each: abs(each - value))]
        share = (value - before) / (after - before) if between else 0.0
        width = one.high - one.low
        change = max(abs(other.low - one.low), abs(other.high - one.high))
        step = max((_STEP if between else _STEP_ALONE) * width, _STEP_OF_CHANGE * change)
        return _Guess(
            one.low + share * (other.low - one.low),
            one.high + share * (other.high - one.high),
            one.height + share * (other.height - one.height),
            max(step, 2.0 * _EDGE_TOLERANCE),
            between,
            between and (one.as_guessed or other.as_guessed),
        )


@dataclass(frozen=True, slots=True)
class _Guess:
    """Where a window is looked for, and the first step; whether between two, and whether sure."""

    low: float
    high: float
    height: float
    step: float
    between: bool
    sure: bool
