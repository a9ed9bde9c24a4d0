"""The white's way taken apart: it adds up, it is the shot itself, and the exact forms come out."""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random

import pytest

from random_positions import MATCH, RADIUS, TABLE, random_shot
from stunline.errors import UnsolvableShotError
from stunline.planning.causes import Cause, Group
from stunline.planning.explaining import Explanation, explain
from stunline.shot.aiming.contact_aim import cushion_first
from stunline.shot.aiming.solve import solve
from stunline.shot.contact import first_contact
from stunline.shot.play import play
from stunline.shot.position import Arrive, ContactAim, Position, Strike, StrikePlan
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions
from stunline.shot.readouts import readouts
from stunline.shot.shot import Shot

APART = 0.5  # [m]
RED = ContactAim("red1", 0.5, "left")
SMOOTH = replace(MATCH, ball_friction=0.0)
LOSSLESS = replace(MATCH, ball_restitution=1.0)


def two_balls(coefficients=MATCH, apart: float = APART) -> Position:
    return Position(TABLE, "match", coefficients, {"white": (0.9, 1.0), "red1": (0.9, 1.0 + apart)})


def half_ball(position: Position, height: float, side: float = 0.0, pace: float = 2.0) -> Shot:
    return play(position, solve(position, StrikePlan(RED, pace, height, side)).strike)


def degrees_of(explained: Explanation, cause: Cause, which: str = "parts") -> float:
    assert explained.ends is not None
    shares = getattr(explained.ends.causes, which)
    return math.degrees(shares[explained.causes.index(cause)])


def played_shipped(name: str) -> Shot:
    file = read_position_file(shipped_position_path(name))
    return play(file.position, solve(file.position, file.plan).strike)


CONTACTS = [name for name in shipped_positions() if name != "up-and-down"]


def random_contacts(count: int) -> list[Shot]:
    """Shots that meet a ball: anywhere on the table, cues raised, every coefficient."""
    found = []
    for seed in range(10_000):
        position, strike = random_shot(seed)
        if len(position.balls) > 1:
            (x, y), (u, v) = list(position.balls.values())[:2]
            turn = math.asin(min(1.0, 2.0 * RADIUS / math.hypot(u - x, v - y)))
            aim = math.atan2(v - y, u - x) + turn * Random(seed).uniform(-0.9, 0.9)
            shot = play(position, replace(strike, aim=aim))
            if first_contact(shot) is not None:
                found.append(shot)
        if len(found) == count:
            break
    return found


@pytest.fixture(scope="module")
def anywhere() -> list[tuple[Shot, Explanation]]:
    return [(shot, explain(shot)) for shot in random_contacts(60)]


# --- it adds up, and it is the shot ------------------------------------------------------------


def assert_adds_up(explained: Explanation) -> None:
    for one in (explained.leaves, explained.ends, explained.along, explained.forward):
        if one is not None:
            assert one.base + sum(one.causes.parts) == pytest.approx(one.whole, abs=1e-9)
            assert one.base + sum(one.groups.parts) == pytest.approx(one.whole, abs=1e-9)


def assert_is_the_shot(shot: Shot, explained: Explanation) -> None:
    read = readouts(shot)
    if explained.ends is not None and explained.leaves is not None:
        assert math.degrees(explained.leaves.whole) == pytest.approx(read.off_tangent_deg, abs=1e-9)
        if explained.turned is None:
            turned = read.off_tangent_deg + read.total_bend_deg
            off = math.remainder(math.degrees(explained.ends.whole) - turned, 360.0)
            assert abs(off) < 1e-4
    place = read.next_met_at_mm or read.white_rest_mm
    if place is not None:
        ghost = explained.contact.white_place
        away = math.hypot(place[0] - 1000.0 * ghost[0], place[1] - 1000.0 * ghost[1])
        told = 1000.0 * math.hypot(explained.along.whole, explained.forward.whole)
        assert told == pytest.approx(away, abs=1e-6)


@pytest.mark.parametrize("name", CONTACTS)
def test_shipped_positions_add_up_to_what_was_played(name: str) -> None:
    shot = played_shipped(name)
    explained = explain(shot)
    assert explained.held == ""
    assert_adds_up(explained)
    assert_is_the_shot(shot, explained)


