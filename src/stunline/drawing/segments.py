"""Straight pieces of line against rectangles, points and each other; any one unit of length."""

from __future__ import annotations

from math import hypot

from stunline.drawing.marks import Box, Point


def may_meet(start: Point, end: Point, box: Box) -> bool:
    """False where a straight line lies wholly to one side of the rectangle."""
    return not (
        (start[0] < box.left and end[0] < box.left)
        or (start[0] > box.right and end[0] > box.right)
        or (start[1] < box.bottom and end[1] < box.bottom)
        or (start[1] > box.top and end[1] > box.top)
    )


def length_inside(start: Point, end: Point, box: Box) -> float:
    """How much of a straight line lies in the rectangle."""
    if not may_meet(start, end, box):
        return 0.0
    first, last = 0.0, 1.0
    for low, high, origin, step in (
        (box.left, box.right, start[0], end[0] - start[0]),
        (box.bottom, box.top, start[1], end[1] - start[1]),
    ):
        if step == 0:
            if not low <= origin <= high:
                return 0.0
            continue
        enter, leave = sorted(((low - origin) / step, (high - origin) / step))
        first, last = max(first, enter), min(last, leave)
    return max(0.0, last - first) * hypot(end[0] - start[0], end[1] - start[1])


def cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the straight lines a–b and c–d cross."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def distance_to(point: Point, start: Point, end: Point) -> float:
    """From a point to a straight line between two others."""
    along = (end[0] - start[0], end[1] - start[1])
    square = along[0] ** 2 + along[1] ** 2
    part = 0.0
    if square > 0:
        towards = (point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]
        part = min(1.0, max(0.0, towards / square))
    near = (start[0] + part * along[0], start[1] + part * along[1])
    return hypot(point[0] - near[0], point[1] - near[1])
