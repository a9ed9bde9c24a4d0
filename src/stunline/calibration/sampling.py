"""The posterior sampled, on request: what Laplace's approximation leaves out shows beside it.

An ensemble of walkers, moved by differences of one another (ter Braak 2006; Goodman & Weare 2010;
both from memory, as the library emcee offers them). It starts from the approximation, so what it
must find is only what is not normal: skewness, and folds beside the best fit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from stunline.calibration.fit import Fit
from stunline.calibration.problem import Problem

Floats = NDArray[np.float64]

STEPS = 1_500
_WALKERS_PER_UNKNOWN = 2  # the fewest that the library takes
_LEAST_WALKERS = 32
_LEFT_OUT = 0.25  # share of the steps before which nothing is kept
_SEED = 5
_EVERY = 10  # steps between two that are told
# As emcee's authors advise: a chain shorter than this many autocorrelation times is not done.
_LONG_ENOUGH = 50.0
# Effective draws with which the end of a 90 % interval is off by a tenth of a deviation at most:
# √(0.05 · 0.95/n)/φ(1.645), with φ the normal density, 0.103.
_ENOUGH_DRAWS = 450
_TAIL = 0.05


@dataclass(frozen=True, slots=True)
class Sampled:
    """What was sampled so far.

    Attributes:
        walkers, steps, wanted: how many, of each walker
        acceptance: share of the moves taken [-]
        autocorrelation: steps between two draws that count as independent, of the slowest shared
            unknown; NaN while there is too little to tell
        shared: (M, n) draws of the shared unknowns, standard, those left out at the start not among
            them
    """

    walkers: int
    steps: int
    wanted: int
    acceptance: float
    autocorrelation: float
    shared: Floats

    @property
    def effective(self) -> float:
        """Draws that count as independent; NaN while that can't be told."""
        return len(self.shared) / self.autocorrelation

    @property
    def converged(self) -> bool:
        """Whether the walkers went far enough, and there are draws enough for the intervals."""
        kept = len(self.shared) / self.walkers
        return kept >= _LONG_ENOUGH * self.autocorrelation or (
            kept >= 10.0 * self.autocorrelation and self.effective >= _ENOUGH_DRAWS
        )

    def quantiles(self) -> Floats:
        """(3, n) ends of the 90 % intervals and medians: low, median, high, standard."""
        found: Floats = np.quantile(self.shared, [_TAIL, 0.5, 1.0 - _TAIL], axis=0)
        return found


def sample(
    fit: Fit, steps: int = STEPS, cancelled: Callable[[], bool] | None = None
) -> Iterator[Sampled]:
    """Sample the posterior; tells what there is again and again, the last being all.

    Args:
        steps: of each walker
        cancelled: asked often; once true, what was sampled until then is the last that is given
    """
    import emcee

    unknowns = len(fit.unknowns)
    walkers = max(_LEAST_WALKERS, 2 * ((_WALKERS_PER_UNKNOWN * unknowns + 3) // 2))
    random = np.random.default_rng(_SEED)
    root = np.linalg.cholesky(fit.covariance)
    start = fit.unknowns + random.normal(size=(walkers, unknowns)) @ root.T
    moves = [
        (emcee.moves.DEMove(), 0.8),
        (emcee.moves.DEMove(gamma0=1.0), 0.1),  # whole differences leap from fold to fold
        (emcee.moves.StretchMove(), 0.1),
    ]
    with threadpool_limits(limits=1, user_api="blas"):
        sampler = emcee.EnsembleSampler(
            walkers, unknowns, lambda rows: log_chance(fit.problem, rows), vectorize=True,
            moves=moves,
        )  # fmt: skip
        sampler.random_state = np.random.RandomState(_SEED).get_state()
        done = 0
        for _ in sampler.sample(start, iterations=steps, skip_initial_state_check=True):
            done += 1
            stop = cancelled is not None and cancelled()
            if stop or done == steps:
                break
            if done % _EVERY == 0:
                yield _so_far(sampler, fit, done, steps, told=False)
    yield _so_far(sampler, fit, done, steps, told=True)


def log_chance(problem: Problem, rows: Floats) -> Floats:
    """(N,) logarithm of the posterior's density for (N, unknowns), but for a constant."""
    plays = range(len(problem.predictor.record.plays))
    jobs = [problem.job(k, row) for row in rows for k in plays]
    found = np.concatenate(problem.predictor.predict(jobs)).reshape(len(rows), -1)
    misses = (found - problem.read) / problem.errors * problem.weights
    density: Floats = -0.5 * ((misses**2).sum(axis=1) + (rows**2).sum(axis=1))
    return density


def _so_far(sampler: object, fit: Fit, done: int, wanted: int, told: bool) -> Sampled:
    import emcee

    assert isinstance(sampler, emcee.EnsembleSampler)
    first = math.floor(_LEFT_OUT * done)
    acceptance = float(np.mean(sampler.acceptance_fraction))
    if not told:
        return Sampled(sampler.nwalkers, done, wanted, acceptance, math.nan, np.empty((0, 0)))
    chain = sampler.get_chain(discard=first)[:, :, : fit.problem.shared]
    # Silent where the chain is short or stands still: ``converged`` says so.
    with np.errstate(invalid="ignore"):
        times = emcee.autocorr.integrated_time(chain, tol=0, quiet=True)
    slowest = float(np.max(times)) if np.isfinite(times).all() else math.nan
    flat = chain.reshape(-1, fit.problem.shared)
    return Sampled(sampler.nwalkers, done, wanted, acceptance, slowest, flat)
