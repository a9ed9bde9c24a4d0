"""Law 1 against exact results: spin, squirt, speed off the tip, the raised cue."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from endless_bed import RADIUS, BallOnBed, first, run_on_bed
from stunline.shot import compiled
from stunline.shot.shot import EventKind

NO_SQUIRT = math.inf
TO_BLUE = math.pi / 2  # aim straight up the table


def struck(
    pace: float = 1.0, height: float = 0.0, side: float = 0.0, elevation: float = 0.0,
    ratio: float = NO_SQUIRT, aim: float = TO_BLUE,
) -> np.ndarray:  # fmt: skip
    """Motion off the tip; height and side over R."""
    return np.array(
        compiled.strike(aim, pace, height * RADIUS, side * RADIUS, elevation, RADIUS, ratio)
    )


# --- spin ------------------------------------------------------------------------------


def test_two_fifths_above_centre_gives_the_spin_of_rolling() -> None:
    # [S] Coriolis 1835; [X] Rω = (5/2)(2/5)v. Going up the table (+y), rolling turns about −x.
    _, vy, wx, wy, wz = struck(2.0, height=0.4)
    assert (vy, -RADIUS * wx) == (pytest.approx(2.0), pytest.approx(2.0))
    assert (wy, wz) == (pytest.approx(0.0, abs=1e-12), pytest.approx(0.0, abs=1e-12))


def test_side_on_the_right_turns_the_ball_anticlockwise_seen_from_above() -> None:
    # [X] the tip pushes the right half forwards: ω_z = (5/2)(v/R)(side/R), positive
    assert struck(2.0, side=0.3)[4] == pytest.approx(2.5 * 0.3 * 2.0 / RADIUS, rel=1e-12)
    assert struck(2.0, side=-0.3)[4] == pytest.approx(-2.5 * 0.3 * 2.0 / RADIUS, rel=1e-12)


@given(
    st.floats(0.0, 2 * math.pi), st.floats(0.02, 15.0),
    st.floats(0.0, 0.5), st.floats(0.0, 2 * math.pi), st.floats(0.0, 1.3),
)  # fmt: skip
def test_spin_is_that_of_one_impulse_through_the_contact_point(aim, pace, offset, way, elevation):
    # [X] I ω = r_c × m v with I = (2/5)mR². So ω is at right angles to r_c and to v, and as long
    # as (5/2)|v|·(distance of the line of v from the centre)/R².
    height, side = offset * math.sin(way), offset * math.cos(way)
    vx, vy, *spin = struck(pace, height, side, elevation, aim=aim)
    velocity = np.array([vx, vy, -pace * math.tan(elevation)])
    along = velocity / np.linalg.norm(velocity)
    assert np.hypot(vx, vy) == pytest.approx(pace, rel=1e-12)
    assert np.dot(spin, along) == pytest.approx(0.0, abs=1e-9 * (1.0 + np.linalg.norm(spin)))
    expected = 2.5 * np.linalg.norm(velocity) * offset / RADIUS
    assert np.linalg.norm(spin) == pytest.approx(expected, rel=1e-9, abs=1e-9)


def test_raised_cue_with_right_side_swerves_to_the_right() -> None:
    # [P] the white first runs along the aim, then bends to the side of the tip; level, it does not
    for side, turn in ((0.4, 1.0), (-0.4, -1.0)):
        shot = run_on_bed([BallOnBed((0.0, 0.0), tuple(struck(1.5, side=side, elevation=0.5)))])
        across, _ = first(shot, EventKind.ROLL).after["white"].velocity
        # [X] v_roll,x = (5v_x + 2Rω_y)/7 with v_x = 0 and Rω_y = (5/2)·side·v·tan(elevation)
        assert across == pytest.approx(turn * 5.0 / 7.0 * 0.4 * 1.5 * math.tan(0.5), rel=1e-9)
        assert struck(1.5, side=side)[3] == pytest.approx(0.0, abs=1e-12)


# --- squirt ----------------------------------------------------------------------------


@pytest.mark.parametrize(("ratio", "degrees"), [(20.0, 2.71), (25.0, 2.22), (30.0, 1.89)])
def test_squirt_at_the_miscue_limit(ratio: float, degrees: float) -> None:
    # [X] tan α = (5/2)β√(1−β²)/(1 + m/m_e + (5/2)(1−β²)) at β = 1/2
    vx, vy, *_ = struck(side=0.5, ratio=ratio)
    assert math.degrees(math.atan2(-vx, vy)) == pytest.approx(degrees, abs=5e-3)
    assert math.hypot(vx, vy) == pytest.approx(1.0, rel=1e-12)


@given(st.floats(-0.5, 0.5), st.floats(1.0, 60.0))
def test_squirt_follows_from_an_end_of_the_cue_that_has_mass(side: float, ratio: float) -> None:
    # [X] derived again: tip and ball stick together sideways. Impulses (along, across) on a ball
    # of mass 1 and radius 1, met at (−√(1−β²), −β) where across points left and side is right.
    depth = math.sqrt(1.0 - side * side)
    # ω = (5/2)(r × J); sideways speed of the contact point: J_across − depth·ω, and of the end
    # of the cue, of mass 1/ratio: −ratio·J_across. Equal, for J_along = 1.
    matrix = 1.0 + 2.5 * depth * depth + ratio
    across = 2.5 * depth * side / matrix
    angle = compiled.squirt_angle(side * RADIUS, RADIUS, ratio)
    assert math.tan(angle) == pytest.approx(across, rel=1e-12, abs=1e-15)


def test_spin_is_taken_with_the_velocity_after_squirt() -> None:
    # [X] ω_z = (5/2)/R²·(r_c × v)_z, v turned by the squirt to the left
    vx, vy, *_, wz = struck(side=0.4, ratio=25.0)
    rx, ry = 0.4 * RADIUS, -math.sqrt(1.0 - 0.16) * RADIUS
    assert vx < 0.0
    assert wz == pytest.approx(2.5 / RADIUS**2 * (rx * vy - ry * vx), rel=1e-12)


# --- speed -----------------------------------------------------------------------------


@given(st.floats(0.0, 0.5), st.floats(0.0, 1.0), st.floats(0.05, 1.0))
def test_ball_speed_from_cue_speed_keeps_momentum_and_restitution(offset, restitution, ratio):
    # [X] ball of mass 1, cue of mass 1/ratio at speed 2: impulse J leaves the ball's contact point
    # at J(1 + (5/2)β²) along the cue and the cue at 2 − ratio·J; they part with e_t times 2.
    speed = compiled.ball_speed_from_cue_speed(2.0, offset, restitution, ratio)
    parting = speed * (1.0 + 2.5 * offset**2) - (2.0 - ratio * speed)
    assert parting == pytest.approx(2.0 * restitution, rel=1e-12, abs=1e-12)


def test_best_height_for_pace() -> None:
    # [X] rolling speed ∝ (1 + β)/(1 + m/M + (5/2)β²), largest at β = −1 + √(1 + (2/5)(1 + m/M)):
    # 0.235 at m/M = 6/19. [S] published: about 0.2.
    def lost(offset: float) -> float:
        speed = compiled.ball_speed_from_cue_speed(1.0, offset, 0.73, 6.0 / 19.0)
        vx, vy, wx, wy, _ = struck(speed, height=offset)
        return -math.hypot(5.0 * vx + 2.0 * RADIUS * wy, 5.0 * vy - 2.0 * RADIUS * wx) / 7.0

    best = minimize_scalar(lost, bounds=(0.0, 0.5), method="bounded", options={"xatol": 1e-9}).x
    assert best == pytest.approx(-1.0 + math.sqrt(1.0 + 0.4 * 25.0 / 19.0), abs=1e-6)
    assert best == pytest.approx(0.235, abs=5e-4)
