"""A position, and the strike asked for or played: frozen plain data, SI units.

A coach rarely knows an aim in degrees: they ask for a pot, a thickness of contact, a
way of arriving, a pace in lengths. What is asked for is a ``StrikePlan``; what solves
it, and what can be typed back as numbers, is a ``Strike``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from stunline.equipment.model import Coefficients, Point, Table

Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Position:
    """Balls on a table with the coefficients in force.

    Attributes:
        table: the table
        cloth: name of the profile that the coefficients started from
        coefficients: as used, the file's own values applied
        balls: name → centre [m], the cue ball first
        title: for people, or ""
    """

    table: Table
    cloth: str
    coefficients: Coefficients
    balls: Mapping[str, Point]
    title: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """The balls' names in the order in which the engine numbers them."""
        return tuple(self.balls)

    def radius(self, name: str) -> float:
        """Radius of that ball. [m]"""
        return self.table.balls[name].radius


@dataclass(frozen=True, slots=True)
class Strike:
    """A strike as played, all in numbers.

    Attributes:
        aim: the cue's horizontal direction, before squirt, anticlockwise from +x [rad]
        pace: the white's horizontal speed off the tip [m s⁻¹]
        height: of the contact point above (+) or below (−) the centre, perpendicular to the cue [m]
        side: of the contact point to the right (+) or left (−), seen along the cue [m]
        elevation: of the cue's butt [rad]
    """

    aim: float
    pace: float
    height: float = 0.0
    side: float = 0.0
    elevation: float = 0.0


@dataclass(frozen=True, slots=True)
class PotAim:
    """Aim so that this ball goes into this pocket."""

    ball: str
    pocket: str


@dataclass(frozen=True, slots=True)
class ContactAim:
    """Aim so that the white meets this ball with this thickness on this side of it.

    Attributes:
        ball: the ball to be met first
        thickness: 1 − sin(cut angle), 1 full, 0 a miss [-]
        on: the side of that ball that the white meets, seen along the white's way just
            before contact; None only for a full contact
    """

    ball: str
    thickness: float
    on: Side | None = None


@dataclass(frozen=True, slots=True)
class DirectAim:
    """The cue's horizontal direction, anticlockwise from +x. [rad]"""

    angle: float


Aim = PotAim | ContactAim | DirectAim


@dataclass(frozen=True, slots=True)
class Lengths:
    """A pace in lengths of the table, cushions included. [-]"""

    value: float


@dataclass(frozen=True, slots=True)
class PocketWeight:
    """The pace at which the object ball just drops (needs a pot)."""


Pace = float | Lengths | PocketWeight


@dataclass(frozen=True, slots=True)
class Arrive:
    """Height solved so that the white arrives with this follow ratio Rω/v. [-]"""

    follow_ratio: float


@dataclass(frozen=True, slots=True)
class NamedHeight:
    """The profile's safe limit, or centre."""

    name: Literal["centre", "max follow", "max screw"]


Height = float | NamedHeight | Arrive


@dataclass(frozen=True, slots=True)
class StrikePlan:
    """What the coach asks for.

    Attributes:
        aim: pot, contact, or a direction
        pace: [m s⁻¹], lengths, or pocket weight
        height: [m], a name, or the way of arriving
        side: [m]
        elevation: [rad]
    """

    aim: Aim
    pace: Pace
    height: Height = 0.0
    side: float = 0.0
    elevation: float = 0.0


LadderVariable = Literal["pace", "height", "side", "thickness", "distance", "table", "cloth"]


@dataclass(frozen=True, slots=True)
class LadderPlan:
    """The same shot again with one thing changed.

    Attributes:
        vary: what changes
        values: SI numbers (pace as ``Pace``, height as ``Height``), names for table and cloth
    """

    vary: LadderVariable
    values: tuple[object, ...]
