"""Likely strokes in a reader's terms: each number with its interval, and kinds of stroke apart."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from stunline.planning.likely_strokes import LikelyStrokes
from stunline.planning.stroke_prior import NUMBERS

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

LEVEL = 0.9  # of every interval that is told
_EDGES = (0.5 - 0.5 * LEVEL, 0.5, 0.5 + 0.5 * LEVEL)
# An interval that is more than this share of the one before, and whose middle has moved by less
# than this share of half of it, is the one before given back.
_NOT_TOLD, _NOT_MOVED = 0.8, 0.5
# The median is so many widths of its 90 % interval from what was meant where a normal distribution
# has four fifths on one side: 0.8416 deviations of 2 · 1.645.
_LEANS = 0.8416 / (2.0 * 1.6449)
# Two kinds of shot are two strokes where nine tenths of each lie apart in pace or in height.
_APART_EDGES = (0.1, 0.9)
_APART_IN = (1, 2)
_LEAST_SHARE = 0.05  # of a stroke that is told by itself [-]
_WHOLE = 1e-12


@dataclass(frozen=True, slots=True)
class Estimate:
    """How far one number was off what was meant.

    Attributes:
        name: "aim", "pace", "height", "side"
        value, low, high: median and 90 % interval: [rad], [-] of the pace, [m], [m]
        before_low, before_high: the interval before anything was seen
    """

    name: str
    value: float
    low: float
    high: float
    before_low: float
    before_high: float

    @property
    def share(self) -> float:
        """Width of the interval, over the one before. [-]"""
        before = self.before_high - self.before_low
        return (self.high - self.low) / before if before > _WHOLE else 0.0

    @property
    def told(self) -> bool:
        """Whether what was seen says more than what was thought before."""
        return self.share <= _NOT_TOLD or self.moved

    @property
    def moved(self) -> bool:
        """Whether the likeliest is clearly another than before."""
        before, middle = self.before_high - self.before_low, self.before_high + self.before_low
        return abs(self.value - 0.5 * middle) > 0.5 * _NOT_MOVED * before

    @property
    def leans(self) -> bool:
        """Whether it was off to that side with four chances of five, if the ends are a normal's."""
        return abs(self.value) > _LEANS * (self.high - self.low)

    @property
    def off(self) -> bool:
        """Whether it was off, one way for certain."""
        return self.low > 0.0 or self.high < 0.0


@dataclass(frozen=True, slots=True)
class StrokeWay:
    """One of the strokes that explain what was seen.

    Attributes:
        share: how likely it is [-]
        numbers: in the order of ``NUMBERS``
        best: number of its likeliest stroke
        members: (N,) which of the strokes are of it
    """

    share: float
    numbers: tuple[Estimate, ...]
    best: int
    members: Flags = field(repr=False)

    def number(self, name: str) -> Estimate:
        """By name."""
        return self.numbers[NUMBERS.index(name)]


def whole(found: LikelyStrokes) -> StrokeWay:
    """All of them together."""
    return _way(found, np.ones(len(found.strokes), dtype=bool))


def ways(found: LikelyStrokes) -> list[StrokeWay]:
    """Strokes that are clearly different from each other, the likeliest first; one at least."""
    _, inverse, counts = np.unique(found.kinds, return_inverse=True, return_counts=True)
    parts = [inverse == number for number in np.argsort(-counts, kind="stable")]
    kept: list[Flags] = []
    for part in parts:
        near = [k for k, other in enumerate(kept) if not _apart(found, part, other)]
        if near:
            kept[near[0]] = kept[near[0]] | part
        else:
            kept.append(part)
    kept = _joined(found, kept)
    kept.sort(key=lambda part: -int(part.sum()))
    told = [part for part in kept if part.mean() >= _LEAST_SHARE] or kept[:1]
    return [_way(found, part) for part in told]


def _joined(found: LikelyStrokes, parts: list[Flags]) -> list[Flags]:
    """Parts that have grown into one another are one."""
    for one in range(len(parts)):
        for other in range(one + 1, len(parts)):
            if not _apart(found, parts[one], parts[other]):
                rest = [part for k, part in enumerate(parts) if k not in (one, other)]
                return _joined(found, [*rest, parts[one] | parts[other]])
    return parts


def _apart(found: LikelyStrokes, one: Flags, other: Flags) -> bool:
    for column in _APART_IN:
        low, high = np.quantile(found.strokes[one, column], _APART_EDGES)
        other_low, other_high = np.quantile(found.strokes[other, column], _APART_EDGES)
        if low > other_high or other_low > high:
            return True
    return False


def _way(found: LikelyStrokes, members: Flags) -> StrokeWay:
    numbers = tuple(
        _estimate(name, found.strokes[members, column], found.before[:, column])
        for column, name in enumerate(NUMBERS)
    )
    return StrokeWay(float(members.mean()), numbers, found.best(members), members)


def _estimate(name: str, values: Floats, before: Floats) -> Estimate:
    low, middle, high = np.quantile(values, _EDGES).tolist()
    before_low, _, before_high = np.quantile(before, _EDGES).tolist()
    return Estimate(name, middle, low, high, before_low, before_high)
