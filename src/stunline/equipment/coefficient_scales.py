"""Coefficients as plain numbers, and the scales on which their doubt is about normal.

Frictions and decelerations lie on the logarithm, restitutions on the logit, so that nothing drawn
or estimated there leaves what is possible.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from stunline.equipment.model import Coefficients, SpeedDependentFriction

Scale = Literal["log", "logit", "plain"]

# Slip at which a friction that falls with slip is told as one number. [m s⁻¹]
TOLD_SLIP = 0.5


@dataclass(frozen=True, slots=True)
class CoefficientKind:
    """One number of a cloth profile, and how far tables that are played on differ in it.

    Attributes:
        name: as in position files
        scale: on which its doubt is about normal
        width: standard deviation on that scale from table to table
        unit: "" for a plain number
        meaning: for people
    """

    name: str
    scale: Scale
    width: float
    unit: str
    meaning: str


# Widths are assumptions [A], wide enough for the worn and the club profile of the equipment data
# to lie within about one and a half of them.
KINDS: tuple[CoefficientKind, ...] = (
    CoefficientKind("sliding_friction", "log", 0.20, "", "sliding friction, ball on cloth"),
    CoefficientKind("rolling_resistance", "log", 0.25, "", "rolling resistance"),
    CoefficientKind(
        "spin_deceleration", "log", 0.35, "rad/s²", "deceleration of spin about the vertical"
    ),
    CoefficientKind("ball_restitution", "logit", 0.40, "", "restitution, ball on ball"),
    CoefficientKind(
        "ball_friction", "log", 0.30, "", "friction, ball on ball, at a slip of 0.5 m/s"
    ),
    CoefficientKind("cushion_restitution", "logit", 0.80, "", "restitution of the cushions"),
    CoefficientKind("cushion_friction", "log", 0.30, "", "friction of the cushions' noses"),
)
COEFFICIENTS = tuple(kind.name for kind in KINDS)


def to_scale(value: float, scale: str) -> float:
    """A value on its scale."""
    if scale == "log":
        return math.log(value)
    if scale == "logit":
        return math.log(value / (1.0 - value))
    return value


def from_scale(scaled: float, scale: str) -> float:
    """A value from its scale."""
    if scale == "log":
        return math.exp(scaled)
    if scale == "logit":
        return 1.0 / (1.0 + math.exp(-scaled))
    return scaled


def on_scale(value: float, scale: str) -> bool:
    """Whether the scale has that value: an ideal one, a friction of 0, stands at its end."""
    return scale == "plain" or (value > 0.0 and (scale == "log" or value < 1.0))


def friction_at(friction: float | SpeedDependentFriction, slip: float) -> float:
    """Ball friction at that slip [m s⁻¹]. [-]"""
    if isinstance(friction, SpeedDependentFriction):
        return friction.floor + friction.span * math.exp(-friction.decay * slip)
    return friction


def value_of(coefficients: Coefficients, name: str) -> float:
    """One of ``COEFFICIENTS``; ball friction as it is at ``TOLD_SLIP``."""
    if name == "ball_friction":
        return friction_at(coefficients.ball_friction, TOLD_SLIP)
    return float(getattr(coefficients, name))


def with_values(profile: Coefficients, values: Iterable[float]) -> Coefficients:
    """The profile with these coefficients, in the order of ``COEFFICIENTS``.

    A ball friction that falls with slip keeps its shape and is scaled.
    """
    numbers = dict(zip(COEFFICIENTS, map(float, values), strict=True))
    told = numbers.pop("ball_friction")
    law = profile.ball_friction
    friction: float | SpeedDependentFriction = told
    if isinstance(law, SpeedDependentFriction):
        before = friction_at(law, TOLD_SLIP)
        share = told / before if before else 1.0
        friction = SpeedDependentFriction(law.floor * share, law.span * share, law.decay)
    return replace(
        profile,
        sliding_friction=numbers["sliding_friction"],
        rolling_resistance=numbers["rolling_resistance"],
        spin_deceleration=numbers["spin_deceleration"],
        ball_restitution=numbers["ball_restitution"],
        ball_friction=friction,
        cushion_restitution=numbers["cushion_restitution"],
        cushion_friction=numbers["cushion_friction"],
    )
