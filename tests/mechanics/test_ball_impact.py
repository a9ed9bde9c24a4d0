"""Law 3 against exact and published results: where both balls go, how fast, and throw.

The smooth pair is derived here by hand. The white comes along +x with speed v, the line of
centres lies at the cut angle φ to its right hand. With k = (1 + e)/2, s = sin φ, c = cos φ,
equal masses exchange the normal impulse k m v c: the red leaves along the line with k v c,
the white with v(1 − kc², ksc): its way is off the old one by tan θ = ksc/(1 − kc²). Its spin
R ω = S v x̂-wise is untouched, and once it rolls v_roll = (5v + 2Rω)/7 (law 2) gives
tan θ = ksc/(s² + (1 − e)c²/2 + (2/5)S).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar

from endless_bed import MASS, RADIUS, STILL, BallOnBed, Vector, first, rolled, run_on_bed
from stunline.shot import compiled
from stunline.shot.shot import EventKind

MATCH_FRICTION = (0.00995, 0.108, 1.088)  # floor, span, decay [s m⁻¹] [M]: Alciatore, TP A.14
HALF, QUARTER, THREE_QUARTER = 0.5, 0.75, 0.25  # sine of the cut: 1 − thickness


def cut(
    degrees: float, follow: float = 0.0, restitution: float = 1.0, speed: float = 1.0,
    friction: tuple[float, float, float] = (0.0, 0.0, 0.0), side_ratio: float = 0.0,
) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """Motions after; the white comes along +x and meets the red to its left (its right half)."""
    angle = math.radians(degrees)
    white = (speed, 0.0, 0.0, follow * speed / RADIUS, side_ratio * speed / RADIUS)
    found = compiled.ball_impact(
        math.cos(angle), math.sin(angle), RADIUS, MASS, RADIUS, MASS,
        *white, 0.0, 0.0, 0.0, 0.0, 0.0, restitution, *friction,
    )  # fmt: skip
    return np.array(found[:5]), np.array(found[5:10])


def turned(vx: float, vy: float) -> float:
    """Angle off the old line (+x), away from the red. [°]"""
    return math.degrees(math.atan2(-vy, vx))


def first_turn(degrees: float, restitution: float) -> float:
    """Off the old line just after contact. [°]"""
    return turned(*cut(degrees, 0.0, restitution)[0][:2])


def final_turn(degrees: float, restitution: float, follow: float = 1.0) -> float:
    """Off the old line once the white rolls. [°]"""
    vx, vy, wx, wy, _ = cut(degrees, follow, restitution)[0]
    return turned(5.0 * vx + 2.0 * RADIUS * wy, 5.0 * vy - 2.0 * RADIUS * wx)


def largest(function, *arguments: float) -> tuple[float, float]:
    """The largest value over all cuts and the cut that has it. [°]"""
    found = minimize_scalar(
        lambda degrees: -function(degrees, *arguments),
        bounds=(1.0, 89.0), method="bounded", options={"xatol": 1e-7},
    )  # fmt: skip
    return -found.fun, found.x


# --- the smooth pair -------------------------------------------------------------------


@pytest.mark.parametrize("restitution", [0.5, 0.95, 1.0])
@pytest.mark.parametrize("degrees", [5.0, 14.478, 30.0, 48.59, 61.045, 85.0])
def test_first_direction(degrees: float, restitution: float) -> None:
    # [X] tan θ = ksc/(1 − kc²)
    k = 0.5 * (1.0 + restitution)
    s, c = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    expected = math.degrees(math.atan2(k * s * c, 1.0 - k * c * c))
    assert first_turn(degrees, restitution) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("restitution", [0.4, 0.8, 0.95])
def test_largest_first_deflection(restitution: float) -> None:
    # [S: a question of a Cambridge entrance paper (STEP)] sin θ = (1 + e)/(3 − e)
    expected = math.degrees(math.asin((1.0 + restitution) / (3.0 - restitution)))
    assert largest(first_turn, restitution)[0] == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("restitution", [0.5, 0.95, 1.0])
def test_half_ball_first_direction(restitution: float) -> None:
    # [S: an examination question] tan θ = (1 + e)√3/(5 − 3e)
    expected = (1.0 + restitution) * math.sqrt(3.0) / (5.0 - 3.0 * restitution)
    found = math.tan(math.radians(first_turn(30.0, restitution)))
    assert found == pytest.approx(expected, rel=1e-12)


def test_the_right_angle_rule_is_exact_only_without_loss() -> None:
    # [X] e = 1: 90° between the two; e = 0.95 at half-ball: 57.5° off the old line, not 60°
    for degrees in (10.0, 30.0, 60.0):
        white, red = cut(degrees)
        assert white[:2] @ red[:2] == pytest.approx(0.0, abs=1e-15)
    assert first_turn(30.0, 0.95) == pytest.approx(57.5, abs=0.05)
    assert first_turn(30.0, 1.0) == pytest.approx(60.0, abs=1e-9)


@pytest.mark.parametrize("follow", [-0.7, 0.0, 0.5, 1.0])
@pytest.mark.parametrize("restitution", [0.95, 1.0])
def test_final_direction(follow: float, restitution: float) -> None:
    # [X] tan θ = ksc/(s² + (1 − e)c²/2 + (2/5)S)
    for degrees in (10.0, 30.0, 48.59, 75.0):
        s, c = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
        along = s * s + 0.5 * (1.0 - restitution) * c * c + 0.4 * follow
        across = 0.5 * (1.0 + restitution) * s * c
        expected = math.degrees(math.atan2(across, along))
        assert final_turn(degrees, restitution, follow) == pytest.approx(expected, rel=1e-11)


@pytest.mark.parametrize(
    ("restitution", "most", "at"), [(1.0, 33.749, 28.126), (0.95, 32.293, 28.854)]
)
def test_largest_turn_of_a_rolling_white(restitution: float, most: float, at: float) -> None:
    # [X] sin θ = 5(1 + e)/(23 − 5e) at cos 2φ = the same number
    sine = 5.0 * (1.0 + restitution) / (23.0 - 5.0 * restitution)
    found, cut_there = largest(final_turn, restitution)
    assert found == pytest.approx(math.degrees(math.asin(sine)), abs=1e-6)
    assert cut_there == pytest.approx(math.degrees(math.acos(sine)) / 2.0, abs=1e-3)
    assert (found, cut_there) == (pytest.approx(most, abs=6e-4), pytest.approx(at, abs=1e-3))


@pytest.mark.parametrize(
    ("sine", "exact", "published"),
    [(HALF, 33.671, 34.0), (QUARTER, 27.267, 27.0), (THREE_QUARTER, 27.627, 27.0)],
)
def test_rolling_white_at_the_named_thicknesses(sine: float, exact: float, published: float):
    # [X] e = 1; [S: Alciatore's rule] about 34° near half-ball and about 27° at the quarters
    found = final_turn(math.degrees(math.asin(sine)), 1.0)
    assert found == pytest.approx(exact, abs=6e-4)
    assert found == pytest.approx(published, abs=0.7)


@pytest.mark.parametrize(
    ("degrees", "red_share", "white_share"), [(20.0, 0.93969, 0.34202), (45.0, 0.70711, 0.70711)]
)
def test_speeds_after_stun(degrees: float, red_share: float, white_share: float) -> None:
    # [S: Alciatore, TP 3.2] the red takes v cos φ, the white keeps v sin φ
    white, red = cut(degrees, speed=2.0)
    assert np.hypot(*red[:2]) / 2.0 == pytest.approx(red_share, abs=5e-6)
    assert np.hypot(*white[:2]) / 2.0 == pytest.approx(white_share, abs=5e-6)


def test_rolling_speeds_are_equal_where_the_squared_sine_is_three_tenths() -> None:
    # [X] red at (5/7)v c; white (5v + 2Rω)/7 = (v/7)(5s² + 2, 5sc): 25c² = 25s² + 20s² + 4,
    # less than all: 25s⁴ + 20s² + 4 + 25s²c² = 25s² + 20s² + 4, so 25 − 25s² = 45s² + 4
    def difference(degrees: float) -> float:
        (vx, vy, wx, wy, _), red = cut(degrees, follow=1.0)
        white = math.hypot(5.0 * vx + 2.0 * RADIUS * wy, 5.0 * vy - 2.0 * RADIUS * wx)
        return white - 5.0 * math.hypot(*red[:2])

    equal = brentq(difference, 5.0, 80.0, xtol=1e-12)
    assert math.sin(math.radians(equal)) ** 2 == pytest.approx(0.3, rel=1e-9)


def test_head_on_a_rolling_white_rolls_four_twenty_fifths_as_far() -> None:
    # [X] the red rolls at 5v/7, the white, left with its spin alone, at 2v/7: (5/2)² = 25/4
    white = BallOnBed((0.0, 0.0), (1.5, 0.0, 0.0, 1.5 / RADIUS, 0.0))
    shot = run_on_bed([white, BallOnBed((0.3, 0.0))])
    met = first(shot, EventKind.BALL).time
    before = shot.place("white", met)[0]
    assert rolled(shot, "red1") / (rolled(shot, "white") - before) == pytest.approx(6.25, rel=1e-9)


# --- throw -----------------------------------------------------------------------------


def throw(degrees: float, **how: float | tuple[float, float, float]) -> float:
    """The red's way off the line of centres, along the white's way across it positive. [°]"""
    _, red = cut(degrees, **how)
    return degrees - math.degrees(math.atan2(red[1], red[0]))


@pytest.mark.parametrize("degrees", [2.0, 10.0, 20.0, 22.0, 24.0, 40.0, 70.0])
def test_throw_of_a_stun_shot_under_constant_friction(degrees: float) -> None:
    # [X] stick takes J_t = (2/7)(m/2)v s = m v s/7 against J_n = m v c: tan = tan φ/7, else μ
    expected = math.atan(min(0.06, math.tan(math.radians(degrees)) / 7.0))
    found = throw(degrees, friction=(0.06, 0.0, 0.0))
    assert found == pytest.approx(math.degrees(expected), rel=1e-9)


def test_throw_changes_its_regime_at_22_8_degrees() -> None:
    # [X] tan φ = 7·0.06: 22.782°; from there on arctan 0.06 = 3.4336°
    friction = (0.06, 0.0, 0.0)
    assert math.degrees(math.atan(7.0 * 0.06)) == pytest.approx(22.782, abs=5e-4)
    assert throw(22.70, friction=friction) < 3.4336 - 5e-3
    for degrees in (22.79, 50.0):
        assert throw(degrees, friction=friction) == pytest.approx(3.4336, abs=5e-5)


@pytest.mark.parametrize("friction", [(0.06, 0.0, 0.0), MATCH_FRICTION])
def test_gearing_side_throws_nothing(friction: tuple[float, float, float]) -> None:
    # [S] side of 0.4 R sin φ on the side of the half that is met; [X] ω_z = (5/2)·0.4·s·v/R makes
    # Rω_z = v s: the surfaces do not slip across. The red's right half is met, so right-hand side.
    for degrees in (15.0, 30.0, 60.0):
        side = 0.4 * math.sin(math.radians(degrees)) * RADIUS
        wz = compiled.strike(0.0, 1.0, 0.0, side, 0.0, RADIUS, math.inf)[4]
        geared = throw(degrees, friction=friction, side_ratio=RADIUS * wz)
        assert geared == pytest.approx(0.0, abs=1e-9)
        # The same on the other side throws: the half met is the one that counts.
        assert throw(degrees, friction=friction, side_ratio=-RADIUS * wz) > 1.0


def test_match_friction_throws_up_to_one_in_twelve() -> None:
    # [S: Colorado State, throw page] slow stun shots: at most about one in twelve, 4–7° at 0.45 m/s
    cuts = np.linspace(1.0, 85.0, 169)
    most = [max(throw(x, friction=MATCH_FRICTION, speed=v) for x in cuts) for v in (0.45, 1.3, 3.0)]
    assert 4.0 < most[0] < 7.0
    assert most[0] > most[1] > most[2] > 0.0  # falls with pace


def test_a_slow_rolling_half_ball_is_thrown_about_half_as_much_as_stun() -> None:
    # [S: the same] the spin of rolling takes up part of the friction: "about half", here ±0.2
    stun = throw(30.0, friction=MATCH_FRICTION, speed=0.45)
    rolling = throw(30.0, friction=MATCH_FRICTION, speed=0.45, follow=1.0)
    assert rolling / stun == pytest.approx(0.5, abs=0.2)


# --- friction along the impact, any two balls ------------------------------------------


def integrated(
    normal: np.ndarray, radii: tuple[float, float], masses: tuple[float, float],
    motions: tuple[Vector, Vector], restitution: float, friction: tuple[float, float, float],
) -> np.ndarray:  # fmt: skip
    """Both balls in space, integrated over the normal impulse; vertical velocity then dropped.

    [by an independent method] scipy's DOP853; where the slip dies it is held at zero, which is
    what Coulomb friction does on two spheres once their surfaces do not slip.
    """
    floor, span, decay = friction
    state = np.concatenate([(*m[:2], 0.0, *m[2:]) for m in motions])

    def slip(now: np.ndarray) -> np.ndarray:
        at_a = now[0:3] + np.cross(now[3:6], radii[0] * normal)
        at_b = now[6:9] + np.cross(now[9:12], -radii[1] * normal)
        across = at_a - at_b
        return across - (across @ normal) * normal

    def push(impulse: np.ndarray) -> np.ndarray:
        change = []
        for sign, radius, mass in ((1.0, radii[0], masses[0]), (-1.0, radii[1], masses[1])):
            arm = sign * radius * normal
            change += [sign * impulse / mass]
            change += [np.cross(arm, sign * impulse) / (0.4 * mass * radius**2)]
        return np.concatenate(change)

    first_slip = slip(state)
    size = float(np.linalg.norm(first_slip))
    way = first_slip / size if size > 0.0 else first_slip

    def rate(_: float, now: np.ndarray) -> np.ndarray:
        return push(-normal - (floor + span * np.exp(-decay * (slip(now) @ way))) * way)

    def died(_: float, now: np.ndarray) -> float:
        return float(slip(now) @ way)

    died.terminal, died.direction = True, -1.0  # type: ignore[attr-defined]
    closing = (state[0:3] - state[6:9]) @ normal
    last = (1.0 + restitution) * closing / (1.0 / masses[0] + 1.0 / masses[1])
    found = solve_ivp(
        rate, (0.0, last), state, method="DOP853", events=died, rtol=1e-12, atol=1e-14
    )
    end = found.y[:, -1]
    # Friction was taken against the first slip throughout: right, since it keeps its direction.
    assert np.linalg.norm(slip(end) - (slip(end) @ way) * way) < 1e-11
    return np.delete(end + push(-normal) * (last - found.t[-1]), [2, 8])


MOTIONS = [
    ((1.0, 0.0, 0.0, 0.0, 0.0), (0.0, 0.0, 0.0, 0.0, 0.0)),
    ((1.0, 0.3, 5.0, 38.0, 20.0), (0.0, 0.0, 0.0, 0.0, 0.0)),
    ((0.3, 0.1, -40.0, -60.0, -50.0), (-0.2, 0.4, 15.0, -8.0, 30.0)),
    ((4.0, -1.0, 30.0, 150.0, -80.0), (-0.5, 0.0, 0.0, -19.0, 0.0)),
]


@pytest.mark.parametrize("friction", [(0.06, 0.0, 0.0), (0.0, 0.1, 1.0), MATCH_FRICTION])
@pytest.mark.parametrize("motions", MOTIONS)
@pytest.mark.parametrize(
    ("radii", "masses"),
    [((0.02625, 0.02625), (0.1406, 0.1406)), ((0.0238, 0.0254), (0.094, 0.116))],
)
def test_friction_agrees_with_integrating_both_balls_in_space(
    radii: tuple[float, float],
    masses: tuple[float, float],
    motions: tuple[Vector, Vector],
    friction: tuple[float, float, float],
) -> None:
    # [by an independent method] the vertical slip included, a stick or none on the way; the second
    # pair is English pool's white and object ball [R], whose line of centres is tilted
    for degrees in (0.0, 20.0, 55.0):
        angle = math.radians(degrees)
        plan = np.array([math.cos(angle), math.sin(angle)])
        sine = (radii[1] - radii[0]) / (radii[0] + radii[1])
        normal = np.array([*(math.sqrt(1.0 - sine * sine) * plan), sine])
        expected = integrated(normal, radii, masses, motions, 0.95, friction)
        found = compiled.ball_impact(
            *plan, radii[0], masses[0], radii[1], masses[1], *motions[0], *motions[1],
            0.95, *friction,
        )  # fmt: skip
        scale = np.array([1.0, 1.0, *[radii[0]] * 3, 1.0, 1.0, *[radii[1]] * 3])
        assert np.abs((np.array(found[:10]) - expected) * scale).max() < 1e-9


# --- unequal balls ---------------------------------------------------------------------

WHITE_RADIUS, WHITE_MASS = 0.0238, 0.094  # [m], [kg] [R] world body's specification
OBJECT_RADIUS, OBJECT_MASS = 0.0254, 0.116


def test_unequal_balls_touch_at_twice_the_geometric_mean_of_their_radii() -> None:
    # [X] (R₁ + R₂)² = d² + (R₁ − R₂)²: d = 2√(R₁R₂) = 49.174 mm for 47.6 and 50.8 mm balls
    white = BallOnBed((0.0, 0.0), (1.0, 0.0, 0.0, 0.0, 0.0), WHITE_RADIUS, WHITE_MASS)
    shot = run_on_bed([white, BallOnBed((0.4, 0.01), STILL, OBJECT_RADIUS, OBJECT_MASS)])
    met = first(shot, EventKind.BALL).time
    apart = math.dist(shot.place("white", met), shot.place("red1", met))
    assert apart == pytest.approx(2.0 * math.sqrt(WHITE_RADIUS * OBJECT_RADIUS), rel=1e-12)
    assert apart == pytest.approx(0.049174, abs=5e-7)


def test_their_line_of_centres_is_tilted_by_1_864_degrees() -> None:
    # [X] sine = (R₂ − R₁)/(R₁ + R₂) = 1.6/49.2. Full and smooth, the object ball gets the
    # horizontal part of m*(1 + e)v cos τ along the tilted line: m*(1 + e)v cos² τ / m₂.
    tilt = math.asin((OBJECT_RADIUS - WHITE_RADIUS) / (OBJECT_RADIUS + WHITE_RADIUS))
    assert math.degrees(tilt) == pytest.approx(1.864, abs=5e-4)
    found = compiled.ball_impact(
        1.0, 0.0, WHITE_RADIUS, WHITE_MASS, OBJECT_RADIUS, OBJECT_MASS,
        1.0, *[0.0] * 9, 0.9, 0.0, 0.0, 0.0,
    )  # fmt: skip
    reduced = WHITE_MASS * OBJECT_MASS / (WHITE_MASS + OBJECT_MASS)
    assert found[5] == pytest.approx(reduced * 1.9 * math.cos(tilt) ** 2 / OBJECT_MASS, rel=1e-12)
    # A tilted line of centres alone makes no spin on smooth balls.
    assert np.abs(found[2:5]).max() == np.abs(found[7:10]).max() == 0.0
