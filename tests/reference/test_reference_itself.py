"""The reference against exact results, published ones and symmetries: no engine needed.

Marks: [X] exact, derived from the laws (the derivation stands in the test's comment or formula);
[S] published, the source named; [property] must hold whatever the numbers.
"""

from __future__ import annotations

import math
from random import Random

import numpy as np
import pytest

from reference.ball_impact_radau import ball_impact
from reference.cloth_dop853 import Cloth, bed_slip, trajectory
from reference.cushion_radau import cushion_impact_reference
from reference.random_impacts import random_case, random_impacts
from reference.random_shots import LENGTH, NOSE_HEIGHT, RADIUS, WIDTH, random_shot, stored_seeds
from reference.strike_vector import strike_reference
from reference.table_dop853 import Point, simulate

SLIDING_FRICTION, ROLLING_RESISTANCE, GRAVITY = 0.20, 0.010, 9.81
CLOTH = Cloth(SLIDING_FRICTION, ROLLING_RESISTANCE, 10.0, GRAVITY)
MATCH = {
    "sliding_friction": SLIDING_FRICTION,
    "rolling_resistance": ROLLING_RESISTANCE,
    "spin_deceleration": 10.0,
    "gravity": GRAVITY,
    "ball_restitution": 0.95,
    "ball_friction": (0.00995, 0.108, 1.088),
    "cushion_restitution": 0.98,
    "cushion_friction": 0.14,
    "nose_height": NOSE_HEIGHT,
}
ONWARD = np.array([1.0, 0.0])


def motion(vx: float, vy: float, follow: float = 0.0, spin: float = 0.0) -> np.ndarray:
    """A ball's motion with Rω = follow·v forwards, and a spin about the vertical. [m s⁻¹, s⁻¹]"""
    return np.array([vx, vy, -follow * vy / RADIUS, follow * vx / RADIUS, spin])


def slide(start: np.ndarray) -> tuple[float, np.ndarray]:
    """How long the ball slides from the origin, and its state when it begins to roll."""
    pieces = trajectory(np.concatenate([[0.0, 0.0], start]), 0.0, RADIUS, CLOTH)
    sliding = [piece for piece in pieces if piece.motion == "sliding"]
    return sliding[-1].end, sliding[-1].state(np.array([sliding[-1].end]))[:, 0]


# --- cloth -----------------------------------------------------------------------------


@pytest.mark.parametrize(("pace", "distance"), [(1.0, 0.1248), (2.0, 0.4993), (3.0, 1.1234)])
def test_plain_centre_hit_slides_then_rolls_at_five_sevenths(pace: float, distance: float) -> None:
    # [X] 12v²/(49 μ g), 5v/7: friction μ m g for 2v/(7 μ g) until v = Rω.
    white = strike_reference(0.0, pace, 0.0, 0.0, 0.0, RADIUS, None)
    _, state = slide(white)
    assert state[0] == pytest.approx(distance, abs=5e-5)
    assert state[0] == pytest.approx(12 * pace**2 / (49 * SLIDING_FRICTION * GRAVITY), rel=1e-10)
    assert state[2] == pytest.approx(5 * pace / 7, rel=1e-10)


def test_high_and_low_impulses_end_as_published() -> None:
    # [S] 4R/5 above centre: 9v/7 (Ben-Gurion University physics exercise);
    # [S] 2R/3 below: 5v/21 after 16v/(21 μ g) (published exercise). Rω = (5/2)(h/R)v.
    _, high = slide(motion(1.0, 0.0, follow=2.5 * 0.8))
    lasted, low = slide(motion(1.0, 0.0, follow=-2.5 * 2 / 3))
    assert high[2] == pytest.approx(9 / 7, rel=1e-9)
    assert low[2] == pytest.approx(5 / 21, rel=1e-9)
    assert lasted == pytest.approx(16 / (21 * SLIDING_FRICTION * GRAVITY), rel=1e-9)


def test_sliding_with_sidelong_slip_ends_where_momentum_says() -> None:
    # [X] The moment of momentum about the bed contact is kept: v_roll = v₀ − (2/7)u₀ in both
    # components; the mean velocity of constant acceleration gives the place, t(v₀ − u₀/7).
    start = np.array([0.8, 0.5, 30.0, -12.0, 40.0])
    slip = bed_slip(np.concatenate([[0.0, 0.0], start]), RADIUS)
    lasted, state = slide(start)
    assert state[2:4] == pytest.approx(start[:2] - 2 / 7 * slip, rel=1e-9)
    assert state[:2] == pytest.approx(lasted * (start[:2] - slip / 7), rel=1e-9)
    assert lasted == pytest.approx(2 * np.hypot(*slip) / (7 * SLIDING_FRICTION * GRAVITY), rel=1e-9)


