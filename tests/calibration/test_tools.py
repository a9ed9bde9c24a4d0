"""Ramps and clocks against closed forms and the tests' own integration."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from calibration.simulated_table import PROFILE, RADIUS, TABLE
from reference.cloth_dop853 import Cloth, trajectory
from stunline.calibration.menu import BY_ID
from stunline.calibration.predict import Job, Predictor
from stunline.calibration.record import Play, Reading, Record, set_up_places
from stunline.calibration.tools import (
    Ramp,
    ramp_speed,
    rolling_from_run,
    surface_speed,
    twirl_time,
)
from stunline.shot.play import play
from stunline.shot.position import Position, Strike
from stunline.shot.shot import EventKind

G = 9.81


def rolled_down(turning_radius: float, drop: float, slope: float) -> float:
    """Speed of a sphere after that drop, by Newton and Euler integrated along the incline.

    It turns at v/r, so m dv/dt = m g sin β − F and (2/5) m R² dω/dt = F r with ω = v/r.
    """
    mass_and_turning = 1.0 + 0.4 * (RADIUS / turning_radius) ** 2

    def rate(_: float, state: np.ndarray) -> list[float]:
        return [state[1], G * math.sin(slope) / mass_and_turning]

    def arrived(_: float, state: np.ndarray) -> float:
        return float(state[0] * math.sin(slope) - drop)

    arrived.terminal = True  # type: ignore[attr-defined]
    found = solve_ivp(rate, (0.0, 10.0), [0.0, 0.0], events=arrived, rtol=1e-10, atol=1e-12)
    return float(found.y[1, -1])


@pytest.mark.parametrize("drop", [0.01, 0.1, 0.25])
def test_flat_chute(drop: float) -> None:
    # v² = 10gh/7: energy of a solid sphere that rolls, exact.
    assert ramp_speed(drop, RADIUS, Ramp(), G) == pytest.approx(math.sqrt(10.0 * G * drop / 7.0))
    assert surface_speed(drop, RADIUS, Ramp(), G) == ramp_speed(drop, RADIUS, Ramp(), G)
    assert ramp_speed(drop, RADIUS, Ramp(), G) == pytest.approx(rolled_down(RADIUS, drop, 0.4))


@pytest.mark.parametrize("gap", [0.020, 0.030, 0.040])
def test_groove(gap: float) -> None:
    # r by Pythagoras: two contacts at ±gap/2, on a sphere of radius R.
    turning = math.sqrt(RADIUS**2 - gap**2 / 4.0)
    speed = ramp_speed(0.1, RADIUS, Ramp(gap), G)
    assert speed == pytest.approx(rolled_down(turning, 0.1, 0.3), rel=1e-8)
    assert surface_speed(0.1, RADIUS, Ramp(gap), G) == pytest.approx(speed * RADIUS / turning)
    # Energy at the end: m v²/2 + (1/5) m R² (v/r)² = m g h, exact.
    assert 0.5 * speed**2 + 0.2 * (RADIUS * speed / turning) ** 2 == pytest.approx(G * 0.1)


def test_rolling_from_distance_and_time() -> None:
    state = np.array([0.0, 0.0, 0.5, 0.0, 0.0, 0.5 / RADIUS, 0.0])
    pieces = trajectory(state, 0.0, RADIUS, Cloth(0.2, 0.0123, 10.0, G))
    rest = pieces[-1]
    distance = float(rest.state(np.zeros(1))[0, 0])
    assert rolling_from_run(distance, rest.start, G) == pytest.approx(0.0123, rel=1e-9)


def test_twirl() -> None:
    # ω₀ = αT and 2πN = ω₀T/2, exact: 60 rad/s at 12 rad/s² turns 5 s and 23.873 times.
    assert twirl_time(60.0 * 5.0 / 2.0 / (2.0 * math.pi), 12.0) == pytest.approx(5.0)


def full_ball(restitution: float) -> tuple[float, float, float]:
    """Rests of white and object ball, and the contact speed, by closed forms. [m], [m s⁻¹]

    Smooth balls, head-on, μ_s 0.2, μ_r 0.01: each slides for 2u/(7μ_s g), in which it goes
    t(v − u/7), then rolls v²/(2μ_r g) (exact).
    """
    shot = BY_ID["full-ball"]
    (_, start), other = set_up_places(shot, TABLE)
    assert other is not None
    fast = math.sqrt(10.0 * G * 0.03 / 7.0)
    speed, distance = slide(0.93 * fast, fast)
    met = math.sqrt(speed**2 - 2.0 * 0.01 * G * (other[1] - start - 2.0 * RADIUS - distance))
    white, slid_white = slide(0.5 * (1.0 - restitution) * met, met)
    red, slid_red = slide(0.5 * (1.0 + restitution) * met, 0.0)
    contact = other[1] - 2.0 * RADIUS
    return (
        contact + slid_white + white**2 / (0.02 * G),
        other[1] + slid_red + red**2 / (0.02 * G),
        met,
    )


def slide(speed: float, surface: float) -> tuple[float, float]:
    """Rolling speed, and how far it slid until then, at μ_s 0.2."""
    slip = speed - surface
    time = 2.0 * abs(slip) / (7.0 * 0.2 * G)
    return speed - 2.0 * slip / 7.0, time * (speed - slip / 7.0)


def test_a_predicted_full_ball_is_the_closed_form() -> None:
    shot = BY_ID["full-ball"]
    white, other = set_up_places(shot, TABLE)
    rests = (Reading("white_rest", (0.9, 1.0), 0.005), Reading("object_rest", (0.9, 2.0), 0.005))
    drop = 0.03
    one = Play("full", shot, white, other, shot.aim, drop, rests)
    smooth = replace(TABLE.cloths["match"], coefficients=replace(PROFILE, ball_friction=0.0))
    table = replace(TABLE, cloths={"match": smooth})
    predictor = Predictor(Record(table, "match", (one,)))
    assert predictor.value("ramp_factor", np.zeros(10)) == pytest.approx(0.93)
    (found,) = predictor.predict([Job(0, np.zeros(10), np.zeros(6))])
    white_rest, red_rest, _ = full_ball(0.95)
    # A friction of 0 is a millionth here, so that it has a logarithm.
    assert found == pytest.approx([0.889, white_rest, 0.889, red_rest], abs=3e-6)


def test_rolled_distances_of_a_full_contact() -> None:
    # 25/4 for e = 1 and no ball friction: rolling speeds 5v/7 and 2v/7 (exact).
    numbers = replace(PROFILE, ball_restitution=1.0, ball_friction=0.0, pockets=False)
    position = Position(TABLE, "match", numbers, {"white": (0.889, 0.4), "red1": (0.889, 0.7)})
    shot = play(position, Strike(aim=math.pi / 2.0, pace=0.6, height=0.4 * RADIUS))
    (contact,) = (event.time for event in shot.events if event.kind == EventKind.BALL)
    rolling = {
        event.balls[0]: event.at[1]
        for event in shot.events
        if event.kind == EventKind.ROLL and event.time > contact
    }
    rolled = {name: shot.rest(name)[1] - at for name, at in rolling.items()}  # type: ignore[index]
    assert rolled["red1"] / rolled["white"] == pytest.approx(25.0 / 4.0, rel=1e-6)
