"""Places that stand for a region: the middle of each larger part, for labels and a short list."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from stunline.shot.batch_watch import Raster

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

_LEAST_SHARE = 0.02  # of all cells: smaller parts have no place of their own [-]


def middles_of(raster: Raster, kinds: Ints, most: int) -> list[int]:
    """Cells farthest from the edge of their part, one for each part, larger parts first.

    Args:
        kinds: (cells,) a part hangs together and is of one kind; −1 belongs to none
        most: places
    """
    from scipy.ndimage import distance_transform_edt, label

    grid = kinds.reshape(raster.rows, raster.columns)
    found: list[tuple[int, int]] = []
    for kind in np.unique(grid[grid >= 0]):
        parts, count = label(grid == kind)
        deep = distance_transform_edt(np.pad(grid == kind, 1))[1:-1, 1:-1]
        for number in range(1, count + 1):
            part = parts == number
            size = int(part.sum())
            if size >= _LEAST_SHARE * (grid >= 0).sum():
                found.append((size, int(np.where(part, deep, -1.0).argmax())))
    found.sort(key=lambda one: (-one[0], one[1]))
    return [cell for _, cell in found[:most]]


def widest_circle(raster: Raster, inside: Flags) -> tuple[int, float] | None:
    """The cell in the middle of the largest circle within a region, and its radius. [m]

    None when the region is empty. Off the raster counts as outside.
    """
    from scipy.ndimage import distance_transform_edt

    if not inside.any():
        return None
    grid = np.pad(inside.reshape(raster.rows, raster.columns), 1)
    deep = distance_transform_edt(grid)[1:-1, 1:-1]
    cell = int(deep.argmax())
    # From the middle of a cell to the edge of the nearest outside: half a cell less.
    return cell, float((deep.ravel()[cell] - 0.5) * raster.cell)


def without_specks(raster: Raster, kinds: Ints, least: int) -> Ints:
    """The cells with parts of fewer than so many given to what lies nearest, for a picture."""
    from scipy.ndimage import distance_transform_edt, label

    grid = kinds.reshape(raster.rows, raster.columns)
    small = np.zeros(grid.shape, dtype=bool)
    for kind in np.unique(grid):
        parts, _ = label(grid == kind)
        sizes = np.bincount(parts.ravel())
        sizes[0] = least
        small |= sizes[parts] < least
    if small.all():
        return kinds
    nearest = distance_transform_edt(small, return_distances=False, return_indices=True)
    cleared: Ints = grid[tuple(nearest)].ravel()
    return cleared
