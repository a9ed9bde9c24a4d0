"""Folds: a play that settled in a wrong way is found the right one; touches of cushions."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from calibration.simulated_table import (
    BALL_TO_END_MASS,
    PROFILE,
    RADIUS,
    TABLE,
    _coefficients,
    record,
    standard,
    stored_tables,
    truth,
)
from reference.table_dop853 import simulate
from stunline.calibration.climb import climb
from stunline.calibration.menu import BY_ID, CUSHION, OBJECT_CUSHION
from stunline.calibration.predict import Job, Predictor
from stunline.calibration.priors import priors
from stunline.calibration.problem import Problem
from stunline.calibration.record import READING, Play, Reading, Record, set_up_places
from stunline.calibration.solve import robust_fit
from stunline.calibration.touches import Touches
from stunline.calibration.ways import searched


def test_a_play_in_a_wrong_fold_is_brought_back() -> None:
    given = record(stored_tables()[2], ("roll-up", "roll-down", "cushion-square", "bend-follow"))
    problem = Problem(Predictor(given))
    right = searched(problem, climb(given, 0))[0]
    bend = next(k for k, play in enumerate(given.plays) if play.shot.id == "bend-follow")
    wrong = right.unknowns.copy()
    wrong[problem.own(bend)] = [
        -0.8,
        -1.5,
        1.0,
        0.0,
        0.0,
        0.0,
        0.0,
        0.0,
    ]  # far slower, with less follow
    stuck = robust_fit(problem, wrong)
    found = searched(problem, stuck)[0]
    assert found.cost <= right.cost + 0.05
    assert found.cost <= stuck.cost


def test_searching_keeps_the_best_and_only_what_is_near_it() -> None:
    given = record(stored_tables()[2], ("roll-up", "cushion-square", "half-ball"))
    fits = searched(Problem(Predictor(given)), climb(given, 0))
    costs = [one.cost for one in fits]
    assert costs == sorted(costs)
    assert costs[-1] < costs[0] + 8.0 + 1e-9


def test_touches_by_hand() -> None:
    # Snooker: the centre touches 24.059 mm from the nose line, R√(1 − (h/R − 1)²), exact.
    touches = Touches.of(TABLE, TABLE.cue_ball)
    assert touches.reach == pytest.approx(0.024059, abs=1e-6)
    # From (1, 1) at 45° the right line, x = 1.778 − 0.024059, is reached 0.753941 farther up.
    assert touches.along((1.0, 1.0), 0.25 * math.pi, 1) == pytest.approx(1.753941, abs=1e-6)
    assert touches.first((1.0, 1.0), 0.25 * math.pi) == 1
    assert touches.along((1.0, 1.0), 0.25 * math.pi, 3) is None
    assert touches.first((1.0, 1.0), -0.5 * math.pi) == 0
    assert touches.at((0.5, TABLE.length - touches.reach)) == 2
    assert touches.at((0.5, 1.0)) is None


@pytest.mark.parametrize("name", ["bend-follow", "bend-screw"])
def test_both_balls_touch_cushions_where_the_independent_integrator_says(name: str) -> None:
    shot = BY_ID[name]
    actual = truth(5)
    white, other = set_up_places(shot, TABLE)
    assert other is not None
    readings = (Reading(CUSHION, (1.0,), READING, 1), Reading(OBJECT_CUSHION, (1.0,), READING, 3))
    play = Play(name, shot, white, other, shot.aim, 0.0, readings)
    predictor = Predictor(Record(TABLE, "match", (play,)))
    shared = np.array([standard(prior, actual[prior.name]) for prior in priors(PROFILE)])
    met = predictor.cushions_met(Job(0, shared, np.zeros(8)))
    readings = tuple(replace(one, cushion=met[one.kind]) for one in readings)
    predictor = Predictor(Record(TABLE, "match", (replace(play, readings=readings),)))
    (told,) = predictor.predict([Job(0, shared, np.zeros(8))])
    found = simulate(
        TABLE.length, TABLE.width, RADIUS, _coefficients(shot, actual), [white, other],
        {"aim": shot.aim, "pace": shot.pace, "height": shot.height * RADIUS, "side": 0.0,
         "elevation": 0.0},
        BALL_TO_END_MASS,
    )  # fmt: skip
    for ball, reading, number in zip((0, 1), readings, told.tolist(), strict=True):
        which, place = next(
            (who[1], places[ball])
            for (_, what, who), places in zip(found["events"], found["places"], strict=True)
            if what == "cushion" and who[0] == ball
        )
        assert which == reading.cushion
        # The object ball's way is taken as straight: a fraction of what a tape reads.
        assert number == pytest.approx(place[0 if which in (0, 2) else 1], abs=0.0015)
