"""What a page read back from a PDF is made of: paths, words, boxes. Millimetres, ``y`` up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import atan2, cos, degrees, dist, hypot, sin

import numpy as np

Point = tuple[float, float]
Segment = tuple[Point, ...]  # 2 points: straight; 4: a cubic Bézier curve

MM_PER_POINT = 25.4 / 72.0  # [X] a PDF's unit is 1/72 inch
SAMPLES = 8  # on each curve, to tell whether it is part of a circle
ROUND = 0.02  # a circle's samples lie this near to it [mm]
ASCENT, DESCENT = 0.73, 0.21  # em; of the shipped face, for words that are turned


@dataclass(frozen=True)
class Box:
    """An upright rectangle. [mm]"""

    left: float
    bottom: float
    right: float
    top: float

    def holds(self, point: Point, slack: float = 0.0) -> bool:
        return (
            self.left - slack <= point[0] <= self.right + slack
            and self.bottom - slack <= point[1] <= self.top + slack
        )

    def contains(self, other: Box, slack: float = 0.0) -> bool:
        return self.holds((other.left, other.bottom), slack) and self.holds(
            (other.right, other.top), slack
        )

    def within(self, other: Box) -> Box:
        return Box(
            max(self.left, other.left),
            max(self.bottom, other.bottom),
            min(self.right, other.right),
            min(self.top, other.top),
        )

    def meets(self, other: Box) -> bool:
        """Whether any point is in both."""
        return (
            self.left <= other.right
            and other.left <= self.right
            and self.bottom <= other.top
            and other.bottom <= self.top
        )

    @property
    def corners(self) -> tuple[Point, ...]:
        return (
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
            (self.left, self.top),
        )


@dataclass(frozen=True)
class Round:
    """A circle: [mm]"""

    centre: Point
    radius: float


@dataclass(frozen=True)
class Path:
    """One painted path.

    Attributes:
        subpaths: each a run of segments [mm]
        closed: for each subpath
        stroke, fill: colour components 0–1, ("pattern",), or None when not stroked, not filled
        width: of the line [mm]
        dash: strokes and gaps in turn [mm]; empty when unbroken
        clip: the box of the region it can show in [mm]
    """

    subpaths: tuple[tuple[Segment, ...], ...]
    closed: tuple[bool, ...]
    stroke: tuple[float | str, ...] | None
    fill: tuple[float | str, ...] | None
    width: float
    dash: tuple[float, ...]
    clip: Box

    @cached_property
    def box(self) -> Box:
        """Of its points, the line's width left out."""
        return box_of([p for subpath in self.subpaths for segment in subpath for p in segment])

    @property
    def line(self) -> tuple[Point, Point] | None:
        """Its ends, when it is one straight line."""
        if len(self.subpaths) != 1 or self.closed[0] or len(self.subpaths[0]) != 1:
            return None
        segment = self.subpaths[0][0]
        return (segment[0], segment[1]) if len(segment) == 2 else None

    @cached_property
    def round(self) -> Round | None:
        """The circle that it is, or None."""
        if len(self.subpaths) != 1 or not all(len(s) == 4 for s in self.subpaths[0]):
            return None
        found = fitted_circle(samples(self.subpaths[0]))
        closes = dist(self.subpaths[0][0][0], self.subpaths[0][-1][-1]) < ROUND
        return found if closes and len(self.subpaths[0]) >= 4 else None

    @property
    def points(self) -> list[Point]:
        """Along it, curves included, near enough to follow it. [mm]"""
        return [point for subpath in self.subpaths for point in samples(subpath)]


@dataclass(frozen=True)
class Words:
    """Words that stand on one line.

    Attributes:
        text: as a program extracts them
        box: of the ink [mm]
        size: of the letters [pt]
        angle: of the line they stand on [rad]
        start, end: of the baseline [mm]
    """

    text: str
    box: Box
    size: float
    angle: float
    start: Point
    end: Point

    @property
    def quad(self) -> tuple[Point, ...]:
        """The ink's box; for turned words a turned box over ascent and descent. [mm]"""
        if abs(sin(self.angle)) < 1e-3:
            return self.box.corners
        em = self.size * MM_PER_POINT
        up = (-sin(self.angle) * em, cos(self.angle) * em)
        return (
            _moved(self.start, up, -DESCENT),
            _moved(self.end, up, -DESCENT),
            _moved(self.end, up, ASCENT),
            _moved(self.start, up, ASCENT),
        )


