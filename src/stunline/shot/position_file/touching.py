"""Balls that overlap by a rounding of the typed numbers are moved apart until they touch.

Numbers are typed to a hundredth of a millimetre or so; touching balls typed that way may
overlap by a hair, which no law of impact can work with.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from stunline.equipment.contact_distances import ball_contact_distance
from stunline.equipment.model import Point

TOUCHING_TOLERANCE = 1e-5  # overlap that counts as touching [m]; larger ones are faults
# Overlap left when balls are called apart [m]: a thousandth of an atom, far above rounding.
_RESIDUE = 1e-13
# Pairs farther apart than this never come to touch while others are moved [m].
_NEIGHBOURS = 1e-3
# Sweeps over all pairs before a ball of higher rank must give way. A row of 22 balls, each
# overlapping the next, needs about a thousand.
_SWEEPS = 4000

# Who gives way to whom; the lower number moves.
ORDINARY, CUE_BALL, RACKED = 0, 1, 2

_Place = list[float]
_Confine = Callable[[str, Point], Point]


@dataclass(frozen=True, slots=True)
class Overlap:
    """Two balls nearer than touching.

    Attributes:
        first, second: their names
        depth: by how much [m]
    """

    first: str
    second: str
    depth: float


def overlaps(places: Mapping[str, Point], radii: Mapping[str, float]) -> list[Overlap]:
    """Every pair that overlaps, in the order of the names. [m]"""
    names = tuple(places)
    found = []
    for index, first in enumerate(names):
        for second in names[index + 1 :]:
            distance = math.dist(places[first], places[second])
            depth = ball_contact_distance(radii[first], radii[second]) - distance
            if depth > 0.0:
                found.append(Overlap(first, second, depth))
    return found


def moved_apart(
    places: Mapping[str, Point],
    radii: Mapping[str, float],
    ranks: Mapping[str, int],
    confine: _Confine,
) -> dict[str, Point] | None:
    """The places with every overlap undone along its line of centres.

    Of two balls the one of lower rank moves, two of one rank share the way. A ball held
    between others that may not move makes the cue ball give way as well, then the rack.

    Args:
        places: by name [m]
        radii: by name [m]
        ranks: ORDINARY, CUE_BALL or RACKED by name
        confine: puts a place back inside the cushions

    Returns:
        The places, or None when there is no room.
    """
    if not any(one.depth > _RESIDUE for one in overlaps(places, radii)):
        return dict(places)
    moving = {name: list(place) for name, place in places.items()}
    pairs = _neighbours(places, radii)
    for firmest in (RACKED, CUE_BALL, ORDINARY):
        lowered = {name: max(0, rank - (RACKED - firmest)) for name, rank in ranks.items()}
        for _ in range(_SWEEPS):
            if not _sweep(moving, pairs, lowered, confine):
                return {name: (place[0], place[1]) for name, place in moving.items()}
    return None


def _neighbours(
    places: Mapping[str, Point], radii: Mapping[str, float]
) -> list[tuple[str, str, float]]:
    """Pairs near enough to matter, with their distance when touching. [m]"""
    names = tuple(places)
    return [
        (first, second, touching)
        for index, first in enumerate(names)
        for second in names[index + 1 :]
        for touching in [ball_contact_distance(radii[first], radii[second])]
        if math.dist(places[first], places[second]) < touching + _NEIGHBOURS
    ]


def _sweep(
    moving: dict[str, _Place],
    pairs: Sequence[tuple[str, str, float]],
    ranks: Mapping[str, int],
    confine: _Confine,
) -> bool:
    """Undoes each overlap once; True when any was found."""
    found = False
    for first, second, touching in pairs:
        one, other = moving[first], moving[second]
        distance = math.dist(one, other)
        if touching - distance <= _RESIDUE:
            continue
        found = True
        along = ((other[0] - one[0]) / distance, (other[1] - one[1]) / distance)
        share = _share(ranks[first], ranks[second])
        for name, place, part in ((first, one, -share), (second, other, 1.0 - share)):
            if part != 0.0:
                way = part * (touching - distance)
                place[:] = confine(name, (place[0] + way * along[0], place[1] + way * along[1]))
    return found


def _share(first: int, second: int) -> float:
    """The part of the way that the first of two balls moves."""
    if first == second:
        return 0.5
    return 1.0 if first < second else 0.0
