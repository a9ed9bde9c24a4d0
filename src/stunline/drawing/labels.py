"""Placing labels so that none lies on another, nor on a ball or a line where it can be helped.

Each label tries places round its anchor: sixteen directions, nearest first. Every place is
scored for what it would cover, for its distance and for the turn from the side it prefers. The
labels are placed in the order given, then each is tried again with the others in place. There
is no chance in it: the same picture always comes out the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan2, cos, hypot, pi, sin

from stunline.drawing.ground import Obstacles
from stunline.drawing.marks import Anchor, Box, Layer, Line, Mark, Point, Role, Size, Text
from stunline.drawing.page import Page
from stunline.drawing.typeface import CAPITAL_HEIGHT, DESCENT, text_width

DIRECTIONS = 16
REACHES = (4.0, 9.0, 16.0, 26.0, 40.0, 58.0, 80.0, 110.0)  # gap from what is labelled [px]
LEADER_FROM = 16.0  # labels at least this far off get a leader [px]
LEADER_GAP = 3.0  # between leader and words [px]
BESIDE_LINE = 2.0  # gap between a line and its label beside it [px]
PADDING = 3.5  # kept free round the words [px]
SWEEPS = 3  # how often every label is tried again

# Costs, in the coin of one pixel of distance. Covering a label must never pay.
COST_LABEL = 1e4  # for covering any part of another label, and again for each px²
COST_TOUCH = 40.0  # for covering any part of a ball
COST_BALL = 0.8  # and for each px² of it
COST_LINE = 3.0  # for each px of line covered
COST_TURN = 14.0  # for half a turn from the preferred side
COST_LEADER_CROSSES = 12.0  # for each line that the leader crosses
COST_ALONG = 7.0  # for each step back along its own line
COST_LEADER = 6.0  # for needing a leader at all
TOUCHED = 0.98  # of a ball's radius: what only meets its edge does not touch it


@dataclass(frozen=True, slots=True)
class LabelWish:
    """A label to be placed.

    Attributes:
        id: of its marks
        words: the text
        anchor: what it belongs to [mm]
        clearance: from the anchor to the edge of what it labels [mm]
        prefer: the side it would best stand on, anticlockwise from +x [rad]
        along: points of the labelled line beside which it may stand as well [mm]
        stays_near: whether it does without places so far off that they need a leader
    """

    id: str
    words: str
    anchor: Point
    clearance: float
    prefer: float
    size: Size = Size.SMALL
    bold: bool = False
    role: Role = Role.LABEL
    along: tuple[Point, ...] = ()
    stays_near: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """A label with its place, a rectangle round the words, and its leader."""

    wish: LabelWish
    box: Box
    leader: tuple[Point, Point] | None
    cost: float = 0.0


def place_labels(
    wishes: Sequence[LabelWish], obstacles: Obstacles, bounds: Box, page: Page
) -> tuple[Placed, ...]:
    """Every label's best place, given the others'."""
    choices = [_candidates(wish, obstacles, bounds, page) for wish in wishes]
    placed: list[Placed] = []
    for options in choices:
        placed.append(_best(options, placed, page))
    for _ in range(SWEEPS):
        for number, options in enumerate(choices):
            placed[number] = _best(options, placed[:number] + placed[number + 1 :], page)
    return tuple(placed)


def label_marks(placed: Sequence[Placed], page: Page) -> list[Mark]:
    """Leaders and words."""
    marks: list[Mark] = []
    for label in placed:
        wish = label.wish
        if label.leader is not None:
            start, end = label.leader
            marks.append(Line(f"{wish.id}-leader", Layer.LABELS, Role.LEADER, start, end))
        marks.append(
            Text(
                wish.id,
                Layer.LABELS,
                wish.role,
                (label.box.centre[0], baseline(label.box, wish.size, page)),
                wish.words,
                wish.size,
                Anchor.MIDDLE,
                wish.bold,
            )
        )
    return marks


def baseline(box: Box, size: Size, page: Page) -> float:
    """Height of the baseline that centres capitals and figures in the box. [mm]"""
    return box.centre[1] - page.mm(size.value * CAPITAL_HEIGHT / 2)


def words_box(words: str, at: Point, size: Size, bold: bool, page: Page) -> Box:
    """The rectangle round words centred at a point. [mm]"""
    half_width = page.mm(text_width(words, size.value, bold) / 2 + PADDING)
    half_height = page.mm(size.value * (CAPITAL_HEIGHT / 2 + DESCENT))
    return Box(at[0] - half_width, at[1] - half_height, at[0] + half_width, at[1] + half_height)


def _candidates(wish: LabelWish, obstacles: Obstacles, bounds: Box, page: Page) -> list[Placed]:
    """Every place that lies inside the bounds, with the cost it has of itself."""
    empty = words_box(wish.words, (0.0, 0.0), wish.size, wish.bold, page)
    found = []
    for reach in REACHES:
        if wish.stays_near and reach >= LEADER_FROM:
            break
        for step in range(DIRECTIONS):
            angle = 2 * pi * step / DIRECTIONS
            box = _box_towards(wish.anchor, angle, wish.clearance + page.mm(reach), empty)
            if bounds.contains(box):
                leader = _leader(wish, angle, box, page) if reach >= LEADER_FROM else None
                cost = reach + COST_TURN * (1 - cos(angle - wish.prefer)) / 2
                found.append(Placed(wish, box, leader, cost))
    found += _beside_its_line(wish, empty, bounds, page)
    if not found:
        found = [_pushed_inside(wish, empty, bounds)]
    near = _near(obstacles, found)
    return [replace(place, cost=place.cost + _covered(place, near, page)) for place in found]


def _near(obstacles: Obstacles, places: Sequence[Placed]) -> Obstacles:
    """The obstacles that any of the places, or its leader, can touch."""
    boxes = [place.box for place in places]
    points = [point for place in places if place.leader for point in place.leader]
    around = Box(
        min([box.left for box in boxes] + [point[0] for point in points]),
        min([box.bottom for box in boxes] + [point[1] for point in points]),
        max([box.right for box in boxes] + [point[0] for point in points]),
        max([box.top for box in boxes] + [point[1] for point in points]),
    )
    return Obstacles(
        tuple(ball for ball in obstacles.balls if around.grown(ball[1]).holds(ball[0])),
        tuple(one for one in obstacles.segments if _may_meet(*one, around)),
        tuple(box for box in obstacles.taken if box.overlap(around) > 0),
    )


def _may_meet(start: Point, end: Point, box: Box) -> bool:
    """False where a straight line lies wholly to one side of the rectangle."""
    return not (
        (start[0] < box.left and end[0] < box.left)
        or (start[0] > box.right and end[0] > box.right)
        or (start[1] < box.bottom and end[1] < box.bottom)
        or (start[1] > box.top and end[1] > box.top)
    )


def _beside_its_line(wish: LabelWish, empty: Box, bounds: Box, page: Page) -> list[Placed]:
    """Places close to the points along its line, the nearest to the anchor cheapest."""
    found = []
    for number, point in enumerate(wish.along, 1):
        for step in range(DIRECTIONS):
            angle = 2 * pi * step / DIRECTIONS
            box = _box_towards(point, angle, page.mm(BESIDE_LINE), empty)
            if bounds.contains(box):
                cost = COST_ALONG * number + COST_TURN * (1 - cos(angle - wish.prefer)) / 2
                found.append(Placed(wish, box, None, cost))
    return found


def _box_towards(anchor: Point, angle: float, distance: float, empty: Box) -> Box:
    """The words' rectangle touching the point at that distance with its near side or corner."""
    # 1.42 > √2: a diagonal place touches with its corner, so it clears a round thing.
    across, up = (max(-1.0, min(1.0, 1.42 * part)) for part in (cos(angle), sin(angle)))
    x = anchor[0] + distance * cos(angle) + across * empty.width / 2
    y = anchor[1] + distance * sin(angle) + up * empty.height / 2
    return Box(x + empty.left, y + empty.bottom, x + empty.right, y + empty.top)


