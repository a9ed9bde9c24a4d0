"""What holds of any shot on any shipped table: 200 seeded shots on each.

[property] throughout: nothing here is an expected number.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from games.random_game_shots import random_game_shot
from stunline.equipment.based_on import table_names
from stunline.equipment.contact_distances import ball_contact_distance, nose_contact_distance
from stunline.mechanics import layout
from stunline.shot.play import play
from stunline.shot.shot import EventKind, Motion, Shot, StopReason

SMALLEST_ENERGY = 1e-18  # of a ball at some nm/s; slower ones are set to rest [J]
SHOTS = 200
INSIDE = 1e-9  # by how much a centre may be nearer to a nose or ball than it can be [m]
DEEP = 0.12  # no centre is further outside the playing area, down in a pocket [m]
SAMPLES = np.linspace(0.0, 1.0, 7)  # of every phase


def sampled(shot: Shot) -> tuple[NDArray[np.float64], ...]:
    """Places along every phase, and the distance from a nose at which that ball meets it. [m]"""
    rows, balls = shot.record.phase_floats, shot.record.phase_ints[:, layout.PHASE_BALL]
    time = SAMPLES * (rows[:, 1] - rows[:, 0])[:, None]
    spinning = shot.record.phase_ints[:, layout.PHASE_MOTION] == layout.SPINNING
    time[spinning] = 0.0
    x, y, vx, vy, ax, ay = (rows[:, column][:, None] for column in range(2, 8))
    height = shot.position.table.nose_height
    reaches = np.array(
        [nose_contact_distance(shot.position.radius(name), height) for name in shot.position.names]
    )
    places = x + time * (vx + 0.5 * time * ax), y + time * (vy + 0.5 * time * ay)
    return *places, reaches[balls][:, None]


def deepest_in_the_boundary(shot: Shot) -> float:
    """How far a centre comes nearer to noses, jaws or drops than it may. [m]"""
    x, y, reach = sampled(shot)
    table, deepest = shot.position.table, 0.0
    for nose in table.noses:
        along = np.subtract(nose.end, nose.start)
        length = math.hypot(*along)
        along = along / length
        px, py = x - nose.start[0], y - nose.start[1]
        on = px * along[0] + py * along[1]
        gap = py * along[0] - px * along[1] - reach
        deepest = max(deepest, -np.where((on >= 0.0) & (on <= length), gap, 0.0).min())
    for jaw in table.jaws:
        px, py = x - jaw.centre[0], y - jaw.centre[1]
        distance = np.hypot(px, py)
        towards = px * math.cos(jaw.middle) + py * math.sin(jaw.middle)
        facing = towards >= distance * math.cos(jaw.half_angle)
        deepest = max(deepest, -np.where(facing, distance - jaw.radius - reach, 0.0).min())
    for pocket in table.pockets:
        px, py = x - pocket.drop_centre[0], y - pocket.drop_centre[1]
        deepest = max(deepest, float((pocket.drop_radius - np.hypot(px, py)).max()))
    return deepest


def deepest_overlap(shot: Shot) -> float:
    """How far two balls come nearer than touching, at events and half-way between. [m]"""
    times = sorted({event.time for event in shot.events})[:60]
    fell = {event.balls[0]: event.time for event in shot.events if event.kind is EventKind.POCKET}
    deepest = 0.0
    for time in (*times, *(0.5 * (a + b) for a, b in pairwise(times))):
        names = [name for name in shot.position.names if time < fell.get(name, math.inf)]
        places = [shot.place(name, time) for name in names]
        for number, place in enumerate(places):
            for other in range(number):
                radii = shot.position.radius(names[number]), shot.position.radius(names[other])
                apart = math.dist(place, places[other])
                deepest = max(deepest, ball_contact_distance(*radii) - apart)
    return deepest


def mass(shot: Shot, ball: str) -> float:
    return shot.position.table.balls[ball].mass


def energy(shot: Shot, ball: str, motion: Motion) -> float:
    """½mv² + ½·(2/5)mR²ω². [J]"""
    radius, spin = shot.position.radius(ball), sum(part * part for part in motion.spin)
    return mass(shot, ball) * (0.5 * motion.speed**2 + 0.2 * radius * radius * spin)


@pytest.mark.parametrize("name", table_names())
def test_shots_keep_to_the_table_and_to_the_laws(name: str) -> None:
    potted = met = 0
    for seed in range(SHOTS):
        position, strike = random_game_shot(name, seed)
        shot = play(position, strike)
        assert shot.stop_reason is StopReason.AT_REST
        assert np.all(np.isfinite(shot.record.phase_floats))
        assert deepest_in_the_boundary(shot) < INSIDE, seed
        assert deepest_overlap(shot) < INSIDE, seed
        ends_inside_or_potted(shot)
        potted += sum(event.kind is EventKind.POCKET for event in shot.events)
        met += impacts_keep_momentum_and_lose_energy(shot)
    assert met > SHOTS / 4
    assert (potted > SHOTS / 40) == bool(position.table.pockets)


def ends_inside_or_potted(shot: Shot) -> None:
    """Every ball rests on the bed, or lies in a pocket that the table has."""
    table = shot.position.table
    for ball in shot.position.names:
        x, y = shot.last_place(ball)
        place = shot.rest(ball)
        if place is None:
            assert shot.potted(ball) in [pocket.name for pocket in table.pockets]
        assert -DEEP < x < table.width + DEEP
        assert -DEEP < y < table.length + DEEP


def impacts_keep_momentum_and_lose_energy(shot: Shot) -> int:
    """Every impact of two balls, or of one with the boundary; how many of two balls there were."""
    met = 0
    for event in shot.events[:40]:
        if event.kind not in (EventKind.BALL, EventKind.CUSHION, EventKind.JAW):
            continue
        before = {ball: shot.motion_before(ball, event) for ball in event.balls}
        lost = sum(
            energy(shot, ball, before[ball]) - energy(shot, ball, event.after[ball])
            for ball in event.balls
        )
        whole = sum(energy(shot, ball, before[ball]) for ball in event.balls)
        assert lost > -1e-9 * whole - SMALLEST_ENERGY
        if event.kind is EventKind.BALL:
            met += 1
            for axis in (0, 1):
                kept = [
                    sum(mass(shot, ball) * motions[ball].velocity[axis] for ball in event.balls)
                    for motions in (before, event.after)
                ]
                assert kept[0] == pytest.approx(kept[1], rel=1e-9, abs=1e-9)
    return met
