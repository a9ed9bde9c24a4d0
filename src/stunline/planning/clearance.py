"""How far the butt must be raised to strike over what lies behind the white.

The cue is a straight cylinder as thick as its shaft near the tip; behind the bridging hand the
player finds room anyway. Both numbers are assumptions, common practice without a source.
"""

from __future__ import annotations

import math

from stunline.shot import plane
from stunline.shot.aiming.root_search import last_true
from stunline.shot.position import Position

SHAFT_RADIUS = 0.005  # [m]
BRIDGE = 0.30  # from the white back to the hand [m]
_STEEPEST = math.radians(80.0)
_TOLERANCE = 1e-5  # [rad]


def least_elevation(position: Position, aim: float, height: float, least: float = 0.0) -> float:
    """The least elevation, and not below ``least``, with which the cue clears all behind. [rad]

    Args:
        aim: direction of the stroke [rad]
        height: of the contact point above the white's centre [m]
    """
    if _clears(position, aim, height, least):
        return least
    if not _clears(position, aim, height, _STEEPEST):
        return _STEEPEST
    return last_true(
        lambda raised: _clears(position, aim, height, raised), _STEEPEST, least, _TOLERANCE
    )


def _clears(position: Position, aim: float, height: float, raised: float) -> bool:
    white = position.names[0]
    radius = position.radius(white)
    start = position.balls[white]
    back = (-math.cos(aim), -math.sin(aim))
    for name in position.names[1:]:
        away = plane.between(start, position.balls[name])
        behind, aside = plane.dot(away, back), plane.cross(away, back)
        if 0.0 < behind < BRIDGE:
            other = position.radius(name)
            above = radius + height + (behind - radius) * math.tan(raised) - other
            upright = above * math.cos(raised)
            # Beside the shaft there is room at any height; below the ball's middle there is none.
            under = abs(aside) < other + SHAFT_RADIUS and above <= 0.0
            if under or math.hypot(aside, upright) < other + SHAFT_RADIUS:
                return False
    table = position.table
    for at, way, edge in ((start[0], back[0], table.width), (start[1], back[1], table.length)):
        room = at if way < 0.0 else edge - at
        behind = room / abs(way) if way else math.inf
        if behind < BRIDGE:
            lowest = radius + height + (behind - radius) * math.tan(raised)
            if lowest - SHAFT_RADIUS / math.cos(raised) < table.nose_height:
                return False
    return True
