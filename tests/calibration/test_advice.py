"""What to measure next: information against closed forms, forecasts against what came about."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from calibration.simulated_table import TABLE, record, simulated
from stunline.calibration.advice import advise, expected, told_by_menu
from stunline.calibration.fit import Fit, fit
from stunline.calibration.menu import BY_ID, QUICK
from stunline.calibration.targets import (
    band_of,
    drawn,
    ends_of,
    ends_on,
    standard_targets,
)

SEED = 7
ADDED = "cushion-30"


@cache
def quick() -> Fit:
    return fit(record(simulated(SEED, QUICK)))


def test_a_twirl_tells_what_its_closed_form_says() -> None:
    # T = √(4πN/α), so dT/d ln α = −T/2; one prior's deviation of ln α is 0.35. Errors: 0.15 s by
    # hand, and a quarter of a turn counted of 40, which moves T by T/(2N) each (exact).
    found = quick()
    row = [prior.name for prior in found.predictor.priors].index("spin_deceleration")
    alpha = found.predictor.priors[row].value(float(found.shared[row]))
    time = np.sqrt(4.0 * np.pi * 40.0 / alpha)
    told = (0.5 * 0.35 * time) ** 2 / (0.15**2 + (0.5 * 0.25 / 40.0 * 1.0) ** 2)
    for one in told_by_menu(found)["twirl"]:
        assert one[row, row] == pytest.approx(told, rel=0.02)
        assert np.abs(np.delete(one, row, axis=0)).max() == 0.0


def test_information_adds_to_the_inverse_covariance() -> None:
    covariance = np.array([[2.0, 0.6], [0.6, 1.0]])
    told = np.array([[3.0, 1.0], [1.0, 4.0]])
    after = expected(covariance, [told])
    assert np.linalg.inv(after) == pytest.approx(np.linalg.inv(covariance) + told)


def test_the_band_is_that_of_the_ends_on_drawn_tables() -> None:
    found = quick()
    for target in standard_targets(found.predictor):
        args = (found.predictor, found.shared, found.shared_covariance)
        told = ends_of([target], *args).band(found.shared_covariance)
        ends = ends_on(target, found.predictor, drawn(*args[1:]))
        ends = ends[np.isfinite(ends).all(axis=1)]
        # Lines and what they leave make up the scatter; the cloud is even, not exactly white.
        assert told == pytest.approx(band_of(np.cov(ends.T)), rel=0.1)


def test_what_a_shot_was_to_narrow_it_does_narrow() -> None:
    before = quick()
    advice = advise(before, standard_targets(before.predictor))
    assert advice.alone[ADDED] < 0.7 * advice.band
    names = [prior.name for prior in before.predictor.priors]
    row = names.index("cushion_friction")
    foretold = expected(before.shared_covariance, told_by_menu(before)[ADDED])
    # Played by the independent integrator, on the same table.
    after = fit(record(simulated(SEED, (*QUICK, ADDED))))
    deviation = np.sqrt(after.shared_covariance[row, row])
    assert deviation < 0.9 * np.sqrt(before.shared_covariance[row, row])
    assert deviation == pytest.approx(np.sqrt(foretold[row, row]), rel=0.35)


def test_the_next_three_do_not_tell_the_same_tale() -> None:
    advice = advise(quick(), standard_targets(quick().predictor))
    first, second, third = (one.band for one in advice.best)
    assert advice.band > first > second > third
    assert first == pytest.approx(min(advice.alone.values()), rel=1e-9)
    # The same shot again tells less than the first time.
    again = advice.alone[advice.best[0].shot.id]
    assert advice.band - again > first - second
    assert not advice.enough
    assert replace(advice, band=third + 0.004).enough


def test_every_shot_of_the_menu_is_weighed() -> None:
    assert set(told_by_menu(quick())) == set(BY_ID)
    assert TABLE.width == pytest.approx(1.778)


def test_the_reason_of_a_shot_is_what_the_end_hangs_on() -> None:
    # A ball alone up the table, short of the cushion: after its first slide it only rolls, so
    # nothing of cushions or of the other ball narrows where it ends.
    found = quick()
    (alone,) = standard_targets(found.predictor)[-1:]
    short = replace(alone, strike=replace(alone.strike, pace=0.8))
    for one in advise(found, [short]).best:
        shares = dict(one.through)
        assert sum(shares.values()) == pytest.approx(1.0)
        assert max(shares, key=lambda name: shares[name]) == "rolling_resistance"
        for name in ("cushion_restitution", "cushion_friction", "ball_restitution"):
            # Straight lines through the bent ends of 256 tables leave a few per cent.
            assert abs(shares[name]) < 0.1
