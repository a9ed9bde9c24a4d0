"""What holds of every shot: no overlap, nothing through a cushion, energy, mirror, the clock.

[property] throughout: nothing here is an expected number.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from endless_bed import BallOnBed, Vector, energy, shot_from, vector
from random_positions import MATCH, RADIUS, REACH, TABLE, random_shot
from stunline.equipment.model import Point
from stunline.shot import compiled
from stunline.shot.play import Prepared, play
from stunline.shot.position import Position, Strike
from stunline.shot.shot import EventKind, Shot, StopReason

OVERLAP = 1e-9 * RADIUS  # allowed anywhere [m]
BEYOND = 0.07  # no centre is further outside the playing area, deep in a pocket [m]
SAMPLES = np.linspace(0.0, 1.0, 9)  # of every phase
MASS = TABLE.balls["white"].mass
LEAST_SPIN_DECELERATION = 0.1  # with which spin about the vertical ends [rad s⁻²]
# Each impact that uses the floor under the separating speed may add this much. [J]
FLOOR_ENERGY = 0.5 * MASS * compiled.SEPARATING_FLOOR**2
FORCED = (EventKind.BALL, EventKind.CUSHION, EventKind.JAW)
seeds = st.integers(0, 10**9)


def sampled(shot: Shot) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Places along every phase. [m]"""
    rows = shot.record.phase_floats
    time = SAMPLES * (rows[:, 1] - rows[:, 0])[:, None]
    x, y, vx, vy, ax, ay = (rows[:, column][:, None] for column in range(2, 8))
    return x + time * (vx + 0.5 * time * ax), y + time * (vy + 0.5 * time * ay)


def deepest_in_a_cushion(shot: Shot) -> float:
    """How far a centre comes nearer to noses, jaws or drops than it may. [m]"""
    x, y = sampled(shot)
    deepest = 0.0
    pockets = shot.position.coefficients.pockets
    for nose in TABLE.noses if pockets else TABLE.plain_noses:
        along = np.subtract(nose.end, nose.start)
        length = math.hypot(*along)
        along = along / length
        px, py = x - nose.start[0], y - nose.start[1]
        on = px * along[0] + py * along[1]
        gap = py * along[0] - px * along[1] - REACH
        deepest = max(deepest, -np.where((on >= 0.0) & (on <= length), gap, 0.0).min())
    for jaw in TABLE.jaws if pockets else ():
        px, py = x - jaw.centre[0], y - jaw.centre[1]
        distance = np.hypot(px, py)
        towards = px * math.cos(jaw.middle) + py * math.sin(jaw.middle)
        facing = towards >= distance * math.cos(jaw.half_angle)
        deepest = max(deepest, -np.where(facing, distance - jaw.radius - REACH, 0.0).min())
    for pocket in TABLE.pockets if pockets else ():
        px, py = x - pocket.drop_centre[0], y - pocket.drop_centre[1]
        deepest = max(deepest, float((pocket.drop_radius - np.hypot(px, py)).max()))
    return deepest


def deepest_overlap(shot: Shot, most_times: int = 200) -> float:
    """How far two balls come nearer than touching, at events and half-way between. [m]"""
    events = sorted({event.time for event in shot.events})[:most_times]
    half_way = [0.5 * (a + b) for a, b in pairwise(events)]
    fell = {event.balls[0]: event.time for event in shot.events if event.kind is EventKind.POCKET}
    deepest = 0.0
    for time in (*events, *half_way):
        names = [name for name in shot.position.names if time < fell.get(name, math.inf)]
        places = [shot.place(name, time) for name in names]
        for number, place in enumerate(places):
            for other in places[:number]:
                deepest = max(deepest, 2.0 * RADIUS - math.dist(place, other))
    return deepest


