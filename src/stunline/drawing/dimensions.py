"""A ball's distances from its two nearest cushions, as a fitter's dimensions.

Each is drawn beside the ball with an extension line, or straight from its edge where that is
clearer, with oblique ticks at its ends. Two figures in the page's unit stand on it: the distance
from the cushion's nose to the ball's centre, and lighter that to its nearest edge, which is
what a tape reaches. Where the cushion lies outside the window the line runs to the window's
edge and ends in an open arrowhead, and the words name the cushion.

Words never lie on a ball or on other words. Where both figures find no room the one to the
edge is left out, and where that doesn't help the whole dimension.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import inf
from operator import itemgetter
from typing import TYPE_CHECKING

from stunline.drawing import story
from stunline.drawing.ground import Ground
from stunline.drawing.labels import baseline, words_box
from stunline.drawing.marks import (
    Anchor,
    Box,
    Layer,
    Line,
    Mark,
    Point,
    Polyline,
    Role,
    Size,
    Text,
)
from stunline.drawing.page import Page
from stunline.drawing.segments import length_inside

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

OFFSET = 26.0  # of the dimension line from the ball's edge [px]
TICK = 4.0  # half an oblique tick, each way [px]
OVERRUN = 4.0  # of the extension line past the dimension line [px]
GAP = 3.0  # between the ball and its extension line [px]
WORDS_GAP = 9.0  # between the dimension line and the middle of the words beside it [px]
SIDE_GAP = 2.5  # between an upright dimension line and the rectangle of its words [px]
HALF_ROW = 7.5  # from the middle of two rows of words to the middle of each [px]
EDGE_GAP = 5.0  # between an arrowhead and the window's edge [px]
ARROW = 6.0  # length of the open arrowhead [px]
SLIDES = (0.5, 0.3, 0.7)  # where along the line its words may stand
AGAINST = 0.5  # a ball's edge this near to the nose line's upright is against the cushion [mm]
NEAR_LINE = 3.0  # an extension line this near to another line cannot be told from it [px]

# Costs, in px of line covered by words.
COST_FROM_EDGE = 8.0  # for a line from the ball's edge, though the figure is to its centre
COST_SLID = 2.0  # for words that don't stand in the middle of their line
COST_NO_EDGE = 60.0  # for leaving out the figure to the edge
COST_BALL = 60.0  # for a dimension line through a ball
COST_HIDDEN = 3.0  # for each px of other lines so near that it can't be told from them
COST_MISSING = 300.0  # for leaving a dimension out

# Own cost, place along the line, whether with the figure to the edge; the cheapest first.
_WAYS = sorted(
    (
        (COST_SLID * (slide != SLIDES[0]) + COST_NO_EDGE * (not with_edge), slide, with_edge)
        for slide, with_edge in product(SLIDES, (True, False))
    ),
    key=itemgetter(0),
)


@dataclass(frozen=True, slots=True)
class Dimension:
    """One dimension with the rectangles of its words and its lines; see the file's head. [mm]"""

    marks: tuple[Mark, ...]
    words: tuple[Box, ...]
    lines: tuple[tuple[Point, Point], ...]


@dataclass(frozen=True, slots=True)
class _Axis:
    """A direction of measuring: across the table (0) or up it (1), towards one cushion."""

    index: int
    cushion: str
    nose: float  # its coordinate [mm]

    def point(self, along: float, beside: float) -> Point:
        return (along, beside) if self.index == 0 else (beside, along)


@dataclass(frozen=True, slots=True)
class _Measured:
    """The ball and the axis along which it is measured."""

    at: Point
    radius: float
    axis: _Axis
    page: Page

    @property
    def ends(self) -> tuple[float, float]:
        """The window's ends along the axis. [mm]"""
        window = self.page.window
        across, up = (window.left, window.right), (window.bottom, window.top)
        return across if self.axis.index == 0 else up

    @property
    def is_seen(self) -> bool:
        """Whether the cushion's nose lies in the window."""
        return self.ends[0] <= self.axis.nose <= self.ends[1]

    def words(self, with_edge: bool) -> tuple[str, ...]:
        """The figures, each as it stands on the plan."""
        far = abs(self.at[self.axis.index] - self.axis.nose)
        figure = self.page.figure
        first = figure(far) if self.is_seen else f"{figure(far)} to {self.axis.cushion} cushion"
        edge = far - self.radius
        # A ball against a cushion reaches under its nose, where no tape can be read.
        second = f"{figure(edge)} to edge" if edge > AGAINST else "on the cushion"
        return (first, second) if with_edge else (first,)