@dataclass(frozen=True)
class Page:
    """One page.

    Attributes:
        width, height: [mm]
        paths: in the order in which they are painted
        words: lines of words
        fonts: name → whether the font's file is in the PDF
        images: how many pixel pictures it paints
        copied: its text as a reader's program would copy it, in reading order
    """

    width: float
    height: float
    paths: tuple[Path, ...]
    words: tuple[Words, ...]
    fonts: dict[str, bool]
    images: int
    copied: str = ""

    @cached_property
    def circles(self) -> list[tuple[Round, Path]]:
        """Every path that is a circle."""
        return [(path.round, path) for path in self.paths if path.round is not None]

    @cached_property
    def lines(self) -> list[tuple[Point, Point, Path]]:
        """Every path that is one straight line."""
        return [(*path.line, path) for path in self.paths if path.line is not None]

    @property
    def text(self) -> str:
        """All its words, a line each."""
        return "\n".join(words.text for words in self.words)

    def ball(self, centre: Point, radius: float, within: float = 0.05) -> Round | None:
        """The circle drawn there with that radius, both to that tolerance."""
        near = [
            one
            for one, _ in self.circles
            if dist(one.centre, centre) <= within and abs(one.radius - radius) <= within
        ]
        return min(near, key=lambda one: dist(one.centre, centre)) if near else None

    def overlapping_words(self, slack: float = 0.0) -> list[tuple[str, str]]:
        """Pairs of words that lie on one another by more than the slack [mm], 0 or more."""
        quads = [one.quad for one in self.words]
        boxes = [box_of(quad) for quad in quads]
        return [
            (one.text, self.words[second].text)
            for first, one in enumerate(self.words)
            for second in range(first + 1, len(quads))
            # Shapes whose upright boxes lie apart lie apart: most pairs by far.
            if boxes[first].meets(boxes[second]) and overlap(quads[first], quads[second]) > slack
        ]

    def words_outside(self, margin: float = 0.0) -> list[str]:
        """Words that reach into the margin or off the page."""
        page = Box(margin, margin, self.width - margin, self.height - margin)
        return [words.text for words in self.words if not page.contains(words.box)]

    def smallest_letters(self) -> float:
        """[pt]"""
        return min(words.size for words in self.words)


def direction(start: Point, end: Point) -> float:
    """Of the line from start to end, anticlockwise from +x. [degrees]"""
    return degrees(atan2(end[1] - start[1], end[0] - start[0]))


def box_of(points: Sequence[Point]) -> Box:
    """The smallest box round the points."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def overlap(one: Sequence[Point], two: Sequence[Point]) -> float:
    """How far two convex shapes must be moved to part them; negative: how far apart. [mm]"""
    depths = []
    for shape in (one, two):
        for first, second in zip(shape, [*shape[1:], shape[0]], strict=True):
            edge = (second[0] - first[0], second[1] - first[1])
            length = hypot(*edge)
            if length == 0:
                continue
            across = (-edge[1] / length, edge[0] / length)
            a, b = (sorted(p[0] * across[0] + p[1] * across[1] for p in s) for s in (one, two))
            depths.append(min(a[-1], b[-1]) - max(a[0], b[0]))
    return min(depths)


def samples(subpath: Sequence[Segment]) -> list[Point]:
    """Points along segments, the ends of each included."""
    found: list[Point] = []
    for segment in subpath:
        if len(segment) == 2:
            found += segment
            continue
        for step in range(SAMPLES + 1):
            t = step / SAMPLES
            weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
            x, y = (
                sum(w * p[axis] for w, p in zip(weights, segment, strict=True)) for axis in (0, 1)
            )
            found.append((x, y))
    return found


def fitted_circle(points: Sequence[Point]) -> Round | None:
    """The circle through the points by least squares, when they all lie on it."""
    array = np.array(points)
    middle = array.mean(axis=0)
    moved = array - middle
    columns = np.column_stack([2 * moved, np.ones(len(moved))])
    (a, b, c), *_ = np.linalg.lstsq(columns, (moved**2).sum(axis=1), rcond=None)
    radius = float(np.sqrt(max(c + a * a + b * b, 0.0)))
    off = np.abs(np.hypot(moved[:, 0] - a, moved[:, 1] - b) - radius)
    if radius == 0 or off.max() > ROUND:
        return None
    return Round((float(middle[0] + a), float(middle[1] + b)), radius)


def _moved(point: Point, along: Point, part: float) -> Point:
    return point[0] + along[0] * part, point[1] + along[1] * part
