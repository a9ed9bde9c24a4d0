"""A white smaller and lighter than the balls it meets: English pool, all the way through.

White 47.6 mm, 94 g; object balls 50.8 mm, 116 g [R: world body's specification]. On one bed
they touch at a plan distance of 2√(R₁R₂), their line of centres tilted by
arcsin((R₂ − R₁)/(R₁ + R₂)).
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import ball_contact_distance, nose_contact_distance
from stunline.equipment.model import Point
from stunline.errors import InputError
from stunline.shot import compiled, plane
from stunline.shot.aiming.solve import solve
from stunline.shot.contact import Contact, first_contact
from stunline.shot.ladder import climb
from stunline.shot.play import play
from stunline.shot.position import (
    Arrive,
    ContactAim,
    DirectAim,
    LadderPlan,
    Position,
    PotAim,
    Side,
    Strike,
    StrikePlan,
)
from stunline.shot.position_file import parse_position
from stunline.shot.readouts import readouts
from stunline.shot.shot import EventKind, Shot

TABLE = load_table("english-pool-7ft")
MATCH = TABLE.default_cloth().coefficients
SMOOTH = replace(MATCH, ball_restitution=1.0, ball_friction=0.0, squirt=False)
SMALL, LARGE = TABLE.balls["white"], TABLE.balls["red1"]
APART = ball_contact_distance(SMALL.radius, LARGE.radius)
TILT = math.asin((LARGE.radius - SMALL.radius) / (LARGE.radius + SMALL.radius))
WHITE: Point = (0.5, 0.5)
RED: Point = (0.5, 1.2)
NEAR_RED: Point = (0.5, 0.8)  # so near that the white still arrives as stun
UP = 0.5 * math.pi


def position(red: Point = RED, coefficients=SMOOTH) -> Position:  # type: ignore[no-untyped-def]
    return Position(TABLE, "match", coefficients, {"white": WHITE, "red1": red})


def contact_of(shot: Shot) -> Contact:
    found = first_contact(shot)
    assert found is not None
    return found


def test_plan_distance_and_tilt() -> None:
    # [X] 2√(23.8 · 25.4) = 49.174 mm; arcsin(1.6/49.2) = 1.864°
    assert pytest.approx(49.174, abs=5e-4) == 1000.0 * APART
    assert math.degrees(TILT) == pytest.approx(1.864, abs=5e-4)
    assert math.cos(TILT) == pytest.approx(APART / (SMALL.radius + LARGE.radius), rel=1e-14)
    met = contact_of(play(position(), Strike(UP, 1.5)))
    assert math.dist(met.white_place, met.ball_place) == pytest.approx(APART, abs=1e-12)


def head_on(radius: float, other: float) -> tuple[float, float]:
    """What both leave with after a smooth head-on impact at e = 1 and 1 m/s. [m s⁻¹]"""
    found = compiled.ball_impact(
        1.0, 0.0, radius, SMALL.mass, other, LARGE.mass,
        1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0,
    )  # fmt: skip
    return found[0], found[5]


def test_head_on_the_white_comes_back_with_a_tenth_of_its_speed() -> None:
    # [X] along the line of centres (m₁ − m₂)/(m₁ + m₂) = −22/210 = −0.1048 of it is kept
    kept = (SMALL.mass - LARGE.mass) / (SMALL.mass + LARGE.mass)
    assert kept == pytest.approx(-0.1048, abs=5e-5)
    assert head_on(LARGE.radius, LARGE.radius)[0] == pytest.approx(kept, rel=1e-14)
    # With the real radii that line is tilted by 1.864°: the impulse is 2·m₁m₂/(m₁ + m₂)·v·cos τ
    # along it, in plan cos τ of that, and the vertical part is taken up by the bed. So in plan
    # 1 − (1 − kept)·cos² τ = −0.1036 is kept [X].
    found, taken = head_on(SMALL.radius, LARGE.radius)
    assert found == pytest.approx(1.0 - (1.0 - kept) * math.cos(TILT) ** 2, rel=1e-13)
    assert found == pytest.approx(-0.1036, abs=5e-5)
    assert SMALL.mass * (1.0 - found) == pytest.approx(LARGE.mass * taken, rel=1e-14)
    # Seen along the tilted line, before the bed takes the vertical part: exactly as kept.
    vertical = -(1.0 - kept) * math.cos(TILT) * math.sin(TILT)
    along = found * math.cos(TILT) + vertical * math.sin(TILT)
    assert along / math.cos(TILT) == pytest.approx(kept, rel=1e-13)


def test_head_on_on_the_table() -> None:
    shot = play(position(), Strike(UP, 1.5, height=0.0))
    met = contact_of(shot)
    share = met.white_after.velocity[1] / met.white_before.velocity[1]
    assert share == pytest.approx(-0.1036, abs=5e-5)  # [X] as above, the tilt included
    read = readouts(shot)
    assert read.thickness == pytest.approx(1.0, abs=1e-12)
    assert 1000.0 * (RED[1] - WHITE[1] - APART) == pytest.approx(read.distance_to_contact_mm or 0.0)


@pytest.mark.parametrize("share", [0.0, 0.1, 0.5, 0.9, 0.999])
def test_thickness_is_what_the_plan_shows(share: float) -> None:
    # [X] a straight way that passes the red at the plan distance b meets it with thickness
    # 1 − b/2√(R₁R₂): full 1, a graze 0; beyond that it misses.
    passing = share * APART
    met = contact_of(play(position((RED[0] - passing, RED[1])), Strike(UP, 1.5)))
    assert met.thickness == pytest.approx(1.0 - share, abs=1e-10)
    assert met.on == "right" or share == 0.0
    assert first_contact(play(position((RED[0] - 1.001 * APART, RED[1])), Strike(UP, 1.5))) is None


def test_the_tangent_line_is_square_to_the_line_of_centres_in_plan() -> None:
    plan = StrikePlan(ContactAim("red1", 0.5, "left"), 2.5, Arrive(0.0))
    where = position(NEAR_RED)
    read = readouts(play(where, solve(where, plan).strike))
    assert (read.thickness, read.met_on) == (pytest.approx(0.5, abs=1e-6), "left")
    # Stunned, smooth and e = 1: the red leaves along the line of centres, 90° to the tangent.
    square = (read.object_direction_deg or 0.0) - (read.tangent_direction_deg or 0.0)
    assert abs(math.remainder(square, 360.0)) == pytest.approx(90.0, abs=1e-9)
    assert read.throw_deg == pytest.approx(0.0, abs=1e-9)
    # [X] the white keeps its speed along the tangent, v sin φ, and −0.1036 of v cos φ across it.
    along, across = 0.5, -0.1036 * math.sqrt(0.75)
    expected = math.degrees(math.atan2(-across, along))
    assert read.off_tangent_deg == pytest.approx(-expected, abs=0.02)


sides = st.sampled_from(["left", "right"])


@settings(max_examples=40)
@given(st.floats(0.02, 0.98), sides, st.floats(0.8, 3.0), st.floats(-6.0, 6.0))
def test_a_contact_is_solved_and_typed_back(
    thickness: float, on: Side, pace: float, side_mm: float
) -> None:
    plan = StrikePlan(ContactAim("red1", thickness, on), pace, 0.0, side_mm / 1000.0)
    where = position(coefficients=MATCH)
    met = contact_of(play(where, solve(where, plan).strike))
    assert met.thickness == pytest.approx(thickness, abs=1e-6)
    assert met.on == on
    assert math.dist(met.white_place, met.ball_place) == pytest.approx(APART, abs=1e-11)


@pytest.mark.parametrize(
    ("red", "pocket"), [((0.75, 1.7), "top right"), ((0.2, 1.0), "middle left")]
)
def test_a_pots_window_holds_what_it_says(red: Point, pocket: str) -> None:
    where = position(red, MATCH)
    found = solve(where, StrikePlan(PotAim("red1", pocket), 1.6))
    window = found.pot
    assert window is not None
    inside, outside = 0.98, 1.05
    for edge in (window.low, window.high):
        reach = edge - window.aim
        for share, made in ((inside, True), (outside, False)):
            shot = play(where, replace(found.strike, aim=window.aim + share * reach))
            assert (shot.potted("red1") == pocket) == made


@pytest.mark.parametrize("ratio", [0.0, 1.0, -0.3])
def test_the_white_arrives_as_asked(ratio: float) -> None:
    plan = StrikePlan(ContactAim("red1", 0.6, "right"), 2.5, Arrive(ratio))
    where = position(NEAR_RED, MATCH)
    met = contact_of(play(where, solve(where, plan).strike))
    assert met.follow_ratio == pytest.approx(ratio, abs=1e-4)
    assert met.radius == SMALL.radius


def test_a_ladder_of_distances_is_measured_to_the_contact() -> None:
    plan = StrikePlan(DirectAim(UP), 1.5)
    ladder = climb(position(), plan, LadderPlan("distance", (0.2, 0.4)))
    for rung, distance in zip(ladder.rungs, (0.2, 0.4), strict=True):
        white = rung.shot.position.balls["white"]
        assert RED[1] - APART - white[1] == pytest.approx(distance, abs=1e-12)


@pytest.mark.parametrize("ball", ["white", "red1"])
def test_each_ball_meets_the_cushion_at_its_own_distance(ball: str) -> None:
    # [X] R√(1 − (h/R − 1)²) with each ball's own R; the nose is 35 mm high [A]
    height = TABLE.nose_height
    shot = play(position((0.5, 1.7)), Strike(UP, 4.0))
    event = next(
        one for one in shot.events if one.kind is EventKind.CUSHION and one.balls == (ball,)
    )
    radius = TABLE.balls[ball].radius
    own = radius * math.sqrt(1.0 - (height / radius - 1.0) ** 2)
    assert own == pytest.approx(nose_contact_distance(radius, height), rel=1e-14)
    assert min(event.at[1], TABLE.length - event.at[1]) == pytest.approx(own, abs=1e-12)


def test_a_file_moves_unequal_balls_to_touching_and_names_their_distance() -> None:
    text = (
        'table = "english-pool-7ft"\n[balls]\nwhite = [500, 500]\nred1 = [500, {}]\n'
        "[strike]\naim = 90\npace = 1\n"
    )
    near = parse_position(text.format(549.17)).position.balls
    assert plane.length(plane.between(near["white"], near["red1"])) == pytest.approx(
        APART, abs=1e-12
    )
    free = parse_position(text.format(549.2)).position.balls
    assert free["red1"] == (0.5, 0.5492)
    with pytest.raises(InputError) as raised:
        parse_position(text.format(545))
    (fault,) = raised.value.faults
    assert "overlap by 4.17 mm" in fault.what
    assert fault.allowed.startswith("at least 49.17 mm")


motions = st.tuples(*[st.floats(-5.0, 5.0)] * 2, *[st.floats(-200.0, 200.0)] * 3)


@settings(max_examples=200)
@given(motions, motions, st.floats(0.0, 2.0 * math.pi), st.floats(0.3, 1.0))
def test_both_ways_round_it_is_the_same_impact(
    one: tuple[float, ...], other: tuple[float, ...], way: float, restitution: float
) -> None:
    """[property] White on red or red on white: momentum is kept, no energy gained."""
    nx, ny = math.cos(way), math.sin(way)
    friction = (0.00995, 0.108, 1.088)
    small, large = (SMALL.radius, SMALL.mass), (LARGE.radius, LARGE.mass)
    there = compiled.ball_impact(nx, ny, *small, *large, *one, *other, restitution, *friction)
    here = compiled.ball_impact(-nx, -ny, *large, *small, *other, *one, restitution, *friction)
    assert [*there[5:10], *there[:5]] == pytest.approx(list(here[:10]), rel=1e-9, abs=1e-9)
    for axis in (0, 1):
        before = SMALL.mass * one[axis] + LARGE.mass * other[axis]
        after = SMALL.mass * there[axis] + LARGE.mass * there[5 + axis]
        assert after == pytest.approx(before, rel=1e-12, abs=1e-13)

    def energy(motion: tuple[float, ...], radius: float, mass: float) -> float:
        vx, vy, *spin = motion
        turning = 0.2 * radius**2 * sum(w * w for w in spin)
        return mass * (0.5 * (vx * vx + vy * vy) + turning)

    before = energy(one, *small) + energy(other, *large)
    after = energy(there[:5], *small) + energy(there[5:10], *large)
    assert after <= before * (1.0 + 1e-12)
