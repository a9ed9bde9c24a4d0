"""Where a label may stand: places round its anchor and along its line, with what each costs.

All in pixels from the window's bottom left corner, `y` up. The places of all labels are worked
out together, as arrays; then each label's are looked at singly, the cheapest first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import atan2, cos, inf, isnan, pi, sin

import numpy as np
from numpy.typing import NDArray

from stunline.drawing.ground import CELL, Boxes, Floats, Ground, meet, touches
from stunline.drawing.marks import Box, Point
from stunline.drawing.segments import cross, distance_to, length_inside

DIRECTIONS, BESIDE_DIRECTIONS = 16, 8  # round an anchor, and round a point of a line
REACHES = (4.0, 9.0, 16.0, 26.0, 40.0, 58.0, 80.0, 110.0)  # gap from what is labelled [px]
LEADER_FROM = 16.0  # labels at least this far off get a leader [px]
LEADER_GAP = 3.0  # between leader and words [px]
BESIDE_LINE = 2.0  # gap between a line and its label beside it [px]
CHUNK = 8  # places made at a time
ANYWHERE_STEP = 8.0  # places all over the window stand this far apart [px]

# Costs, in the coin of one pixel of distance.
COST_LINE = 3.0  # for each px of line covered, rings among them
COST_TURN = 14.0  # for half a turn from the preferred side
COST_LEADER_CROSSES = 12.0  # for each line that the leader crosses
COST_LEADER_ON_BALL = 60.0  # for each ball that it crosses
COST_ALONG = 7.0  # for each step back along its own line
COST_STRANGE = 16.0  # for standing nearer to what another label of its kind names
COST_LEADER = 6.0  # for needing a leader at all
TOUCHED = 0.98  # of a ball's radius: a leader that only meets its edge does not cross it

# 1.42 > √2: a diagonal place touches with its corner, so it clears a round thing.
_CORNER = 1.42


@dataclass(frozen=True, slots=True)
class _Compass:
    """Directions, one an entry: their angles, and where the words' middle stands to the point."""

    angles: Floats
    cosines: Floats
    sines: Floats
    across: Floats
    up: Floats


def _compass(directions: int, times: int) -> _Compass:
    """So many directions, all of them that many times over."""
    angles = np.tile(2 * pi * np.arange(directions) / directions, times)
    cosines, sines = np.cos(angles), np.sin(angles)
    sides = (np.clip(_CORNER * part, -1.0, 1.0) / 2 for part in (cosines, sines))
    return _Compass(angles, cosines, sines, *sides)


_BESIDE, _ROUND = _compass(BESIDE_DIRECTIONS, 1), _compass(DIRECTIONS, len(REACHES))
_REACH = np.repeat(REACHES, DIRECTIONS)
_IS_FAR = _REACH >= LEADER_FROM
_LEADERS = np.where(_IS_FAR, _ROUND.angles, np.nan)


@dataclass(frozen=True, slots=True)
class Asked:
    """A label's wish in pixels; see ``LabelWish``.

    Attributes:
        size: width and height of the words
        has_rivals: whether it must not be taken for another label of the first rank
    """

    anchor: Point
    clearance: float
    prefer: float
    size: tuple[float, float]
    along: tuple[Point, ...]
    stays_near: bool
    has_rivals: bool


@dataclass(frozen=True, slots=True)
class Spot:
    """A place for a label, its leader, and its cost so far. [px]"""

    box: Box
    leader: tuple[Point, Point] | None
    cost: float


class Options:
    """A label's places that keep off balls and edges, the cheapest first.

    They are made and priced as far down as anyone looks, and remembered: a label is tried
    several times, and usually one of its first places is taken.
    """

    def __init__(self, asked: Asked, boxes: Boxes, costs: Floats, angles: Floats) -> None:
        """angles: the direction of each place's leader, or not a number without one."""
        order = np.argsort(costs, kind="stable")
        order = order[: int(np.count_nonzero(costs < inf))]
        sides = (boxes.left, boxes.bottom, boxes.right, boxes.top)
        self._asked = asked
        self._rows = np.stack([side[order] for side in (*sides, costs, angles)], axis=1)
        self._spots: list[Spot] = []
        self._prices: dict[int, float] = {}

    def rising(self) -> Iterator[tuple[int, Spot]]:
        """The places with their numbers; a leader is not in the cost yet."""
        for index in range(len(self._rows)):
            if index == len(self._spots):
                more = self._rows[index : index + CHUNK].tolist()
                self._spots += [_spot(self._asked, row) for row in more]
            yield index, self._spots[index]

    def priced(self, index: int, ground: Ground) -> Spot:
        """The place of that number with the cost of its leader."""
        spot = self._spots[index]
        if spot.leader is None:
            return spot
        if index not in self._prices:
            self._prices[index] = spot.cost + _leader_cost(spot.leader, ground)
        return replace(spot, cost=self._prices[index])


def _spot(asked: Asked, row: Sequence[float]) -> Spot:
    *sides, cost, angle = row
    box = Box(*sides)
    return Spot(box, None if isnan(angle) else _leader(asked, angle, box), cost)


