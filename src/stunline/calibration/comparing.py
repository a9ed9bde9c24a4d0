"""Two gauged tables: what changed between them, and whether it is more than noise."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.stats import chi2, norm

from stunline.equipment.coefficient_scales import COEFFICIENTS, from_scale, to_scale
from stunline.equipment.gauging import Gauging

_STRETCH = float(norm.ppf(0.95))  # standard deviations to either side of a 90 % interval
# A difference that noise alone makes in fewer than one comparison out of this many is a change.
_NOISE = 0.05


@dataclass(frozen=True, slots=True)
class Change:
    """One coefficient of two gaugings.

    Attributes:
        name: of the coefficient
        before, after: most likely values
        low, high: 90 % interval of the share by which it changed, 1 for no change; of a restitution
            the share by which its odds did
        chance: how often noise alone makes a difference as large [-]
        told: whether both gaugings say more of it than their priors
    """

    name: str
    before: float
    after: float
    low: float
    high: float
    chance: float
    told: bool

    @property
    def real(self) -> bool:
        """Whether the difference is more than noise."""
        return self.told and self.chance < _NOISE


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two gaugings of what should be the same table.

    Attributes:
        changes: by coefficient
        chance: how often noise alone makes all differences of those told as large, together [-]
    """

    changes: tuple[Change, ...]
    chance: float


def compare(before: Gauging, after: Gauging) -> Comparison:
    """What changed.

    Both doubts add up. Where both gaugings lean on the same prior the doubt of the difference is
    less than this, so noise is not taken for a change more often than is said.
    """
    names = [name for name in COEFFICIENTS if name in before.names and name in after.names]
    rows = [(before.names.index(name), after.names.index(name)) for name in names]
    differences = np.array([_difference(before, after, i, j) for i, j in rows])
    one, two = np.array(before.covariance), np.array(after.covariance)
    first, second = ([pair[k] for pair in rows] for k in (0, 1))
    covariance = one[np.ix_(first, first)] + two[np.ix_(second, second)]
    told = np.array([before.told[i] and after.told[j] for i, j in rows], dtype=bool)
    changes = tuple(
        _change(
            name, before.values[i], after.values[j], float(differences[k]),
            math.sqrt(covariance[k, k]), bool(told[k]),
        )
        for k, (name, (i, j)) in enumerate(zip(names, rows, strict=True))
    )  # fmt: skip
    return Comparison(changes, _together(differences[told], covariance[np.ix_(told, told)]))


def _difference(before: Gauging, after: Gauging, i: int, j: int) -> float:
    scale = after.scales[j]
    return to_scale(after.values[j], scale) - to_scale(before.values[i], scale)


def _change(
    name: str, before: float, after: float, difference: float, deviation: float, told: bool
) -> Change:
    return Change(
        name, before, after,
        from_scale(difference - _STRETCH * deviation, "log"),
        from_scale(difference + _STRETCH * deviation, "log"),
        float(2.0 * norm.sf(abs(difference) / deviation)),
        told,
    )  # fmt: skip


def _together(differences: np.ndarray, covariance: np.ndarray) -> float:
    if not len(differences):
        return 1.0
    distance = float(differences @ np.linalg.solve(covariance, differences))
    return float(chi2.sf(distance, len(differences)))
