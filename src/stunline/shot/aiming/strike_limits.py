"""How far from the centre the tip may go."""

from __future__ import annotations

import math

from stunline.shot.position import NamedHeight, Position


def safe_height(position: Position, side: float) -> float:
    """The largest height above or below centre that the cue's profile advises. [m]

    The profile's safe offset, with what the side already takes of it.
    """
    cue_ball = position.table.balls[position.names[0]]
    limit = position.table.cue.safe_offset * cue_ball.radius
    return math.sqrt(max(limit * limit - side * side, 0.0))


def named_height(position: Position, height: NamedHeight, side: float) -> float:
    """ "centre", "max follow" or "max screw" in metres above the centre."""
    if height.name == "centre":
        return 0.0
    most = safe_height(position, side)
    return most if height.name == "max follow" else -most
