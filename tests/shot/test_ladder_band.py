"""Changes from rung to rung, on the same drawn tables."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stunline.equipment.catalogue import load_table
from stunline.shot.band import interval_of
from stunline.shot.ladder import climb
from stunline.shot.ladder_band import band_of_ladder, end_region
from stunline.shot.position import DirectAim, LadderPlan, Position, StrikePlan
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path

TABLE = load_table("snooker-12ft")


def alone(paces: tuple[float, ...]):
    """The white alone, rolling at once, up the table."""
    position = Position(TABLE, "match", TABLE.cloths["match"].coefficients, {"white": (0.9, 0.5)})
    radius = TABLE.balls["white"].radius
    plan = StrikePlan(DirectAim(0.5 * math.pi), paces[0], 0.4 * radius, 0.0, 0.0)
    return climb(position, plan, LadderPlan("pace", paces))


def test_the_change_of_a_rolling_ball_is_as_sure_as_one_rolling_resistance_makes_it() -> None:
    """By hand: two runs on one table are v₁²/2μg and v₂²/2μg, so their difference is log-normal
    with the same spread as each, e^±1.645·0.25, and narrower than two ends of their own."""
    band = band_of_ladder(alone((0.4, 0.45)))
    (step,) = band.steps
    gravity = TABLE.cloths["match"].coefficients.gravity
    way = 1000.0 * (0.45**2 - 0.4**2) / (2.0 * 0.01 * gravity)
    assert step.moved_mm == pytest.approx(way, rel=1e-9) == step.run_mm
    ends = [way * math.exp(sign * 1.6449 * 0.25) for sign in (-1.0, 1.0)]
    assert step.moved is not None and step.run is not None
    assert (step.moved.low, step.moved.high) == pytest.approx(ends, rel=0.02)
    assert (step.run.low, step.run.high) == pytest.approx(ends, rel=0.02)
    # Drawn apart, each end on a table of its own.
    first, second = (np.array([1000.0 * way.run for way in one.ways]) for one in band.rungs)
    other = np.random.default_rng(2).permutation(second)
    apart = interval_of(other - first)
    assert apart is not None and apart.width > 4.0 * step.run.width
    assert max(one.rest_from_cushions["y"].width for one in band.rungs) > 2.0 * step.moved.width


def test_every_rung_is_played_on_the_same_tables() -> None:
    file = read_position_file(shipped_position_path("stay-on-the-black"))
    assert file.ladder is not None
    ladder = climb(file.position, file.plan, file.ladder)
    band = band_of_ladder(ladder)
    assert len(band.rungs) == len(ladder.rungs) and len(band.steps) == len(ladder.rungs) - 1
    for step, before, after in zip(band.steps, band.rungs, band.rungs[1:], strict=False):
        ends = [np.array([way.end for way in one.ways]) for one in (before, after)]
        moved = 1000.0 * np.hypot(*(ends[1] - ends[0]).T)
        assert step.moved is not None
        low, high = np.quantile(moved, (0.05, 0.95), method="hazen")
        assert (step.moved.low, step.moved.high) == pytest.approx((low, high))
        assert step.moved.low <= (step.moved_mm or 0.0) <= step.moved.high
    for one, rung in zip(band.rungs, ladder.rungs, strict=True):
        assert one.own.end.tolist() == pytest.approx(rung.shot.rest("white"))
        assert len(end_region(one)) > 2


def test_between_cloths_there_is_no_step() -> None:
    file = read_position_file(shipped_position_path("up-and-down"))
    ladder = climb(file.position, file.plan, LadderPlan("cloth", ("match", "worn")))
    band = band_of_ladder(ladder, tables=20)
    assert band.steps == () and len(band.rungs) == 2
