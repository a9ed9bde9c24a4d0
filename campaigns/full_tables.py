"""All 22 balls on the shipped table: racked, racked loosely, in random clusters, scattered."""

from __future__ import annotations

import math

import numpy as np

from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.model import Point
from stunline.shot.position import Position, Strike

TABLE = load_table("snooker-12ft")
RADIUS = TABLE.balls["white"].radius
EDGE = nose_contact_distance(RADIUS, TABLE.nose_height)
REDS = TABLE.racks["triangle"]
COLOURS = {
    name: TABLE.spots[name] for name in ("yellow", "green", "brown", "blue", "pink", "black")
}
WIDEST_GAP = 5e-4  # between neighbours of a loose rack [m]

Balls = dict[str, Point]


def shot_with_full_table(random: np.random.Generator) -> tuple[Position, Strike]:
    """One of the four kinds, on any of the shipped cloths, struck mostly at a ball."""
    kind = random.integers(4)
    balls = (_racked, _loosely_racked, _clusters, _scattered)[kind](random)
    cloth = TABLE.cloths[list(TABLE.cloths)[random.integers(len(TABLE.cloths))]]
    position = Position(TABLE, cloth.name, cloth.coefficients, balls)
    return position, _strike(random, balls)


def _strike(random: np.random.Generator, balls: Balls) -> Strike:
    x, y = balls["white"]
    aim = random.uniform(-math.pi, math.pi)
    if random.random() < 0.8:
        tx, ty = list(balls.values())[random.integers(1, len(balls))]
        turn = 2.0 * RADIUS / max(math.hypot(tx - x, ty - y), 2.0 * RADIUS)
        aim = math.atan2(ty - y, tx - x) + random.uniform(-turn, turn)
    offset = 0.49 * RADIUS * math.sqrt(random.random())
    around = random.uniform(0.0, 2.0 * math.pi)
    return Strike(
        aim=aim,
        pace=10.0 ** random.uniform(-1.3, 1.1),  # from a touch to more than anyone strikes
        height=offset * math.sin(around),
        side=offset * math.cos(around),
        elevation=math.radians(random.uniform(0.0, 30.0)) if random.random() < 0.1 else 0.0,
    )


def _racked(random: np.random.Generator) -> Balls:
    return _with_white(random, {**REDS, **COLOURS})


def _loosely_racked(random: np.random.Generator) -> Balls:
    """Every red off its place by less than half of what its rack is wider."""
    gap = random.uniform(0.0, WIDEST_GAP)
    apex_x, apex_y = REDS["red1"]
    wider = 1.0 + gap / (2.0 * RADIUS)
    loose = {
        name: (
            apex_x + (x - apex_x) * wider + random.uniform(-0.25, 0.25) * gap,
            apex_y + (y - apex_y) * wider + random.uniform(-0.25, 0.25) * gap,
        )
        for name, (x, y) in REDS.items()
    }
    return _with_white(random, {**loose, **COLOURS})


def _clusters(random: np.random.Generator) -> Balls:
    """Most balls touch one that stands already, where there is room."""
    return _placed(random, touching=0.8)


def _scattered(random: np.random.Generator) -> Balls:
    return _placed(random, touching=0.0)


def _placed(random: np.random.Generator, touching: float) -> Balls:
    balls: Balls = {}
    for name in ("white", *REDS, *COLOURS):
        balls[name] = _free(random, balls, touching)
    return balls


def _with_white(random: np.random.Generator, others: Balls) -> Balls:
    return {"white": _free(random, others, 0.05), **others}


def _free(random: np.random.Generator, balls: Balls, touching: float) -> Point:
    """A place on the bed that overlaps nothing; touching some ball with that probability."""
    while True:
        x = random.uniform(EDGE, TABLE.width - EDGE)
        y = random.uniform(EDGE, TABLE.length - EDGE)
        if balls and random.random() < touching:
            bx, by = list(balls.values())[random.integers(len(balls))]
            around = random.uniform(0.0, 2.0 * math.pi)
            x, y = bx + 2.0 * RADIUS * math.cos(around), by + 2.0 * RADIUS * math.sin(around)
        on_bed = EDGE <= x <= TABLE.width - EDGE and EDGE <= y <= TABLE.length - EDGE
        if on_bed and all(
            math.hypot(x - px, y - py) >= 2.0 * RADIUS - 1e-15 for px, py in balls.values()
        ):
            return x, y
