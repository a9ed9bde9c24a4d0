"""The shots that every engine plays, and what is read of each.

A white on an endless flat bed, struck along +x without side, slides, perhaps rolls, meets one
equal ball at a cut, bends, and rests. SI units; a ball's motion is (vx, vy, ωx, ωy, ωz).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

RADIUS = 0.02625  # [m] 52.5 mm balls [R: rules of the game, section 1]
MASS = 0.1406  # [kg] [M]
GRAVITY = 9.81  # [m s⁻²]
SLIDING_FRICTION = 0.20  # [-] [S, informal]
ROLLING_RESISTANCE = 0.010  # [-] [S, informal]
SPIN_DECELERATION = 10.0  # [rad s⁻²] [M]
RESTITUTION = 0.95  # [-] ball on ball [M]
WAY = 0.60  # [m] from the white's start to where it is at contact; chosen
READ_AFTER = 0.5  # [s] after contact the white's direction is read

Motion = tuple[float, float, float, float, float]
Plane = tuple[float, float]


class BallFriction(NamedTuple):
    """Friction between two balls, μ(u) = floor + span·exp(−decay·u), u the slip. [-, -, s m⁻¹]"""

    floor: float
    span: float
    decay: float


NO_THROW = BallFriction(0.0, 0.0, 0.0)
THROW = BallFriction(0.00995, 0.108, 1.088)  # falls with speed [M]


@dataclass(frozen=True)
class TwoBallShot:
    """One shot.

    Attributes:
        name: in the trade's words
        pace: horizontal speed off the tip [m s⁻¹]
        height: of the tip above the white's centre, over R [-]
        thickness: how much of the ball is met, 1 full [-]
        friction: between the balls
    """

    name: str
    pace: float
    height: float
    thickness: float
    friction: BallFriction

    @property
    def tilt(self) -> float:
        """Angle of the line of centres at contact from the white's way, sin = 1 − thickness."""
        return math.asin(1.0 - self.thickness)

    @property
    def object_ball(self) -> Plane:
        """Where the object ball stands, the white starting at the origin. [m]"""
        return (
            WAY + 2.0 * RADIUS * math.cos(self.tilt),
            2.0 * RADIUS * math.sin(self.tilt),
        )

    @property
    def start(self) -> Motion:
        """Off the tip: ω = (5/2)/R² · (r × v)."""
        return (self.pace, 0.0, 0.0, 2.5 * self.height * self.pace / RADIUS, 0.0)


class Outcome(NamedTuple):
    """What is read of a played shot.

    Attributes:
        contact: time of the meeting [s]
        direction: of the white, ``READ_AFTER`` after the engine's own contact [rad]
        rest: where the white stops, from its start [m]
    """

    contact: float
    direction: float
    rest: Plane


def stun_height(pace: float) -> float:
    """Height over R at which the white has no spin about the horizontal as it arrives. [-]

    The backspin wears off at (5/2) μ g / R while the white, sliding, covers ``WAY``.
    """
    loss = SLIDING_FRICTION * GRAVITY
    time = (pace - math.sqrt(pace**2 - 2.0 * loss * WAY)) / loss
    return -loss * time / pace


def shots(friction: BallFriction) -> list[TwoBallShot]:
    """Five ways of arriving and of meeting the ball."""
    return [
        TwoBallShot("stun, half-ball", 2.0, stun_height(2.0), 0.5, friction),
        TwoBallShot("follow, half-ball", 2.0, 0.4, 0.5, friction),
        TwoBallShot("screw, half-ball", 2.5, -0.45, 0.5, friction),
        TwoBallShot("follow, quarter-ball", 1.5, 0.45, 0.25, friction),
        TwoBallShot("screw, three-quarter", 3.0, -0.45, 0.75, friction),
    ]
