"""Two to seven balls anywhere on the shipped table and its cloths, struck anyhow."""

from __future__ import annotations

import math

import numpy as np

from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.model import Point
from stunline.shot.position import Position, Strike

_NAMES = ("white", "red1", "red2", "red3", "black", "blue", "pink")


def shot_anywhere(random: np.random.Generator, fastest: float = 8.0) -> tuple[Position, Strike]:
    """Two to seven balls anywhere, some against cushions, some touching; any strike."""
    table = load_table("snooker-12ft")
    cloth = table.cloths[list(table.cloths)[random.integers(len(table.cloths))]]
    places: dict[str, Point] = {}
    for name in _NAMES[: random.integers(2, 8)]:
        places[name] = _free_place(random, table.width, table.length, table.nose_height, places)
    position = Position(table, cloth.name, cloth.coefficients, places)
    offset = 0.49 * position.radius("white") * math.sqrt(random.random())
    around = random.uniform(0.0, 2.0 * math.pi)
    elevation = math.radians(random.uniform(0.0, 30.0)) if random.random() < 0.2 else 0.0
    strike = Strike(
        aim=random.uniform(-math.pi, math.pi),
        pace=random.uniform(0.05, fastest),
        height=offset * math.sin(around),
        side=offset * math.cos(around),
        elevation=elevation,
    )
    return position, strike


def _free_place(
    random: np.random.Generator,
    width: float,
    length: float,
    nose_height: float,
    places: dict[str, Point],
) -> Point:
    radius = 0.02625
    edge = nose_contact_distance(radius, nose_height)
    while True:
        x = random.uniform(edge, width - edge)
        y = random.uniform(edge, length - edge)
        kind = random.random()
        if kind < 0.15:  # against a long cushion
            x = edge if random.random() < 0.5 else width - edge
        elif kind < 0.25:  # against a short one
            y = edge if random.random() < 0.5 else length - edge
        elif kind < 0.4 and places:  # touching another ball
            other = list(places.values())[random.integers(len(places))]
            turn = random.uniform(0.0, 2.0 * math.pi)
            x, y = other[0] + 2 * radius * math.cos(turn), other[1] + 2 * radius * math.sin(turn)
        inside = edge <= x <= width - edge and edge <= y <= length - edge
        apart = all(math.hypot(x - px, y - py) >= 2 * radius - 1e-15 for px, py in places.values())
        if inside and apart:
            return x, y
