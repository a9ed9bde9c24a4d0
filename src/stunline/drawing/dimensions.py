"""The white's distances from its two nearest cushions, as a fitter's dimensions.

Each is drawn beside the white with an extension line, or straight from its edge where that is
clearer, with oblique ticks at its ends and the figure in millimetres, always to the centre.
Where the cushion lies outside the window the line runs to the window's edge and ends in an
open arrowhead, and the words name the cushion.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.drawing import story
from stunline.drawing.ground import Obstacles
from stunline.drawing.labels import baseline, cross, length_inside, words_box
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

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

OFFSET = 26.0  # of the dimension line from the ball's edge [px]
TICK = 4.0  # half an oblique tick, each way [px]
OVERRUN = 4.0  # of the extension line past the dimension line [px]
GAP = 3.0  # between the ball and its extension line [px]
WORDS_GAP = 9.0  # between the dimension line and the middle of the words beside it [px]
EDGE_GAP = 5.0  # between an arrowhead and the window's edge [px]
ARROW = 6.0  # length of the open arrowhead [px]
COST_FROM_EDGE = 8.0  # for a line from the ball's edge, though the figure is to its centre
NEAR_LINE = 3.0  # an extension line this near to another line cannot be told from it [px]
COST_BALL = 60.0  # for a dimension line through a ball, in px of line covered by words
COST_OUTSIDE = 1e3  # for words or a line outside the window


@dataclass(frozen=True, slots=True)
class Dimension:
    """One dimension with the rectangle of its words and its lines; see the file's head."""

    marks: tuple[Mark, ...]
    words: Box
    line: tuple[Point, Point]
    extension: tuple[Point, Point] | None


@dataclass(frozen=True, slots=True)
class _Axis:
    """A direction of measuring: across the table (0) or up it (1), towards one cushion."""

    index: int
    cushion: str
    nose: float  # its coordinate [mm]

    def point(self, along: float, beside: float) -> Point:
        return (along, beside) if self.index == 0 else (beside, along)


def dimensions(shot: Shot, page: Page, obstacles: Obstacles) -> tuple[Dimension, ...]:
    """From the nearer side cushion and the nearer end cushion to the white's centre."""
    chosen: list[Dimension] = []
    for axis in _axes(shot):
        options = [_dimension(shot, page, axis, side) for side in (-1, 0, 1)]
        taken = Obstacles(
            obstacles.balls,
            obstacles.segments + tuple(other.line for other in chosen),
            obstacles.taken + tuple(other.words for other in chosen),
        )
        chosen.append(min(options, key=lambda option: _cost(option, taken, page)))
    return tuple(chosen)


def _axes(shot: Shot) -> Sequence[_Axis]:
    table = shot.position.table
    at = story.start(shot, story.cue_ball(shot))
    axes = []
    for index, (size, low, high) in enumerate(
        ((table.width, "left", "right"), (table.length, "baulk", "top"))
    ):
        far = size * story.MILLIMETRES
        axes.append(_Axis(index, low, 0.0) if at[index] <= far / 2 else _Axis(index, high, far))
    return axes


def _dimension(shot: Shot, page: Page, axis: _Axis, side: int) -> Dimension:
    white = story.cue_ball(shot)
    at, radius = story.start(shot, white), story.radius(shot, white)
    centre, beside = at[axis.index], at[1 - axis.index] + side * (radius + page.mm(OFFSET))
    towards = 1 if axis.nose > centre else -1
    start = centre if side else centre + towards * (radius + page.mm(GAP + TICK))
    window = page.window
    low, high = (window.left, window.right) if axis.index == 0 else (window.bottom, window.top)
    edge = min(max(axis.nose, low + page.mm(EDGE_GAP)), high - page.mm(EDGE_GAP))
    is_seen = low <= axis.nose <= high
    end = axis.nose if is_seen else edge
    words = f"{abs(centre - axis.nose):.0f}"
    if not is_seen:
        words += f" to {axis.cushion} cushion"
    line = (axis.point(end, beside), axis.point(start, beside))
    name = f"dimension-{axis.cushion}"
    reach = at[1 - axis.index] + side * (radius + page.mm(GAP))
    past = beside + side * page.mm(OVERRUN)
    box = _words_box(words, line, axis, side or 1, page)
    extension = (axis.point(centre, reach), axis.point(centre, past)) if side else None
    marks: list[Mark] = [
        _line(f"{name}-line", *line),
        *([_line(f"{name}-extension", *extension)] if extension else []),
        _tick(f"{name}-tick-ball", line[1], page),
        _tick(f"{name}-tick-cushion", line[0], page) if is_seen else _arrow(name, axis, line, page),
        _words(name, words, box, page),
    ]
    return Dimension(tuple(marks), box, line, extension)


