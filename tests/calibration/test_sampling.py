"""The sampler against exact normal distributions, and Laplace's approximation."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from calibration.simulated_table import record, stored_tables
from stunline.calibration.fit import Fit, fit
from stunline.calibration.sampling import Sampled, log_chance, sample

STEPS = 800


@cache
def one_roll() -> Fit:
    return fit(record(stored_tables()[0], ("roll-up",)))


@cache
def sampled() -> Sampled:
    return list(sample(one_roll(), STEPS))[-1]


def test_the_density_is_that_of_the_residuals() -> None:
    problem = one_roll().problem
    rows = one_roll().unknowns + 0.3 * np.random.default_rng(1).normal(size=(4, problem.unknowns))
    sums = [-0.5 * float(np.square(problem.residuals(row)).sum()) for row in rows]
    assert log_chance(problem, rows) == pytest.approx(sums)


def test_unknowns_that_nothing_tells_of_keep_their_prior() -> None:
    # A standard normal: 90 % within ±1.645 (exact). What one roll can't tell is untouched.
    names = [prior.name for prior in one_roll().predictor.priors]
    low, middle, high = sampled().quantiles()
    for name in ("ball_restitution", "ball_friction", "spin_deceleration", "lean_across"):
        row = names.index(name)
        assert middle[row] == pytest.approx(0.0, abs=0.15)
        assert (low[row], high[row]) == pytest.approx((-1.645, 1.645), abs=0.25)


def test_where_all_is_nearly_straight_it_agrees_with_the_approximation() -> None:
    found = one_roll()
    row = [prior.name for prior in found.predictor.priors].index("rolling_resistance")
    low, middle, high = sampled().quantiles()[:, row]
    deviation = math.sqrt(found.shared_covariance[row, row])
    assert middle == pytest.approx(found.shared[row], abs=0.25 * deviation)
    assert high - low == pytest.approx(2.0 * 1.645 * deviation, rel=0.15)


def test_it_says_how_far_it_went() -> None:
    found = sampled()
    assert (found.steps, found.wanted) == (STEPS, STEPS)
    assert 0.1 < found.acceptance < 0.7
    assert found.effective > 450.0
    assert found.converged
    assert not list(sample(one_roll(), 30))[-1].converged


def test_a_stop_keeps_what_was_sampled_and_the_same_seed_gives_the_same_bits() -> None:
    asked = iter([False] * 19 + [True] * 100)
    stopped = list(sample(one_roll(), STEPS, lambda: next(asked)))[-1]
    assert (stopped.steps, stopped.wanted) == (20, STEPS)
    assert len(stopped.shared) == 15 * stopped.walkers
    again = list(sample(one_roll(), 20))[-1]
    assert again.shared.tolist() == stopped.shared.tolist()