def _pushed_inside(wish: LabelWish, empty: Box, bounds: Box) -> Placed:
    x = min(max(wish.anchor[0], bounds.left - empty.left), bounds.right - empty.right)
    y = min(max(wish.anchor[1], bounds.bottom - empty.bottom), bounds.top - empty.top)
    return Placed(wish, Box(x + empty.left, y + empty.bottom, x + empty.right, y + empty.top), None)


def _leader(wish: LabelWish, angle: float, box: Box, page: Page) -> tuple[Point, Point]:
    start = (
        wish.anchor[0] + wish.clearance * cos(angle),
        wish.anchor[1] + wish.clearance * sin(angle),
    )
    gap = page.mm(LEADER_GAP)
    end = (min(max(start[0], box.left), box.right), min(max(start[1], box.bottom), box.top))
    back = atan2(start[1] - end[1], start[0] - end[0])
    return start, (end[0] + gap * cos(back), end[1] + gap * sin(back))


def _covered(place: Placed, obstacles: Obstacles, page: Page) -> float:
    """Cost of the balls, lines and fixed words under the label and its leader."""
    cost, area = 0.0, page.scale**2
    for centre, radius in obstacles.balls:
        # A square of the disc's own area stands for the disc.
        half = radius * 0.886
        ball = Box(centre[0] - half, centre[1] - half, centre[0] + half, centre[1] + half)
        shared = place.box.overlap(ball) * area
        nearest = (
            min(max(centre[0], place.box.left), place.box.right),
            min(max(centre[1], place.box.bottom), place.box.top),
        )
        if hypot(centre[0] - nearest[0], centre[1] - nearest[1]) < radius * TOUCHED:
            cost += COST_TOUCH + COST_BALL * shared
    for start, end in obstacles.segments:
        cost += COST_LINE * length_inside(start, end, place.box) * page.scale
    for taken in obstacles.taken:
        cost += _label_cost(place.box, taken, page)
    if place.leader is not None:
        crossings = sum(cross(*place.leader, *segment) for segment in obstacles.segments)
        cost += COST_LEADER + COST_LEADER_CROSSES * crossings
        cost += COST_LEADER_CROSSES * sum(
            distance_to(centre, *place.leader) < radius * TOUCHED
            for centre, radius in obstacles.balls
        )
    return cost


