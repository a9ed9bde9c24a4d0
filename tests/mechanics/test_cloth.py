"""Law 2 against exact results: sliding, the change to rolling, rolling, spin.

Derived here by hand. A solid sphere, I = (2/5)mR², on which friction F acts at the lowest
point: m dv/dt = F, I dω/dt = (−Rẑ) × F. The slip u = v + ω × (−Rẑ) therefore changes by
(1 + 5/2)F/m = (7/2)F/m, always along itself: F = −μ m g û keeps its direction, and u dies
after t = 2u/(7μg). Over that time v changes by −μ g t û = −(2/7)u₀, and the ball covers
t(v₀ − u₀/7). The energy lost is F's work on the slip, ∫ μ m g u dt = m u₀²/7.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from endless_bed import (
    GRAVITY,
    MASS,
    RADIUS,
    ROLLING_RESISTANCE,
    SLIDING_FRICTION,
    SPIN_DECELERATION,
    BallOnBed,
    Vector,
    energy,
    first,
    place_after,
    run_on_bed,
    vector,
)
from stunline.shot.shot import EventKind, Shot

EXACT = 1e-9
SMALL_SLIP = 1e-3  # m s⁻¹; below, the slip itself is rounded to more than EXACT of it
speeds = st.floats(-5.0, 5.0)


def alone(motion: Vector, **change: float) -> Shot:
    """One ball on an endless bed."""
    return run_on_bed([BallOnBed((0.0, 0.0), motion)], **change)


def hit(speed: float, height: float) -> Vector:
    """Motion after a level impulse at ``height`` over the centre, in R: Rω = (5/2)·height·v."""
    return speed, 0.0, 0.0, 2.5 * height * speed / RADIUS, 0.0


@settings(max_examples=150)
@given(speeds, speeds, speeds, speeds, st.floats(-100.0, 100.0), st.floats(0.05, 1.0))
def test_sliding_ends_as_the_closed_form_says(
    vx: float, vy: float, rx: float, ry: float, wz: float, friction: float
) -> None:
    # [X] as derived above; rx, ry are Rω_x, Rω_y
    ux, uy = vx - ry, vy + rx
    slip = math.hypot(ux, uy)
    if slip < SMALL_SLIP:
        return
    shot = alone((vx, vy, rx / RADIUS, ry / RADIUS, wz), sliding_friction=friction)
    roll = first(shot, EventKind.ROLL)
    after = vector(roll.after["white"])
    time = 2.0 * slip / (7.0 * friction * GRAVITY)
    size = math.hypot(vx, vy) + math.hypot(rx, ry)
    assert roll.time == pytest.approx(time, rel=EXACT)
    rolls_at = [(5.0 * vx + 2.0 * ry) / 7.0, (5.0 * vy - 2.0 * rx) / 7.0]
    assert after[:2] == pytest.approx(rolls_at, rel=EXACT, abs=1e-12 * size)
    there = [time * (vx - ux / 7.0), time * (vy - uy / 7.0)]
    assert roll.at == pytest.approx(there, rel=EXACT, abs=1e-12 * size * time)
    rolling_spin = [-after[1] / RADIUS, after[0] / RADIUS]
    assert after[2:4] == pytest.approx(rolling_spin, rel=EXACT, abs=1e-12)
    lost = energy((vx, vy, rx / RADIUS, ry / RADIUS, 0.0)) - energy((*after[:4], 0.0))
    assert lost == pytest.approx(MASS * slip**2 / 7.0, rel=EXACT, abs=1e-12 * MASS * size**2)


@pytest.mark.parametrize("motion", [hit(2.0, -0.4), (1.2, -0.7, 30.0, 55.0, 40.0)])
def test_sliding_agrees_with_integrating_newton_s_equations(motion: Vector) -> None:
    # [by an independent method] scipy's DOP853 on force and torque, to just short of the slip's
    # death, where the direction of friction would be lost.
    def rate(_: float, state: np.ndarray) -> np.ndarray:
        _, _, vx, vy, wx, wy = state
        slip = np.array([vx - RADIUS * wy, vy + RADIUS * wx])
        ax, ay = -SLIDING_FRICTION * GRAVITY * slip / np.hypot(*slip)
        # torque (−Rẑ) × F over (2/5)mR²
        return np.array([vx, vy, ax, ay, 2.5 * ay / RADIUS, -2.5 * ax / RADIUS])

    shot = alone(motion)
    time = 0.999 * first(shot, EventKind.ROLL).time
    start = np.array([0.0, 0.0, *motion[:4]])
    found = solve_ivp(rate, (0.0, time), start, method="DOP853", rtol=1e-12, atol=1e-14).y[:, -1]
    assert shot.place("white", time) == pytest.approx(found[:2], rel=EXACT)
    assert vector(shot.motion("white", time))[:4] == pytest.approx(found[2:], rel=EXACT, abs=1e-8)


@pytest.mark.parametrize(("speed", "distance"), [(1.0, 0.1248), (2.0, 0.4993), (3.0, 1.1234)])
def test_plain_centre_hit_rolls_after_12v2_over_49_mu_g(speed: float, distance: float) -> None:
    # [X] u₀ = v₀: t = 2v/(7μg), t(v − v/7) = 12v²/(49μg); the figures for μ 0.2
    shot = alone(hit(speed, 0.0))
    slid, _ = place_after(shot, EventKind.ROLL)
    assert slid == pytest.approx(12.0 * speed**2 / (49.0 * SLIDING_FRICTION * GRAVITY), rel=EXACT)
    assert slid == pytest.approx(distance, abs=5e-5)
    rolls_at = first(shot, EventKind.ROLL).after["white"].speed
    assert rolls_at == pytest.approx(5.0 * speed / 7.0, rel=EXACT)


def test_impulse_four_fifths_above_centre_ends_at_nine_sevenths() -> None:
    # [S] 9v₀/7, a physics exercise of Ben-Gurion University; [X] Rω = 2v: (5 + 2·2)v/7
    after = first(alone(hit(1.4, 0.8)), EventKind.ROLL).after["white"]
    assert after.velocity == pytest.approx((9.0 * 1.4 / 7.0, 0.0), rel=EXACT)


def test_impulse_two_thirds_below_centre_ends_at_five_twenty_firsts() -> None:
    # [S] a published exercise; [X] Rω = −(5/3)v, u₀ = (8/3)v: (5 − 10/3)v/7 and 2u₀/(7μg)
    roll = first(alone(hit(2.1, -2.0 / 3.0)), EventKind.ROLL)
    assert roll.after["white"].velocity == pytest.approx((5.0 * 2.1 / 21.0, 0.0), rel=EXACT)
    assert roll.time == pytest.approx(16.0 * 2.1 / (21.0 * SLIDING_FRICTION * GRAVITY), rel=EXACT)


def test_two_fifths_above_centre_rolls_at_once() -> None:
    # [S] Coriolis 1835; [X] Rω = (5/2)(2/5)v = v, no slip
    shot = alone(hit(1.7, 0.4))
    assert [event.kind for event in shot.events] == [EventKind.STRIKE, EventKind.STOP]
    assert [phase.motion for phase in shot.phases("white")] == ["rolling"]


@pytest.mark.parametrize("friction", [0.05, 0.8])
def test_the_cloth_does_not_change_how_fast_and_where_to_a_ball_rolls(friction: float) -> None:
    # [X] v_roll holds no μ; the way there is as long as 1/μ
    motion = (1.0, 0.4, -40.0, -20.0, 0.0)
    shot, usual = alone(motion, sliding_friction=friction), alone(motion)
    after, expected = (first(one, EventKind.ROLL).after["white"] for one in (shot, usual))
    assert vector(after) == pytest.approx(vector(expected), rel=1e-12)
    longer = [SLIDING_FRICTION / friction * z for z in place_after(usual, EventKind.ROLL)]
    assert place_after(shot, EventKind.ROLL) == pytest.approx(longer, rel=1e-12)


def test_rolling_comes_to_rest_after_v2_over_2_mu_g() -> None:
    # [X] constant deceleration μ_r g
    shot = alone(hit(1.3, 0.4))
    decelerating = ROLLING_RESISTANCE * GRAVITY
    assert shot.rest("white") == pytest.approx((1.3**2 / (2.0 * decelerating), 0.0), rel=EXACT)
    assert shot.duration == pytest.approx(1.3 / decelerating, rel=EXACT)


def test_spin_about_the_vertical_dies_on_its_own_and_turns_nothing() -> None:
    # [X] |ω_z| falls by 10 rad/s each second, whatever the ball does; the path is the same
    motion = (0.3, 0.0, 0.0, 0.3 / RADIUS, 60.0)
    shot = alone(motion)
    stopped = first(shot, EventKind.STOP)
    left = 60.0 - SPIN_DECELERATION * stopped.time
    assert stopped.after["white"].spin[2] == pytest.approx(left, rel=EXACT)
    assert first(shot, EventKind.SPIN_STOP).time == pytest.approx(6.0, rel=EXACT)
    assert shot.rest("white") == pytest.approx(alone((*motion[:4], 0.0)).rest("white"), rel=1e-12)


@pytest.mark.parametrize("spin", [60.0, -60.0])
def test_spin_that_never_decays_does_not_keep_a_run_going(spin: float) -> None:
    # [property] the ball stops where it would, and keeps its spin
    shot = alone((0.3, 0.0, 0.0, 0.3 / RADIUS, spin), spin_deceleration=0.0)
    assert shot.events[-1].kind is EventKind.STOP
    assert shot.events[-1].after["white"].spin[2] == spin


@pytest.mark.parametrize("speed", [0.7, 1.0, 2.0])
def test_screw_that_just_eats_up_the_speed_leaves_the_ball_dead(speed: float) -> None:
    # [X] Rω = −(5/2)v: v_roll = (5 − 5)v/7 = 0, after u₀ = (7/2)v: t = v/(μg), t(v − v/2)
    shot = alone(hit(speed, -1.0))
    slid = 0.5 * speed**2 / (SLIDING_FRICTION * GRAVITY)
    assert shot.rest("white") == pytest.approx((slid, 0.0), rel=EXACT)
    assert np.all(np.isfinite(shot.record.phase_floats))
