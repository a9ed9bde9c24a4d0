"""Positions and strikes for property tests, each from a seed: the same on every machine.

Balls stand anywhere, a third of them against a cushion or against another ball; strikes go
anywhere, or at a pocket's mouth and its jaws, from a touch to a break, off centre, cue raised.
"""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random

from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.model import Coefficients, Point
from stunline.shot.position import Position, Strike

TABLE = load_table("snooker-12ft")
MATCH = TABLE.default_cloth().coefficients
RADIUS = TABLE.balls["white"].radius
REACH = nose_contact_distance(RADIUS, TABLE.nose_height)
MISCUE = TABLE.cue.miscue_offset
NAMES = ("white", "red1", "red2", "red3", "red4")
BESIDE_MOUTH = 0.15  # [m]; aims within this of a mouth's middle meet jaw, nose and drop


def random_position(random: Random, most_balls: int = 5) -> Position:
    """Up to that many balls, and in one of three coefficients far from the match table's."""
    places: list[Point] = []
    count = random.randint(1, most_balls)
    while len(places) < count:
        place = _place(random, places)
        if _free(place, places):
            places.append(place)
    coefficients = replace(MATCH, pockets=random.random() < 0.7)
    if random.random() < 1.0 / 3.0:
        coefficients = _other_coefficients(random, coefficients)
    return Position(TABLE, "match", coefficients, dict(zip(NAMES, places, strict=False)))


def _place(random: Random, places: list[Point]) -> Point:
    x, y = random.uniform(REACH, TABLE.width - REACH), random.uniform(REACH, TABLE.length - REACH)
    kind = random.random()
    if kind < 0.2:
        return random.choice([REACH, TABLE.width - REACH]), y
    if kind < 0.3 and places:
        way = random.uniform(0.0, 2.0 * math.pi)
        return (
            places[-1][0] + 2.0 * RADIUS * math.cos(way),
            places[-1][1] + 2.0 * RADIUS * math.sin(way),
        )
    return x, y


def _free(place: Point, places: list[Point]) -> bool:
    on_bed = REACH <= place[0] <= TABLE.width - REACH and REACH <= place[1] <= TABLE.length - REACH
    return (
        on_bed
        and all(math.dist(place, other) >= 2.0 * RADIUS for other in places)
        and all(
            math.dist(place, pocket.drop_centre) > pocket.drop_radius + 1e-6
            for pocket in TABLE.pockets
        )
    )


def _other_coefficients(random: Random, coefficients: Coefficients) -> Coefficients:
    return replace(
        coefficients,
        ball_restitution=random.choice([1.0, 0.5, 0.01]),
        cushion_restitution=random.choice([1.0, 0.5, 0.05]),
        ball_friction=random.choice([0.0, 0.06, 1.0]),
        cushion_friction=random.choice([0.0, 0.14, 0.8]),
        sliding_friction=random.choice([0.01, 0.2, 1.0]),
        rolling_resistance=random.choice([0.001, 0.01, 0.5]),
        spin_deceleration=random.choice([0.0, 10.0, 100.0]),
    )


def random_strike(random: Random, position: Position, fastest: float = 15.0) -> Strike:
    """A strike within the miscue limit, every second one at another ball or a pocket."""
    x, y = position.balls["white"]
    offset, way = RADIUS * random.uniform(0.0, MISCUE), random.uniform(0.0, 2.0 * math.pi)
    return Strike(
        aim=_aim(random, position, x, y),
        pace=random.choice([random.uniform(0.02, 1.0), random.uniform(0.5, fastest)]),
        height=offset * math.sin(way),
        side=offset * math.cos(way),
        elevation=random.choice([0.0, 0.0, 0.0, random.uniform(0.0, 1.2)]),
    )


def _aim(random: Random, position: Position, x: float, y: float) -> float:
    kind = random.random()
    if kind < 0.3:
        mouth, way = random.choice(TABLE.pockets).mouth_middle, random.uniform(0.0, 2.0 * math.pi)
        beside = random.uniform(0.0, BESIDE_MOUTH)
        return math.atan2(
            mouth[1] + beside * math.sin(way) - y, mouth[0] + beside * math.cos(way) - x
        )
    others = [place for name, place in position.balls.items() if name != "white"]
    if kind < 0.7 and others:
        there = random.choice(others)
        turn = 1.5 * RADIUS / max(math.dist(there, (x, y)), 2.0 * RADIUS)
        return math.atan2(there[1] - y, there[0] - x) + random.uniform(-turn, turn)
    if kind < 0.8:
        return random.choice([0.0, 0.5 * math.pi, math.pi, -0.5 * math.pi])
    return random.uniform(0.0, 2.0 * math.pi)


def random_shot(seed: int, most_balls: int = 5) -> tuple[Position, Strike]:
    """Position and strike of that number."""
    random = Random(seed)
    position = random_position(random, most_balls)
    return position, random_strike(random, position)
