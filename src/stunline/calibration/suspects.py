"""Which reading fits worst, judged by what the others say of it.

A play's own unknowns can take up much of a blunder, so a residual alone says little. Each reading
is left out in turn, and its residuals r after one step of the fit to the others are held to their
covariance ``I + J A⁻¹ Jᵀ`` (errors of its own, and the doubt of what the others say, A their
curvature): were it sound, ``rᵀ(I + J A⁻¹ Jᵀ)⁻¹ r`` would be about chi-squared with as many degrees
of freedom as it holds numbers (Cook & Weisberg, Residuals and Influence in Regression, 1982, from
memory).
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


def worst(problem: Problem, unknowns: Floats) -> Suspect | None:
    """The reading that the others say can't be so, by most; None when there is none.

    Args:
        unknowns: of a robust fit
    """
    jacobian, residuals = problem.jacobian(unknowns), problem.residuals(unknowns)
    pull = robust_pull(residuals, problem.numbers)
    curvature = jacobian.T @ (pull[:, None] * jacobian)
    slope = jacobian.T @ (pull * residuals)
    found: list[tuple[float, Suspect]] = []
    for (play, reading), rows in problem.reading_rows.items():
        if not problem.weights[rows].all():
            continue
        own, misses, weight = jacobian[rows], residuals[rows], pull[rows]
        others = np.linalg.inv(curvature - own.T @ (weight[:, None] * own))
        step = -others @ (slope - own.T @ (weight * misses))
        expected = misses + own @ step
        spread = np.eye(len(misses)) + own @ others @ own.T
        distance = float(expected @ np.linalg.solve(spread, expected))
        if float(chi2.sf(distance, len(misses))) < _ACCUSED:
            found.append((distance, Suspect(play, reading, math.sqrt(distance))))
    return max(found, key=lambda pair: pair[0])[1] if found else None
