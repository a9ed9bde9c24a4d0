"""How much a strike asks of the player: one number, so that the kinder of two can be told.

Nothing is published that weighs height against pace; the weights are assumptions of this
project, common practice without a source: a plain follow at a moderate pace asks nothing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.planning.regions import KINDS, PLAIN_SIDE, STUN
from stunline.shot.aiming.strike_limits import safe_height
from stunline.shot.position import Position

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

# A plain follow is struck this far above the centre, in radii: half of what rolls at once. [-]
PLAIN_HEIGHT = 0.2
# Paces that ask nothing: medium ones, off the tip. [m s⁻¹] Source of the words and bounds:
# Colorado State University, billiards physics pages, typical speeds.
MODERATE = (0.89, 1.9)
# What is added for stun, screw and side, in the order of ``KINDS``. [-]
OF_KIND = (0.0, 0.25, 0.5, 0.75)
SIDE_WEIGHT = 1.5  # of the tip's way to the side, over its way up or down [-]
OF_ANOTHER_BALL = 1.0  # for a way on which the white meets a ball besides the first [-]
STEEP = np.radians(20.0)  # elevation that adds one [rad]


def kinds_of(follow: Floats, sides: Floats) -> Ints:
    """(N,) indices into ``KINDS``, as ``regions.kind_of`` has them.

    Args:
        follow: (N,) ratios on arrival, NaN where nothing was met [-]
        sides: (N,) [m]
    """
    kinds = np.where(follow <= -STUN, 2, np.where(follow < STUN, 1, 0))
    kinds = np.where(np.isnan(follow), 0, kinds)
    return np.where(np.abs(sides) > PLAIN_SIDE, KINDS.index("side"), kinds)


def demands_of(position: Position, rows: Floats, follow: Floats, meets: Flags) -> Floats:
    """(N,) what these strikes (N, 5) ask, 0 for the plainest. [-]

    The sum of: the way of the tip from the place of a plain follow, to the side counted 1.5
    times, over the cue's safe height; each doubling of the pace above a moderate one, or halving
    below; 0.25 for stun, 0.5 for screw, 0.75 for side; one for meeting another ball on the way;
    one for every 20° of elevation.

    Args:
        follow: (N,) ratios on arrival [-]
        meets: (N,) whether the white meets a ball besides its first
    """
    safe = safe_height(position, 0.0)
    plain = PLAIN_HEIGHT * position.radius(position.names[0])
    up = rows[:, layout.STRIKE_HEIGHT] - plain
    across = rows[:, layout.STRIKE_SIDE]
    paces = rows[:, layout.STRIKE_PACE]
    low, high = MODERATE
    of_tip = np.hypot(up, SIDE_WEIGHT * across) / safe
    of_pace = np.maximum(np.log2(paces / high), 0.0) + np.maximum(np.log2(low / paces), 0.0)
    of_kind = np.array(OF_KIND)[kinds_of(follow, across)]
    of_way = OF_ANOTHER_BALL * meets + rows[:, layout.STRIKE_ELEVATION] / STEEP
    asked: Floats = of_tip + of_pace + of_kind + of_way
    return asked
