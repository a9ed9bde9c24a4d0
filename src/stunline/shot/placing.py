"""Balls set by hand: each a little off its place, none on another, none off the table."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.contact_distances import ball_contact_distance, nose_contact_distance
from stunline.shot.position import Position

Floats = NDArray[np.float64]

# Balls nearer than this to touching touch, as in a position file. [m]
_TOUCHING = 1e-5
# A rounding that neither overlaps nor leaves the table. [m]
_ROUNDING = 1e-12
# Draws for a body that lies on another or off the table, before it is set together with
# what is in its way. More would only take longer: free directions are found in a few.
_DRAWS = 40


class Placing:
    """Sets the balls of one position off their places, again and again."""

    def __init__(self, position: Position) -> None:
        names = position.names
        self._places = np.array([position.balls[name] for name in names])
        radii = [position.radius(name) for name in names]
        self._apart = np.array(
            [[ball_contact_distance(one, other) for other in radii] for one in radii]
        )
        np.fill_diagonal(self._apart, -1.0)  # no ball is in its own way
        height = position.table.nose_height
        self._reach = np.array([nose_contact_distance(radius, height) for radius in radii])
        self._size = np.array([position.table.width, position.table.length])
        # Balls that overlap by the little that a file may have them do are no conflict.
        self._apart = np.minimum(self._apart, self._distances(self._places))
        self._bodies = self._joined(
            np.arange(len(names)), self._distances(self._places) <= self._apart + _TOUCHING
        )

    def displaced(self, error: float, random: np.random.Generator) -> Floats:
        """Places with each body set off by ``error``, in a direction of its own. (n, 2) [m]

        Bodies that end up on one another or off the table are drawn again; those that still
        do are set together as one body. Where that can't move either, all balls stay.
        """
        bodies = self._bodies
        shifts = np.zeros_like(self._places)
        wrong: NDArray[np.bool_] = np.ones(len(bodies), dtype=np.bool_)
        while True:
            for _ in range(_DRAWS):
                _draw(shifts, bodies, wrong, error, random)
                places: Floats = self._places + shifts
                clash = self._clashes(places)
                wrong[:] = clash.any(axis=1)
                wrong |= self._is_off(places)
                if not wrong.any():
                    return places
            joined = self._joined(bodies, clash)
            if (joined == bodies).all():
                return self._places.copy()  # a body held between opposite cushions
            bodies = joined

    def _distances(self, places: Floats) -> Floats:
        between = places[:, None, :] - places[None, :, :]
        distances: Floats = np.sqrt((between * between).sum(axis=2))
        return distances

    def _clashes(self, places: Floats) -> NDArray[np.bool_]:
        clash: NDArray[np.bool_] = self._distances(places) < self._apart - _ROUNDING
        return clash

    def _is_off(self, places: Floats) -> NDArray[np.bool_]:
        low = self._reach[:, None] - _ROUNDING
        outside = (places < low) | (places > self._size - low)
        off: NDArray[np.bool_] = np.logical_or.reduce(outside, axis=1)
        return off

    @staticmethod
    def _joined(bodies: NDArray[np.int64], touch: NDArray[np.bool_]) -> NDArray[np.int64]:
        """Bodies with those made one that touch, directly or through others.

        Each body is named by the lowest number of its balls.
        """
        joined = bodies.copy()
        for one, other in np.argwhere(touch):
            low, high = sorted((joined[one], joined[other]))
            joined[joined == high] = low
        return joined


def _draw(
    shifts: Floats,
    bodies: NDArray[np.int64],
    wrong: NDArray[np.bool_],
    error: float,
    random: np.random.Generator,
) -> None:
    """A new direction for every body with a ball that stands wrong, in order of number."""
    for body in np.unique(bodies[wrong]):
        angle = random.uniform(-math.pi, math.pi)
        shifts[bodies == body] = error * math.cos(angle), error * math.sin(angle)