def test_shots_anywhere_add_up_to_what_was_played(anywhere) -> None:
    for shot, explained in anywhere:
        assert_adds_up(explained)
        assert_is_the_shot(shot, explained)
    assert any(explained.is_straight for _, explained in anywhere)
    assert any(explained.held for _, explained in anywhere)
    assert any(shot.strike.elevation for shot, explained in anywhere if not explained.held)


def test_every_case_makes_the_same_contact(anywhere) -> None:
    for shot, explained in anywhere:
        wanted = explained.contact
        for case in explained.cases:
            met = first_contact(play(case.position(shot.position), case.approach.strike))
            assert met is not None and met.ball == wanted.ball
            assert met.signed_sine == pytest.approx(wanted.signed_sine, abs=1e-6)
            assert met.white_before.speed == pytest.approx(wanted.white_before.speed, rel=1e-5)


# --- exact forms -------------------------------------------------------------------------------


def test_the_balls_loss_alone_is_the_exact_deflection_of_smooth_balls() -> None:
    # [S] a published exam question: half-ball tan θ = (1 + e)√3/(5 − 3e) off the old line; the
    # tangent line is 60° off it.
    explained = explain(half_ball(two_balls(), 0.4 * RADIUS))
    e = MATCH.ball_restitution
    loss = 60.0 - math.degrees(math.atan2((1.0 + e) * math.sqrt(3.0), 5.0 - 3.0 * e))
    assert degrees_of(explained, Cause.RESTITUTION, "alone") == pytest.approx(loss, abs=1e-4)


def test_follow_alone_is_the_exact_final_direction_of_a_rolling_white() -> None:
    # [X] tan θ = k s c/(s² + (1−e)c²/2 + (2/5)S) with S = 1, e = 1: half-ball 33.671° off the old
    # line, which Alciatore's published rule calls about 34; the tangent line is 60° off it.
    explained = explain(half_ball(two_balls(), 0.4 * RADIUS))
    assert degrees_of(explained, Cause.HEIGHT, "alone") == pytest.approx(60.0 - 33.671, abs=2e-3)
    assert degrees_of(explained, Cause.CLOTH, "taken_away") == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("ratio", [1.0, 0.5, -0.5])
def test_follow_and_screw_as_a_group_are_the_exact_form_too(ratio: float) -> None:
    # [X] the same formula for smooth balls that lose nothing, at other follow ratios S
    position = two_balls(replace(MATCH, ball_friction=0.0, ball_restitution=1.0))
    strike = solve(position, StrikePlan(RED, 2.0, Arrive(ratio))).strike
    explained = explain(play(position, strike))
    s, c = 0.5, math.sqrt(0.75)
    final = math.degrees(math.atan2(s * c, s * s + 0.4 * ratio))
    assert explained.groups == (Group.SPIN,)
    assert explained.ends is not None
    assert math.degrees(explained.ends.groups.parts[0]) == pytest.approx(60.0 - final, abs=1e-4)


@pytest.mark.parametrize("thickness", [0.3, 0.5, 0.8])
def test_without_any_cause_equal_balls_part_along_the_tangent_line(thickness: float) -> None:
    # [X] the 90° rule, exact for stun and e = 1
    position = two_balls()
    aim = ContactAim("red1", thickness, "right")
    strike = solve(position, StrikePlan(aim, 2.0, -0.008, 0.004)).strike
    explained = explain(play(position, strike))
    assert len(explained.cases) == 64
    assert explained.ends is not None and explained.leaves is not None
    assert math.degrees(explained.leaves.base) == pytest.approx(0.0, abs=1e-6)
    assert math.degrees(explained.ends.base) == pytest.approx(0.0, abs=1e-4)


# --- what each cause is ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cause", "coefficients"), [(Cause.RESTITUTION, LOSSLESS), (Cause.BALL_FRICTION, SMOOTH)]
)
def test_taking_a_coefficient_away_is_playing_the_same_strike_without_it(
    cause: Cause, coefficients
) -> None:
    # The balls' coefficients do not touch the way to the contact, so no strike is solved here.
    shot = half_ball(two_balls(), -0.009, 0.004)
    read, other = readouts(shot), readouts(play(two_balls(coefficients), shot.strike))
    turned = [one.off_tangent_deg + one.total_bend_deg for one in (read, other)]
    found = degrees_of(explain(shot), cause, "taken_away")
    assert found == pytest.approx(turned[0] - turned[1], abs=1e-6)


