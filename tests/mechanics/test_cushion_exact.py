"""Law 4 against exact results, properties, and figures worked out elsewhere.

Marks: [X] exact, derived beside the number; [R] restated from an independent integration
of the same law made before this code, good to about 1 %.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stunline.mechanics.cushion import MOST_STEPS, cushion_impact

RADIUS = 0.02625  # snooker ball [m]
SNOOKER_NOSE = 1.4 * RADIUS  # [m]
RESTITUTION = 0.98
CUSHION_FRICTION = 0.14
CLOTH_FRICTION = 0.2
# Cloth friction with which the restated figures were worked out.
RESTATED_CLOTH_FRICTION = 0.212
RESTATED_CLOSENESS = 0.01  # they are a cross-check to about 1 %


def impact(
    vx,
    vy,
    wx=0.0,
    wy=0.0,
    wz=0.0,
    *,
    radius=RADIUS,
    nose_height=SNOOKER_NOSE,
    restitution=RESTITUTION,
    cushion_friction=CUSHION_FRICTION,
    sliding_friction=CLOTH_FRICTION,
):
    """Velocity [m s⁻¹] and spin [rad s⁻¹] afterwards, five numbers."""
    return np.array(
        cushion_impact(
            vx,
            vy,
            wx,
            wy,
            wz,
            radius,
            nose_height,
            restitution,
            cushion_friction,
            sliding_friction,
        )[:5]
    )


def energy(motion, radius=RADIUS):
    """Kinetic energy per mass of a solid sphere. [m² s⁻²]"""
    vx, vy, *spin = motion
    return 0.5 * (vx * vx + vy * vy) + 0.2 * radius * radius * sum(w * w for w in spin)


speeds = st.floats(0.1, 5.0)  # [m s⁻¹]
directions = st.floats(0.02, math.pi - 0.02)  # from the cushion line [rad]
spins = st.floats(-1.5, 1.5)  # Rω over speed [-]
frictions = st.floats(0.0, 1.0)


@st.composite
def approaches(draw):
    """Velocity and spin of a ball on its way into the cushion."""
    speed, direction = draw(speeds), draw(directions)
    turns = [draw(spins) * speed / RADIUS for _ in range(3)]
    return (speed * math.cos(direction), speed * math.sin(direction), *turns)


@pytest.mark.parametrize(
    ("roll", "expected"),
    [
        pytest.param(1.0, 0.911, id="rolling"),  # [R]
        pytest.param(0.0, 0.837, id="sliding"),  # [R]
        pytest.param(-1.0, 0.866, id="backspin"),  # [R]
    ],
)
def test_head_on_speed_depends_on_roll(roll, expected):
    after = impact(0.0, 1.0, -roll / RADIUS, sliding_friction=RESTATED_CLOTH_FRICTION)
    assert -after[1] == pytest.approx(expected, rel=RESTATED_CLOSENESS)
    assert after[0] == 0.0  # [X] nothing acts along the cushion


def test_rolling_at_forty_five_degrees():
    part = math.sqrt(0.5)
    after = impact(
        part, part, -part / RADIUS, part / RADIUS, sliding_friction=RESTATED_CLOTH_FRICTION
    )
    angle = math.degrees(math.atan2(-after[1], after[0]))
    assert angle == pytest.approx(52.7, rel=RESTATED_CLOSENESS)  # [R]
    assert math.hypot(after[0], after[1]) == pytest.approx(0.848, rel=RESTATED_CLOSENESS)  # [R]


@given(motion=approaches(), restitution=st.floats(0.01, 1.0), height=st.floats(0.3, 1.7))
@settings(deadline=None)
def test_without_friction_only_the_normal_speed_changes_and_by_e(motion, restitution, height):
    """[X] The normal force passes through the centre: v_y → −e v_y, nothing else."""
    after = impact(
        *motion,
        nose_height=height * RADIUS,
        restitution=restitution,
        cushion_friction=0.0,
        sliding_friction=0.0,
    )
    speed = math.hypot(motion[0], motion[1])
    assert after[1] == pytest.approx(-restitution * motion[1], abs=1e-12 * speed)
    assert after[0] == pytest.approx(motion[0], abs=1e-12 * speed)
    np.testing.assert_allclose(after[2:], motion[2:], rtol=0, atol=1e-12 * speed / RADIUS)


def test_frictionless_cushion_head_on_with_rough_cloth():
    """[X] One contact, one dimension, worked by hand.

    Smooth nose, ball sliding in: cloth friction −μ λ with λ = s while w = v_y + Rω_x > 0.
    dv_y/dP = −(c + μ s), dw/dP = −(c + 7μ s/2). The cloth slip dies at P₁ = v/(c + 7μ s/2),
    reverses (it can't stick: that would need c/3.5 = 0.262 of μ s = 0.08), and then
    dv_y/dP = −(c − μ s). Each stretch is a straight line; the balance of work is the
    triangle's area c ∫ v_y dP.
    """
    sine, friction = 0.4, 0.2
    cosine = math.sqrt(1.0 - sine * sine)
    first_rate = cosine + friction * sine
    second_rate = cosine - friction * sine
    dies = 1.0 / (cosine + 3.5 * friction * sine)
    at_death = 1.0 - first_rate * dies
    assert at_death > 0.0  # so the turn comes after the reversal
    taken = 0.5 * (1.0 + at_death) * dies + 0.5 * at_death**2 / second_rate
    expected = math.sqrt(2.0 * second_rate * RESTITUTION**2 * taken)
    after = impact(0.0, 1.0, cushion_friction=0.0, sliding_friction=friction)
    assert -after[1] == pytest.approx(expected, rel=1e-7)


def test_nose_that_grips_at_once():
    """[X] A rough nose on a bare bed stops the slip at it, and v_y loses nothing to it.

    Without cloth friction and with the nose's slip zero from the start (Rω_x = s v_y), the
    friction that holds it is constant, f₂ = −s c/(5/2 + s²). Then
    dv_y/dP = −c − s f₂ is constant too, so that v_y → −e v_y, and Rω_x stays s v_y.
    """
    sine = 0.4
    after = impact(0.0, 2.0, sine * 2.0 / RADIUS, cushion_friction=0.9, sliding_friction=0.0)
    assert after[1] == pytest.approx(-RESTITUTION * 2.0, rel=1e-9)
    assert after[2] * RADIUS == pytest.approx(sine * after[1], rel=1e-9)


@given(motion=approaches())
@settings(deadline=None)
def test_mirror_image_comes_out_mirrored(motion):
    """[X] x → −x turns vx, ωy and ωz round, and nothing else."""
    vx, vy, wx, wy, wz = motion
    mirror = np.array([-1.0, 1.0, 1.0, -1.0, -1.0])
    straight = impact(vx, vy, wx, wy, wz)
    mirrored = impact(-vx, vy, wx, -wy, -wz)
    scale = math.hypot(vx, vy) * np.array([1.0, 1.0, 1 / RADIUS, 1 / RADIUS, 1 / RADIUS])
    assert np.all(np.abs(mirrored - mirror * straight) <= 1e-12 * scale)


@given(
    motion=approaches(),
    height=st.floats(0.2, 1.8),
    restitution=st.floats(0.01, 1.0),
    cushion_friction=frictions,
    sliding_friction=frictions,
)
@settings(deadline=None, max_examples=400)
def test_every_impact_ends_leaving_and_energy_never_rises(
    motion, height, restitution, cushion_friction, sliding_friction
):
    *after, steps = cushion_impact(
        *motion, RADIUS, height * RADIUS, restitution, cushion_friction, sliding_friction
    )
    assert all(math.isfinite(value) for value in after)
    assert after[1] < 0.0
    assert steps <= MOST_STEPS
    assert energy(after) <= energy(motion) * (1.0 + 1e-9)


@given(motion=approaches(), factor=st.floats(1e-3, 1e3), size=st.floats(0.5, 2.0))
@settings(deadline=None)
def test_free_of_scale(motion, factor, size):
    """[X] All speeds times a number, or a larger ball at the same Rω: the same outcome.

    To 3e-7 of the approach speed: rounding may change a step that is on the verge.
    """
    plain = impact(*motion)
    faster = impact(*(factor * value for value in motion)) / factor
    vx, vy, *spin = motion
    larger = impact(
        vx, vy, *(w / size for w in spin), radius=size * RADIUS, nose_height=size * SNOOKER_NOSE
    )
    larger[2:] *= size
    tolerance = 3e-7 * vy * np.array([1.0, 1.0, 1 / RADIUS, 1 / RADIUS, 1 / RADIUS])
    assert np.all(np.abs(faster - plain) <= tolerance)
    assert np.all(np.abs(larger - plain) <= tolerance)


def test_grazing_keeps_the_speed():
    """[X] All impulses are in proportion to the approach speed, which goes to zero."""
    losses = []
    for approach in (1e-1, 1e-2, 1e-3):
        after = impact(1.0, approach, -approach / RADIUS, 1.0 / RADIUS)
        losses.append(abs(1.0 - math.hypot(after[0], after[1])))
        assert losses[-1] < approach
    assert losses[2] < losses[1] < losses[0]


def test_a_ball_that_does_not_approach_is_left_alone():
    before = (0.3, -0.2, 5.0, 6.0, 7.0)
    assert tuple(impact(*before)) == before
    assert tuple(impact(0.3, 0.0, 5.0, 6.0, 7.0)) == (0.3, 0.0, 5.0, 6.0, 7.0)


def test_running_side_speeds_up_and_check_side_slows_down():
    """[X] by sign: side turning with the way along the cushion pushes the ball on."""
    plain = impact(1.0, 1.0, -1.0 / RADIUS, 1.0 / RADIUS)
    # The ball moves along +x; its nose side is at +y, whose surface moves by −Rω_z along x.
    running = impact(1.0, 1.0, -1.0 / RADIUS, 1.0 / RADIUS, 2.0 / RADIUS)
    check = impact(1.0, 1.0, -1.0 / RADIUS, 1.0 / RADIUS, -2.0 / RADIUS)
    assert check[0] < plain[0] < running[0]


def test_a_ball_that_friction_would_hold_still_leaves():
    """Both frictions beyond c/(1 + s) = 0.655 [X]: the turn is a jam, and the way out holds.

    At the jam all motion has stopped, so the nose gives back e² of the work taken as
    v_y alone; the work taken can't exceed the whole energy.
    """
    after = impact(0.0, 1.0, cushion_friction=1.0, sliding_friction=1.0)
    assert after[0] == 0.0
    assert -RESTITUTION <= after[1] < 0.0


def test_steps_of_typical_impacts_stay_few():
    """The cost, as a count that no machine changes. Stored from this code, with room."""
    generator = np.random.default_rng(20100)
    counts = []
    for _ in range(2000):
        speed, angle = generator.uniform(0.1, 5.0), generator.uniform(0.02, math.pi - 0.02)
        spin = generator.uniform(-1.5, 1.5, 3) * speed / RADIUS
        counts.append(
            cushion_impact(
                speed * math.cos(angle),
                speed * math.sin(angle),
                *spin,
                RADIUS,
                SNOOKER_NOSE,
                RESTITUTION,
                CUSHION_FRICTION,
                CLOTH_FRICTION,
            )[5]
        )
    assert np.median(counts) <= 20  # 16 when stored, at a step tolerance of 3e-9
    assert np.quantile(counts, 0.999) <= 140  # 109 when stored
