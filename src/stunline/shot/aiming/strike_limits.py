"""How far from the centre the tip may go."""

from __future__ import annotations

import math

from stunline.shot.position import NamedHeight, Position


def tip_limits(position: Position) -> tuple[float, float]:
    """How far from the centre the tip is advised to go, and where it slips off. [m]"""
    radius = position.radius(position.names[0])
    cue = position.table.cue
    return cue.safe_offset * radius, cue.miscue_offset * radius


def safe_height(position: Position, side: float) -> float:
    """The largest height above or below centre that the cue's profile advises. [m]

    The profile's safe offset, with what the side already takes of it.
    """
    limit, _ = tip_limits(position)
    return math.sqrt(max(limit * limit - side * side, 0.0))


def named_height(position: Position, height: NamedHeight, side: float) -> float:
    """ "centre", "max follow" or "max screw" in metres above the centre."""
    if height.name == "centre":
        return 0.0
    most = safe_height(position, side)
    return most if height.name == "max follow" else -most
