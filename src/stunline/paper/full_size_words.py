"""Where words stand on a full-size page: beside or along what they name, off everything else.

A page at full size has room, so words are placed one after the other, each at the cheapest of
its slots that touches no other words. A slot's cost is the length of lines under the words.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import atan2, ceil, cos, dist, hypot, inf, pi, sin

from stunline.drawing.marks import (
    Anchor,
    Arc,
    Box,
    Circle,
    Curve,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Polyline,
    Role,
    Size,
    Text,
)
from stunline.drawing.page import PIXELS_PER_MM
from stunline.drawing.segments import length_inside
from stunline.drawing.typeface import CAPITAL_HEIGHT, DESCENT, text_width
from stunline.paper.full_size_subject import along

LINE_GAP = 1.35  # from baseline to baseline, in letter sizes
PADDING = 0.8  # kept free round words [mm]
BESIDE = 1.2  # between a line and the words along it [mm]
CIRCLE_PIECES = 32
COST_LINE = 1.0  # for each millimetre of line under the words
COST_INSIDE = 60.0  # of a line's words inside a ball's outline
COST_OFF_CENTRE = 0.02  # for each millimetre from the place that would be best
CROSS_ROOM = 4.0  # from a ball's centre, for the arm of its cross [mm]
STEP = 6.0  # between slots along a line [mm]
DIRECTIONS = 16
SHORTEST_LEADER = 1.5  # nearer words need none [mm]

Quad = tuple[Point, Point, Point, Point]


@dataclass(frozen=True, slots=True)
class Slot:
    """A place for a block of words: its middle, its turn, and what it costs of itself.

    Attributes:
        leads_to: the point to which a leader is drawn from there, or None
    """

    at: Point
    angle: float = 0.0
    cost: float = 0.0
    leads_to: Point | None = None


@dataclass(frozen=True, slots=True)
class Block:
    """Lines of words, the first ones perhaps bold, one under the other, centred.

    Attributes:
        id: of the first line; the others get a number
        lines: the words
        role: of the words
        bold: how many of the first lines are bold
        size: of the letters
    """

    id: str
    lines: tuple[str, ...]
    role: Role = Role.SHEET_TEXT
    bold: int = 0
    size: Size = Size.SMALL

    @property
    def width(self) -> float:
        """[mm]"""
        widths = (
            text_width(words, self.size.value, number < self.bold)
            for number, words in enumerate(self.lines)
        )
        return max(widths) / PIXELS_PER_MM

    @property
    def height(self) -> float:
        """Of the ink, from the first line's capitals to the last one's tails. [mm]"""
        ems = CAPITAL_HEIGHT + DESCENT + (len(self.lines) - 1) * LINE_GAP
        return ems * self.size.value / PIXELS_PER_MM

    def texts(self, slot: Slot) -> Iterator[Text]:
        """The words there."""
        em = self.size.value / PIXELS_PER_MM
        first = self.height / 2 - CAPITAL_HEIGHT * em
        for number, words in enumerate(self.lines):
            up = first - number * LINE_GAP * em
            at = slot.at[0] - sin(slot.angle) * up, slot.at[1] + cos(slot.angle) * up
            yield Text(
                self.id if number == 0 else f"{self.id}-{number}",
                Layer.LABELS,
                self.role,
                at,
                words,
                self.size,
                Anchor.MIDDLE,
                number < self.bold,
                slot.angle,
            )

    def quad(self, slot: Slot, padding: float = PADDING) -> Quad:
        """The rectangle round the words there."""
        half_x, half_y = self.width / 2 + padding, self.height / 2 + padding
        c, s = cos(slot.angle), sin(slot.angle)
        x, y = slot.at
        corners = [
            (x + c * a - s * b, y + s * a + c * b)
            for a, b in (
                (-half_x, -half_y), (half_x, -half_y), (half_x, half_y), (-half_x, half_y)
            )
        ]  # fmt: skip
        return corners[0], corners[1], corners[2], corners[3]


@dataclass(slots=True)
class Placing:
    """One page's words, as they come to stand.

    Attributes:
        bounds: no word leaves it
        segments: straight pieces of every line that words had better not cover
        balls: centres and radii of outlines, which words of lines stay out of
        taken: rectangles of words that stand already
        texts: the words
        leaders: thin lines from words to what they name
    """

    bounds: Box
    segments: Sequence[tuple[Point, Point]]
    balls: Sequence[tuple[Point, float]] = ()
    taken: list[Quad] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    leaders: list[Line] = field(default_factory=list)

    def place(
        self, block: Block, slots: Iterable[Slot], most: float = inf, outside: bool = False
    ) -> bool:
        """Put the block into the best free slot; False when there is none.

        ``most``: what the slot may cost; words that stand on another page as well are not
        put over lines here. ``outside``: the words stay out of the balls' outlines where they
        can, and clear of the centre crosses in any case.
        """
        best: tuple[float, Slot] | None = None
        for slot in sorted(slots, key=lambda one: one.cost):
            if best is not None and slot.cost >= best[0]:
                break
            quad = block.quad(slot)
            if not all(self.bounds.holds(corner) for corner in quad):
                continue
            if any(touch(quad, other) for other in self.taken):
                continue
            if outside and self._on_cross(block, slot):
                continue
            cost = slot.cost + COST_LINE * self._covered(block, slot)
            cost += COST_INSIDE if outside and self._on_ball(block, slot) else 0.0
            if best is None or cost < best[0]:
                best = cost, slot
        if best is None or best[0] > most:
            return False
        self.taken.append(block.quad(best[1]))
        self.texts += block.texts(best[1])
        self.leaders += leader(block, best[1])
        return True

    def _on_ball(self, block: Block, slot: Slot) -> bool:
        return any(_away(at, block, slot) < radius for at, radius in self.balls)

    def _on_cross(self, block: Block, slot: Slot) -> bool:
        return any(_away(at, block, slot) < CROSS_ROOM for at, _ in self.balls)

    def _covered(self, block: Block, slot: Slot) -> float:
        """Length of lines under the words. [mm]"""
        half_x, half_y = block.width / 2 + PADDING, block.height / 2 + PADDING
        own = Box(-half_x, -half_y, half_x, half_y)
        reach = hypot(half_x, half_y)
        c, s = cos(slot.angle), sin(slot.angle)
        total = 0.0
        for start, end in self.segments:
            if _far(start, end, slot.at, reach):
                continue
            one, two = (
                (
                    c * (p[0] - slot.at[0]) + s * (p[1] - slot.at[1]),
                    -s * (p[0] - slot.at[0]) + c * (p[1] - slot.at[1]),
                )
                for p in (start, end)
            )
            total += length_inside(one, two, own)
        return total


def leader(block: Block, slot: Slot) -> Iterator[Line]:
    """From the nearest edge of the block's words, level ones, to what they name."""
    if slot.leads_to is None:
        return
    half_x, half_y = block.width / 2 + PADDING, block.height / 2 + PADDING
    x, y = slot.leads_to
    edge = (
        min(max(x, slot.at[0] - half_x), slot.at[0] + half_x),
        min(max(y, slot.at[1] - half_y), slot.at[1] + half_y),
    )
    if dist(edge, slot.leads_to) > SHORTEST_LEADER:
        yield Line(f"leader-{block.id}", Layer.LABELS, Role.LEADER, edge, slot.leads_to)


