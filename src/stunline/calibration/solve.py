"""One descent: nonlinear least squares from one start, robust for readings or plain."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from stunline.calibration.problem import Problem

Floats = NDArray[np.float64]

ROBUST_FROM = 2.0  # errors; beyond, a reading's pull no longer grows with its residual
_MOST_ROUNDS = 30  # of one descent; most need ten
_CLOSE_ENOUGH = 1e-5  # of cost and step; a hundredth of an interval at the most


@dataclass(frozen=True, slots=True)
class Descent:
    """Where a descent ended.

    Attributes:
        unknowns: standard
        cost: half the (robust) sum of squares [-]
    """

    unknowns: Floats
    cost: float


def robust_fit(problem: Problem, start: Floats) -> Descent:
    """With Cauchy's loss for the readings and plain squares for the priors."""

    def loss(squares: Floats) -> Floats:
        rho = np.stack([squares, np.ones_like(squares), np.zeros_like(squares)])
        scaled = squares[: problem.numbers] / ROBUST_FROM**2
        rho[0, : problem.numbers] = ROBUST_FROM**2 * np.log1p(scaled)
        rho[1, : problem.numbers] = 1.0 / (1.0 + scaled)
        rho[2, : problem.numbers] = -1.0 / (ROBUST_FROM * (1.0 + scaled)) ** 2
        return rho

    return _descend(problem, start, loss)


def plain_fit(problem: Problem, start: Floats) -> Descent:
    """With squares for all."""
    return _descend(problem, start, "linear")


def robust_pull(residuals: Floats, numbers: int) -> Floats:
    """Weight of each residual under Cauchy's loss; priors count in full. [-]"""
    pull = np.ones_like(residuals)
    pull[:numbers] = 1.0 / (1.0 + (residuals[:numbers] / ROBUST_FROM) ** 2)
    return pull


def _descend(problem: Problem, start: Floats, loss: object) -> Descent:
    found = least_squares(
        problem.residuals,
        start,
        jac=problem.rough_jacobian,
        method="trf",
        loss=loss,
        max_nfev=_MOST_ROUNDS,
        ftol=_CLOSE_ENOUGH,
        xtol=_CLOSE_ENOUGH,
        gtol=_CLOSE_ENOUGH,
    )
    return Descent(found.x, float(found.cost))
