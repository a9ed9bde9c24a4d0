"""Where a dragged ball can stand: it slides along other balls and cushions."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from pathlib import Path

from stunline.equipment.contact_distances import ball_contact_distance, nose_contact_distance
from stunline.equipment.model import Point, Table
from stunline.shot.position import Position
from stunline.shot.position_file import read_values
from stunline.units import metres, millimetres

# A place found on a circle may lie a rounding inside it. [m]
_ROUNDING = 1e-9

_Circle = tuple[float, float, float]  # centre and radius [m]
_Bounds = tuple[float, float, float, float]  # left, bottom, right, top [m]


def nearest_free_place(
    document: Mapping[str, object], ball: str, at: Sequence[float], folder: Path | None = None
) -> list[float] | None:
    """The nearest place to ``at`` where that ball overlaps no other and clears the cushions.

    Args:
        document: the page's; the ball's own place in it does not count
        ball: the one that is moved
        at: where the pointer holds it [mm]

    Returns:
        The place [mm]; None when the table has no such ball, or no room for it.
    """
    position = read_values(document, folder).position
    if ball not in position.table.balls:
        return None
    place = free_place(position, ball, (metres(at[0]), metres(at[1])))
    return None if place is None else [millimetres(place[0]), millimetres(place[1])]


def free_place(position: Position, ball: str, at: Point) -> Point | None:
    """The same in metres.

    The nearest free place is ``at`` itself, its foot on a cushion, a point on the circle that
    another ball keeps clear, or a crossing of two of these borders: each is tried.
    """
    table = position.table
    bounds = _bounds(table, ball)
    circles = [
        (x, y, ball_contact_distance(table.balls[ball].radius, position.radius(other)))
        for other, (x, y) in position.balls.items()
        if other != ball
    ]
    tried = sorted(_candidates(at, circles, bounds), key=lambda place: math.dist(place, at))
    return next((place for place in tried if _is_free(place, circles, bounds)), None)


def _bounds(table: Table, ball: str) -> _Bounds:
    """Where that ball's centre may be, the corners of the pockets left out."""
    least = nose_contact_distance(table.balls[ball].radius, table.nose_height)
    return least, least, table.width - least, table.length - least


def _is_free(place: Point, circles: Sequence[_Circle], bounds: _Bounds) -> bool:
    left, bottom, right, top = bounds
    x, y = place
    inside = left <= x <= right and bottom <= y <= top
    return inside and all(math.dist(place, (u, v)) >= r - _ROUNDING for u, v, r in circles)


def _candidates(at: Point, circles: Sequence[_Circle], bounds: _Bounds) -> Iterator[Point]:
    left, bottom, right, top = bounds
    foot = (min(max(at[0], left), right), min(max(at[1], bottom), top))
    yield foot
    yield from ((left, bottom), (left, top), (right, bottom), (right, top))
    for circle in circles:
        yield _on_circle(at, circle)
        yield from _on_sides(circle, bounds)
    for one, two in combinations(circles, 2):
        yield from _crossings(one, two)


def _on_circle(at: Point, circle: _Circle) -> Point:
    """The circle's point nearest to a place; straight up the table from its very centre."""
    x, y, radius = circle
    away = math.dist(at, (x, y))
    if away == 0.0:
        return x, y + radius
    return x + radius * (at[0] - x) / away, y + radius * (at[1] - y) / away


def _on_sides(circle: _Circle, bounds: _Bounds) -> Iterator[Point]:
    """Where the circle crosses the four sides."""
    x, y, radius = circle
    left, bottom, right, top = bounds
    for side in (left, right):
        if abs(side - x) <= radius:
            reach = math.sqrt(radius**2 - (side - x) ** 2)
            yield from ((side, y - reach), (side, y + reach))
    for side in (bottom, top):
        if abs(side - y) <= radius:
            reach = math.sqrt(radius**2 - (side - y) ** 2)
            yield from ((x - reach, side), (x + reach, side))


def _crossings(one: _Circle, two: _Circle) -> Iterator[Point]:
    (x, y, r), (u, v, s) = one, two
    apart = math.dist((x, y), (u, v))
    if apart == 0.0 or apart > r + s or apart < abs(r - s):
        return
    along = (apart**2 + r**2 - s**2) / (2.0 * apart)
    across = math.sqrt(max(r**2 - along**2, 0.0))
    ex, ey = (u - x) / apart, (v - y) / apart
    for side in (across, -across):
        yield x + along * ex - side * ey, y + along * ey + side * ex
