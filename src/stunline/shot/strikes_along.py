"""Solved strikes along a ladder: solved at some values, interpolated where that is as good.

A pot, or a way of arriving, costs hundreds of plays to solve, while the strike that solves it
mostly changes smoothly with the value. Where it jumps, bends or ceases, it is solved.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from stunline.shot.position import Strike


@dataclass(frozen=True, slots=True)
class Tolerances:
    """What interpolation may be off, checked in the middle of each stretch.

    Attributes:
        aim: [rad]
        height: [m]
        pace: [m s⁻¹]
    """

    aim: float
    height: float
    pace: float


# A millionth of a radian is 3 µm at the far end of the table; a change of outcome moves by less
# than its own tolerance for it. Finer asks for several times as many solved values. Pocket
# weight is solved to half of the pace's.
FINE = Tolerances(aim=1e-6, height=1e-7, pace=2e-5)
# Off a cut the white's way turns some ten times as much as the aim: a change of outcome moves by
# a thousandth of a metre a second at most, a third of a pixel of a strip.
TO_A_PIXEL = Tolerances(aim=2e-5, height=2e-6, pace=4e-4)
# Widths of the stretches tried, in steps of the grid of values: each divides the whole, and four
# divides each, so that all solved values lie on the grid and mostly serve several widths.
_WIDTHS = (240, 120, 60, 20, 8)
# Solved values in a stretch: its ends and its quarters.
_NODES = 5
_QUARTERS = _NODES - 1

Solve = Callable[[float], Strike | None]


class StrikesAlong:
    """Strikes over [low, high], as ``solve`` gives them.

    A stretch is divided until the cubic through four of its five solved strikes meets the one
    in the middle. Where the shortest stretches do not, every value is solved.
    """

    def __init__(
        self, solve: Solve, low: float, high: float, tolerances: Tolerances = FINE
    ) -> None:
        self._varied = (
            (_aim, tolerances.aim),
            (_pace, tolerances.pace),
            (_height, tolerances.height),
        )
        self._solve = solve
        self._low = low
        self._step = (high - low) / _WIDTHS[0]
        self._solved: dict[int, Strike | None] = {}
        self._trusted: dict[tuple[int, int], bool] = {}

    def at(self, value: float) -> Strike | None:
        """The strike for that value; None where it can't be solved."""
        along = (value - self._low) / self._step
        for width in _WIDTHS:
            start = width * min(int(along / width), _WIDTHS[0] // width - 1)
            if self._is_smooth(start, width):
                return self._between(start, width, along)
        index = round(along)
        if self._low + self._step * index == value:
            return self._node(index)
        return self._solve(value)

    def _is_smooth(self, start: int, width: int) -> bool:
        key = (start, width)
        if key not in self._trusted:
            self._trusted[key] = self._check(start, width)
        return self._trusted[key]

    def _check(self, start: int, width: int) -> bool:
        nodes = self._nodes(start, width)
        if nodes is None:
            return False
        a, b, middle, d, e = nodes
        return all(
            abs((4.0 * (of(b) + of(d)) - of(a) - of(e)) / 6.0 - of(middle)) <= tolerance
            for of, tolerance in self._varied
        )

    def _nodes(self, start: int, width: int) -> list[Strike] | None:
        """The five solved strikes of a stretch; None when one of them can't be solved."""
        found = []
        for quarter in range(_NODES):
            strike = self._node(start + quarter * width // _QUARTERS)
            if strike is None:
                return None
            found.append(strike)
        return found

    def _node(self, index: int) -> Strike | None:
        if index not in self._solved:
            self._solved[index] = self._solve(self._low + self._step * index)
        return self._solved[index]

    def _between(self, start: int, width: int, along: float) -> Strike:
        nodes = self._nodes(start, width)
        assert nodes is not None
        weights = _lagrange(_QUARTERS * (along - start) / width)
        return Strike(
            *(
                sum(weight * of(node) for weight, node in zip(weights, nodes, strict=True))
                for of in _FIELDS
            )
        )


def _lagrange(at: float) -> list[float]:
    """Weights of the values at 0, 1, 2, 3, 4 in the quartic through them. [-]"""
    weights = []
    for node in range(_NODES):
        weight = 1.0
        for other in range(_NODES):
            if other != node:
                weight *= (at - other) / (node - other)
        weights.append(weight)
    return weights


def _aim(strike: Strike) -> float:
    return strike.aim


def _pace(strike: Strike) -> float:
    return strike.pace


def _height(strike: Strike) -> float:
    return strike.height


def _side(strike: Strike) -> float:
    return strike.side


def _elevation(strike: Strike) -> float:
    return strike.elevation


_FIELDS = (_aim, _pace, _height, _side, _elevation)
