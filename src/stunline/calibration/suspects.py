"""Which reading fits worst, judged by what the others say of it.

A play's own unknowns can take up much of a blunder, so a residual alone says little. Each reading
is left out in turn, and its residuals r after one step of the fit to the others are held to their
covariance ``S = I + J A⁻¹ Jᵀ`` (errors of its own, and the doubt of what the others say, A their
curvature): were it sound, ``rᵀ S⁻¹ r`` would be about chi-squared with as many degrees of freedom
as it holds numbers (Cook & Weisberg, Residuals and Influence in Regression, 1982, from memory).

Two readings may contradict each other with no third that says which is wrong: a ball twirled twice,
one time misread. Then neither counts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2

from stunline.calibration.problem import Problem
from stunline.calibration.solve import robust_pull

Floats = NDArray[np.float64]

# One sound record in about fifty is accused of something it hasn't done, with thirty readings.
_ACCUSED = 6e-4
# Odds of the other being the wrong one, of two that contradict each other, from which neither
# counts: lower, and an unlucky pair is decided on little; higher, and sound readings go as well.
_EITHER = 0.05


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading that doesn't fit the others.

    Attributes:
        play, reading: their numbers in the record
        surprise: how far it is from what the others say, in standard deviations [-]
    """

    play: int
    reading: int
    surprise: float


@dataclass(frozen=True, slots=True)
class _Said:
    """What the others say of a reading: its squared distance, and the log of its density."""

    distance: float
    numbers: int
    density: float

    @property
    def accused(self) -> bool:
        return float(chi2.sf(self.distance, self.numbers)) < _ACCUSED


class _Readings:
    """The readings that count, about a robust fit to all of them."""

    def __init__(self, problem: Problem, unknowns: Floats) -> None:
        self._jacobian, self._residuals = problem.jacobian(unknowns), problem.residuals(unknowns)
        self._pull = robust_pull(self._residuals, problem.numbers)
        self.rows = {
            key: rows for key, rows in problem.reading_rows.items() if problem.weights[rows].all()
        }

    def said(self, *left_out: tuple[int, int]) -> list[_Said]:
        """Of each of some readings, by all but them."""
        pull = self._pull.copy()
        for key in left_out:
            pull[self.rows[key]] = 0.0
        others: Floats = np.asarray(
            np.linalg.inv(self._jacobian.T @ (pull[:, None] * self._jacobian))
        )
        step = -others @ (self._jacobian.T @ (pull * self._residuals))
        return [self._of(self.rows[key], others, step) for key in left_out]

    def _of(self, rows: slice, others: Floats, step: Floats) -> _Said:
        own = self._jacobian[rows]
        expected = self._residuals[rows] + own @ step
        spread = np.eye(len(own)) + own @ others @ own.T
        distance = float(expected @ np.linalg.solve(spread, expected))
        return _Said(distance, len(own), -0.5 * (distance + float(np.linalg.slogdet(spread)[1])))


def worst(problem: Problem, unknowns: Floats) -> tuple[Suspect, ...]:
    """The reading that the others say can't be so, by most, and any that may be wrong in its stead.

    None when all fit.

    Args:
        unknowns: of a robust fit
    """
    readings = _Readings(problem, unknowns)
    accused = {key: said for key in readings.rows if (said := readings.said(key)[0]).accused}
    if not accused:
        return ()
    first = max(accused, key=lambda key: accused[key].distance)
    surprise = math.sqrt(accused[first].distance)
    either = [first, *(key for key in readings.rows if _may_be_instead(readings, first, key))]
    return tuple(Suspect(*key, surprise) for key in either)


def _may_be_instead(readings: _Readings, accused: tuple[int, int], other: tuple[int, int]) -> bool:
    """Whether, without the other, nothing speaks against the accused."""
    if other == accused:
        return False
    first, second = readings.said(accused, other)
    return not first.accused and first.density > second.density + math.log(_EITHER)