def _away(point: Point, block: Block, slot: Slot) -> float:
    """From a point to the nearest of the block's words there. [mm]"""
    c, s = cos(slot.angle), sin(slot.angle)
    x, y = point[0] - slot.at[0], point[1] - slot.at[1]
    across = abs(c * x + s * y) - block.width / 2
    up = abs(c * y - s * x) - block.height / 2
    return hypot(max(across, 0.0), max(up, 0.0))


def touch(one: Quad, two: Quad) -> bool:
    """Whether two turned rectangles have anything in common."""
    for shape in (one, two):
        for corner in (0, 1):
            edge = (
                shape[corner + 1][0] - shape[corner][0],
                shape[corner + 1][1] - shape[corner][1],
            )
            across = (-edge[1], edge[0])
            a, b = ([p[0] * across[0] + p[1] * across[1] for p in quad] for quad in (one, two))
            if max(a) <= min(b) or max(b) <= min(a):
                return False
    return True


def segments_of(marks: Iterable[Mark]) -> list[tuple[Point, Point]]:
    """Every mark as straight pieces."""
    found: list[tuple[Point, Point]] = []
    for mark in marks:
        found += list(pairwise(_points(mark)))
    return found


def slots_inside(centre: Point, radius: float, block: Block) -> Iterator[Slot]:
    """Places inside a ball's outline, beside its centre cross."""
    for step in range(DIRECTIONS):
        angle = pi / 2 + 2 * pi * step / DIRECTIONS
        for further in (0.0, 3.0, 6.0):
            away = _clear_of(angle, block) + CROSS_ROOM + further
            at = centre[0] + away * cos(angle), centre[1] + away * sin(angle)
            outside = max(dist(corner, centre) for corner in block.quad(Slot(at), 0.0)) - radius
            liked = 0.1 * min(step, DIRECTIONS - step) + 0.05 * further
            yield Slot(at, cost=liked + 8.0 * max(0.0, outside))


