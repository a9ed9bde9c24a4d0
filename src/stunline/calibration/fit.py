"""Coefficients from a record: weighted robust least squares from several starts, then Laplace.

Every unknown has a prior, so the posterior is proper whatever was measured. Robust first: a
reading that no unknowns explain is let go, named, and left out of the last fit, whose curvature
gives the posterior.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.calibration.climb import STARTS, climb, looked_for_again
from stunline.calibration.predict import Predictor
from stunline.calibration.problem import Problem
from stunline.calibration.record import Record
from stunline.calibration.solve import plain_fit, robust_fit
from stunline.calibration.suspects import Suspect, worst

Floats = NDArray[np.float64]

_MOST_SUSPECTS_SHARE = 0.25  # of the readings; with more, the record as a whole doesn't fit


@dataclass(frozen=True, slots=True)
class Fit:
    """What a record says.

    Attributes:
        record: as read
        problem: the fit's own view of it, with the readings left out
        unknowns: standard, at the best fit
        covariance: of all of them
        suspects: readings left out, the worst first
        misfit: squared residuals over errors of the readings kept, summed [-]
        kept: how many numbers were kept
    """

    record: Record
    problem: Problem
    unknowns: Floats
    covariance: Floats
    suspects: tuple[Suspect, ...]
    misfit: float
    kept: int

    @property
    def predictor(self) -> Predictor:
        """With the priors."""
        return self.problem.predictor

    @property
    def shared(self) -> Floats:
        """The shared unknowns, standard."""
        return self.unknowns[: self.problem.shared]

    @property
    def shared_covariance(self) -> Floats:
        """Of the shared unknowns, standard."""
        return self.covariance[: self.problem.shared, : self.problem.shared]


def fit(record: Record, told: Callable[[str], None] = lambda _: None) -> Fit:
    """The posterior of the coefficients of the table that a record was made on."""
    problem = Problem(Predictor(record))
    best: Floats | None = None
    least = np.inf
    for number in range(STARTS):
        told(f"fit {number + 1} of {STARTS}")
        found = climb(record, number)
        if found.cost < least:
            best, least = found.unknowns, found.cost
    assert best is not None
    told("looking for readings that don't fit")
    return _without_suspects(record, problem, best)


def _without_suspects(record: Record, problem: Problem, start: Floats) -> Fit:
    """Leave out the reading that fits worst until all that are left fit."""
    suspects: list[Suspect] = []
    best = robust_fit(problem, start)
    while len(suspects) < int(_MOST_SUSPECTS_SHARE * record.readings):
        found = worst(problem, best.unknowns)
        if found is None:
            break
        again = looked_for_again(problem, best, found.play)
        if again.cost < best.cost:
            best = again
            continue
        suspects.append(found)
        problem.leave_out(found.play, found.reading)
        best = robust_fit(problem, best.unknowns)
    unknowns = plain_fit(problem, best.unknowns).unknowns
    jacobian = problem.jacobian(unknowns)
    covariance: Floats = np.asarray(np.linalg.inv(jacobian.T @ jacobian))
    residuals = problem.residuals(unknowns)[: problem.numbers]
    ordered = tuple(sorted(suspects, key=lambda one: -one.surprise))
    return Fit(
        record, problem, unknowns, covariance, ordered,
        float(residuals @ residuals), int(problem.weights.sum()),
    )  # fmt: skip
