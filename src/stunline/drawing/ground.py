"""The window's ground as a grid of small cells: how much line lies in a rectangle, at once.

Lines are sampled into the cells and summed from the bottom left corner, so that the length of
line in any rectangle is four look-ups, whatever the number of lines: a plan asks for it
thousands of times. Balls and words are few and are kept exactly, as arrays.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.drawing.marks import Box, Point
from stunline.drawing.page import Page

CELL = 5.0  # side of a cell; lines are told apart from words to half of it [px]
RING_SAMPLES = 48  # points of a ring's outline
SAMPLE = 2.0  # lines are sampled at about this distance [px]

Floats = NDArray[np.float64]
Disc = tuple[Point, float]
Segment = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Obstacles:
    """What words should keep off.

    Attributes:
        balls: centre and radius; words never lie on one [mm]
        segments: straight pieces of lines [mm]
        taken: rectangles of other words, which are never covered either [mm]
        rings: centre and radius of what only marks a place [mm]
    """

    balls: tuple[Disc, ...] = ()
    segments: tuple[Segment, ...] = ()
    taken: tuple[Box, ...] = ()
    rings: tuple[Disc, ...] = ()


@dataclass(frozen=True, slots=True)
class Boxes:
    """Many rectangles, each side an array of the same shape. [px from the bottom left corner]"""

    left: Floats
    bottom: Floats
    right: Floats
    top: Floats


class Ground:
    """Obstacles in the window, in pixels from its bottom left corner, `y` up.

    Attributes:
        width, height: of the window [px]
        balls, rings: rows of x, y, radius [px]
        segments: rows of x, y of the start, x, y of the end [px]
        taken: rectangles of words [px]
        cells: length of line in each cell, rows from the bottom [px]
    """

    def __init__(self, obstacles: Obstacles, page: Page) -> None:
        self.page, self._origin = page, (page.window.left, page.window.bottom)
        self.width, self.height = page.window.width * page.scale, page.window.height * page.scale
        self.balls = self._discs(obstacles.balls)
        self.rings = self._discs(obstacles.rings)
        self.segments = self._lines(obstacles.segments)
        self.taken = tuple(self.box_pixels(box) for box in obstacles.taken)
        self.cells = self._line_cells(self.segments) + self._ring_cells()
        self._sums = summed(self.cells)
        self._ball_rows = self.balls.tolist()

    def with_more(self, segments: Sequence[Segment], taken: Sequence[Box]) -> Ground:
        """The ground with further lines and words on it. [mm]"""
        more = copy(self)
        more.taken = self.taken + tuple(self.box_pixels(box) for box in taken)
        added = self._lines(segments) if segments else self.segments[:0]
        if len(added):
            more.segments = np.concatenate((self.segments, added))
            more.cells = self.cells + self._line_cells(added)
            more._sums = summed(more.cells)
        return more

    def pixels(self, point: Point) -> Point:
        """A place on the table. [px]"""
        return (point[0] - self._origin[0]) * self.page.scale, (
            point[1] - self._origin[1]
        ) * self.page.scale

    def place(self, pixels: Point) -> Point:
        """A place in pixels on the table. [mm]"""
        return self._origin[0] + pixels[0] / self.page.scale, self._origin[1] + pixels[
            1
        ] / self.page.scale

    def box_pixels(self, box: Box) -> Box:
        """A rectangle on the table. [px]"""
        return Box(
            *self.pixels((box.left, box.bottom)),
            *self.pixels((box.right, box.top)),
        )

    def millimetres(self, box: Box) -> Box:
        """A rectangle in pixels on the table. [mm]"""
        return Box(*self.place((box.left, box.bottom)), *self.place((box.right, box.top)))

    def line_inside(self, boxes: Boxes) -> Floats:
        """How much line lies in each rectangle. [px]"""
        rows, columns = self._sums.shape[0] - 1, self._sums.shape[1] - 1
        left, right = (_cells(side, columns) for side in (boxes.left, boxes.right))
        bottom, top = (_cells(side, rows) for side in (boxes.bottom, boxes.top))
        sums = self._sums
        return sums[top, right] - sums[bottom, right] - sums[top, left] + sums[bottom, left]

    def line_in(self, box: Box) -> float:
        """How much line lies in one rectangle. [px; the box in px]"""
        rows, columns = self._sums.shape[0] - 1, self._sums.shape[1] - 1
        left, right = (min(max(round(x / CELL), 0), columns) for x in (box.left, box.right))
        bottom, top = (min(max(round(y / CELL), 0), rows) for y in (box.bottom, box.top))
        sums = self._sums
        return float(sums[top, right] - sums[bottom, right] - sums[top, left] + sums[bottom, left])

    def is_free(self, box: Box) -> bool:
        """Whether a rectangle lies in the window, on no ball and on no words. [px]"""
        inside = box.left >= 0 and box.bottom >= 0
        inside = inside and box.right <= self.width and box.top <= self.height
        return (
            inside and not any(meet(box, words) for words in self.taken) and not self.balls_on(box)
        )

    def balls_on(self, box: Box) -> int:
        """How many balls a rectangle lies on. [px]"""
        left, bottom, right, top = box.left, box.bottom, box.right, box.top
        count = 0
        for x, y, radius in self._ball_rows:
            # The first two tell of nearly all.
            if right > x - radius and left < x + radius:
                across, up = max(left - x, x - right, 0.0), max(bottom - y, y - top, 0.0)
                count += across * across + up * up < radius * radius
        return count

    def crossings(self, start: Point, end: Point) -> int:
        """How many lines a straight line between two places crosses. [px]"""
        if not len(self.segments):
            return 0
        x1, y1, x2, y2 = self.segments.T
        (ax, ay), (bx, by) = start, end
        one = (bx - ax) * (y1 - ay) - (by - ay) * (x1 - ax)
        two = (bx - ax) * (y2 - ay) - (by - ay) * (x2 - ax)
        three = (x2 - x1) * (ay - y1) - (y2 - y1) * (ax - x1)
        four = (x2 - x1) * (by - y1) - (y2 - y1) * (bx - x1)
        return int(np.count_nonzero((one * two < 0) & (three * four < 0)))

    def _line_cells(self, segments: Floats) -> Floats:
        x1, y1, x2, y2 = segments.T
        lengths = np.hypot(x2 - x1, y2 - y1)
        counts = np.maximum(np.ceil(lengths / SAMPLE), 1.0).astype(np.int64)
        which = np.repeat(np.arange(len(counts)), counts)
        part = (np.arange(len(which)) - (np.cumsum(counts) - counts)[which] + 0.5) / counts[which]
        x, y = x1[which] + part * (x2 - x1)[which], y1[which] + part * (y2 - y1)[which]
        return self._filled(x, y, (lengths / counts)[which])

    def _ring_cells(self) -> Floats:
        """The rings' outlines: words may cross them as they may lines."""
        x, y, radius = (part[:, np.newaxis] for part in self.rings.T)
        angles = np.linspace(0.0, 2 * np.pi, RING_SAMPLES, endpoint=False)
        shape = (len(self.rings), RING_SAMPLES)
        across, up = x + radius * np.cos(angles), y + radius * np.sin(angles)
        weights = np.broadcast_to(2 * np.pi / RING_SAMPLES * radius, shape)
        return self._filled(across.ravel(), up.ravel(), weights.ravel())

    def _filled(self, x: Floats, y: Floats, weights: Floats) -> Floats:
        """The weights of points summed in the cells that they lie in."""
        rows, columns = grid_shape(self.width, self.height)
        column, row = np.floor(x / CELL).astype(np.int64), np.floor(y / CELL).astype(np.int64)
        seen = (column >= 0) & (column < columns) & (row >= 0) & (row < rows)
        filled = np.bincount((row * columns + column)[seen], weights[seen], rows * columns)
        return np.asarray(filled, dtype=np.float64).reshape(rows, columns)

    def _discs(self, discs: Sequence[Disc]) -> Floats:
        """Those that reach into the window."""
        rows = [(*self.pixels(centre), radius * self.page.scale) for centre, radius in discs]
        return np.array(
            [
                (x, y, radius)
                for x, y, radius in rows
                if -radius < x < self.width + radius and -radius < y < self.height + radius
            ]
        ).reshape(-1, 3)

    def _lines(self, segments: Sequence[Segment]) -> Floats:
        """Those that may pass through the window."""
        flat = np.array(segments, dtype=np.float64).reshape(-1, 4)
        flat = (flat - np.array([*self._origin, *self._origin])) * self.page.scale
        x1, y1, x2, y2 = flat.T
        seen = (np.maximum(x1, x2) > 0) & (np.minimum(x1, x2) < self.width)
        seen &= (np.maximum(y1, y2) > 0) & (np.minimum(y1, y2) < self.height)
        return np.asarray(flat[seen])