def test_rolling_ball_rests_after_its_energy_is_spent_and_spin_dies_alone() -> None:
    # [X] constant deceleration: v²/(2 μ_r g), whole run v/(μ_r g); 30 rad/s at 10 rad/s²: 3 s.
    start = np.concatenate([[0.0, 0.0], motion(0.0, 0.4, follow=1.0, spin=30.0)])
    pieces = trajectory(start, 0.0, RADIUS, CLOTH)
    place = pieces[-1].state(np.zeros(1))[:2, 0]
    assert place == pytest.approx([0.0, 0.4**2 / (2 * ROLLING_RESISTANCE * GRAVITY)], abs=1e-9)
    ends = [piece.end for piece in pieces[:-1]]
    assert ends == pytest.approx([3.0, 0.4 / (ROLLING_RESISTANCE * GRAVITY)], rel=1e-9)


# --- strike ----------------------------------------------------------------------------


@pytest.mark.parametrize(("mass_ratio", "degrees"), [(20.0, 2.71), (25.0, 2.22), (30.0, 1.89)])
def test_squirt_at_the_miscue_limit(mass_ratio: float, degrees: float) -> None:
    # [X] tan α = (5/2)β√(1−β²)/(1 + m/m_e + (5/2)(1−β²)) at β = 1/2, by hand.
    white = strike_reference(0.0, 1.0, 0.0, RADIUS / 2, 0.0, RADIUS, mass_ratio)
    assert math.degrees(math.atan2(white[1], white[0])) == pytest.approx(degrees, abs=0.005)


def test_two_fifths_above_centre_rolls_at_once() -> None:
    # [S] Coriolis 1835.
    white = strike_reference(0.7, 2.0, 2 * RADIUS / 5, 0.0, 0.0, RADIUS, None)
    assert np.hypot(*bed_slip(np.concatenate([[0.0, 0.0], white]), RADIUS)) < 1e-12


def test_right_side_spins_the_ball_anticlockwise_seen_from_above() -> None:
    # [X] The tip pushes forwards to the right of the centre: r × v points up, (5/2) v s/R².
    white = strike_reference(math.pi / 2, 1.0, 0.0, 0.3 * RADIUS, 0.0, RADIUS, None)
    assert white[4] == pytest.approx(2.5 * 0.3 / RADIUS, rel=1e-12)


# --- ball on ball ----------------------------------------------------------------------


def cut(degrees: float, follow: float, restitution: float, friction: object) -> tuple:
    """Motions after a white along +x at 1 m/s has met a ball at rest, at this cut angle."""
    angle = math.radians(degrees)
    normal = np.array([math.cos(angle), math.sin(angle)])
    still = np.zeros(5)
    return ball_impact(motion(1.0, 0.0, follow), still, normal, RADIUS, restitution, friction)


def test_stun_shares_speed_as_published() -> None:
    # [S] Alciatore, TP 3.2: smooth and elastic, v cos φ and v sin φ.
    white, red = cut(20.0, 0.0, 1.0, 0.0)
    assert np.hypot(*red[:2]) == pytest.approx(0.93969, abs=5e-6)
    assert np.hypot(*white[:2]) == pytest.approx(0.34202, abs=5e-6)


@pytest.mark.parametrize(
    ("degrees", "throw"),
    [(10.0, math.degrees(math.atan(math.tan(math.radians(10)) / 7))), (40.0, 3.4336)],
)
def test_throw_on_both_sides_of_sticking(degrees: float, throw: float) -> None:
    # [X] tan = min(μ, tan φ/7): a sphere's tangential mass is 2/7; changes at 22.782° for 0.06.
    _, red = cut(degrees, 0.0, 1.0, 0.06)
    thrown = degrees - math.degrees(math.atan2(red[1], red[0]))
    assert thrown == pytest.approx(throw, abs=1e-4)


