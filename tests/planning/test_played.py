"""Which stroke was played, told from where the balls went, against strokes that are known."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy import optimize, stats

from planning.played_by_reference import asked_of, stored
from planning.played_strokes import ASSUMED, simulated
from stunline.equipment.player import Player, load_player
from stunline.planning.likely_strokes import LikelyStrokes, PlayedAsked, likely_strokes
from stunline.planning.stroke_prior import BAD_TIMES, OWN_SHARE
from stunline.planning.stroke_ways import Estimate, ways, whole
from stunline.shot.happened import Happened
from stunline.shot.position import Position, Strike
from stunline.shot.reading_error import PLACE

CLUB = load_player("club")
CLOTH = ASSUMED.cloths["match"]
# Each a hair off the profile, so that they count as stated, and so as exact.
EXACT = replace(
    CLOTH.coefficients,
    sliding_friction=0.2001, rolling_resistance=0.01001, spin_deceleration=10.01,
    ball_restitution=0.9501, ball_friction=0.0601, cushion_restitution=0.9801,
    cushion_friction=0.1401,
)  # fmt: skip
WHITE = (0.889, 0.5)
ALONE = Position(ASSUMED, CLOTH.name, EXACT, {"white": WHITE})
# Whose tip and aim never err: only the pace is in question.
PACE_ONLY = Player("exact", "Errs in pace alone", "invented", 0.0, 0.3, 0.0, 0.0)


@cache
def told_of(seed: int) -> tuple[LikelyStrokes, np.ndarray]:
    """What is told of a stroke simulated with the engine, and how far off it really was."""
    asked, truth = simulated(seed)
    return likely_strokes(asked), truth


def pace_to(distance: float) -> float:
    """A centre-ball stroke's pace, from how far it runs without a cushion. [m s⁻¹]

    It slides 12v²/(49μg) and then rolls from 5v/7 (exact; sliding and rolling of a solid sphere):
    d = v²(12/(49 μ_s g) + 25/(98 μ_r g)).
    """
    sliding, rolling, gravity = EXACT.sliding_friction, EXACT.rolling_resistance, EXACT.gravity
    return math.sqrt(
        distance / (12.0 / (49.0 * sliding * gravity) + 25.0 / (98.0 * rolling * gravity))
    )


def test_a_run_without_a_ball_gives_its_pace_in_closed_form() -> None:
    run = 2.0
    seen = Happened(white_rest=(WHITE[0], WHITE[1] + run))
    meant = Strike(math.pi / 2, 0.9)
    # So that a stroke off the top cushion and back, 60 % firm, is out of the question.
    found = likely_strokes(PlayedAsked(ALONE, meant, replace(PACE_ONLY, pace=0.04), seen))
    assert found.explained
    pace = whole(found).number("pace")
    real = pace_to(run) / meant.pace - 1.0
    assert pace.low < real < pace.high
    # v ∝ √d, so v is off by half as much as d is read wrong: δv/v = δd/(2d).
    deviation = (1.0 + real) * PLACE / (2.0 * run)
    assert pace.value == pytest.approx(real, abs=0.25 * deviation)
    assert pace.high - pace.low == pytest.approx(2.0 * 1.645 * deviation, rel=0.15)


def test_two_strokes_that_end_at_one_place_are_told_as_two() -> None:
    # Up the table to where it also comes back to off the top cushion: the soft one in closed form.
    run = 2.7
    seen = Happened(white_rest=(WHITE[0], WHITE[1] + run))
    meant = Strike(math.pi / 2, 1.35 * pace_to(run))
    told = ways(likely_strokes(PlayedAsked(ALONE, meant, PACE_ONLY, seen)))
    assert len(told) == 2
    soft, firm = sorted(one.number("pace").value for one in told)
    assert (1.0 + soft) * meant.pace == pytest.approx(pace_to(run), rel=2e-3)
    assert (1.0 + firm) * meant.pace > pace_to(3.569 - WHITE[1])  # past the top cushion's nose
    assert sum(one.share for one in told) == pytest.approx(1.0, abs=0.05)


def test_what_says_nothing_gives_back_what_was_thought_before() -> None:
    # No in-off: true of nearly every stroke up the middle of the table.
    asked = PlayedAsked(ALONE, Strike(math.pi / 2, 1.0), CLUB, Happened(in_off=False))
    told = whole(likely_strokes(asked))

    def beyond(off: float) -> float:
        own = OWN_SHARE * stats.norm.sf(off)
        return own + (1.0 - OWN_SHARE) * stats.norm.sf(off / BAD_TIMES) - 0.05

    end = optimize.brentq(beyond, 0.5, 5.0)
    for one in told.numbers:
        assert not one.told
        deviation = getattr(CLUB, one.name)
        assert one.high == pytest.approx(end * deviation, rel=0.25)
        assert one.low == pytest.approx(-end * deviation, rel=0.25)


def test_the_same_question_has_the_same_answer() -> None:
    asked, _ = simulated(0)
    one, two = likely_strokes(asked), told_of(0)[0]
    assert np.array_equal(one.strokes, two.strokes)
    assert one.effective == two.effective
    other = likely_strokes(replace(asked, seed=2))
    assert not np.array_equal(one.strokes, other.strokes)


def test_a_place_that_no_stroke_reaches_is_not_explained() -> None:
    # It would have to come to rest behind where it stands, without a cushion.
    seen = Happened(white_rest=(WHITE[0], WHITE[1] - 0.2))
    player = replace(PACE_ONLY, pace=0.02)
    found = likely_strokes(PlayedAsked(ALONE, Strike(math.pi / 2, 0.8), player, seen))
    assert not found.explained
    assert found.rests[found.nearest][1] >= WHITE[1]


def test_intervals_hold_strokes_simulated_with_the_engine() -> None:
    """A slice of ``campaigns/run_played.py``: these test the statistics, not the mechanics."""
    inside = []
    for seed in range(5):
        found, truth = told_of(seed)
        assert found.explained
        inside += [
            one.low <= real <= one.high
            for one, real in zip(whole(found).numbers, truth, strict=True)
        ]
    # Of 20 that each hold in nine cases of ten, 14 or fewer do in about one run of 100 (binomial).
    assert sum(inside) >= 15


def test_intervals_hold_strokes_of_the_independent_integrator() -> None:
    """Played without the engine: what holds here does not hang on its own mechanics."""
    inside = []
    for one in stored():
        found = likely_strokes(asked_of(one))
        assert found.explained
        inside += [
            number.low <= real <= number.high
            for number, real in zip(whole(found).numbers, one["off"], strict=True)
        ]
    assert len(inside) == 24
    assert sum(inside) >= 18  # 17 or fewer in under one run of 100 (binomial, nine of ten)


def test_a_trifle_beside_its_interval_is_no_lean() -> None:
    # Normal distributions about the value: 90 % within 1.645 deviations, so that four fifths lie
    # on one side where the median is 0.8416 deviations off [X].
    def height(value: float, deviation: float) -> Estimate:
        half = stats.norm.ppf(0.95) * deviation
        return Estimate("height", value, value - half, value + half, -0.004, 0.003)

    assert not height(-0.0003, 0.00076).leans  # 0.3 mm low, 1.5 low to 0.9 high
    for value in (-0.001, 0.001):
        assert height(value, 0.001 / (stats.norm.ppf(0.8) + 0.01)).leans
        assert not height(value, 0.001 / (stats.norm.ppf(0.8) - 0.01)).leans