def slots_around(
    centre: Point, clear: float, block: Block, prefer: float = 0.0, led: bool = False
) -> Iterator[Slot]:
    """Places round a point, clear of it by that much at least; ``led``: with a leader to it."""
    for ring in range(4):
        for step in range(DIRECTIONS):
            turn = 2 * pi * step / DIRECTIONS
            angle = prefer + turn
            away = clear + 5.0 * ring + _clear_of(angle, block)
            at = centre[0] + away * cos(angle), centre[1] + away * sin(angle)
            cost = 2.0 * ring + 0.5 * (1 - cos(turn))
            yield Slot(at, cost=cost, leads_to=centre if led else None)


def slots_along(
    points: Sequence[Point], block: Block, best: float = 0.5, off: float = BESIDE
) -> Iterator[Slot]:
    """Places along a line on both its sides, turned with it; ``best``: the part that is liked."""
    lengths = [dist(one, two) for one, two in pairwise(points)]
    whole = sum(lengths)
    if whole == 0:
        return
    count = max(1, ceil(whole / STEP))
    for number in range(count + 1):
        part = number / count
        at, angle = _on(points, lengths, part * whole)
        upright = angle if -pi / 2 < angle <= pi / 2 else angle - pi * (1 if angle > 0 else -1)
        for side in (1, -1):
            away = side * (off + block.height / 2)
            middle = at[0] - sin(upright) * away, at[1] + cos(upright) * away
            cost = COST_OFF_CENTRE * abs(part - best) * whole + (0.1 if side < 0 else 0.0)
            yield Slot(middle, upright, cost)


def _on(points: Sequence[Point], lengths: Sequence[float], way: float) -> tuple[Point, float]:
    """The point after that way along a line, and the line's direction there."""
    for (one, two), length in zip(pairwise(points), lengths, strict=True):
        if way <= length and length > 0:
            part = way / length
            at = one[0] + part * (two[0] - one[0]), one[1] + part * (two[1] - one[1])
            return at, atan2(two[1] - one[1], two[0] - one[0])
        way -= length
    one, two = points[-2], points[-1]
    return two, atan2(two[1] - one[1], two[0] - one[0])


def _clear_of(angle: float, block: Block) -> float:
    """How far a block's middle must be from a point, in that direction, to be clear of it."""
    half_x, half_y = block.width / 2 + PADDING, block.height / 2 + PADDING
    across, up = abs(cos(angle)), abs(sin(angle))
    return (
        min(
            half_x / across if across > 1e-9 else float("inf"),
            half_y / up if up > 1e-9 else float("inf"),
        )
        + 1.5
    )


def _far(start: Point, end: Point, at: Point, reach: float) -> bool:
    return (
        max(start[0], end[0]) < at[0] - reach
        or min(start[0], end[0]) > at[0] + reach
        or max(start[1], end[1]) < at[1] - reach
        or min(start[1], end[1]) > at[1] + reach
    )


def _points(mark: Mark) -> list[Point]:
    if isinstance(mark, Line | Curve):
        return along(mark)
    if isinstance(mark, Polyline):
        return list(mark.points)
    if isinstance(mark, Polygon):
        return [*mark.points, mark.points[0]]
    if isinstance(mark, Circle):
        return _arc(mark.centre, mark.radius, 0.0, 2 * pi)
    if isinstance(mark, Arc):
        turn = (mark.end_angle - mark.start_angle) % (2 * pi)
        return _arc(mark.centre, mark.radius, mark.start_angle, turn)
    return []


def _arc(centre: Point, radius: float, start: float, turn: float) -> list[Point]:
    return [
        (centre[0] + radius * cos(angle), centre[1] + radius * sin(angle))
        for angle in (start + turn * step / CIRCLE_PIECES for step in range(CIRCLE_PIECES + 1))
    ]
