"""The exact law that engines are compared by, held to the tests' own integration.

Source of every expected number: an independent method, ``reference.table_dop853``, which
integrates motion and impacts numerically and finds contacts by sampling.
"""

from __future__ import annotations

import math

import pytest

from compared import two_ball_shot as given
from compared.exact_law import effective_friction, exact_outcome
from compared.played_by_solve_ivp import SolveIvpEngine
from compared.two_ball_shot import NO_THROW, THROW, BallFriction, TwoBallShot, shots
from reference.table_dop853 import simulate

BED = 1000.0  # [m] nothing gets to its edge
START = 0.5 * BED
REST_TOLERANCE = 1e-7  # [m] what sampling, bracketing and smoothed friction leave over 8 m
TIME_TOLERANCE = 1e-12  # [s]
STICKS = BallFriction(0.5, 0.0, 0.0)  # so rough that the surfaces always end without slip
CASES = [*shots(NO_THROW)[:2], *shots(THROW), *shots(STICKS)[2:3]]
NAMES = [f"{shot.name}, friction {shot.friction.floor:g}" for shot in CASES]


def reference_of(shot: TwoBallShot) -> dict[str, object]:
    """Played by the independent integration, in the middle of a bed without an edge near."""
    x, y = shot.object_ball
    coefficients = {
        "sliding_friction": given.SLIDING_FRICTION,
        "rolling_resistance": given.ROLLING_RESISTANCE,
        "spin_deceleration": given.SPIN_DECELERATION,
        "gravity": given.GRAVITY,
        "ball_restitution": given.RESTITUTION,
        "ball_friction": tuple(shot.friction),
        "cushion_restitution": 1.0,
        "cushion_friction": 0.0,
        "nose_height": 1.4 * given.RADIUS,
    }
    strike = {
        "aim": 0.0,
        "pace": shot.pace,
        "height": shot.height * given.RADIUS,
        "side": 0.0,
        "elevation": 0.0,
    }
    balls = [(START, START), (START + x, START + y)]
    return simulate(BED, BED, given.RADIUS, coefficients, balls, strike)


@pytest.mark.parametrize("shot", CASES, ids=NAMES)
def test_exact_law_and_solve_ivp_agree_with_the_reference(shot: TwoBallShot) -> None:
    played = reference_of(shot)
    (x, y), _ = played["rest"]
    ((contact, kind, _),) = played["events"]
    assert kind == "ball"
    for found in (exact_outcome(shot), SolveIvpEngine(shot).outcome()):
        assert math.dist(found.rest, (x - START, y - START)) < REST_TOLERANCE
        assert abs(found.contact - contact) < TIME_TOLERANCE


@pytest.mark.parametrize("shot", CASES, ids=NAMES)
def test_both_give_the_same_direction_while_the_white_bends(shot: TwoBallShot) -> None:
    exact, integrated = exact_outcome(shot), SolveIvpEngine(shot).outcome()
    assert abs(exact.direction - integrated.direction) < 1e-12


def test_a_constant_friction_is_its_own_mean() -> None:
    """[X] Coulomb friction that slips to the end of an impact: J_t / J_n is the coefficient."""
    for shot in shots(BallFriction(0.04, 0.0, 0.0)):
        assert effective_friction(shot) == pytest.approx(0.04, rel=1e-12)