def test_friction_that_falls_with_slip_ends_at_the_integral() -> None:
    # [X] du/dJ = −(7/m) μ(u) with μ = a + b e^(−cu) integrates, with w = e^(cu), to
    # (a w + b) = (a w₀ + b) e^(−7acJ/m). Stun: slip is horizontal, here sin 60°.
    floor, span, decay, restitution = 0.00995, 0.108, 1.088, 0.95
    white, red = cut(60.0, 0.0, restitution, (floor, span, decay))
    normal, along = np.array([0.5, math.sqrt(0.75)]), np.array([-math.sqrt(0.75), 0.5])
    slip = (white[:2] - red[:2]) @ along + RADIUS * (white[4] + red[4])
    impulse = 0.5 * (1.0 + restitution) * 0.5
    first = floor * math.exp(decay * math.sqrt(0.75)) + span
    last = first * math.exp(-7.0 * floor * decay * impulse)
    assert red[:2] @ normal == pytest.approx(impulse, rel=1e-12)
    assert abs(slip) == pytest.approx(math.log((last - span) / floor) / decay, rel=1e-8)


@pytest.mark.parametrize(
    ("degrees", "final"),
    [
        (30.0, 33.670),
        (math.degrees(math.asin(0.75)), 27.267),
        (math.degrees(math.asin(0.25)), 27.627),
    ],
)
def test_rolling_white_ends_on_the_known_direction(degrees: float, final: float) -> None:
    # [X] tan θ = s c/(s² + 2/5), e = 1, smooth; [S] Alciatore's published rule: about 34° and 27°.
    white, _ = cut(degrees, 1.0, 1.0, 0.0)
    _, state = slide(white)
    assert abs(math.degrees(math.atan2(state[3], state[2]))) == pytest.approx(final, abs=6e-4)


# --- cushion ---------------------------------------------------------------------------


def bounce(vx: float, vy: float, wx: float, wy: float, wz: float, **other: float) -> np.ndarray:
    numbers = {
        "radius": RADIUS,
        "nose_height": NOSE_HEIGHT,
        "restitution": 0.98,
        "cushion_friction": 0.14,
        "sliding_friction": 0.212,
    }
    return np.array(cushion_impact_reference(vx, vy, wx, wy, wz, **{**numbers, **other}))


@pytest.mark.parametrize(("follow", "speed"), [(1.0, 0.911), (0.0, 0.837), (-1.0, 0.866)])
def test_square_impact_keeps_the_known_share(follow: float, speed: float) -> None:
    # [by another integration of the same law, fixed steps; to about 1 %]
    assert -bounce(*motion(0.0, 1.0, follow))[1] == pytest.approx(speed, rel=0.01)


def test_rolling_ball_at_45_degrees_leaves_steeper_and_slower() -> None:
    # [by another integration of the same law, fixed steps; to about 1 %]
    after = bounce(*motion(math.sqrt(0.5), math.sqrt(0.5), 1.0))
    assert math.degrees(math.atan2(-after[1], after[0])) == pytest.approx(52.7, rel=0.01)
    assert np.hypot(*after[:2]) == pytest.approx(0.848, rel=0.01)


def test_smooth_cushion_gives_back_exactly_its_restitution() -> None:
    # [X] Without friction the nose's work is ½ m v_y²; e² of it comes back.
    before = (0.4, 1.3, 20.0, -30.0, 50.0)
    after = bounce(*before, restitution=0.85, cushion_friction=0.0, sliding_friction=0.0)
    assert after == pytest.approx([0.4, -0.85 * 1.3, 20.0, -30.0, 50.0], rel=1e-9)


def test_cushion_is_the_same_in_the_mirror_and_at_every_scale() -> None:
    # [property] Mirror x → −x turns ω_y, ω_z over; the law has no length or speed of its own.
    before = np.array([0.7, 0.6, -15.0, 35.0, 22.0])
    after = bounce(*before)
    mirror = np.array([-1.0, 1.0, 1.0, -1.0, -1.0])
    assert mirror * bounce(*(mirror * before)) == pytest.approx(after, rel=1e-8)
    large = bounce(*(3.0 * before), radius=RADIUS, nose_height=NOSE_HEIGHT)
    assert large == pytest.approx(3.0 * after, rel=1e-8)


def test_energy_never_rises_and_a_third_decimal_of_grazing_hardly_matters() -> None:
    # [property]
    def energy(values: np.ndarray, radius: float) -> float:
        return float(values[:2] @ values[:2] + 0.4 * radius**2 * values[2:] @ values[2:])

    random = Random(7)
    for _ in range(12):
        case = random_case(random)
        after = np.array(cushion_impact_reference(*case.arguments))
        before = np.array(case.before)
        assert energy(after, case.radius) <= energy(before, case.radius) * (1.0 + 1e-9)
    grazing = bounce(*motion(1.0, 0.001, 1.0))
    assert np.hypot(*grazing[:2]) == pytest.approx(1.0, abs=1e-3)


