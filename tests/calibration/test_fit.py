"""Fits of records whose measurements come from an integrator that is not the engine's."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.stats import chi2

from calibration.simulated_table import (
    record,
    simulated,
    standard,
    stored_tables,
    truth,
    with_blunder,
)
from stunline.calibration.fit import Fit, fit
from stunline.calibration.posterior import estimates, rolling_by_heading, strong_correlations
from stunline.calibration.predict import Job, Predictor
from stunline.calibration.record import PLACING
from stunline.equipment.coefficient_scales import COEFFICIENTS

STORED = stored_tables()
NAMES = (*COEFFICIENTS, "lean_along", "lean_across", "ramp_factor")
# All twenty, and two hundred more, are fitted in campaigns/run_gauged_tables.py.
FITTED = STORED[:6]
BLUNDERED = 4


@cache
def fits() -> list[Fit]:
    return [fit(record(stored)) for stored in FITTED]


def errors() -> dict[str, np.ndarray]:
    """For each coefficient, value over truth less 1 on every table fitted."""
    return {
        name: np.array(
            [
                next(one.value for one in estimates(found) if one.name == name)
                / stored["truth"][name]
                - 1.0
                for found, stored in zip(fits(), FITTED, strict=True)
            ]
        )
        for name in COEFFICIENTS
    }


def test_the_stored_tables_are_what_their_generator_makes() -> None:
    assert len(STORED) == 20
    made = simulated(STORED[4]["seed"])
    assert made["truth"] == pytest.approx(STORED[4]["truth"])
    for one, other in zip(made["plays"], STORED[4]["plays"], strict=True):
        assert one["shot"] == other["shot"]
        for read, kept in zip(one["readings"], other["readings"], strict=True):
            assert read[0] == kept[0]
            assert read[1] == pytest.approx(kept[1], abs=2e-6)


def test_twelve_shots_recover_the_coefficients() -> None:
    # Asked for: sliding within 5 %, rolling within 3 %, cushion restitution within 0.02.
    found = errors()
    assert np.median(np.abs(found["sliding_friction"])) < 0.05
    assert np.median(np.abs(found["rolling_resistance"])) < 0.03
    off = [
        abs(found["cushion_restitution"][k] * stored["truth"]["cushion_restitution"])
        for k, stored in enumerate(FITTED)
    ]
    assert np.median(off) < 0.02


def test_intervals_hold_the_truth_as_often_as_they_say() -> None:
    # 60 intervals of 90 %: four deviations of a binomial below it, as errors go together.
    inside = [
        one.low <= stored["truth"][one.name] <= one.high
        for found, stored in zip(fits(), FITTED, strict=True)
        for one in estimates(found)
    ]
    assert len(inside) == 60
    assert np.mean(inside) >= 0.75


def test_truths_are_as_far_off_as_the_covariances_say() -> None:
    # Squared distances of a normal distribution: chi-squared, ten degrees of freedom a table.
    off = 0.0
    for found, stored in zip(fits(), FITTED, strict=True):
        priors = found.predictor.priors
        apart = found.shared - [standard(one, stored["truth"][one.name]) for one in priors]
        off += float(apart @ np.linalg.solve(found.shared_covariance, apart))
    assert chi2.cdf(off, len(NAMES) * len(FITTED)) == pytest.approx(0.5, abs=0.4999)


def test_sound_records_are_hardly_ever_accused() -> None:
    accused = sum(len(found.suspects) for found in fits())
    assert accused <= 2  # of 130 readings


def test_a_gross_blunder_is_named_and_moves_little() -> None:
    named, moved = 0, 0
    for stored, clean in list(zip(FITTED, fits(), strict=True))[:BLUNDERED]:
        spoilt, name = with_blunder(record(stored), stored["seed"])
        found = fit(spoilt)
        named += name in [spoilt.plays[one.play].name for one in found.suspects]
        deviations = np.sqrt(np.diag(found.shared_covariance))
        moved += bool((np.abs(found.shared - clean.shared) > 1.645 * deviations).any())
    assert named >= BLUNDERED - 1
    assert moved <= 1


def test_of_two_twirls_that_contradict_each_other_neither_counts() -> None:
    given = record(STORED[0], ("roll-up", "twirl"))
    first, second = (k for k, play in enumerate(given.plays) if play.shot.id == "twirl")
    plays = list(given.plays)
    (time,) = plays[first].readings
    misread = replace(time, values=(time.values[0] + 3.0,))
    plays[first] = replace(plays[first], readings=(misread,))
    found = fit(replace(given, plays=tuple(plays)))
    assert {one.play for one in found.suspects} == {first, second}
    (spin,) = (one for one in estimates(found) if one.name == "spin_deceleration")
    assert not spin.told
    assert spin.value == pytest.approx(spin.prior_value)


def test_a_gross_blunder_among_three_twirls_is_outvoted() -> None:
    given = record(STORED[0], ("roll-up", "twirl"))
    twirl = given.plays[-1]
    (time,) = twirl.readings
    wrong = replace(time, values=(time.values[0] + 3.0,))
    spoilt = replace(twirl, name="misread", readings=(wrong,))
    found = fit(replace(given, plays=(*given.plays, spoilt)))
    assert [one.play for one in found.suspects] == [len(given.plays)]


def test_touches_move_with_the_balls() -> None:
    # Both balls set as much too far up the table: all goes as before, so far further up (exact).
    given = record(STORED[0], ("bend-follow", "bend-screw"))
    predictor = Predictor(given)
    for k, play in enumerate(given.plays):
        names = predictor.own_names(play)
        jobs = [Job(k, np.zeros(len(NAMES)), np.zeros(len(names))) for _ in range(2)]
        jobs[1].own[[names.index("white along"), names.index("object along")]] = 1.0
        asked, moved = predictor.predict(jobs)
        # Of the cushions along the table; on the other two it lies across.
        touches = [r for r, one in enumerate(play.readings) if one.cushion in (1, 3)]
        assert touches
        assert moved[touches] - asked[touches] == pytest.approx(PLACING, abs=1e-6)


def test_one_rolling_shot_gives_the_rest_of_the_prior_back() -> None:
    found = fit(record(STORED[0], ("roll-up",)))
    told = {one.name: one for one in estimates(found)}
    for name in ("ball_restitution", "ball_friction", "spin_deceleration", "lean_across"):
        one = told[name]
        assert not one.told
        assert one.share == pytest.approx(1.0, abs=1e-6)
        assert (one.value, one.low, one.high) == pytest.approx(
            (one.prior_value, one.prior_low, one.prior_high), abs=1e-9
        )
    assert told["rolling_resistance"].told
    assert set(rolling_by_heading(found)) == {"up"}


def test_straight_shots_say_that_they_tell_no_friction_of_cushions() -> None:
    found = fit(record(STORED[1], ("roll-up", "roll-down")))
    not_told = {one.name for one in estimates(found) if not one.told}
    assert {"cushion_friction", "cushion_restitution", "ball_friction", "sliding_friction"} <= (
        not_told
    )


def test_foot_and_rolling_are_hard_to_tell_apart_and_that_is_said() -> None:
    # Both stretch every run: distance is (foot · v)²/(2μg).
    pairs = {frozenset(pair[:2]) for found in fits() for pair in strong_correlations(found)}
    assert frozenset(("ramp_factor", "rolling_resistance")) in pairs


def test_the_same_record_gives_the_same_bits() -> None:
    again = fit(record(STORED[0]))
    assert again.unknowns.tolist() == fits()[0].unknowns.tolist()


def test_truths_are_drawn_from_the_priors() -> None:
    priors = fits()[0].predictor.priors
    assert [prior.name for prior in priors] == list(NAMES)
    drawn = [[standard(prior, truth(seed)[prior.name]) for prior in priors] for seed in range(300)]
    # A standard normal: 3000 draws, so ±0.06 and ±0.04 are three standard errors.
    assert np.mean(drawn) == pytest.approx(0.0, abs=0.06)
    assert np.std(drawn) == pytest.approx(1.0, abs=0.04)
