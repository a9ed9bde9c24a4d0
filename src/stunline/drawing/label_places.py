"""Where a label may stand: places round its anchor and along its line, with what each costs.

All in pixels from the window's bottom left corner, `y` up. The places of all labels are worked
out together, as arrays; then each label's are looked at singly, the cheapest first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import atan2, cos, inf, pi, sin

import numpy as np

from stunline.drawing.ground import Boxes, Floats, Ground, meet, touches
from stunline.drawing.marks import Box, Point
from stunline.drawing.segments import cross, distance_to, length_inside

DIRECTIONS = 16
REACHES = (4.0, 9.0, 16.0, 26.0, 40.0, 58.0, 80.0, 110.0)  # gap from what is labelled [px]
LEADER_FROM = 16.0  # labels at least this far off get a leader [px]
LEADER_GAP = 3.0  # between leader and words [px]
BESIDE_LINE = 2.0  # gap between a line and its label beside it [px]
ANYWHERE_STEP = 8.0  # places all over the window stand this far apart [px]

# Costs, in the coin of one pixel of distance.
COST_RING = 40.0  # for covering any part of a ring
COST_LINE = 3.0  # for each px of line covered
COST_TURN = 14.0  # for half a turn from the preferred side
COST_LEADER_CROSSES = 12.0  # for each line or ball that the leader crosses
COST_ALONG = 7.0  # for each step back along its own line
COST_LEADER = 6.0  # for needing a leader at all
TOUCHED = 0.98  # of a ball's radius: what only meets its edge does not touch it

_ANGLES = 2 * pi * np.arange(DIRECTIONS) / DIRECTIONS
_ROUND, _REACH = (grid.ravel() for grid in np.meshgrid(_ANGLES, np.array(REACHES), indexing="xy"))
# 1.42 > √2: a diagonal place touches with its corner, so it clears a round thing.
_CORNER = 1.42


@dataclass(frozen=True, slots=True)
class Asked:
    """A label's wish in pixels; see ``LabelWish``. ``size`` is its width and height."""

    anchor: Point
    clearance: float
    prefer: float
    size: tuple[float, float]
    along: tuple[Point, ...]
    stays_near: bool


@dataclass(frozen=True, slots=True)
class Spot:
    """A place for a label, its leader, and its cost so far. [px]"""

    box: Box
    leader: tuple[Point, Point] | None
    cost: float


@dataclass(frozen=True, slots=True)
class Options:
    """A label's places. ``angles`` is the direction of a leader, or not a number without one."""

    asked: Asked
    boxes: Boxes
    costs: Floats
    angles: Floats

    def rising(self) -> Iterator[Spot]:
        """The places that keep off balls and edges, the cheapest first."""
        boxes = self.boxes
        for index in np.argsort(self.costs, kind="stable").tolist():
            cost = float(self.costs[index])
            if cost == inf:
                return
            box = Box(
                float(boxes.left[index]),
                float(boxes.bottom[index]),
                float(boxes.right[index]),
                float(boxes.top[index]),
            )
            angle = float(self.angles[index])
            yield Spot(box, _leader(self.asked, angle, box) if angle == angle else None, cost)


def options_of(asked: Sequence[Asked], ground: Ground, bounds: Box) -> list[Options]:
    """Every label's places: round its anchor, and beside its line where it has one."""
    if not asked:
        return []
    parts = [_round_anchor(one) for one in asked]
    boxes = Boxes(*(np.concatenate([part[0][side] for part in parts]) for side in range(4)))
    costs = np.concatenate([part[1] for part in parts])
    angles = np.concatenate([part[2] for part in parts])
    _add_covered(costs, boxes, ground, bounds)
    found, start = [], 0
    for one, part in zip(asked, parts, strict=True):
        own = slice(start, start + len(part[1]))
        sides = (boxes.left[own], boxes.bottom[own], boxes.right[own], boxes.top[own])
        found.append(Options(one, Boxes(*sides), costs[own], angles[own]))
        start += len(part[1])
    return found


def anywhere(asked: Asked, ground: Ground, bounds: Box) -> Options:
    """Places all over the window, on a leader however long."""
    x, y = (
        grid.ravel()
        for grid in np.meshgrid(
            np.arange(bounds.left, bounds.right, ANYWHERE_STEP),
            np.arange(bounds.bottom, bounds.top, ANYWHERE_STEP),
        )
    )
    half_width, half_height = asked.size[0] / 2, asked.size[1] / 2
    boxes = Boxes(x - half_width, y - half_height, x + half_width, y + half_height)
    across, up = x - asked.anchor[0], y - asked.anchor[1]
    costs = np.hypot(across, up)
    _add_covered(costs, boxes, ground, bounds)
    return Options(asked, boxes, costs, np.arctan2(up, across))