def options_of(asked: Sequence[Asked], ground: Ground, bounds: Box) -> list[Options]:
    """Every label's places: round its anchor, and beside its line where it has one."""
    if not asked:
        return []
    beside = [(number, point) for number, one in enumerate(asked) for point in one.along]
    gaps = np.array([one.clearance for one in asked])[:, np.newaxis] + _REACH
    boxes, costs = _places(asked, [one.anchor for one in asked], gaps, _ROUND)
    costs += _REACH
    stays = np.array([one.stays_near for one in asked])[:, np.newaxis]
    costs[stays & _IS_FAR] = inf
    costs += COST_STRANGE * _nearer_to_others(asked, boxes)
    _add_covered(costs, boxes, ground, bounds)
    found = [(_row(boxes, number), costs[number], _LEADERS) for number in range(len(asked))]
    if beside:
        owners = [asked[number] for number, _ in beside]
        gap = np.full((len(beside), 1), BESIDE_LINE)
        boxes, costs = _places(owners, [point for _, point in beside], gap, _BESIDE)
        steps = [step for one in asked for step in range(1, len(one.along) + 1)]
        costs += COST_ALONG * np.array(steps)[:, np.newaxis]
        _add_covered(costs, boxes, ground, bounds)
        rows = [number for number, _ in beside]
        for number in sorted(set(rows)):
            own = slice(rows.index(number), rows.index(number) + rows.count(number))
            found[number] = _joined(found[number], _row(boxes, own), costs[own].ravel())
    return [Options(one, *rest) for one, rest in zip(asked, found, strict=True)]


def _places(
    asked: Sequence[Asked], points: Sequence[Point], gaps: Floats, compass: _Compass
) -> tuple[Boxes, Floats]:
    """Rectangles that touch each point at those gaps with their near side or corner, a row each.

    The costs are those of the turn from the side that each label prefers.
    """
    x, y = np.array(points).T[:, :, np.newaxis]
    width, height = np.array([one.size for one in asked]).T[:, :, np.newaxis]
    prefer = np.array([one.prefer for one in asked])[:, np.newaxis]
    middle = x + gaps * compass.cosines + compass.across * width
    level = y + gaps * compass.sines + compass.up * height
    turned = compass.cosines * np.cos(prefer) + compass.sines * np.sin(prefer)
    half, tall = width / 2, height / 2
    boxes = Boxes(middle - half, level - tall, middle + half, level + tall)
    return boxes, COST_TURN / 2 * (1 - turned)


def _nearer_to_others(asked: Sequence[Asked], boxes: Boxes) -> NDArray[np.bool_]:
    """Places, a row a label, at which a reader would take it for another's of its kind."""
    strange = np.zeros(boxes.left.shape, dtype=np.bool_)
    kin = [number for number, one in enumerate(asked) if one.has_rivals]
    if len(kin) < 2:
        return strange
    x, y = np.array([asked[number].anchor for number in kin]).T
    clear = np.array([asked[number].clearance for number in kin])
    sides = (boxes.left, boxes.bottom, boxes.right, boxes.top)
    left, bottom, right, top = (side[kin][:, :, np.newaxis] for side in sides)
    across, up = np.maximum(left - x, x - right), np.maximum(bottom - y, y - top)
    gaps = np.hypot(np.maximum(across, 0.0), np.maximum(up, 0.0)) - clear
    own = gaps[np.arange(len(kin)), :, np.arange(len(kin))]
    strange[kin] = gaps.min(axis=2) < own - CELL
    return strange


def _row(boxes: Boxes, rows: int | slice) -> Boxes:
    """The rectangles of a row, or of several after each other."""
    sides = (boxes.left, boxes.bottom, boxes.right, boxes.top)
    return Boxes(*(side[rows].ravel() for side in sides))


def _joined(
    near: tuple[Boxes, Floats, Floats], beside: Boxes, costs: Floats
) -> tuple[Boxes, Floats, Floats]:
    """Places round an anchor and places beside a line, which need no leader."""
    boxes, own, angles = near
    sides = (
        np.concatenate((getattr(boxes, side), getattr(beside, side)))
        for side in ("left", "bottom", "right", "top")
    )
    return (
        Boxes(*sides),
        np.concatenate((own, costs)),
        np.concatenate((angles, np.full(len(costs), np.nan))),
    )


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


def _leader_cost(leader: tuple[Point, Point], ground: Ground) -> float:
    balls = sum(
        distance_to((x, y), *leader) < radius * TOUCHED for x, y, radius in ground.balls.tolist()
    )
    crossed = COST_LEADER_CROSSES * ground.crossings(*leader)
    return float(COST_LEADER + crossed + COST_LEADER_ON_BALL * balls)


def _add_covered(costs: Floats, boxes: Boxes, ground: Ground, bounds: Box) -> None:
    """Adds the cost of lines; places on a ball or outside become impossible."""
    costs += COST_LINE * ground.line_inside(boxes)
    outside = (boxes.left < bounds.left) | (boxes.right > bounds.right)
    outside |= (boxes.bottom < bounds.bottom) | (boxes.top > bounds.top)
    costs[outside | touches(boxes, ground.balls)] = inf


def _leader(asked: Asked, angle: float, box: Box) -> tuple[Point, Point]:
    start = (
        asked.anchor[0] + asked.clearance * cos(angle),
        asked.anchor[1] + asked.clearance * sin(angle),
    )
    end = (min(max(start[0], box.left), box.right), min(max(start[1], box.bottom), box.top))
    back = atan2(start[1] - end[1], start[0] - end[0])
    return start, (end[0] + LEADER_GAP * cos(back), end[1] + LEADER_GAP * sin(back))