@settings(max_examples=250)
@given(seeds)
def test_every_shot_ends_well_and_keeps_to_the_table(seed: int) -> None:
    position, strike = random_shot(seed)
    shot = play(position, strike)
    assert shot.stop_reason in (StopReason.AT_REST, StopReason.AT_REST_PAIRWISE)
    assert shot.stop_reason.words
    assert np.all(np.isfinite(shot.record.phase_floats))
    assert np.all(np.isfinite(shot.record.places))
    times = [event.time for event in shot.events]
    assert times == sorted(times)
    assert deepest_in_a_cushion(shot) < OVERLAP
    assert deepest_overlap(shot) < OVERLAP
    x, y = sampled(shot)
    assert x.min() > -BEYOND
    assert x.max() < TABLE.width + BEYOND
    assert y.min() > -BEYOND
    assert y.max() < TABLE.length + BEYOND


@settings(max_examples=80)
@given(seeds)
def test_potted_stays_potted(seed: int) -> None:
    shot = play(*random_shot(seed))
    for number, event in enumerate(shot.events):
        if event.kind is EventKind.POCKET:
            ball = event.balls[0]
            assert not any(ball in later.balls for later in shot.events[number + 1 :])
            assert shot.rest(ball) is None
            assert shot.potted(ball) == event.surface
            assert all(phase.end <= event.time for phase in shot.phases(ball))


@settings(max_examples=80)
@given(seeds)
def test_energy_falls_from_phase_to_phase(seed: int) -> None:
    # All balls' energy at the middles of consecutive stretches between events, spin of the
    # potted and rests included as nought, and the floor's share of every impact allowed. A spin
    # that never ends, on a ball at rest, would count once it is struck again: it is left out.
    position, strike = random_shot(seed)
    ending = max(position.coefficients.spin_deceleration, LEAST_SPIN_DECELERATION)
    position = replace(
        position, coefficients=replace(position.coefficients, spin_deceleration=ending)
    )
    shot = play(position, strike)
    times = sorted({event.time for event in shot.events})
    before = energy(vector(shot.events[0].after["white"]))
    impacts = shot.record.floored
    for start, end in pairwise(times):
        middle = 0.5 * (start + end)
        now = sum(energy(vector(shot.motion(name, middle))) for name in position.names)
        assert now <= before * (1.0 + 1e-9) + (impacts + 1) * FLOOR_ENERGY
        before = now


ball_motions = st.tuples(
    *[st.floats(-5.0, 5.0)] * 2, *[st.floats(-200.0, 200.0)] * 3
)  # m/s and rad/s


@settings(max_examples=300)
@given(
    ball_motions, ball_motions, st.floats(0.0, 2.0 * math.pi), st.floats(0.02, 0.04),
    st.floats(0.05, 0.3), st.floats(0.01, 1.0), st.floats(0.0, 1.0),
    st.floats(0.0, 0.5), st.floats(0.0, 3.0),
)  # fmt: skip
def test_two_balls_keep_momentum_lose_energy_and_part(
    motion: Vector, other: Vector, way: float, radius: float, mass: float,
    restitution: float, floor: float, span: float, decay: float,
) -> None:  # fmt: skip
    normal = (math.cos(way), math.sin(way))
    if (motion[0] - other[0]) * normal[0] + (motion[1] - other[1]) * normal[1] <= 0.0:
        motion, other = other, motion
    found = compiled.ball_impact(
        *normal, RADIUS, MASS, radius, mass, *motion, *other, restitution, floor, span, decay
    )
    a, b, floored = found[:5], found[5:10], found[10]
    before = energy(motion) + energy(other, radius, mass)
    after = energy(a) + energy(b, radius, mass)
    assert after <= before * (1.0 + 1e-12) + floored * FLOOR_ENERGY * 2.0
    for axis in (0, 1):
        kept = MASS * motion[axis] + mass * other[axis]
        assert MASS * a[axis] + mass * b[axis] == pytest.approx(kept, rel=1e-12, abs=1e-13)
    parting = (b[0] - a[0]) * normal[0] + (b[1] - a[1]) * normal[1]
    # On the tilted line of unequal balls the vertical parts of both impulses are lost.
    tilt = abs(radius - RADIUS) / (radius + RADIUS)
    assert parting > 0.0 or restitution < 3.0 * tilt * (tilt + floor + span)