def test_half_the_random_impacts_stick_and_none_hangs_on_the_smoothing() -> None:
    # [property] A hundred times the smoothing moves a result by no more than some 60 of it.
    impacts = list(random_impacts(seed=11, count=8))
    assert sum(found.nose_sticks or found.bed_sticks for _, found in impacts) >= 4
    for case, found in impacts:
        rough = np.array(cushion_impact_reference(*case.arguments, smoothing=1e-8))
        change = (rough - found.after) * [1.0, 1.0, case.radius, case.radius, case.radius]
        assert np.max(np.abs(change)) < 1e-6 * case.speed


# --- whole shots -----------------------------------------------------------------------


def straight_up(pace: float, start: float, reds: list[Point] | None = None, **other: object):
    """A white that rolls at once, straight up the middle, towards reds if there are any."""
    strike = {"aim": math.pi / 2, "pace": pace, "height": 2 * RADIUS / 5, "side": 0.0}
    strike["elevation"] = 0.0
    balls = [(WIDTH / 2, start), *(reds or [])]
    return simulate(LENGTH, WIDTH, RADIUS, {**MATCH, **other}, balls, strike)


def rolling_time(pace: float, distance: float) -> float:
    """[X] First root of d = v t − ½ μ_r g t². [s]"""
    slowing = ROLLING_RESISTANCE * GRAVITY
    return (pace - math.sqrt(pace**2 - 2 * slowing * distance)) / slowing


def test_cushion_is_met_at_the_nose_not_at_the_ball_s_edge() -> None:
    # [X] The nose is 2R/5 above the centre: contact R√(1 − 0.4²) = 24.059 mm from the nose line.
    played = straight_up(1.5, 0.5)
    distance = LENGTH - 0.5 - RADIUS * math.sqrt(1 - 0.4**2)
    assert played["events"][0] == (pytest.approx(rolling_time(1.5, distance)), "cushion", (0, 2))


def test_balls_meet_at_a_diameter_and_roll_25_to_4() -> None:
    # [X] Head-on, e = 1, smooth: the red slides off with v and rolls at 5v/7, the white with its
    # own spin at 2v/7. The slides differ: red 12v²/(49μg) as a centre hit, white from rest
    # with Rω = v: 2v²/(49μg).
    red = (WIDTH / 2, 1.0)
    played = straight_up(0.8, 0.5, reds=[red], ball_restitution=1.0, ball_friction=0.0)
    gap = 0.5 - 2 * RADIUS
    assert played["events"][0] == (pytest.approx(rolling_time(0.8, gap)), "ball", (0, 1))
    energy = 0.8**2 - 2 * ROLLING_RESISTANCE * GRAVITY * gap
    slid = energy / (49 * SLIDING_FRICTION * GRAVITY)
    (_, white_at), (_, red_at) = played["rest"]
    rolled_white, rolled_red = white_at - (1.0 - 2 * RADIUS) - 2 * slid, red_at - 1.0 - 12 * slid
    assert rolled_red / rolled_white == pytest.approx(25 / 4, rel=1e-6)
    assert rolled_white == pytest.approx(
        4 / 49 * energy / (2 * ROLLING_RESISTANCE * GRAVITY), rel=1e-6
    )


def test_impact_without_bounce_is_marked_as_lasting() -> None:
    # [property] e = 0.001 leaves the balls parting at well under 1 mm/s.
    played = straight_up(0.6, 0.5, reds=[(WIDTH / 2, 1.0)], ball_restitution=0.001)
    assert played["lasting"]
    assert not straight_up(0.6, 0.5, reds=[(WIDTH / 2, 1.0)])["lasting"]


def test_whole_shots_are_the_same_in_the_mirror() -> None:
    # [property] x → width − x, aim → π − aim, side → −side: the same shot.
    cushions = {0: 0, 1: 3, 2: 2, 3: 1}
    for seed, sensitivity in list(stored_seeds().items())[:3]:
        shot = random_shot(seed)
        balls = [(WIDTH - x, y) for x, y in shot.balls]
        strike = {**shot.strike, "aim": math.pi - shot.strike["aim"], "side": -shot.strike["side"]}
        there = shot.play()
        here = simulate(
            LENGTH, WIDTH, RADIUS, shot.coefficients, balls, strike, shot.ball_to_end_mass
        )
        for (x, y), (mirrored, same) in zip(here["rest"], there["rest"], strict=True):
            assert math.hypot(WIDTH - x - mirrored, y - same) < 1e-6 + 1e-8 * sensitivity
        turned = [
            (kind, who if kind == "ball" else (who[0], cushions[who[1]]))
            for _, kind, who in here["events"]
        ]
        assert turned == [event[1:] for event in there["events"]]
