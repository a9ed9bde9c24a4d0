"""From resting places at the nodes of a lattice to strikes for the cells between them.

Each patch between neighbouring nodes is taken as flat: three nodes span a triangle of the table,
or two a stretch of it where only one number varies. A cell whose middle lies in it gets the
strike in between, and the slope that corrects it once it has been played.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stunline.shot.batch_watch import Raster

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

# Wider patches are not flat; between runs that met other things only narrower ones. [m]
_WIDEST, _WIDEST_UNLIKE = 0.9, 0.3
_THINNEST = 1e-9  # twice the area of a triangle below which it has none [m²]
_ON_EDGE = 1e-9


@dataclass(frozen=True, slots=True)
class Played:
    """Nodes of a lattice after their plays.

    Attributes:
        points: (S, A, B, 3) as in ``Lattice.nodes``
        rests: (S, A, B, 2), NaN where the strike does not do [m]
        follow: (S, A, B) ratios on arrival [-]
        met: (S, A, B) a number for what the run met
        meets: (S, A, B) whether the white met a ball besides its first
    """

    points: Floats
    rests: Floats
    follow: Floats
    met: Ints
    meets: Flags


@dataclass(frozen=True, slots=True)
class Candidates:
    """Strikes that should bring the white into cells.

    Attributes:
        cells: (K,)
        points: (K, 3)
        follow: (K,)
        meets: (K,) whether the white should meet a ball besides its first
        slopes: (K, 3, 2) change of the point for a change of the resting place
    """

    cells: Ints
    points: Floats
    follow: Floats
    meets: Flags
    slopes: Floats

    def at(self, chosen: Ints) -> Candidates:
        """Some of them."""
        return Candidates(
            self.cells[chosen],
            self.points[chosen],
            self.follow[chosen],
            self.meets[chosen],
            self.slopes[chosen],
        )

    def moved_to(self, points: Floats) -> Candidates:
        """The same with other strikes."""
        return replace(self, points=points)


def candidates(played: Played, raster: Raster) -> Candidates:
    """For every cell, a strike from each patch that its middle lies in."""
    _, along, across = played.follow.shape
    if along > 1 and across > 1:
        return _of_triangles(played, raster)
    return _of_stretches(played, raster)


def _of_triangles(played: Played, raster: Raster) -> Candidates:
    corners = _triangles(played.follow.shape)
    rests = played.rests.reshape(-1, 2)[corners]
    corners, rests = _usable(corners, rests, played.met)
    first, one, two = rests[:, 0], rests[:, 1] - rests[:, 0], rests[:, 2] - rests[:, 0]
    area = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    wide = np.flatnonzero(np.abs(area) > _THINNEST)
    corners, rests, area = corners[wide], rests[wide], area[wide]
    first, one, two = first[wide], one[wide], two[wide]
    number, cells = _cells_in_boxes(rests, raster)
    off = raster.middles()[cells] - first[number]
    # Shares of the second and third corner, by Cramer's rule.
    second = (off[:, 0] * two[number, 1] - off[:, 1] * two[number, 0]) / area[number]
    third = (one[number, 0] * off[:, 1] - one[number, 1] * off[:, 0]) / area[number]
    inside = (second >= -_ON_EDGE) & (third >= -_ON_EDGE) & (second + third <= 1.0 + _ON_EDGE)
    number, cells, second, third = (part[inside] for part in (number, cells, second, third))
    points = played.points.reshape(-1, 3)[corners]
    follow = played.follow.ravel()[corners][number]
    by_one, by_two = points[:, 1] - points[:, 0], points[:, 2] - points[:, 0]
    inverse = np.stack(
        [np.stack([two[:, 1], -two[:, 0]], 1), np.stack([-one[:, 1], one[:, 0]], 1)], 1
    )
    inverse /= area[:, None, None]
    slopes = by_one[:, :, None] * inverse[:, None, 0] + by_two[:, :, None] * inverse[:, None, 1]
    found = points[number, 0] + second[:, None] * by_one[number] + third[:, None] * by_two[number]
    shares = np.stack([1.0 - second - third, second, third], axis=1)
    meets = played.meets.ravel()[corners].max(axis=1)[number]
    return Candidates(cells, found, (shares * follow).sum(axis=1), meets, slopes[number])


def _triangles(shape: tuple[int, ...]) -> Ints:
    """(T, 3) corners of both halves of every square of the lattice."""
    numbers = np.arange(np.prod(shape)).reshape(shape)
    a, b = numbers[:, :-1, :-1].ravel(), numbers[:, 1:, :-1].ravel()
    c, d = numbers[:, :-1, 1:].ravel(), numbers[:, 1:, 1:].ravel()
    return np.concatenate([np.stack([a, b, c], axis=1), np.stack([d, c, b], axis=1)])


def _usable(corners: Ints, rests: Floats, met: Ints) -> tuple[Ints, Floats]:
    """The patches whose strikes all do, and that are not too wide."""
    span = np.nan_to_num(np.ptp(rests, axis=1), nan=np.inf).max(axis=1)
    kinds = met.ravel()[corners]
    alike = (kinds == kinds[:, :1]).all(axis=1)
    usable = span <= np.where(alike, _WIDEST, _WIDEST_UNLIKE)
    return corners[usable], rests[usable]


def _cells_in_boxes(rests: Floats, raster: Raster) -> tuple[Ints, Ints]:
    """Every cell whose middle may lie in a triangle, with the triangle's number."""
    most = np.array([raster.columns, raster.rows]) - 1
    low = np.clip(np.ceil(rests.min(axis=1) / raster.cell - 0.5).astype(np.int64), 0, most)
    high = np.clip(np.floor(rests.max(axis=1) / raster.cell - 0.5).astype(np.int64), -1, most)
    wide, tall = np.maximum(high - low + 1, 0).T
    number = np.repeat(np.arange(len(rests)), wide * tall)
    begin = np.cumsum(wide * tall) - wide * tall
    within = np.arange(len(number)) - begin[number]
    column = low[number, 0] + within % np.maximum(wide[number], 1)
    row = low[number, 1] + within // np.maximum(wide[number], 1)
    return number, row * raster.columns + column


