"""What a batch is to measure of the white's way besides its read-outs: near which balls, and
through which gaps, it passes, and over which places."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.contact_distances import ball_contact_distance
from stunline.equipment.model import Point
from stunline.mechanics import layout
from stunline.shot.goal import Gap
from stunline.shot.position import Position

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Raster:
    """Square cells over the bed, from its bottom left corner on.

    Attributes:
        cell: side of one [m]
        columns, rows: how many
        most: cells of one way that are kept
    """

    cell: float
    columns: int
    rows: int
    most: int = 768

    @property
    def cells(self) -> int:
        """How many; cell k is in row k // columns."""
        return self.columns * self.rows

    def middles(self) -> Floats:
        """(cells, 2) [m]"""
        across = (np.arange(self.columns) + 0.5) * self.cell
        up = (np.arange(self.rows) + 0.5) * self.cell
        return np.stack([np.tile(across, self.rows), np.repeat(up, self.columns)], axis=1)

    def cells_at(self, places: Floats) -> Ints:
        """(N,) cells of places (N, 2); −1 for NaN and outside."""
        inside = ~np.isnan(places[:, 0]) & ~np.isnan(places[:, 1])
        at = np.floor(np.where(inside[:, None], places, -1.0) / self.cell).astype(np.int64)
        inside = (at >= 0).all(axis=1) & (at[:, 0] < self.columns) & (at[:, 1] < self.rows)
        return np.where(inside, at[:, 1] * self.columns + at[:, 0], -1)


@dataclass(frozen=True, slots=True)
class Watch:
    """Measured from the white's first contact on.

    Attributes:
        near: balls; how near to their places before the strike the white's centre comes
        gaps: between two balls, as they lie by then, or spots; how much room the white has
        raster: the cells that the white's centre passes, up to its next meeting with a ball
        points: how near to these the white's centre comes on its whole way, from the strike [m]
    """

    near: tuple[str, ...] = ()
    gaps: tuple[Gap, ...] = ()
    raster: Raster | None = None
    points: tuple[Point, ...] = ()

    def arrays(self, position: Position) -> tuple[Ints, Floats, Ints, Floats, Floats]:
        """(M,) balls, (P, 2) points, (G, 2) posts' balls, (G, GAP_COLUMNS) posts and
        (RASTER_LENGTH,) the raster, as ``play_many`` has them."""
        names = position.names
        near = np.array([names.index(name) for name in self.near], dtype=np.int64)
        posts = [[_post(position, name) for name in gap.between] for gap in self.gaps]
        balls = np.array([[ball for ball, _ in two] for two in posts], dtype=np.int64)
        places = np.array([[place for _, place in two] for two in posts], dtype=np.float64)
        raster: Floats = np.zeros(layout.RASTER_LENGTH)
        if self.raster is not None:
            raster[:] = self.raster.cell, self.raster.columns, self.raster.rows
        posts_of = (balls.reshape(-1, layout.GAP_BALLS), places.reshape(-1, layout.GAP_COLUMNS))
        points = np.array(self.points, dtype=np.float64).reshape(-1, 2)
        return near, points, *posts_of, raster


def _post(position: Position, name: str) -> tuple[int, tuple[float, float, float]]:
    """One side of a gap: the ball's number or −1, its place, and the white's distance when it
    just touches it."""
    white = position.radius(position.names[0])
    if name in position.balls:
        apart = ball_contact_distance(white, position.radius(name))
        return position.names.index(name), (*position.balls[name], apart)
    return -1, (*position.table.spots[name], white)