def test_without_side_it_is_the_shot_that_a_coach_would_play_without_side() -> None:
    # Solved by itself: the same height and thickness, no side. Only the pace is then not held, to
    # arrive as fast; side takes none of it.
    shot = half_ball(two_balls(), -0.009, 0.006)
    explained = explain(shot)
    plain = readouts(half_ball(two_balls(), -0.009))
    without = readouts(explained.without(Cause.SIDE, Cause.SQUIRT))
    assert without.arrival_speed_m_s == pytest.approx(plain.arrival_speed_m_s, rel=1e-3)
    assert without.off_tangent_deg == pytest.approx(plain.off_tangent_deg, abs=0.01)
    assert without.total_bend_deg == pytest.approx(plain.total_bend_deg, abs=0.1)


def test_a_white_that_arrives_as_stun_has_no_follow_and_no_screw() -> None:
    position = two_balls()
    strike = solve(position, StrikePlan(RED, 2.0, Arrive(0.0))).strike
    explained = explain(play(position, strike))
    assert explained.ends is not None
    spin = explained.ends.groups.parts[explained.groups.index(Group.SPIN)]
    assert math.degrees(spin) == pytest.approx(0.0, abs=1e-3)
    # Struck low, and the cloth takes as much off.
    assert degrees_of(explained, Cause.HEIGHT) < -5.0
    assert degrees_of(explained, Cause.CLOTH) > 5.0


def test_mirrored_positions_are_explained_alike() -> None:
    shot = half_ball(two_balls(), -0.009, 0.006)
    other = play(
        two_balls(),
        replace(shot.strike, aim=math.pi - shot.strike.aim, side=-shot.strike.side),
    )
    one, two = explain(shot), explain(other)
    assert (one.contact.on, two.contact.on) == ("left", "right")
    assert one.ends is not None and two.ends is not None
    assert one.ends.causes.parts == pytest.approx(two.ends.causes.parts, abs=1e-6)


def test_only_causes_that_are_there_are_told() -> None:
    bare = replace(MATCH, ball_friction=0.0, ball_restitution=1.0, squirt=False)
    assert explain(half_ball(two_balls(bare), 0.0)).causes == (Cause.CLOTH,)
    assert explain(half_ball(two_balls(), 0.005)).causes == (
        Cause.HEIGHT, Cause.CLOTH, Cause.BALL_FRICTION, Cause.RESTITUTION,
    )  # fmt: skip
    assert Cause.SQUIRT not in explain(half_ball(two_balls(bare), 0.0, 0.005)).causes


def test_squirt_is_told_by_what_the_same_aim_would_meet() -> None:
    shot = half_ball(two_balls(), 0.0, 0.008)
    plain = two_balls(replace(MATCH, squirt=False))
    met = first_contact(play(plain, shot.strike))
    found = explain(shot).without_squirt
    assert found == (met.thickness if met is not None else 0.0)
    assert explain(half_ball(two_balls(), 0.005)).without_squirt is None


# --- the side's share --------------------------------------------------------------------------


def share_of_side(height: float, side: float, pace: float) -> tuple[float, float]:
    """Its share of the turn, and what goes with it, in % of the turn."""
    explained = explain(half_ball(two_balls(apart=0.3), height, side, pace))
    assert explained.ends is not None
    groups, k = explained.ends.groups, explained.groups.index(Group.SIDE)
    return tuple(  # type: ignore[return-value]
        100.0 * abs(share / explained.ends.whole)
        for share in (groups.parts[k], groups.taken_away[k])
    )


def test_side_takes_part_in_a_rolling_or_screwed_half_ball_by_a_few_per_cent() -> None:
    # [P] half the most side changes a full-roll or full-screw half-ball path by 4–7 %, common
    # practice, no source. The engine shows it at a gentle pace, as what goes when only the side
    # goes; at a firm one less, since ball friction falls with slip. The share proper is smaller,
    # since side acts through ball friction alone and shares its work with it.
    side = 0.25 * RADIUS
    gentle = [share_of_side(0.4 * RADIUS, one, 1.0) for one in (side, -side)]
    assert all(4.0 <= away <= 7.0 for _, away in gentle)
    assert all(1.0 <= share <= 3.0 for share, _ in gentle)
    firm = [share_of_side(0.4 * RADIUS, one, 2.5) for one in (side, -side)]
    assert all(1.0 <= away <= 4.0 for _, away in firm)
    screw = [share_of_side(-0.43 * RADIUS, one, 2.5) for one in (side, -side)]
    assert all(1.0 <= away <= 7.0 for _, away in screw)


