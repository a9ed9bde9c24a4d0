"""How near a ball's centre comes, in plan, to what it touches."""

from __future__ import annotations

import math


def nose_contact_distance(radius: float, nose_height: float) -> float:
    """Plan distance from a ball's centre to a nose line when they touch. [m]

    The nose touches the ball above its centre, so the centre stands nearer to the nose line
    than a radius: ``R·√(1 − (h/R − 1)²)``. The same distance holds for a jaw's rounded
    nose. Valid for ``0 < h < 2R``; a nose outside that passes over or under the ball.

    Args:
        radius: R of the ball [m]
        nose_height: h of the nose above the bed [m]
    """
    above_centre = nose_height / radius - 1.0
    return radius * math.sqrt(1.0 - above_centre * above_centre)


def ball_contact_distance(radius: float, other_radius: float) -> float:
    """Plan distance between the centres of two touching balls on one bed. [m]

    ``2·√(R₁·R₂)``: with unequal radii the line of centres is tilted, and its plan length is
    √((R₁+R₂)² − (R₁−R₂)²).
    """
    if radius == other_radius:
        return 2.0 * radius
    return 2.0 * math.sqrt(radius * other_radius)
