"""What a batch is to measure of the white's way besides its read-outs: near which balls, and
through which gaps, it passes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.contact_distances import ball_contact_distance
from stunline.mechanics import layout
from stunline.shot.goal import Gap
from stunline.shot.position import Position

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Watch:
    """Measured from the white's first contact on.

    Attributes:
        near: balls; how near to their places before the strike the white's centre comes
        gaps: between two balls, as they lie by then, or spots; how much room the white has
    """

    near: tuple[str, ...] = ()
    gaps: tuple[Gap, ...] = ()

    def arrays(self, position: Position) -> tuple[Ints, Ints, Floats]:
        """(M,) balls, (G, 2) posts' balls, (G, GAP_COLUMNS) posts, as ``play_many`` has them."""
        names = position.names
        near = np.array([names.index(name) for name in self.near], dtype=np.int64)
        posts = [[_post(position, name) for name in gap.between] for gap in self.gaps]
        balls = np.array([[ball for ball, _ in two] for two in posts], dtype=np.int64)
        places = np.array([[place for _, place in two] for two in posts], dtype=np.float64)
        return near, balls.reshape(-1, layout.GAP_BALLS), places.reshape(-1, layout.GAP_COLUMNS)


def _post(position: Position, name: str) -> tuple[int, tuple[float, float, float]]:
    """One side of a gap: the ball's number or −1, its place, and the white's distance when it
    just touches it."""
    white = position.radius(position.names[0])
    if name in position.balls:
        apart = ball_contact_distance(white, position.radius(name))
        return position.names.index(name), (*position.balls[name], apart)
    return -1, (*position.table.spots[name], white)
