"""A rack as hands set it: its balls nearly touching, with random gaps.

No rack is perfect. How far its balls stand apart, of the order of tenths of a millimetre, is
common practice, no source; what it does to a break is much more than its size suggests.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.model import Point

# The least share by which two touching balls of one size are drawn apart before they are set
# off: far above rounding, far below anything that matters.
_HARDLY = 1e-12


def loose_rack(rack: Mapping[str, Point], gaps: float, seed: int) -> dict[str, Point]:
    """The rack with a random gap from nought to ``gaps`` between every two neighbours.

    The places are those of touching balls drawn apart from the first one, so that neighbours are
    half of ``gaps`` apart, and every ball is then set off in a direction of its own by up to a
    quarter of it: no gap is negative and none larger than ``gaps``. The first ball, the apex,
    is set off as the others are.

    Args:
        rack: touching balls of one size, name → centre [m]
        gaps: the largest gap [m]; 0 gives the rack itself
        seed: of the random numbers; the same seed gives the same rack on every machine
    """
    if gaps <= 0.0:
        return dict(rack)
    names = tuple(rack)
    places = np.array([rack[name] for name in names])
    apart = _diameter(places)
    drawn = places[0] + (places - places[0]) * (1.0 + 0.5 * gaps / apart + _HARDLY)
    random = np.random.default_rng(seed).random((2, len(names)))
    # The square root spreads them evenly over the disc.
    off = 0.25 * gaps * np.sqrt(random[0])
    way = 2.0 * math.pi * random[1]
    drawn += np.column_stack([off * np.cos(way), off * np.sin(way)])
    return {name: (float(x), float(y)) for name, (x, y) in zip(names, drawn, strict=True)}


def _diameter(places: NDArray[np.float64]) -> float:
    """How far apart the centres of two touching balls stand. [m]"""
    return min(math.dist(places[0], other) for other in places[1:])
