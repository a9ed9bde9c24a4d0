"""The tools that set a ball going in the same way each time, and closed forms beside them.

A ball rolls down a chute from rest. On a flat chute it turns about its own surface, in a groove
about the line through its two contacts, nearer to its centre, and so leaves spinning faster than
it rolls. The foot of any chute costs some of the speed; how much is not known and is an unknown of
the fit. The spin is taken to pass the foot unchanged, so the ball slides at first. [A]
"""

from __future__ import annotations

import math
from dataclasses import dataclass

_INERTIA = 0.4  # of a solid sphere, over m R²


@dataclass(frozen=True, slots=True)
class Ramp:
    """A chute.

    Attributes:
        gap: between the two rails of a groove [m]; 0 for a flat chute
    """

    gap: float = 0.0

    def turning_radius(self, radius: float) -> float:
        """From the ball's centre to the line through its two contacts. [m]

        ``r = √(R² − (gap/2)²)``; R itself on a flat chute.
        """
        return math.sqrt(radius**2 - (0.5 * self.gap) ** 2)


def ramp_speed(drop: float, radius: float, ramp: Ramp, gravity: float) -> float:
    """Speed at the end of a chute, rolled down from rest without sliding. [m s⁻¹]

    ``v² = 2gh/(1 + (2/5)(R/r)²)``, which is ``10gh/7`` on a flat chute: the energy of a solid
    sphere that turns at ``v/r`` (exact).

    Args:
        drop: of the ball's centre, h [m]
        radius: of the ball, R [m]
        ramp: the chute, with its r
        gravity: g [m s⁻²]
    """
    turning = _INERTIA * (radius / ramp.turning_radius(radius)) ** 2
    return math.sqrt(2.0 * gravity * drop / (1.0 + turning))


def surface_speed(drop: float, radius: float, ramp: Ramp, gravity: float) -> float:
    """Rω of the ball that leaves the chute: its speed times R/r. [m s⁻¹]"""
    return ramp_speed(drop, radius, ramp, gravity) * radius / ramp.turning_radius(radius)


def height_for_spin(follow_ratio: float, radius: float) -> float:
    """Height of the strike that gives that ratio Rω/v: ``(2/5) R · Rω/v``. [m]"""
    return _INERTIA * radius * follow_ratio


def rolling_from_run(distance: float, time: float, gravity: float) -> float:
    """Rolling resistance of a ball that rolls to rest: ``2d/(g t²)`` (exact). [-]

    Args:
        distance: from the start of the clock to rest, d [m]
        time: of that, t [s]
        gravity: g [m s⁻²]
    """
    return 2.0 * distance / (gravity * time**2)


def twirl_time(turns: float, spin_deceleration: float) -> float:
    """How long a ball twirled on the spot turns: ``√(4πN/α)``, at a constant rate. [s]

    Args:
        turns: until it stands, N [-]
        spin_deceleration: α [rad s⁻²]
    """
    return math.sqrt(4.0 * math.pi * turns / spin_deceleration)
