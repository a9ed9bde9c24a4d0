"""What is thought of the coefficients before anything is measured, with the widths stated.

Each unknown is handled on a scale on which its doubt is about normal: frictions and decelerations
on the logarithm, restitutions on the logit, so that no estimate leaves what is possible.
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
class Prior:
    """One unknown before the measurements.

    Attributes:
        name: as in position files, or of the ramp and the level
        centre: most likely value, from the cloth profile
        scale: on which it is normal
        width: standard deviation on that scale
        unit: "" for a plain number
        meaning: for people
    """

    name: str
    centre: float
    scale: Scale
    width: float
    unit: str
    meaning: str

    def value(self, standard: float) -> float:
        """The value that many standard deviations from the centre."""
        return from_scale(to_scale(self.centre, self.scale) + self.width * standard, self.scale)


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


# Widths: how far tables that are played on differ. All assumptions [A], wide enough for the worn
# and the club profile of the equipment data to lie within about one and a half of them.
_WIDTHS: tuple[tuple[str, Scale, float, str, str], ...] = (
    ("sliding_friction", "log", 0.20, "", "sliding friction, ball on cloth"),
    ("rolling_resistance", "log", 0.25, "", "rolling resistance"),
    ("spin_deceleration", "log", 0.35, "rad/s²", "deceleration of spin about the vertical"),
    ("ball_restitution", "logit", 0.40, "", "restitution, ball on ball"),
    ("ball_friction", "log", 0.30, "", "friction, ball on ball, at a slip of 0.5 m/s"),
    ("cushion_restitution", "logit", 0.80, "", "restitution of the cushions"),
    ("cushion_friction", "log", 0.30, "", "friction of the cushions' noses"),
)
COEFFICIENTS = tuple(name for name, *_ in _WIDTHS)
LEAN_ALONG, LEAN_ACROSS, RAMP = "lean_along", "lean_across", "ramp_factor"
_LEAN_WIDTH = 0.08  # [A] more than any table that is played on, level and nap together
_RAMP_CENTRE, _RAMP_WIDTH = 0.93, 0.06  # [A] share of the speed that the foot leaves
_LEAST = 1e-6  # nor the logarithm of 0
_NEVER_QUITE_ONE = 0.995  # the logit of a restitution of 1 does not exist


def priors(profile: Coefficients) -> tuple[Prior, ...]:
    """The unknowns shared by all shots, from a cloth profile."""
    shared = [
        Prior(name, _centre(profile, name), scale, width, unit, meaning)
        for name, scale, width, unit, meaning in _WIDTHS
    ]
    along = "rolling up the table over rolling both ways, less 1"
    across = "rolling to the right over rolling both ways, less 1"
    foot = "share of the ramp's speed that its foot leaves"
    return (
        *shared,
        Prior(LEAN_ALONG, 0.0, "plain", _LEAN_WIDTH, "", along),
        Prior(LEAN_ACROSS, 0.0, "plain", _LEAN_WIDTH, "", across),
        Prior(RAMP, _RAMP_CENTRE, "log", _RAMP_WIDTH, "", foot),
    )


def _centre(profile: Coefficients, name: str) -> float:
    if name == "ball_friction":
        return max(friction_at(profile.ball_friction, TOLD_SLIP), _LEAST)
    value = float(getattr(profile, name))
    return min(value, _NEVER_QUITE_ONE) if name.endswith("restitution") else max(value, _LEAST)


def friction_at(friction: float | SpeedDependentFriction, slip: float) -> float:
    """Ball friction at that slip [m s⁻¹]. [-]"""
    if isinstance(friction, SpeedDependentFriction):
        return friction.floor + friction.span * math.exp(-friction.decay * slip)
    return friction


def with_values(profile: Coefficients, values: Iterable[float]) -> Coefficients:
    """The profile with these coefficients, in the order of ``COEFFICIENTS``.

    A ball friction that falls with slip keeps its shape and is scaled.
    """
    numbers = dict(zip(COEFFICIENTS, map(float, values), strict=True))
    told = numbers.pop("ball_friction")
    law = profile.ball_friction
    friction: float | SpeedDependentFriction = told
    if isinstance(law, SpeedDependentFriction):
        share = told / friction_at(law, TOLD_SLIP)
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