def _of_stretches(played: Played, raster: Raster) -> Candidates:
    """Where one number varies alone: cells along the line from node to node."""
    numbers = np.arange(played.follow.size).reshape(played.follow.shape[0], -1)
    ends = np.stack([numbers[:, :-1].ravel(), numbers[:, 1:].ravel()], axis=1)
    ends, rests = _usable(ends, played.rests.reshape(-1, 2)[ends], played.met)
    way = rests[:, 1] - rests[:, 0]
    lengths = np.hypot(*way.T)
    looks = 1 + (4.0 * lengths / raster.cell).astype(np.int64)
    number = np.repeat(np.arange(len(ends)), looks)
    begin = np.cumsum(looks) - looks
    share = (np.arange(len(number)) - begin[number] + 0.5) / looks[number]
    cells = raster.cells_at(rests[number, 0] + share[:, None] * way[number])
    points = played.points.reshape(-1, 3)[ends]
    follow = played.follow.ravel()[ends][number]
    by_way = points[:, 1] - points[:, 0]
    square = np.maximum(lengths**2, _THINNEST)
    slopes = by_way[:, :, None] * (way / square[:, None])[:, None, :]
    found = points[number, 0] + share[:, None] * by_way[number]
    mixed = (1.0 - share) * follow[:, 0] + share * follow[:, 1]
    on = cells >= 0
    meets = played.meets.ravel()[ends].max(axis=1)[number]
    return Candidates(cells[on], found[on], mixed[on], meets[on], slopes[number][on])


def least_of_each(cells: Ints, demands: Floats, most: int) -> list[Ints]:
    """The least demanding candidate of every cell, then the second least, … as indices."""
    order = np.lexsort((demands, cells))
    sorted_cells = cells[order]
    begin = np.flatnonzero(np.diff(sorted_cells, prepend=-1))
    rank = np.arange(len(order)) - np.repeat(begin, np.diff(np.append(begin, len(order))))
    return [order[rank == k] for k in range(most)]