@dataclass(frozen=True, slots=True)
class _Option:
    """A way of drawing it: on which side of the ball, with which words, where along the line."""

    line: tuple[Point, Point]
    extension: tuple[Point, Point] | None
    words: tuple[str, ...]
    boxes: tuple[Box, ...]
    cost: float

    @property
    def lines(self) -> tuple[tuple[Point, Point], ...]:
        """Dimension line, and extension line where there is one."""
        return (self.line, self.extension) if self.extension else (self.line,)


def dimensions(shot: Shot, ground: Ground, ball: str | None = None) -> tuple[Dimension, ...]:
    """From the nearer side cushion and the nearer end cushion to a ball, else the white.

    The two are chosen together: for each side of the ball on which the first may be drawn the
    second is looked for, and the pair that covers least is taken.
    """
    ball = ball or story.cue_ball(shot)
    at, radius = story.start(shot, ball), story.radius(shot, ball)
    if not ground.page.window.holds(at):
        return ()
    across, up = (_Measured(at, radius, axis, ground.page) for axis in _axes(shot, at))
    best: tuple[float, _Option | None, _Option | None] = (inf, None, None)
    for least, side in [*_sides(across, ground), (COST_MISSING, None)]:
        if least >= best[0]:
            break
        first = None if side is None else _on_side(across, side, ground)
        cost = first.cost if first else COST_MISSING
        if cost < best[0]:
            second = _best(up, ground if first is None else _with(first, ground))
            total = cost + (second.cost if second else COST_MISSING)
            best = min(best, (total, first, second), key=itemgetter(0))
    name = "dimension" if ball == story.cue_ball(shot) else f"dimension-{ball}"
    return tuple(
        _dimension(f"{name}-{measured.axis.cushion}", measured, option)
        for measured, option in zip((across, up), best[1:], strict=True)
        if option is not None
    )


def _dimension(name: str, measured: _Measured, option: _Option) -> Dimension:
    return Dimension(tuple(_marks(name, measured, option)), option.boxes, option.lines)


def _with(option: _Option, ground: Ground) -> Ground:
    """The ground with that dimension on it, its lines a little thicker than they are."""
    near = ground.page.mm(NEAR_LINE)
    lines = (_box_round(*line).grown(near) for line in option.lines)
    return ground.with_more((), (*(box.grown(near) for box in option.boxes), *lines))


def _axes(shot: Shot, at: Point) -> Sequence[_Axis]:
    table = shot.position.table
    near_cushion, right, far_cushion, left = table.words.cushions
    axes = []
    for index, (size, low, high) in enumerate(
        ((table.width, left, right), (table.length, near_cushion, far_cushion))
    ):
        far = size * story.MILLIMETRES
        axes.append(_Axis(index, low, 0.0) if at[index] <= far / 2 else _Axis(index, high, far))
    return axes


def _lines(
    measured: _Measured, side: int
) -> tuple[tuple[Point, Point], tuple[Point, Point] | None]:
    """The dimension line from the cushion to the ball, and its extension line beside the ball."""
    axis, page, radius = measured.axis, measured.page, measured.radius
    centre, across = measured.at[axis.index], measured.at[1 - axis.index]
    beside = across + side * (radius + page.mm(OFFSET))
    towards = 1 if axis.nose > centre else -1
    start = centre if side else centre + towards * (radius + page.mm(GAP + TICK))
    low, high = measured.ends
    edge = min(max(axis.nose, low + page.mm(EDGE_GAP)), high - page.mm(EDGE_GAP))
    end = axis.nose if measured.is_seen else edge
    line = (axis.point(end, beside), axis.point(start, beside))
    if not side:
        return line, None
    reach, past = across + side * (radius + page.mm(GAP)), beside + side * page.mm(OVERRUN)
    return line, (axis.point(centre, reach), axis.point(centre, past))


def _boxes(
    measured: _Measured,
    line: tuple[Point, Point],
    side: int,
    words: tuple[str, ...],
    slide: float,
) -> tuple[Box, ...]:
    """On both sides of a level line, beside an upright one; past the ball where it is too short."""
    page = measured.page
    x, y = (line[0][axis] + slide * (line[1][axis] - line[0][axis]) for axis in (0, 1))
    sizes = [words_box(one, (0.0, 0.0), Size.SMALL, False, page) for one in words]
    widest, row = max(size.width for size in sizes), page.mm(HALF_ROW)
    rows = (row, -row) if len(words) > 1 else (0.0,)
    if measured.axis.index == 0:
        if abs(line[1][0] - line[0][0]) >= widest:
            gap = page.mm(WORDS_GAP)
            return tuple(
                _moved(size, x, y + up) for size, up in zip(sizes, (gap, -gap), strict=False)
            )
        away = 1 if line[1][0] > line[0][0] else -1
        near = line[1][0] + away * page.mm(WORDS_GAP)
    else:
        away, near = side, x + side * page.mm(SIDE_GAP)
    return tuple(
        _moved(size, near + away * size.width / 2, y + up)
        for size, up in zip(sizes, rows, strict=True)
    )


