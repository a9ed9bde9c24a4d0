"""Where a label may stand: places round its anchor and along its line, with what each costs.

All in pixels from the window's bottom left corner, `y` up. The places of all labels are worked
out together, as arrays; then each label's are looked at singly, the cheapest first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import atan2, cos, inf, isnan, pi, sin

import numpy as np
from numpy.typing import NDArray

from stunline.drawing.ground import CELL, Boxes, Floats, Ground, meet, touches
from stunline.drawing.marks import Box, Point
from stunline.drawing.segments import cross, distance_to, length_inside

DIRECTIONS, BESIDE_DIRECTIONS = 16, 8  # round an anchor, and round a point of a line
REACHES = (4.0, 9.0, 16.0, 26.0, 40.0, 58.0, 80.0, 110.0)  # gap from what is labelled [px]
FAR_FROM = 50.0  # places at least this far off are only made for labels that need them [px]
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

# Places as rows of an array: left, bottom, right, top, cost, direction of the leader.
_Rows = Floats
COLUMNS, COST_COLUMN = 6, 4


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


@dataclass(frozen=True, slots=True)
class _Rings:
    """Places round an anchor at some of the reaches: gaps, directions, leaders' directions."""

    reaches: Floats
    compass: _Compass
    leaders: Floats


def _rings(reaches: Sequence[float]) -> _Rings:
    compass, gaps = _compass(DIRECTIONS, len(reaches)), np.repeat(reaches, DIRECTIONS)
    return _Rings(gaps, compass, np.where(gaps >= LEADER_FROM, compass.angles, np.nan))


_BESIDE = _compass(BESIDE_DIRECTIONS, 1)
_NEAR = _rings([reach for reach in REACHES if reach < FAR_FROM])
_FAR = _rings([reach for reach in REACHES if reach >= FAR_FROM])


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

    def __init__(self, asked: Asked, places: _Rows, far: Callable[[], _Rows] | None) -> None:
        """far: makes the places that are at least ``FAR_FROM`` away, when they are needed."""
        self._asked, self._rows, self._far = asked, _sorted(places), far
        self._spots: list[Spot] = []
        self._prices: dict[int, float] = {}

    def rising(self) -> Iterator[tuple[int, Spot]]:
        """The places with their numbers; a leader is not in the cost yet."""
        index = 0
        while True:
            is_far = index == len(self._rows) or self._rows[index, COST_COLUMN] >= FAR_FROM
            if is_far and self._far is not None:
                rest = np.concatenate((self._rows[index:], self._far()))
                self._rows = np.concatenate((self._rows[:index], _sorted(rest)))
                self._far, self._spots = None, self._spots[:index]
            if index == len(self._rows):
                return
            if index == len(self._spots):
                more = self._rows[index : index + CHUNK].tolist()
                self._spots += [_spot(self._asked, row) for row in more]
            yield index, self._spots[index]
            index += 1

    def priced(self, index: int, ground: Ground) -> Spot:
        """The place of that number with the cost of its leader."""
        spot = self._spots[index]
        if spot.leader is None:
            return spot
        if index not in self._prices:
            self._prices[index] = spot.cost + _leader_cost(spot.leader, ground)
        return replace(spot, cost=self._prices[index])


def _sorted(rows: _Rows) -> _Rows:
    """The cheapest first, without those that are not possible."""
    costs = rows[:, COST_COLUMN]
    order = np.argsort(costs, kind="stable")
    return np.asarray(rows[order[: int(np.count_nonzero(costs < inf))]])


def _spot(asked: Asked, row: Sequence[float]) -> Spot:
    *sides, cost, angle = row
    box = Box(*sides)
    return Spot(box, None if isnan(angle) else _leader(asked, angle, box), cost)


def options_of(asked: Sequence[Asked], ground: Ground, bounds: Box) -> list[Options]:
    """Every label's places: round its anchor, and beside its line where it has one."""
    if not asked:
        return []
    near = _round_anchors(asked, range(len(asked)), _NEAR, ground, bounds)
    beside = _beside_lines(asked, ground, bounds)
    return [
        Options(
            one,
            np.concatenate((near[number], beside[number])),
            None if one.stays_near else partial(_far, asked, number, ground, bounds),
        )
        for number, one in enumerate(asked)
    ]