def _best(options: Sequence[Placed], others: Sequence[Placed], page: Page) -> Placed:
    return min(options, key=lambda place: place.cost + _against(place, others, page))


def _against(place: Placed, others: Sequence[Placed], page: Page) -> float:
    cost = 0.0
    for other in others:
        cost += _label_cost(place.box, other.box, page)
        for one, two in ((place, other), (other, place)):
            if one.leader and length_inside(*one.leader, two.box) > 0:
                cost += COST_LABEL
        if place.leader and other.leader and cross(*place.leader, *other.leader):
            cost += COST_LABEL
    return cost


def _label_cost(one: Box, two: Box, page: Page) -> float:
    shared = one.overlap(two) * page.scale**2
    return COST_LABEL * (1 + shared) if shared > 0 else 0.0


def length_inside(start: Point, end: Point, box: Box) -> float:
    """How much of a straight line lies in the rectangle. [mm]"""
    if not _may_meet(start, end, box):
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
    """From a point to a straight line between two others. [mm]"""
    along = (end[0] - start[0], end[1] - start[1])
    square = along[0] ** 2 + along[1] ** 2
    part = 0.0
    if square > 0:
        towards = (point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]
        part = min(1.0, max(0.0, towards / square))
    near = (start[0] + part * along[0], start[1] + part * along[1])
    return hypot(point[0] - near[0], point[1] - near[1])
