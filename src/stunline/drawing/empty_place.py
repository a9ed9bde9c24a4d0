"""The empty place nearest to a point of the plan that holds a disc with words below it."""

from __future__ import annotations

from itertools import pairwise
from math import ceil, floor, sqrt

import numpy as np
from numpy.typing import NDArray

from stunline.drawing.ground import CELL, Floats, Ground, Obstacles, grid_shape, summed
from stunline.drawing.marks import Box, Point
from stunline.drawing.page import Page

CLEARANCE = 10.0  # between the disc and anything else [px]
BALL_CLEARANCE = 20.0  # more off a ball than off a line: labels stand round balls [px]
STEP = 2  # places tried stand so many cells apart
SLABS = 8  # the disc as so many upright rectangles that cover it


def empty_place(
    near: Point, radius: float, whole: Box, page: Page, obstacles: Obstacles
) -> Point | None:
    """Where the disc's middle may stand so that nothing lies under it or its words.

    The window is a grid of cells, each blocked or free. Sums over the cells below and left of
    every corner tell of all places at once whether a rectangle is free, and a few rectangles
    cover the disc.

    Args:
        near: the point to which the place should be near [mm]
        radius: of the disc [px]
        whole: rectangle round the disc and its words, from the disc's middle [mm]
        page: where it is drawn
        obstacles: what must stay free

    Returns:
        the disc's middle [mm], or None where no place is free
    """
    ground = Ground(obstacles, page)
    sums = summed(_blocked(ground, obstacles))
    around = [side * page.scale for side in (whole.left, whole.bottom, whole.right, whole.top)]
    first_column, first_row = (ceil((CLEARANCE - side) / CELL) for side in around[:2])
    last_column = floor((ground.width - CLEARANCE - around[2]) / CELL)
    last_row = floor((ground.height - CLEARANCE - around[3]) / CELL)
    rows, columns = (
        np.arange(first_row, last_row + 1, STEP),
        np.arange(first_column, last_column + 1, STEP),
    )
    if not len(rows) or not len(columns):
        return None
    lying = [*_slabs(radius + CLEARANCE), _cells_of(around[0], around[1], around[2], -radius)]
    filled = sum(_filled(sums, rows, columns, cells) for cells in lying)
    free = np.argwhere(filled == 0)
    if not len(free):
        return None
    x, y = columns[free[:, 1]] * CELL, rows[free[:, 0]] * CELL
    at = ground.pixels(near)
    nearest = int(np.argmin((x - at[0]) ** 2 + (y - at[1]) ** 2))
    return (
        page.window.left + page.mm(float(x[nearest])),
        page.window.bottom + page.mm(float(y[nearest])),
    )


def _blocked(ground: Ground, obstacles: Obstacles) -> Floats:
    """1 for every cell in which something lies."""
    blocked = (ground.cells > 0).astype(np.float64)
    for x, y, radius in np.concatenate((ground.balls, ground.rings)).tolist():
        reach = radius + BALL_CLEARANCE
        left, bottom, right, top = _clipped(ground, Box(x, y, x, y).grown(reach))
        across = (np.arange(left, right) + 0.5) * CELL - x
        up = (np.arange(bottom, top) + 0.5) * CELL - y
        inside = across[np.newaxis, :] ** 2 + up[:, np.newaxis] ** 2 < reach**2
        blocked[bottom:top, left:right][inside] = 1.0
    for taken in obstacles.taken:
        box = ground.box_pixels(taken).grown(CLEARANCE)
        left, bottom, right, top = _clipped(ground, box)
        blocked[bottom:top, left:right] = 1.0
    return blocked


def _clipped(ground: Ground, box: Box) -> tuple[int, int, int, int]:
    rows, columns = grid_shape(ground.width, ground.height)
    left, bottom, right, top = _cells_of(box.left, box.bottom, box.right, box.top)
    return max(left, 0), max(bottom, 0), min(max(right, 0), columns), min(max(top, 0), rows)


def _cells_of(left: float, bottom: float, right: float, top: float) -> tuple[int, int, int, int]:
    """The cells that a rectangle touches: first column and row, and one past the last."""
    return floor(left / CELL), floor(bottom / CELL), ceil(right / CELL), ceil(top / CELL)


def _slabs(reach: float) -> list[tuple[int, int, int, int]]:
    """Level rectangles of cells that together cover a disc about a cell's corner."""
    high, found = ceil(reach / CELL), []
    edges = [round(-high + 2 * high * number / SLABS) for number in range(SLABS + 1)]
    for low, top in pairwise(edges):
        nearest = 0 if low < 0 < top else min(abs(low), abs(top))
        half = ceil(sqrt(max(reach**2 - (nearest * CELL) ** 2, 0.0)) / CELL)
        found.append((-half, low, half, top))
    return found


def _filled(
    sums: Floats,
    rows: NDArray[np.int64],
    columns: NDArray[np.int64],
    cells: tuple[int, int, int, int],
) -> Floats:
    """How many of those cells, counted from each place, are blocked."""
    left, bottom, right, top = cells
    most_rows, most_columns = sums.shape[0] - 1, sums.shape[1] - 1
    low, high = (np.clip(rows + side, 0, most_rows) for side in (bottom, top))
    first, last = (np.clip(columns + side, 0, most_columns) for side in (left, right))
    upper, lower = sums[high], sums[low]
    return np.asarray(upper[:, last] - lower[:, last] - upper[:, first] + lower[:, first])
