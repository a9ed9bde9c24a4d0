"""What a coach wants of a shot, as frozen plain data in SI units.

Every demand that is given must hold; None or an empty tuple is no demand.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from stunline.equipment.model import Point
from stunline.shot.position import PotAim, Side

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Meeting:
    """The white, after its first contact, is to meet this ball.

    Attributes:
        ball: to be met
        thickness: least and most, 1 full, 0 a miss [-]
        on: the side of that ball, seen along the white's way just before that contact; None: either
    """

    ball: str
    thickness: Span = (0.0, 1.0)
    on: Side | None = None


@dataclass(frozen=True, slots=True)
class Gap:
    """The whole white is to pass between two balls or spots, clear of both."""

    between: tuple[str, str]


@dataclass(frozen=True, slots=True)
class CircleArea:
    """A circle that the white's centre is to rest in. [m]"""

    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class PolygonArea:
    """A polygon that the white's centre is to rest in, its corners in order. [m]"""

    corners: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class NamedArea:
    """The D, or all of baulk."""

    name: Literal["D", "baulk"]


RestArea = CircleArea | PolygonArea | NamedArea


@dataclass(frozen=True, slots=True)
class NextBall:
    """From where the white rests this ball can be potted, the way clear.

    Attributes:
        balls: any one of these will do
        cut: least and most cut angle [rad]
    """

    balls: tuple[str, ...]
    cut: Span


@dataclass(frozen=True, slots=True)
class StrikeRange:
    """How far a search may go from the strike; None leaves that number as the strike has it.

    Attributes:
        pace: [m s⁻¹]
        height, side: [m]
    """

    pace: Span | None = None
    height: Span | None = None
    side: Span | None = None


@dataclass(frozen=True, slots=True)
class Goal:
    """Every demand of a position file's [goal].

    Attributes:
        pot: a ball that must go into a pocket; None leaves the strike's pot or contact to hold
        meet: the ball that the white must meet after its first contact
        through: a gap that the white must pass
        rest: where the white must rest
        next: a ball that can be potted afterwards
        touch, miss: balls that the white must touch, must not touch
        cushions: least and most cushions of the white
        in_off: whether the white may (True) or must not (False) go in; None: no demand
        vary: what a search may change, and how far
        player: a shipped profile's name or a file, "" when none is named
    """

    pot: PotAim | None = None
    meet: Meeting | None = None
    through: Gap | None = None
    rest: RestArea | None = None
    next: NextBall | None = None
    touch: tuple[str, ...] = ()
    miss: tuple[str, ...] = ()
    cushions: tuple[int, int] | None = None
    in_off: bool | None = None
    vary: StrikeRange = field(default_factory=StrikeRange)
    player: str = ""


DEMANDS = ("pot", "meet", "through", "rest", "next", "touch", "miss", "cushions", "in_off")