@settings(max_examples=200)
@given(ball_motions, ball_motions, st.floats(0.0, 2.0 * math.pi))
def test_an_impact_in_the_mirror_is_the_mirrored_impact(
    motion: Vector, other: Vector, way: float
) -> None:
    # x → −x turns ω_y and ω_z over
    mirror = np.array([-1.0, 1.0, 1.0, -1.0, -1.0])
    friction = (0.00995, 0.108, 1.088)

    def impact(nx: float, ny: float, first: np.ndarray, second: np.ndarray) -> np.ndarray:
        return np.array(
            compiled.ball_impact(
                nx, ny, RADIUS, MASS, RADIUS, MASS, *first, *second, 0.95, *friction
            )[:10]
        )

    one, two = np.array(motion), np.array(other)
    there = impact(math.cos(way), math.sin(way), one, two)
    here = impact(-math.cos(way), math.sin(way), mirror * one, mirror * two)
    assert np.concatenate([mirror, mirror]) * here == pytest.approx(there, rel=1e-9, abs=1e-9)
    # The same seen with the balls' names changed.
    swapped = impact(-math.cos(way), -math.sin(way), two, one)
    assert np.concatenate([swapped[5:], swapped[:5]]) == pytest.approx(there, rel=1e-9, abs=1e-9)


def gentle(seed: int) -> tuple[Position, Strike]:
    """At most two balls on plain cushions and at 2 m/s: few enough meetings to be compared."""
    position, strike = random_shot(seed, most_balls=2)
    position = replace(position, coefficients=replace(MATCH, pockets=False))
    return position, replace(strike, pace=0.2 + 1.8 * (strike.pace / 15.0))


# A turn of the aim by the last digit grows with every ball met; after two or three it is still
# below this. [m]
SAME = 1e-6
COMPARABLE = 4  # impacts, at most


def impacts(shot: Shot) -> int:
    """How many impacts there were."""
    return sum(event.kind in FORCED for event in shot.events)


@settings(max_examples=120)
@given(seeds)
def test_a_shot_in_the_mirror_is_the_mirrored_shot(seed: int) -> None:
    position, strike = gentle(seed)
    balls = {name: (TABLE.width - x, y) for name, (x, y) in position.balls.items()}
    turned = replace(strike, aim=math.pi - strike.aim, side=-strike.side)
    there, here = play(position, strike), play(replace(position, balls=balls), turned)
    if impacts(there) > COMPARABLE:
        return
    other = {"left": "right", "right": "left"}
    story = [(e.kind, e.balls, other.get(e.surface, e.surface)) for e in here.events]
    assert story == [(e.kind, e.balls, e.surface) for e in there.events]
    for name in position.names:
        assert math.dist(mirrored(here.last_place(name)), there.last_place(name)) < SAME


def mirrored(place: Point) -> Point:
    """The place on the other side of the table's long axis."""
    return TABLE.width - place[0], place[1]


@settings(max_examples=120)
@given(seeds, st.floats(0.05, 0.95))
def test_a_shot_goes_on_the_same_from_any_moment(seed: int, share: float) -> None:
    position, strike = gentle(seed)
    shot = play(position, strike)
    if impacts(shot) > COMPARABLE:
        return
    time = share * shot.duration
    balls = [
        BallOnBed(shot.place(name, time), vector(shot.motion(name, time)))
        for name in position.names
    ]
    rest = shot_from(balls, position.coefficients, TABLE.plain_noses)
    assert rest.duration == pytest.approx(shot.duration - time, abs=1e-5)
    for name in position.names:
        assert math.dist(rest.last_place(name), shot.last_place(name)) < SAME


@settings(max_examples=40)
@given(seeds, seeds)
def test_the_same_input_gives_the_same_bits(seed: int, other: int) -> None:
    position, strike = random_shot(seed)
    one = play(position, strike).record
    prepared = Prepared(position)
    prepared.play(random_shot(other)[1])  # what was played before leaves nothing behind
    again = prepared.play(strike).record
    assert one.event_ints.tobytes() == again.event_ints.tobytes()
    assert one.phase_floats.tobytes() == again.phase_floats.tobytes()
    assert one.places.tobytes() == again.places.tobytes()