def _words_box(words: str, line: tuple[Point, Point], axis: _Axis, side: int, page: Page) -> Box:
    """Above a level line, beside an upright one; past the ball where the line is too short."""
    middle = ((line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2)
    size = words_box(words, (0.0, 0.0), Size.SMALL, False, page)
    if axis.index == 0:
        if abs(line[1][0] - line[0][0]) < size.width:
            away = 1 if line[1][0] > line[0][0] else -1
            beyond = line[1][0] + away * (size.width / 2 + page.mm(WORDS_GAP))
            return words_box(words, (beyond, line[1][1]), Size.SMALL, False, page)
        up = middle[1] + page.mm(WORDS_GAP)
        return words_box(words, (middle[0], up), Size.SMALL, False, page)
    across = middle[0] + side * (size.width / 2 + page.mm(WORDS_GAP - 3))
    return words_box(words, (across, middle[1]), Size.SMALL, False, page)


def _words(name: str, words: str, box: Box, page: Page) -> Text:
    return Text(
        f"{name}-words",
        Layer.LABELS,
        Role.LABEL,
        (box.centre[0], baseline(box, Size.SMALL, page)),
        words,
        Size.SMALL,
        Anchor.MIDDLE,
    )


def _line(name: str, start: Point, end: Point) -> Line:
    return Line(name, Layer.DIMENSIONS, Role.DIMENSION, start, end)


def _tick(name: str, at: Point, page: Page) -> Line:
    arm = page.mm(TICK)
    return Line(
        name,
        Layer.DIMENSIONS,
        Role.TICK,
        (at[0] - arm, at[1] - arm),
        (at[0] + arm, at[1] + arm),
    )


def _arrow(name: str, axis: _Axis, line: tuple[Point, Point], page: Page) -> Polyline:
    tip, tail = line[0][axis.index], line[1][axis.index]
    back = page.mm(ARROW) * (1 if tail > tip else -1)
    beside, half = line[0][1 - axis.index], page.mm(ARROW / 2)
    return Polyline(
        f"{name}-arrow",
        Layer.DIMENSIONS,
        Role.DIMENSION,
        tuple(
            axis.point(*end)
            for end in ((tip + back, beside - half), (tip, beside), (tip + back, beside + half))
        ),
    )


def box_round(start: Point, end: Point) -> Box:
    """The upright rectangle with these two corners. [mm]"""
    across, up = sorted((start[0], end[0])), sorted((start[1], end[1]))
    return Box(across[0], up[0], across[1], up[1])


def _cost(option: Dimension, obstacles: Obstacles, page: Page) -> float:
    cost = 0.0 if page.window.contains(option.words) else COST_OUTSIDE
    if option.extension is None:
        cost += COST_FROM_EDGE
        covered = option.line
    else:
        covered = option.extension
    thick = box_round(*covered).grown(page.mm(NEAR_LINE))
    cost += sum(length_inside(*segment, thick) for segment in obstacles.segments) * page.scale
    for centre, radius in obstacles.balls:
        ball = Box(centre[0], centre[1], centre[0], centre[1]).grown(radius)
        if option.words.overlap(ball) > 0 or length_inside(*option.line, ball) > 0:
            cost += COST_BALL
    for segment in obstacles.segments:
        cost += length_inside(*segment, option.words) * page.scale
        cost += COST_BALL / 2 * cross(*segment, *option.line)
    cost += sum(COST_OUTSIDE for taken in obstacles.taken if taken.overlap(option.words) > 0)
    return cost
