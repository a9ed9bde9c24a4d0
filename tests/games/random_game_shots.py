"""Positions and strikes on any table, each from a seed: the same on every machine.

Balls of the table's own set stand anywhere, a third of them against a cushion or another ball;
strikes go anywhere, at another ball or at a pocket's mouth, from a touch to a break, off centre.
"""

from __future__ import annotations

import math
from random import Random

from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import ball_contact_distance, nose_contact_distance
from stunline.equipment.model import Point, Table
from stunline.shot.position import Position, Strike

MOST_BALLS = 6
FASTEST = 12.0  # as a hard break [m s⁻¹]
BESIDE_MOUTH = 0.15  # [m]; aims within this of a mouth's middle meet jaw, nose and drop


def random_game_shot(name: str, seed: int) -> tuple[Position, Strike]:
    """Position and strike of that number on the shipped table of that name."""
    table, random = load_table(name), Random(f"{name} {seed}")
    others = [ball for ball in table.balls if ball != table.cue_ball]
    chosen = random.sample(others, min(len(others), random.randint(0, MOST_BALLS - 1)))
    places: dict[str, Point] = {}
    for ball in (table.cue_ball, *chosen):
        place = next((one for one in _tries(random, table, ball, places)), None)
        if place is not None:
            places[ball] = place
    cloth = random.choice(list(table.cloths))
    position = Position(table, cloth, table.cloths[cloth].coefficients, places)
    return position, _strike(random, position)


def _tries(random: Random, table: Table, ball: str, places: dict[str, Point]) -> list[Point]:
    tried = [_place(random, table, ball, places) for _ in range(40)]
    return [place for place in tried if _free(place, table, ball, places)]


def _place(random: Random, table: Table, ball: str, places: dict[str, Point]) -> Point:
    radius = table.balls[ball].radius
    reach = nose_contact_distance(radius, table.nose_height)
    x, y = random.uniform(reach, table.width - reach), random.uniform(reach, table.length - reach)
    kind = random.random()
    if kind < 0.2:
        return random.choice([reach, table.width - reach]), y
    if kind < 0.35 and places:
        other = random.choice(list(places))
        apart = ball_contact_distance(radius, table.balls[other].radius) * (1.0 + 1e-15)
        way = random.uniform(0.0, 2.0 * math.pi)
        return places[other][0] + apart * math.cos(way), places[other][1] + apart * math.sin(way)
    return x, y


def _free(place: Point, table: Table, ball: str, places: dict[str, Point]) -> bool:
    radius = table.balls[ball].radius
    reach = nose_contact_distance(radius, table.nose_height)
    return (
        reach <= place[0] <= table.width - reach
        and reach <= place[1] <= table.length - reach
        and all(
            math.dist(place, there) >= ball_contact_distance(radius, table.balls[other].radius)
            for other, there in places.items()
        )
        and all(
            math.dist(place, pocket.drop_centre) > pocket.drop_radius + 1e-6
            for pocket in table.pockets
        )
    )


def _strike(random: Random, position: Position) -> Strike:
    table = position.table
    radius = table.balls[table.cue_ball].radius
    offset = radius * random.uniform(0.0, table.cue.miscue_offset)
    way = random.uniform(0.0, 2.0 * math.pi)
    return Strike(
        aim=_aim(random, position),
        pace=random.choice([random.uniform(0.02, 1.0), random.uniform(0.5, FASTEST)]),
        height=offset * math.sin(way),
        side=offset * math.cos(way),
        elevation=random.choice([0.0, 0.0, 0.0, random.uniform(0.0, 1.2)]),
    )


def _aim(random: Random, position: Position) -> float:
    table = position.table
    x, y = position.balls[table.cue_ball]
    others = [place for ball, place in position.balls.items() if ball != table.cue_ball]
    kind = random.random()
    if kind < 0.3 and table.pockets:
        mouth, way = random.choice(table.pockets).mouth_middle, random.uniform(0.0, 2.0 * math.pi)
        beside = random.uniform(0.0, BESIDE_MOUTH)
        dx, dy = beside * math.cos(way), beside * math.sin(way)
        return math.atan2(mouth[1] + dy - y, mouth[0] + dx - x)
    if kind < 0.8 and others:
        there = random.choice(others)
        size = 1.5 * table.balls[table.cue_ball].radius
        turn = size / max(math.dist(there, (x, y)), size)
        return math.atan2(there[1] - y, there[0] - x) + random.uniform(-turn, turn)
    return random.uniform(0.0, 2.0 * math.pi)
