"""Other ways in which a play may have gone: folds that a descent doesn't leave by itself.

A resting place off cushions or balls comes about in several ways: a little more pace and one
cushion more, a little higher and less far along. Each play is looked at alone, with what all other
plays say of the shared unknowns as its prior (the cavity: a normal distribution from their
linearised residuals), from a cloud of starts of which the nearest are polished together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.calibration.climb import even_cloud
from stunline.calibration.predict import Job
from stunline.calibration.problem import Problem
from stunline.calibration.solve import ROBUST_FROM, Descent, robust_fit, robust_pull

Floats = NDArray[np.float64]

_CLOUD = 512  # starts of one play
_POLISHED = 16  # of them, those that come nearest
_ROUNDS = 6  # of polishing
_HAZE = (
    10.0  # errors that count as one in the cloud: how near matters, not how far a far one is out
)
_WORTH = 4.0  # of cost that a way may be worse than the one in force, and still be tried for all
_STEP = 2e-3  # as in ``Problem``
_APART = 0.7  # standard deviations of a play's own unknowns between two ways
_GAIN = 0.02  # of cost, least, for a better fit
_TRIED = 3  # ways of a play tried for all at once, at the most
_PASSES = 3  # over all plays
_CLOUDS_OF_THE_ACCUSED = 3  # for a play of which a reading is about to be left out


@dataclass(frozen=True, slots=True)
class Cavity:
    """What all plays but one say of the shared unknowns that it depends on.

    Attributes:
        columns: numbers of those unknowns
        centre: (c,) most likely, standard
        root: (c, c) lower triangular root of their covariance
        onto_all: (n, c) by how much all shared unknowns go along
        all: (n,) most likely of all shared unknowns
    """

    columns: NDArray[np.int64]
    centre: Floats
    root: Floats
    onto_all: Floats
    all: Floats

    def shared(self, standard: Floats) -> Floats:
        """(N, n) shared unknowns from (N, c) standard normal ones of this play's."""
        found: Floats = self.all + (standard @ self.root.T) @ self.onto_all.T
        return found


def searched(problem: Problem, found: Descent) -> list[Descent]:
    """Fits reached by playing single plays otherwise, the best first; the one given is among them.

    Only those whose cost is near the best are kept.
    """
    fits = [found]
    for _ in range(_PASSES):
        before = fits[0].cost
        for play in range(len(problem.predictor.record.plays)):
            fits = _with(problem, fits, play)
        if fits[0].cost > before - _GAIN:
            break
    return fits


def looked_for_again(problem: Problem, found: Descent, play: int) -> Descent:
    """A better fit with that play played otherwise, where there is one."""
    fits = [found]
    for seed in range(_CLOUDS_OF_THE_ACCUSED):
        fits = _with(problem, fits, play, 1 + seed)
        if fits[0].cost < found.cost - _GAIN:
            break
    return fits[0]


def _with(problem: Problem, fits: list[Descent], play: int, seed: int = 0) -> list[Descent]:
    best = fits[0]
    for start in other_starts(problem, best.unknowns, play, seed):
        fits = _sorted([*fits, robust_fit(problem, start)])
    return fits


def _sorted(fits: list[Descent]) -> list[Descent]:
    """Those near the best, each once."""
    kept: list[Descent] = []
    for one in sorted(fits, key=lambda fit: fit.cost):
        known = any(np.abs(one.unknowns - other.unknowns).max() < _APART for other in kept)
        if not known and one.cost < (kept or [one])[0].cost + 2.0 * _WORTH:
            kept.append(one)
    return kept


def other_starts(problem: Problem, unknowns: Floats, play: int, seed: int = 0) -> Iterator[Floats]:
    """Unknowns to start from, in which that play goes another way than now.

    Args:
        seed: of the cloud; those after the first are larger
    """
    names = problem.predictor.own_names(problem.predictor.record.plays[play])
    if not names:
        return
    cavity = cavity_of(problem, unknowns, play)
    points, costs = _polished(problem, play, cavity, unknowns, seed)
    width = len(cavity.columns)
    kept = [points[0]]
    for row in np.argsort(costs):
        if costs[row] > costs[0] + _WORTH or len(kept) > _TRIED:
            return
        if min(np.abs(points[row, width:] - one[width:]).max() for one in kept) < _APART:
            continue
        kept.append(points[row])
        start = unknowns.copy()
        start[: problem.shared] = cavity.shared(points[row, None, :width])[0]
        start[problem.own(play)] = points[row, width:]
        yield start