def _far(asked: Sequence[Asked], number: int, ground: Ground, bounds: Box) -> _Rows:
    """The far places of one label."""
    return _round_anchors(asked, [number], _FAR, ground, bounds)[0]


def _round_anchors(
    asked: Sequence[Asked], numbers: Sequence[int], rings: _Rings, ground: Ground, bounds: Box
) -> list[_Rows]:
    """The places round the anchors of the labels of those numbers."""
    own = [asked[number] for number in numbers]
    gaps = np.array([one.clearance for one in own])[:, np.newaxis] + rings.reaches
    boxes, costs = _places(own, [one.anchor for one in own], gaps, rings.compass)
    costs += rings.reaches
    stays = np.array([one.stays_near for one in own])[:, np.newaxis]
    costs[stays & (rings.reaches >= LEADER_FROM)] = inf
    costs += COST_STRANGE * _nearer_to_others(asked, numbers, boxes)
    return list(_rows(boxes, costs, rings.leaders, ground, bounds))


def _beside_lines(asked: Sequence[Asked], ground: Ground, bounds: Box) -> list[_Rows]:
    """The places beside the labels' lines; they need no leader."""
    steps = [(one, step, point) for one in asked for step, point in enumerate(one.along, 1)]
    if not steps:
        return [np.zeros((0, COLUMNS))] * len(asked)
    gap, owners = np.full((len(steps), 1), BESIDE_LINE), [one for one, _, _ in steps]
    boxes, costs = _places(owners, [point for _, _, point in steps], gap, _BESIDE)
    costs += COST_ALONG * np.array([step for _, step, _ in steps])[:, np.newaxis]
    rows = _rows(boxes, costs, np.full(BESIDE_DIRECTIONS, np.nan), ground, bounds)
    ends = np.cumsum([len(one.along) for one in asked])
    return [
        rows[end - len(one.along) : end].reshape(-1, COLUMNS)
        for one, end in zip(asked, ends.tolist(), strict=True)
    ]


def _rows(boxes: Boxes, costs: Floats, angles: Floats, ground: Ground, bounds: Box) -> _Rows:
    """Places as rows: sides, cost with what lies under them, direction of the leader."""
    _add_covered(costs, boxes, ground, bounds)
    sides = (boxes.left, boxes.bottom, boxes.right, boxes.top)
    return np.stack((*sides, costs, np.broadcast_to(angles, costs.shape)), axis=-1)


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


def _nearer_to_others(
    asked: Sequence[Asked], numbers: Sequence[int], boxes: Boxes
) -> NDArray[np.bool_]:
    """Places, a row a label, at which a reader would take it for another's of its kind."""
    strange = np.zeros(boxes.left.shape, dtype=np.bool_)
    kin = [number for number, one in enumerate(asked) if one.has_rivals]
    rows = [row for row, number in enumerate(numbers) if asked[number].has_rivals]
    if len(kin) < 2 or not rows:
        return strange
    x, y = np.array([asked[number].anchor for number in kin]).T
    clear = np.array([asked[number].clearance for number in kin])
    sides = (boxes.left, boxes.bottom, boxes.right, boxes.top)
    left, bottom, right, top = (side[rows][:, :, np.newaxis] for side in sides)
    across, up = np.maximum(left - x, x - right), np.maximum(bottom - y, y - top)
    gaps = np.hypot(np.maximum(across, 0.0), np.maximum(up, 0.0)) - clear
    own = gaps[np.arange(len(rows)), :, [kin.index(numbers[row]) for row in rows]]
    strange[rows] = gaps.min(axis=2) < own - CELL
    return strange


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
    rows = _rows(boxes, np.hypot(across, up), np.arctan2(up, across), ground, bounds)
    return Options(asked, rows, None)


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
