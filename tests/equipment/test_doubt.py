"""The doubt of a cloth's coefficients, and the tables drawn from it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from stunline.equipment.catalogue import load_table
from stunline.equipment.coefficient_scales import COEFFICIENTS, to_scale, value_of
from stunline.equipment.doubt import doubt_of, spread_normals
from stunline.equipment.gauging import Gauging

MATCH = load_table("snooker-12ft").cloths["match"]
NAMES = ("rolling_resistance", "cushion_restitution", "ramp_factor")
SCALES = ("log", "logit", "log")
COVARIANCE = ((4e-4, -3e-3, 5e-4), (-3e-3, 9e-2, 0.0), (5e-4, 0.0, 1e-3))
MEASURED = Gauging("2026-11-29", "invented", 5, NAMES, SCALES, (0.01, 0.98, 0.93), (True,) * 3,
                   COVARIANCE)  # fmt: skip


def test_draws_are_as_normal_as_random_ones_and_spread_more_evenly() -> None:
    """Against scipy's normal distribution: Kolmogorov and Smirnov's distance of each column."""
    drawn = spread_normals(256, 7)
    random = np.random.default_rng(1).standard_normal((256, 7))
    for column, other in zip(drawn.T, random.T, strict=True):
        distance = stats.kstest(column, "norm").statistic
        assert distance < 0.03
        assert distance < stats.kstest(other, "norm").statistic
    assert np.abs(np.corrcoef(drawn.T) - np.eye(7)).max() < 0.12


def test_a_cloth_never_gauged_differs_as_tables_do() -> None:
    doubt = doubt_of(MATCH)
    assert doubt.gauging is None
    assert doubt.names == COEFFICIENTS
    rolling = np.log([table.rolling_resistance for table in doubt.draw(512)])
    assert rolling.mean() == pytest.approx(np.log(0.01), abs=0.01)
    assert rolling.std() == pytest.approx(0.25, rel=0.05)


def test_tables_drawn_from_a_gauging_have_its_covariance() -> None:
    doubt = doubt_of(replace(MATCH, gauging=MEASURED))
    drawn = doubt.draw(2048)
    columns = [
        [to_scale(value_of(table, name), scale) for table in drawn]
        for name, scale in zip(NAMES[:2], SCALES[:2], strict=True)
    ]
    found = np.cov(columns)
    assert found == pytest.approx(np.array(COVARIANCE)[:2, :2], rel=0.05)


def test_what_the_gauging_does_not_name_is_as_assumed() -> None:
    doubt = doubt_of(replace(MATCH, gauging=MEASURED))
    deviation = dict(zip(doubt.names, doubt.deviations(), strict=True))
    assert deviation["sliding_friction"] == pytest.approx(0.2)
    assert deviation["rolling_resistance"] == pytest.approx(0.02)


def test_a_coefficient_that_was_stated_is_exact() -> None:
    stated = replace(MATCH.coefficients, sliding_friction=0.25, ball_friction=0.0)
    doubt = doubt_of(MATCH, stated)
    assert set(doubt.stated) == {"sliding_friction", "ball_friction"}
    for table in doubt.draw(16):
        assert table.sliding_friction == 0.25
        assert table.ball_friction == 0.0
        assert table.rolling_resistance != 0.01


def test_ideal_numbers_of_a_profile_stay_ideal() -> None:
    ideal = replace(MATCH.coefficients, ball_restitution=1.0, cushion_friction=0.0)
    doubt = doubt_of(replace(MATCH, coefficients=ideal))
    assert "ball_restitution" not in doubt.names
    assert "cushion_friction" not in doubt.names
    assert all(table.ball_restitution == 1.0 for table in doubt.draw(8))


def test_a_friction_that_falls_with_slip_keeps_its_shape() -> None:
    law = MATCH.coefficients.ball_friction
    assert not isinstance(law, float)
    for table in doubt_of(MATCH).draw(8):
        drawn = table.ball_friction
        assert not isinstance(drawn, float)
        assert drawn.decay == law.decay
        assert drawn.floor / drawn.span == pytest.approx(law.floor / law.span)


def test_the_same_tables_every_time_and_none_in_doubt_when_all_is_stated() -> None:
    assert doubt_of(MATCH).draw(4) == doubt_of(MATCH).draw(4)
    values = {
        name: 0.9 * value_of(MATCH.coefficients, name)
        for name in COEFFICIENTS
        if name != "ball_friction"
    }
    stated = replace(MATCH.coefficients, ball_friction=0.05, **values)
    assert doubt_of(MATCH, stated).draw(3) == [stated] * 3
