"""Law 7: contact that lasts, against a stiff spring, and what it may never do."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from random import Random

import numpy as np
import pytest

from endless_bed import (
    GRAVITY,
    RADIUS,
    ROLLING_RESISTANCE,
    SLIDING_FRICTION,
    SMOOTH,
    BallOnBed,
    Vector,
    energy,
    run_on_bed,
    shot_from,
    vector,
)
from random_positions import REACH, TABLE
from record_check import IN_ORDER, check
from reference.pressed_penalty import PressedBalls, rests
from stunline.mechanics import layout
from stunline.shot.shot import EventKind, Shot, StopReason

RESTS_APART = 1e-3  # [m] as the project promises; the spring itself leaves some tenths
OVERLAP = 1e-9 * RADIUS  # [m]


def pressed_on_a_ball(seed: int) -> tuple[BallOnBed, BallOnBed]:
    """A white with topspin, standing against a ball, aimed at most 45° off its middle."""
    random = Random(seed)
    spin = random.uniform(0.5, 3.0) / RADIUS
    way = random.uniform(-0.8, 0.8)
    white: Vector = (0.0, 0.0, 0.0, spin, 0.0)
    place = (2.0 * RADIUS * math.cos(way), 2.0 * RADIUS * math.sin(way))
    return BallOnBed((0.0, 0.0), white), BallOnBed(place)


def pressed_to_a_cushion(seed: int) -> BallOnBed:
    """A ball against the baulk cushion that runs along it and spins into it."""
    random = Random(seed)
    along, towards = random.uniform(-0.3, 0.3), random.uniform(0.3, 2.0)
    across = random.uniform(-1.0, 1.0)
    return BallOnBed((0.9, REACH), (along, 0.0, towards / RADIUS, across / RADIUS, 0.0))


def presses(shot: Shot) -> int:
    """How often contact came to last."""
    return sum(event.kind is EventKind.PRESS for event in shot.events)


def in_order(shot: Shot) -> None:
    """No overlap, no gain of energy, on to rest, and a record that stays short."""
    assert shot.stop_reason is StopReason.AT_REST
    assert check(shot)[0] == IN_ORDER
    assert len(shot.record.phase_ints) < 6000


@pytest.mark.parametrize("seed", range(10))
def test_a_topspin_white_pressed_on_a_ball_rests_where_a_stiff_spring_leaves_it(seed: int) -> None:
    # [by an independent method] balls without friction between them
    white, red = pressed_on_a_ball(seed)
    shot = run_on_bed([white, red])
    assert shot.events[1].kind is EventKind.PRESS
    states = [(*ball.place, *ball.motion[:4]) for ball in (white, red)]
    expected = rests(PressedBalls(states, RADIUS, SLIDING_FRICTION, ROLLING_RESISTANCE, GRAVITY))
    for name, place in zip(("white", "red1"), expected, strict=True):
        assert math.dist(shot.last_place(name), place) < RESTS_APART
    in_order_on_bed(shot)


@pytest.mark.parametrize("seed", range(10))
def test_a_ball_pressed_to_a_cushion_rests_where_a_stiff_spring_leaves_it(seed: int) -> None:
    # [by an independent method] a smooth wall
    ball = pressed_to_a_cushion(seed)
    shot = shot_from([ball], SMOOTH, TABLE.plain_noses)
    assert shot.events[1].kind is EventKind.PRESS
    assert shot.events[1].surface == "baulk"
    start = (0.0, 0.0, *ball.motion[:4])
    expected = rests(
        PressedBalls([start], RADIUS, SLIDING_FRICTION, ROLLING_RESISTANCE, GRAVITY, wall=True)
    )
    x, y = shot.last_place("white")
    assert math.dist((x - 0.9, y - REACH), expected[0]) < RESTS_APART
    in_order(shot)


def in_order_on_bed(shot: Shot) -> None:
    """The same for balls on a bed without an edge, where nothing can leave the table."""
    assert shot.stop_reason is StopReason.AT_REST
    before = math.inf
    times = sorted({event.time for event in shot.events})
    for start, end in pairwise(times):
        for share in (0.25, 0.5, 0.75):
            time = start + share * (end - start)
            a, b = shot.place("white", time), shot.place("red1", time)
            assert math.dist(a, b) > 2.0 * RADIUS - OVERLAP
            now = sum(energy(vector(shot.motion(name, time))) for name in ("white", "red1"))
            assert now <= before * (1.0 + 1e-9)
            before = now


def test_straight_on_white_and_ball_run_as_one_until_the_white_rolls() -> None:
    # [X] by hand: N = m' f/2 with both balls rolling or not. The white slides with f = μ_s g, the
    # ball rolls with 7m/5 and −μ_r g: a (m + 7m/5) = m μ_s g − (7m/5) μ_r g.
    white, red = BallOnBed((0.0, 0.0), (0.0, 0.0, 0.0, 2.0 / RADIUS, 0.0)), BallOnBed((0.0525, 0.0))
    shot = run_on_bed([white, red])
    press = shot.events[1]
    assert (press.kind, press.time) == (EventKind.PRESS, 0.0)
    common = (SLIDING_FRICTION - 1.4 * ROLLING_RESISTANCE) * GRAVITY / 2.4
    for name in ("white", "red1"):
        phase = shot.phases(name)[0]
        assert phase.acceleration[0] == pytest.approx(common, rel=1e-9)
    # The slip 2 m/s shrinks by the common acceleration and by (5/2) μ_s g of turning.
    rolls = next(event for event in shot.events if event.kind is EventKind.ROLL)
    expected = 2.0 / (common + 2.5 * SLIDING_FRICTION * GRAVITY)
    assert rolls.balls == ("white",)
    assert rolls.time == pytest.approx(expected, rel=1e-6)


def test_a_push_weaker_than_the_resistance_moves_nothing() -> None:
    # [X] on a cloth that resists by more than half of what it rubs, a ball at rest stays, and the
    # white spins against it until it stops
    white = BallOnBed((0.0, 0.0), (0.0, 0.0, 0.0, 2.0 / RADIUS, 0.0))
    shot = run_on_bed([white, BallOnBed((0.0525, 0.0))], rolling_resistance=0.16)
    assert shot.last_place("red1") == (0.0525, 0.0)
    assert shot.last_place("white") == pytest.approx((0.0, 0.0), abs=1e-12)
    stop = next(event for event in shot.events if event.kind is EventKind.STOP)
    # The slip 2 m/s shrinks by (5/2) μ_s g alone.
    assert stop.time == pytest.approx(2.0 / (2.5 * SLIDING_FRICTION * GRAVITY), rel=1e-6)


def test_struck_away_from_what_it_touches_nothing_happens_there() -> None:
    # [X] a touching pair is an impact only while it approaches
    touching = BallOnBed((-2.0 * RADIUS, 0.0))
    shot = run_on_bed([BallOnBed((0.0, 0.0), (1.0, 0.1, 0.0, 0.0, 0.0)), touching])
    assert not any("red1" in event.balls for event in shot.events)
    away = shot_from(
        [BallOnBed((0.9, REACH), (0.2, 0.8, 0.0, 0.0, 0.0))],
        replace(SMOOTH, cushion_restitution=0.9), TABLE.plain_noses,
    )  # fmt: skip
    assert all(event.kind is not EventKind.CUSHION or event.time > 0.0 for event in away.events)


def test_there_is_no_floor_under_separating_speeds() -> None:
    # [X] two balls that meet at 10 µm/s part with e of it
    shot = run_on_bed(
        [BallOnBed((0.0, 0.0), (1e-5, 0.0, 0.0, 1e-5 / RADIUS, 0.0)), BallOnBed((0.0525, 0.0))],
        ball_restitution=0.5, rolling_resistance=1e-9,
    )  # fmt: skip
    meeting = shot.events[1]
    assert meeting.kind is EventKind.BALL
    parting = meeting.after["red1"].velocity[0] - meeting.after["white"].velocity[0]
    assert parting == pytest.approx(0.5e-5, rel=1e-9)


def test_several_balls_pressed_together_run_on_and_rest() -> None:
    # Property: a topspin white behind a row of three, and between two, no overlap, no gain.
    third = math.pi / 6.0
    rows = {
        "row": [(2.0 * RADIUS * number, 0.0) for number in (1, 2, 3)],
        "between": [(2.0 * RADIUS * math.cos(third), sign * RADIUS) for sign in (1.0, -1.0)],
    }
    for places in rows.values():
        balls = [BallOnBed((0.9, 0.9), (0.0, 0.0, 0.0, 2.0 / RADIUS, 0.0))]
        balls += [BallOnBed((0.9 + x, 0.9 + y)) for x, y in places]
        shot = shot_from(balls, replace(SMOOTH, ball_restitution=0.95), TABLE.plain_noses)
        assert presses(shot) >= len(places)
        in_order(shot)


def test_a_ball_may_be_pressed_into_a_corner() -> None:
    # Property: two cushions at once
    ball = BallOnBed((REACH, REACH), (0.0, 0.0, 1.0 / RADIUS, -1.0 / RADIUS, 0.0))
    shot = shot_from([ball], SMOOTH, TABLE.plain_noses)
    pressed = {event.surface for event in shot.events if event.kind is EventKind.PRESS}
    assert pressed == {"left", "baulk"}
    assert shot.last_place("white") == pytest.approx((REACH, REACH), abs=1e-12)
    in_order(shot)


def test_the_record_tells_of_contact_that_lasts() -> None:
    # Property: the codes of the record and the words of the events agree
    shot = run_on_bed(list(pressed_on_a_ball(3)))
    kinds = shot.record.event_ints[:, layout.EVENT_KIND]
    assert int(np.sum(kinds == layout.EVENT_PRESS)) == presses(shot)
    assert any(event.kind is EventKind.RELEASE for event in shot.events)
