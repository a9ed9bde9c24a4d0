"""What the white's way after a contact comes from, and what stands for each when it is absent.

Each cause has a neutral value that takes it away and nothing else:

========================  ==================================================================
height                    the tip at centre height: neither follow nor screw off the tip
side                      the tip neither left nor right of centre
cloth                     none on the way to the contact: the white arrives with the spin that
                          the tip gave, which the cloth neither wears off nor turns into roll
squirt                    the white starts exactly along the aim
ball friction             smooth balls
restitution               balls that lose nothing, e = 1
========================  ==================================================================

Height and cloth together are the follow or screw with which the white arrives, one thing at the
ball: with neither it arrives as stun. They are one group when shares are given.

The cloth *after* the contact is there in every case. Without it nothing would bend at all, and
how much it grips only tells how soon the white has bent, not how far.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from stunline.equipment.model import Coefficients, SpeedDependentFriction
from stunline.shot.position import Strike


class Cause(StrEnum):
    """One cause; the value is the stable word of the JSON."""

    HEIGHT = "height"
    SIDE = "side"
    CLOTH = "cloth"
    SQUIRT = "squirt"
    BALL_FRICTION = "ball-friction"
    RESTITUTION = "ball-restitution"


class Group(StrEnum):
    """Causes that are one thing at the ball; the value is the stable word of the JSON."""

    SPIN = "spin"  # follow or screw on arrival
    SIDE = "side"
    SQUIRT = "squirt"
    BALL_FRICTION = "ball-friction"
    RESTITUTION = "ball-restitution"


GROUP_OF = {
    Cause.HEIGHT: Group.SPIN,
    Cause.CLOTH: Group.SPIN,
    Cause.SIDE: Group.SIDE,
    Cause.SQUIRT: Group.SQUIRT,
    Cause.BALL_FRICTION: Group.BALL_FRICTION,
    Cause.RESTITUTION: Group.RESTITUTION,
}

# What tells how the white comes to the contact; the others act in the contact itself.
OF_THE_WAY = (Cause.HEIGHT, Cause.SIDE, Cause.CLOTH, Cause.SQUIRT)


def present_causes(strike: Strike, coefficients: Coefficients, way: float) -> tuple[Cause, ...]:
    """The causes that are there at all, in the order of ``Cause``.

    Args:
        way: that the white runs to the contact [m].
    """
    there = {
        Cause.HEIGHT: strike.height != 0.0,
        Cause.SIDE: strike.side != 0.0,
        Cause.CLOTH: way > 0.0,
        Cause.SQUIRT: coefficients.squirt and strike.side != 0.0,
        Cause.BALL_FRICTION: _rubs(coefficients.ball_friction),
        Cause.RESTITUTION: coefficients.ball_restitution < 1.0,
    }
    return tuple(cause for cause in Cause if there[cause])


def groups_of(causes: Sequence[Cause]) -> tuple[tuple[Group, tuple[int, ...]], ...]:
    """The groups that have any of these causes, with the causes' numbers."""
    found = (
        (group, tuple(k for k, cause in enumerate(causes) if GROUP_OF[cause] is group))
        for group in Group
    )
    return tuple((group, numbers) for group, numbers in found if numbers)


def _rubs(friction: float | SpeedDependentFriction) -> bool:
    if isinstance(friction, SpeedDependentFriction):
        return friction.floor > 0.0 or friction.span > 0.0
    return friction > 0.0