def cavity_of(problem: Problem, unknowns: Floats, play: int) -> Cavity:
    """From the residuals' slopes, the other plays' own unknowns left free."""
    jacobian, residuals = problem.rough_jacobian(unknowns), problem.residuals(unknowns)
    root = np.sqrt(robust_pull(residuals, problem.numbers))[:, None]
    slopes, misses = root * jacobian, root[:, 0] * residuals
    left = np.ones(len(misses), dtype=bool)
    left[problem.rows(play)] = False
    curvature = slopes[left].T @ slopes[left]
    covariance = np.linalg.inv(curvature)
    step = -covariance @ (slopes[left].T @ misses[left])
    columns = np.array(problem.predictor.shared_of(problem.predictor.record.plays[play]))
    own = covariance[np.ix_(columns, columns)]
    shared = unknowns[: problem.shared] + step[: problem.shared]
    onto: Floats = np.asarray(covariance[: problem.shared][:, columns] @ np.linalg.inv(own))
    return Cavity(columns, shared[columns], np.linalg.cholesky(own), onto, shared)


def _polished(
    problem: Problem, play: int, cavity: Cavity, unknowns: Floats, seed: int
) -> tuple[Floats, Floats]:
    """(N, c + own) standard points near which the play is as read, and their robust costs.

    The first is where the way in force leads.
    """
    width = len(cavity.columns)
    off = unknowns[: problem.shared][cavity.columns] - cavity.centre
    now = np.concatenate([np.linalg.solve(cavity.root, off), unknowns[problem.own(play)]])
    many = 4 if seed else 1
    cloud = even_cloud(many * _CLOUD, len(now), seed)
    misses = _misses(problem, play, cavity, cloud)
    near = np.log1p((misses / _HAZE) ** 2).sum(axis=1) + 0.5 * (cloud**2).sum(axis=1) / _HAZE
    points = np.concatenate([now[None], cloud[np.argsort(near)[: many * _POLISHED - 1]]])
    return _descended(problem, play, cavity, points, width)


def _misses(problem: Problem, play: int, cavity: Cavity, points: Floats) -> Floats:
    """(N, m) readings' residuals at those points. [-]"""
    width, rows = len(cavity.columns), problem.rows(play)
    shared = cavity.shared(points[:, :width])
    jobs = [Job(play, one, own) for one, own in zip(shared, points[:, width:], strict=True)]
    found = np.stack(problem.predictor.predict(jobs)) - problem.read[rows]
    misses: Floats = found / problem.errors[rows] * problem.weights[rows]
    return misses


def _descended(
    problem: Problem, play: int, cavity: Cavity, points: Floats, width: int
) -> tuple[Floats, Floats]:
    """Levenberg's damped steps, all points at once, each with a damping of its own."""
    size = points.shape[1]
    misses = _misses(problem, play, cavity, points)
    costs = _costs(misses, points)
    damping = np.full(len(points), 1.0)
    for _ in range(_ROUNDS):
        moved = points[:, None] + _STEP * np.eye(size)
        beside = _misses(problem, play, cavity, moved.reshape(-1, size))
        slopes = (beside.reshape(len(points), size, -1) - misses[:, None]) / _STEP
        pull = 1.0 / (1.0 + (misses / ROBUST_FROM) ** 2)
        curvature = np.einsum("nim,nm,njm->nij", slopes, pull, slopes)
        curvature += (1.0 + damping)[:, None, None] * np.eye(size)
        slope = np.einsum("nim,nm->ni", slopes, pull * misses) + points
        step = np.linalg.solve(curvature, slope[..., None])[..., 0]
        # One deviation at a time: beyond, the slopes say nothing.
        step /= np.maximum(1.0, np.abs(step).max(axis=1, keepdims=True))
        tried = points - step
        tried_misses = _misses(problem, play, cavity, tried)
        tried_costs = _costs(tried_misses, tried)
        better = tried_costs < costs
        points = np.where(better[:, None], tried, points)
        misses = np.where(better[:, None], tried_misses, misses)
        costs = np.where(better, tried_costs, costs)
        damping = np.where(better, 0.1 * damping, 10.0 * damping)
    return points, costs


def _costs(misses: Floats, points: Floats) -> Floats:
    """Half the robust sum of squares, as in ``robust_fit``."""
    scaled = np.log1p((misses / ROBUST_FROM) ** 2)
    costs: Floats = 0.5 * (ROBUST_FROM**2 * scaled.sum(axis=1) + (points**2).sum(axis=1))
    return costs
