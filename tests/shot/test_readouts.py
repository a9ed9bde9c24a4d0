"""Read-outs against the path itself, sampled finely, and against exact forms."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from stunline.equipment.catalogue import load_table
from stunline.shot.aiming.solve import play_plan, solve
from stunline.shot.notes import RIGID_CUSHION_LIMIT, notes
from stunline.shot.play import play
from stunline.shot.position import (
    Arrive,
    ContactAim,
    Position,
    PotAim,
    Strike,
    StrikePlan,
)
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions
from stunline.shot.readouts import readouts

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
SMOOTH = replace(CLOTH.coefficients, ball_friction=0.0, squirt=False)


def position_of(coefficients=CLOTH.coefficients, **balls: tuple[float, float]) -> Position:
    return Position(TABLE, CLOTH.name, coefficients, balls)


HALF_BALL = position_of(SMOOTH, white=(0.889, 0.9), blue=(0.889, 1.5))


def sampled(shot, ball, start, end, count=40_000):
    """Places of a ball, by time."""
    times = [start + (end - start) * k / count for k in range(1, count + 1)]
    return [(time, shot.place(ball, time)) for time in times]


@pytest.mark.parametrize("pace", [1.0, 2.0, 4.0])
def test_runs_off_the_first_line_are_those_of_the_path(pace):
    shot = play_plan(HALF_BALL, StrikePlan(ContactAim("blue", 0.5, "left"), pace, Arrive(1.0)))
    read = readouts(shot)
    contact = next(event for event in shot.events if event.kind == "ball")
    vx, vy = contact.after["white"].velocity
    speed = math.hypot(vx, vy)
    first = (vx / speed, vy / speed)
    x0, y0 = contact.at
    run = None
    for _, (x, y) in sampled(shot, "white", contact.time, contact.time + 1.0):
        off = abs(first[0] * (y - y0) - first[1] * (x - x0))
        if off >= 0.005:
            run = first[0] * (x - x0) + first[1] * (y - y0)
            break
    assert run is not None
    # The sampling's own step is pace/40,000 m.
    assert read.run_to_5mm_off_mm == pytest.approx(1000.0 * run, abs=0.2)


def test_total_bend_is_the_exact_one_of_a_smooth_pair():
    # tan θ = k s c/(1 − k c²) just after, tan θ = k s c/(s² + (1−e)c²/2 + (2/5)S) once
    # rolling, from the old line, k = (1+e)/2 [X]; the bend is their difference.
    e, s, c = SMOOTH.ball_restitution, 0.5, math.sqrt(0.75)
    k = 0.5 * (1.0 + e)
    first = math.degrees(math.atan2(k * s * c, 1.0 - k * c * c))
    last = math.degrees(math.atan2(k * s * c, s * s + 0.5 * (1.0 - e) * c * c + 0.4))
    shot = play_plan(HALF_BALL, StrikePlan(ContactAim("blue", 0.5, "left"), 1.5, Arrive(1.0)))
    read = readouts(shot)
    assert read.total_bend_deg == pytest.approx(first - last, abs=1e-6)
    # Off the 90° line, which stands 60° from the old line for a half-ball.
    assert read.off_tangent_deg == pytest.approx(60.0 - first, abs=1e-6)
    assert read.follow_ratio == pytest.approx(1.0, abs=1e-9)
    assert read.cut_angle_deg == pytest.approx(30.0, abs=1e-6)
    assert read.thickness_words == "half-ball"
    assert read.arrival == "rolling"
    assert read.throw_deg == pytest.approx(0.0, abs=1e-9)


def test_screw_bends_back_and_follow_forward():
    plan = StrikePlan(ContactAim("blue", 0.5, "left"), 3.0, Arrive(-0.4))
    assert (readouts(play_plan(HALF_BALL, plan)).total_bend_deg or 0.0) < -10.0
    assert readouts(play_plan(HALF_BALL, plan)).arrival == "screw 40 %"


def test_energy_kept_full_ball():
    # Head-on, no spin, no friction: the two keep (1+e²)/2 of the energy [X].
    shot = play_plan(HALF_BALL, StrikePlan(ContactAim("blue", 1.0, "left"), 2.0, Arrive(0.0)))
    e = SMOOTH.ball_restitution
    assert readouts(shot).energy_kept == pytest.approx(0.5 * (1.0 + e * e), rel=1e-6)


def test_what_is_met_next_and_rests():
    file = read_position_file(shipped_position_path("edge-of-the-pack"))
    solution = solve(file.position, file.plan)
    shot = play(file.position, solution.strike)
    read = readouts(shot, file.plan, solution.pot)
    assert read.pot_made is True
    assert read.next_met == "red7"
    assert read.aim_window_deg is not None
    assert math.radians(sum(read.aim_window_deg)) == pytest.approx(
        solution.pot.high - solution.pot.low, rel=1e-9
    )
    rest = shot.rest("white")
    assert rest is not None
    assert read.white_rest_mm == pytest.approx((1000 * rest[0], 1000 * rest[1]))
    distances = read.white_rest_from_cushions_mm
    assert distances is not None
    across = 1000 * min(rest[0], TABLE.width - rest[0])
    along = 1000 * min(rest[1], TABLE.length - rest[1])
    assert sorted(distances.values()) == pytest.approx(sorted((across, along)))


def test_without_a_contact_there_is_nothing_to_read_of_it():
    read = readouts(play(position_of(white=(0.889, 0.737)), Strike(aim=0.5 * math.pi, pace=2.0)))
    assert read.object_ball is None
    assert read.cut_angle_deg is None
    assert read.next_met is None
    assert read.cushions >= 1


def test_cushions_beyond_the_laws_range_are_told():
    # Rigid cushion valid to 2.5 m/s normal speed [S: abstract of the 2010 paper].
    straight_up = position_of(white=(0.889, 0.737))
    fast = play(straight_up, Strike(aim=0.5 * math.pi, pace=5.0, height=0.0105))
    slow = play(straight_up, Strike(aim=0.5 * math.pi, pace=2.0, height=0.0105))
    assert any(f"up to {RIGID_CUSHION_LIMIT} m/s" in note for note in notes(fast))
    assert any("power stroke" in note for note in notes(fast))
    assert notes(slow) == ()


@pytest.mark.parametrize("name", shipped_positions())
def test_every_shipped_position_plays_to_rest(name):
    file = read_position_file(shipped_position_path(name))
    shot = play_plan(file.position, file.plan)
    assert shot.stop_reason in ("at-rest", "at-rest-pairwise")
    if isinstance(file.plan.aim, PotAim):
        assert shot.potted(file.plan.aim.ball) == file.plan.aim.pocket
    assert readouts(shot, file.plan).as_dict()["duration_s"] > 0.0


def test_stun_and_hold_holds():
    # What the position is for: the white stays within two balls' width of the contact.
    file = read_position_file(shipped_position_path("stun-and-hold"))
    shot = play_plan(file.position, file.plan)
    contact = next(event for event in shot.events if event.kind == "ball")
    rest = shot.rest("white")
    assert rest is not None
    assert math.dist(rest, shot.place("white", contact.time)) < 2 * 0.0525


def test_the_screw_shot_passes_between_the_two_reds():
    file = read_position_file(shipped_position_path("screw-between-two-balls"))
    shot = play_plan(file.position, file.plan)
    first, second = file.position.balls["red1"], file.position.balls["red2"]
    contact = next(event for event in shot.events if event.kind == "ball")
    sides = []
    for _, place in sampled(shot, "white", contact.time, shot.duration, 4_000):
        along = (second[0] - first[0], second[1] - first[1])
        sides.append(along[0] * (place[1] - first[1]) - along[1] * (place[0] - first[0]) > 0.0)
        assert math.dist(place, first) > 0.0525
        assert math.dist(place, second) > 0.0525
    assert sides[0] != sides[-1], "the white crosses the line between the reds"
