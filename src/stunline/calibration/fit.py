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
from threadpoolctl import threadpool_limits

from stunline.calibration.climb import STARTS, climb
from stunline.calibration.predict import Predictor
from stunline.calibration.problem import Problem
from stunline.calibration.record import Record
from stunline.calibration.solve import Descent, plain_fit, robust_fit
from stunline.calibration.suspects import Suspect, worst
from stunline.calibration.ways import looked_for_again, searched

Floats = NDArray[np.float64]

_MOST_PEAKS = 3  # that count for the posterior
_MOST_SUSPECTS_SHARE = 0.25  # of the readings; with more, the record as a whole doesn't fit
_MORE_STARTS = 3  # for a record of which a reading is accused
_HEARINGS = 3  # of the suspects, while better ways are found without them
_BETTER = 0.5  # of cost: by less, a fit is the same way descended further


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
    # The matrices are small: threads of linear algebra cost several times what they save.
    with threadpool_limits(limits=1, user_api="blas"):
        return _fit(record, told)


def _fit(record: Record, told: Callable[[str], None]) -> Fit:
    problem = Problem(Predictor(record))
    climbed = []
    for number in range(STARTS):
        told(f"fit {number + 1} of {STARTS}")
        climbed.append(climb(record, number))
    told("looking for other ways in which each shot may have gone")
    fits = searched(problem, min(climbed, key=lambda one: one.cost))
    told("looking for readings that don't fit")
    if worst(problem, fits[0].unknowns):
        fits = _from_more_starts(record, problem, fits)
    fits, suspects = _settled(record, problem, fits)
    return _posterior(record, problem, fits, suspects)


def _from_more_starts(record: Record, problem: Problem, fits: list[Descent]) -> list[Descent]:
    """Better fits, where there are any: in a wrong fold sound readings are accused too."""
    climbed = [climb(record, number) for number in range(STARTS, STARTS + _MORE_STARTS)]
    best = min(climbed, key=lambda one: one.cost)
    return searched(problem, best) if best.cost < fits[0].cost - _BETTER else fits


def _settled(
    record: Record, problem: Problem, fits: list[Descent]
) -> tuple[list[Descent], list[Suspect]]:
    """Fits and suspects that go together.

    A fit in a wrong fold accuses sound readings, and without them it may get out of the fold: all
    that were accused before a better way was found are heard again.
    """
    for hearing in range(_HEARINGS):
        best, suspects = _without_suspects(record, problem, fits[0])
        if best is not fits[0]:
            fits = searched(problem, best)
        if not suspects or fits[0].cost > best.cost - _BETTER or hearing == _HEARINGS - 1:
            break
        problem.take_in(suspects)
        fits = searched(problem, robust_fit(problem, fits[0].unknowns))
    return fits, suspects


def _without_suspects(
    record: Record, problem: Problem, best: Descent
) -> tuple[Descent, list[Suspect]]:
    """Leave out the reading that fits worst until all that are left fit."""
    accused: list[tuple[Suspect, ...]] = []
    while sum(map(len, accused)) < int(_MOST_SUSPECTS_SHARE * record.readings):
        found = worst(problem, best.unknowns)
        if not found:
            break
        again = looked_for_again(problem, best, found[0].play)
        if again.cost < best.cost:
            best = again
            continue
        accused.append(found)
        problem.leave_out(found)
        best = robust_fit(problem, best.unknowns)
    return _heard_again(problem, best, accused)


def _heard_again(
    problem: Problem, best: Descent, accused: list[tuple[Suspect, ...]]
) -> tuple[Descent, list[Suspect]]:
    """Take those in again that fit now: a gross blunder may have drawn the fit away from them.

    The last were accused with all others out, so they stay out.
    """
    left_out = list(accused[-1]) if accused else []
    for each in accused[:-1]:
        problem.take_in(each)
        again = robust_fit(problem, best.unknowns)
        if worst(problem, again.unknowns):
            problem.leave_out(each)
            left_out.extend(each)
        else:
            best = again
    return best, left_out


def _posterior(
    record: Record, problem: Problem, fits: list[Descent], suspects: list[Suspect]
) -> Fit:
    """Laplace's approximation about the best fit, widened by others that are nearly as good."""
    peaks = [_peak(problem, one) for one in fits[:_MOST_PEAKS]]
    best = min(peaks, key=lambda one: one.cost)
    # None counts for more than the best: a wide peak that fits worse is no reason to move there.
    shares = np.exp([min(best.cost - one.cost + one.room - best.room, 0.0) for one in peaks])
    shares /= shares.sum()
    covariance = np.zeros_like(best.covariance)
    for share, one in zip(shares, peaks, strict=True):
        off = one.unknowns - best.unknowns
        covariance += share * (one.covariance + np.outer(off, off))
    residuals = problem.residuals(best.unknowns)[: problem.numbers]
    ordered = tuple(sorted(suspects, key=lambda one: -one.surprise))
    return Fit(
        record, problem, best.unknowns, covariance, ordered,
        float(residuals @ residuals), int(problem.weights.sum()),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Peak:
    """One of the posterior's peaks: its place, cost, covariance and the logarithm of its room."""

    unknowns: Floats
    cost: float
    covariance: Floats
    room: float


def _peak(problem: Problem, found: Descent) -> _Peak:
    descended = plain_fit(problem, found.unknowns)
    jacobian = problem.jacobian(descended.unknowns)
    curvature = jacobian.T @ jacobian
    covariance: Floats = np.asarray(np.linalg.inv(curvature))
    room = -0.5 * float(np.linalg.slogdet(curvature)[1])
    return _Peak(descended.unknowns, descended.cost, covariance, room)