def grid_shape(width: float, height: float) -> tuple[int, int]:
    """Rows and columns of cells that cover a window. [px]"""
    return int(height / CELL) + 1, int(width / CELL) + 1


def summed(cells: Floats) -> Floats:
    """Sums over the cells below and left of each corner of a cell."""
    sums = np.zeros((cells.shape[0] + 1, cells.shape[1] + 1))
    np.cumsum(cells, axis=0, out=sums[1:, 1:])
    np.cumsum(sums[1:, 1:], axis=1, out=sums[1:, 1:])
    return sums


def touches(boxes: Boxes, discs: Floats) -> NDArray[np.bool_]:
    """Whether each rectangle lies on any of the discs."""
    shape = boxes.left.shape
    if not len(discs):
        return np.zeros(shape, dtype=np.bool_)
    flat = [side.reshape(-1, 1) for side in (boxes.left, boxes.bottom, boxes.right, boxes.top)]
    x, y, radius = discs.T
    across = np.maximum(np.maximum(flat[0] - x, x - flat[2]), 0.0)
    up = np.maximum(np.maximum(flat[1] - y, y - flat[3]), 0.0)
    hit = across * across + up * up < radius * radius
    return np.asarray(hit.any(axis=1).reshape(shape))


def meet(one: Box, two: Box) -> bool:
    """Whether two rectangles share more than an edge."""
    return (
        one.left < two.right
        and two.left < one.right
        and one.bottom < two.top
        and two.bottom < one.top
    )


def _cells(side: Floats, most: int) -> NDArray[np.int64]:
    """The corner of a cell nearest to each place. [px]"""
    return np.clip(np.rint(side / CELL), 0, most).astype(np.int64)