def may_stand(spot: Spot, taken: Sequence[Box], others: Sequence[Spot]) -> bool:
    """Whether it covers no words, and neither its leader nor another's runs through any."""
    box, leader = spot.box, spot.leader
    if any(meet(box, words) for words in taken):
        return False
    for other in others:
        if meet(box, other.box):
            return False
        if other.leader is not None and length_inside(*other.leader, box) > 0:
            return False
        if leader is not None and length_inside(*leader, other.box) > 0:
            return False
        if leader is not None and other.leader is not None and cross(*leader, *other.leader):
            return False
    return leader is None or all(length_inside(*leader, words) <= 0 for words in taken)


def priced(spot: Spot, ground: Ground) -> Spot:
    """The place with the cost of its leader."""
    if spot.leader is None:
        return spot
    crossed = ground.crossings(*spot.leader) + sum(
        distance_to((x, y), *spot.leader) < radius * TOUCHED
        for x, y, radius in ground.balls.tolist()
    )
    return replace(spot, cost=spot.cost + COST_LEADER + COST_LEADER_CROSSES * crossed)


def _round_anchor(asked: Asked) -> tuple[tuple[Floats, Floats, Floats, Floats], Floats, Floats]:
    """Sides, own costs and leaders' directions of a label's places."""
    near = _REACH < LEADER_FROM if asked.stays_near else slice(None)
    angles, reaches = _ROUND[near], _REACH[near]
    x, y = (np.full(len(angles), start) for start in asked.anchor)
    gaps, costs = asked.clearance + reaches, reaches
    leaders = np.where(reaches >= LEADER_FROM, angles, np.nan)
    if asked.along:
        points, steps = np.repeat(asked.along, DIRECTIONS, axis=0), len(asked.along)
        x, y = np.append(x, points[:, 0]), np.append(y, points[:, 1])
        angles = np.append(angles, np.tile(_ANGLES, steps))
        gaps = np.append(gaps, np.full(len(points), BESIDE_LINE))
        back = COST_ALONG * np.repeat(np.arange(1, steps + 1), DIRECTIONS)
        costs, leaders = np.append(costs, back), np.append(leaders, np.full(len(points), np.nan))
    costs = costs + COST_TURN * (1 - np.cos(angles - asked.prefer)) / 2
    return _sides(x, y, angles, gaps, asked.size), costs, leaders


def _sides(
    x: Floats, y: Floats, angles: Floats, gaps: Floats, size: tuple[float, float]
) -> tuple[Floats, Floats, Floats, Floats]:
    """Rectangles that touch a point at that distance with their near side or corner."""
    cosines, sines = np.cos(angles), np.sin(angles)
    half_width, half_height = size[0] / 2, size[1] / 2
    middle = x + gaps * cosines + np.clip(_CORNER * cosines, -1.0, 1.0) * half_width
    height = y + gaps * sines + np.clip(_CORNER * sines, -1.0, 1.0) * half_height
    return (
        middle - half_width,
        height - half_height,
        middle + half_width,
        height + half_height,
    )


def _add_covered(costs: Floats, boxes: Boxes, ground: Ground, bounds: Box) -> None:
    """Adds the cost of lines and rings; places on a ball or outside become impossible."""
    costs += COST_LINE * ground.line_inside(boxes)
    costs += COST_RING * touches(boxes, ground.rings, TOUCHED)
    outside = (boxes.left < bounds.left) | (boxes.right > bounds.right)
    outside |= (boxes.bottom < bounds.bottom) | (boxes.top > bounds.top)
    costs[outside | touches(boxes, ground.balls, TOUCHED)] = inf


def _leader(asked: Asked, angle: float, box: Box) -> tuple[Point, Point]:
    start = (
        asked.anchor[0] + asked.clearance * cos(angle),
        asked.anchor[1] + asked.clearance * sin(angle),
    )
    end = (min(max(start[0], box.left), box.right), min(max(start[1], box.bottom), box.top))
    back = atan2(start[1] - end[1], start[0] - end[0])
    return start, (end[0] + LEADER_GAP * cos(back), end[1] + LEADER_GAP * sin(back))