# --- where it can't be told ---------------------------------------------------------------------


def test_a_white_that_meets_no_ball_is_refused() -> None:
    with pytest.raises(UnsolvableShotError, match="the white meets no ball") as refused:
        explain(played_shipped("up-and-down"))
    assert refused.value.reason == "no-contact"
    assert refused.value.fault.key == "strike.aim"


def test_off_a_cushion_the_way_is_held_and_the_contact_taken_apart() -> None:
    position = Position(TABLE, "match", MATCH, {"white": (0.4, 2.0), "pink": TABLE.spots["pink"]})
    aims = (math.radians(60.0 + 0.1 * k) for k in range(300))
    shots = (play(position, Strike(aim, 2.5, 0.005)) for aim in aims)
    shot = next(one for one in shots if first_contact(one) is not None and cushion_first(one))
    explained = explain(shot)
    assert explained.held == "the white comes off a cushion"
    assert explained.causes == (Cause.BALL_FRICTION, Cause.RESTITUTION)
    assert explained.ends is not None and abs(explained.ends.base) > 0.01
    assert_adds_up(explained)
    assert_is_the_shot(shot, explained)


def test_a_straight_shot_is_told_by_its_run() -> None:
    position = two_balls()
    plan = StrikePlan(ContactAim("red1", 1.0), 1.0, -0.008)
    explained = explain(play(position, solve(position, plan).strike))
    assert explained.is_straight and explained.leaves is None and explained.turned is None
    assert_adds_up(explained)
    spin = explained.forward.groups.parts[explained.groups.index(Group.SPIN)]
    assert (spin < 0.0) == (explained.contact.follow_ratio < 0.0)


def test_a_white_stopped_before_it_rolls_is_told_how_far_it_had_turned() -> None:
    shot = played_shipped("pool-open-the-rack")
    read, explained = readouts(shot), explain(shot)
    assert read.sliding_ended_after_mm is None
    assert explained.turned is not None and explained.ends is not None
    turned = math.degrees(explained.turned)
    assert turned == pytest.approx(read.off_tangent_deg + read.total_bend_deg, abs=1e-9)
    assert turned < math.degrees(explained.ends.whole)


def test_an_in_off_goes_to_the_pocket() -> None:
    shot = played_shipped("billiards-half-ball-in-off")
    explained = explain(shot)
    pocket = shot.position.table.pocket(shot.potted("white") or "").drop_centre
    ghost = explained.contact.white_place
    away = math.hypot(pocket[0] - ghost[0], pocket[1] - ghost[1])
    assert math.hypot(explained.along.whole, explained.forward.whole) == pytest.approx(away)


def test_a_lighter_white_leaves_something_without_any_cause() -> None:
    # [X] smooth, e = 1, stun, both free vertically: along the line of centres in plan the white
    # keeps 1 − 2·m_b/(m_w + m_b)·cos²τ of its speed, τ the tilt; across it all.
    shot = played_shipped("english-pool-small-white-comes-back")
    explained = explain(shot)
    contact = explained.contact
    tilt = math.asin(
        (contact.ball_radius - contact.radius) / (contact.ball_radius + contact.radius)
    )
    kept = 1.0 - 2.0 * contact.mass_ratio / (1.0 + contact.mass_ratio) * math.cos(tilt) ** 2
    assert kept < 0.0
    assert explained.ends is not None and explained.leaves is not None
    base = math.atan2(kept, math.tan(contact.cut_angle))
    assert explained.leaves.base == pytest.approx(base, abs=1e-7)
    assert explained.ends.base == pytest.approx(base, abs=1e-5)


def test_the_white_frozen_to_the_ball_has_no_way_and_so_no_cloth() -> None:
    position = two_balls(apart=2.0 * RADIUS)
    explained = explain(play(position, Strike(math.radians(60.0), 2.0, -0.006, 0.003)))
    assert Cause.CLOTH not in explained.causes
    assert_adds_up(explained)
