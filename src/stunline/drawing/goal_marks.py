"""A goal on the plan: where the white is to rest, or the gap that it is to pass."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stunline.drawing.marks import (
    Box,
    Circle,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Role,
    box_round,
)
from stunline.shot.goal import CircleArea, Goal, NamedArea, PolygonArea
from stunline.shot.position import Position

_MM = 1000.0
_PARTS = 32  # of the D's half circle


def goal_marks(goal: Goal, position: Position) -> Iterator[Mark]:
    """The resting area's outline, and a line across the gap."""
    area = goal.rest
    if isinstance(area, CircleArea):
        x, y = area.centre
        yield Circle("goal-area", Layer.PATHS, Role.GOAL, (_MM * x, _MM * y), _MM * area.radius)
    elif isinstance(area, PolygonArea):
        yield Polygon("goal-area", Layer.PATHS, Role.GOAL, tuple(map(_mm, area.corners)))
    elif isinstance(area, NamedArea):
        yield Polygon("goal-area", Layer.PATHS, Role.GOAL, tuple(map(_mm, _named(area, position))))
    if goal.through is not None:
        first, second = (_mm(_place(position, name)) for name in goal.through.between)
        yield Line("goal-gap", Layer.PATHS, Role.GOAL, first, second)


def goal_box(goal: Goal | None, position: Position) -> Box | None:
    """What must be seen of a goal: its area, its gap, the balls it has met or left next. [mm]"""
    if goal is None:
        return None
    boxes = [_extent(mark) for mark in goal_marks(goal, position)]
    named = [*([goal.meet.ball] if goal.meet else []), *(goal.next.balls if goal.next else ())]
    for ball in named:
        if ball in position.balls:
            x, y = _mm(position.balls[ball])
            boxes.append(Box(x, y, x, y).grown(_MM * position.table.balls[ball].radius))
    return box_round(boxes) if boxes else None


def _extent(mark: Mark) -> Box:
    """Of one of a goal's marks. [mm]"""
    if isinstance(mark, Circle):
        (x, y), radius = mark.centre, mark.radius
        return Box(x - radius, y - radius, x + radius, y + radius)
    assert isinstance(mark, Line | Polygon)
    points = mark.points if isinstance(mark, Polygon) else (mark.start, mark.end)
    across, up = zip(*points, strict=True)
    return Box(min(across), min(up), max(across), max(up))


def _named(area: NamedArea, position: Position) -> Iterator[Point]:
    table = position.table
    line, radius = table.baulk_line or 0.0, table.d_radius or 0.0
    if area.name == "D":
        for part in range(_PARTS + 1):
            turned = math.pi + math.pi * part / _PARTS
            yield 0.5 * table.width + radius * math.cos(turned), line + radius * math.sin(turned)
        return
    yield from ((0.0, 0.0), (table.width, 0.0), (table.width, line), (0.0, line))


def _place(position: Position, name: str) -> Point:
    return position.balls[name] if name in position.balls else position.table.spots[name]


def _mm(place: Point) -> Point:
    return _MM * place[0], _MM * place[1]
