"""What is thought of a table before anything is measured: its coefficients, lean, and the ramp."""

from __future__ import annotations

from dataclasses import dataclass

from stunline.equipment.coefficient_scales import (
    KINDS,
    CoefficientKind,
    Scale,
    from_scale,
    to_scale,
    value_of,
)
from stunline.equipment.model import Coefficients


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


LEAN_ALONG, LEAN_ACROSS, RAMP = "lean_along", "lean_across", "ramp_factor"
_LEAN_WIDTH = 0.08  # [A] more than any table that is played on, level and nap together
_RAMP_CENTRE, _RAMP_WIDTH = 0.93, 0.06  # [A] share of the speed that the foot leaves
_LEAST = 1e-6  # nor the logarithm of 0
_NEVER_QUITE_ONE = 0.995  # the logit of a restitution of 1 does not exist


def priors(profile: Coefficients) -> tuple[Prior, ...]:
    """The unknowns shared by all shots, from a cloth profile."""
    shared = [
        Prior(kind.name, _centre(profile, kind), kind.scale, kind.width, kind.unit, kind.meaning)
        for kind in KINDS
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


def _centre(profile: Coefficients, kind: CoefficientKind) -> float:
    value = value_of(profile, kind.name)
    return min(value, _NEVER_QUITE_ONE) if kind.scale == "logit" else max(value, _LEAST)