def _moved(box: Box, x: float, y: float) -> Box:
    return Box(box.left + x, box.bottom + y, box.right + x, box.top + y)


def _sides(measured: _Measured, ground: Ground) -> list[tuple[float, int]]:
    """The sides of the ball on which its lines have room, with their cost, the best first."""
    costs = ((_line_cost(*_lines(measured, side), ground), side) for side in (-1, 1, 0))
    return sorted((one for one in costs if one[0] < inf), key=itemgetter(0))


def _best(measured: _Measured, ground: Ground) -> _Option | None:
    """The best way of drawing it, if there is room at all."""
    best: _Option | None = None
    for least, side in _sides(measured, ground):
        if best is not None and least >= best.cost:
            break
        option = _on_side(measured, side, ground)
        if option is not None and (best is None or option.cost < best.cost):
            best = option
    return best


def _on_side(measured: _Measured, side: int, ground: Ground) -> _Option | None:
    line, extension = _lines(measured, side)
    line_cost, best = _line_cost(line, extension, ground), None
    for own, slide, with_edge in _WAYS:
        if best is not None and line_cost + own >= best.cost:
            break
        words = measured.words(with_edge)
        boxes = _boxes(measured, line, side or 1, words, slide)
        shown = [ground.box_pixels(box) for box in boxes]
        if all(ground.is_free(box) for box in shown):
            cost = line_cost + own + sum(ground.line_in(box) for box in shown)
            if best is None or cost < best.cost:
                best = _Option(line, extension, words, boxes, cost)
    return best


def _line_cost(
    line: tuple[Point, Point], extension: tuple[Point, Point] | None, ground: Ground
) -> float:
    """Of balls and lines crossed, and lines that it can't be told from; none through words."""
    start, end = (ground.pixels(point) for point in line)
    window = Box(0.0, 0.0, ground.width, ground.height)
    if not (window.holds(start) and window.holds(end)):
        return inf
    if any(length_inside(start, end, words) > 0 for words in ground.taken):
        return inf
    thick = _box_round(start, end).grown(NEAR_LINE)
    cost = COST_FROM_EDGE * (extension is None) + COST_HIDDEN * ground.line_in(thick)
    if extension is not None:
        beside = _box_round(*(ground.pixels(point) for point in extension)).grown(NEAR_LINE)
        cost += COST_HIDDEN * ground.line_in(beside)
    return cost + COST_BALL * ground.balls_on(_box_round(start, end))


def _box_round(start: Point, end: Point) -> Box:
    """The upright rectangle with these two corners."""
    across, up = sorted((start[0], end[0])), sorted((start[1], end[1]))
    return Box(across[0], up[0], across[1], up[1])


def _marks(name: str, measured: _Measured, option: _Option) -> Iterator[Mark]:
    page, line = measured.page, option.line
    yield _line(f"{name}-line", *line)
    if option.extension:
        yield _line(f"{name}-extension", *option.extension)
    yield _tick(f"{name}-tick-ball", line[1], page)
    if measured.is_seen:
        yield _tick(f"{name}-tick-cushion", line[0], page)
    else:
        yield _arrow(name, measured.axis, line, page)
    for number, (words, box) in enumerate(zip(option.words, option.boxes, strict=True)):
        ident, role = (f"{name}-edge", Role.NOTE) if number else (f"{name}-words", Role.LABEL)
        at = (box.centre[0], baseline(box, Size.SMALL, page))
        yield Text(ident, Layer.LABELS, role, at, words, Size.SMALL, Anchor.MIDDLE)


def _line(name: str, start: Point, end: Point) -> Line:
    return Line(name, Layer.DIMENSIONS, Role.DIMENSION, start, end)


def _tick(name: str, at: Point, page: Page) -> Line:
    arm = page.mm(TICK)
    ends = (at[0] - arm, at[1] - arm), (at[0] + arm, at[1] + arm)
    return Line(name, Layer.DIMENSIONS, Role.TICK, *ends)


def _arrow(name: str, axis: _Axis, line: tuple[Point, Point], page: Page) -> Polyline:
    tip, tail = line[0][axis.index], line[1][axis.index]
    back = page.mm(ARROW) * (1 if tail > tip else -1)
    beside, half = line[0][1 - axis.index], page.mm(ARROW / 2)
    ends = ((tip + back, beside - half), (tip, beside), (tip + back, beside + half))
    points = tuple(axis.point(*end) for end in ends)
    return Polyline(f"{name}-arrow", Layer.DIMENSIONS, Role.DIMENSION, points)
