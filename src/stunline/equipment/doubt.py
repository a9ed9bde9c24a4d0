"""How far the coefficients in force may be off, and tables drawn from that doubt.

Of a gauged cloth it is the covariance that gauging left; of any other what tables that are played
on differ by, which is an assumption. Whoever states a coefficient in a position file plays a
what-if: that number is taken as exact.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.coefficient_scales import (
    COEFFICIENTS,
    KINDS,
    from_scale,
    on_scale,
    to_scale,
    value_of,
    with_values,
)
from stunline.equipment.gauging import Gauging
from stunline.equipment.model import Cloth, Coefficients

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Doubt:
    """A normal distribution of some coefficients about those in force.

    Attributes:
        coefficients: in force; the most likely
        names: of the coefficients in doubt, in the order of ``COEFFICIENTS``
        covariance: (k, k) of them, on the scales of ``KINDS``
        gauging: what it comes from, None for an assumption
        stated: coefficients that are not the cloth's own, and so taken as exact
    """

    coefficients: Coefficients
    names: tuple[str, ...]
    covariance: tuple[tuple[float, ...], ...]
    gauging: Gauging | None
    stated: tuple[str, ...] = ()

    def deviations(self) -> Floats:
        """(k,) standard deviations on the scales."""
        found: Floats = np.sqrt(np.diag(np.array(self.covariance).reshape(len(self.names), -1)))
        return found

    def draw(self, count: int) -> list[Coefficients]:
        """So many tables, evenly spread over the doubt; the same ones every time."""
        return self.at(self.root_times(spread_normals(count, len(self.names))))

    def root_times(self, standard: Floats) -> Floats:
        """(N, k) off on the scales, from standard normal numbers (N, k)."""
        if not self.names:
            return standard
        # Not Cholesky's root: a covariance read from a file may miss being positive by rounding.
        squares, axes = np.linalg.eigh(np.array(self.covariance))
        off: Floats = standard * np.sqrt(np.maximum(squares, 0.0)) @ axes.T
        return off

    def at(self, off: Floats) -> list[Coefficients]:
        """The coefficients when those in doubt are off by (N, k) on their scales."""
        scales = {kind.name: kind.scale for kind in KINDS}
        centre = [value_of(self.coefficients, name) for name in COEFFICIENTS]
        columns = [COEFFICIENTS.index(name) for name in self.names]
        tables = []
        for row in off.tolist():
            values = list(centre)
            for column, name, moved in zip(columns, self.names, row, strict=True):
                scaled = to_scale(centre[column], scales[name]) + moved
                values[column] = from_scale(scaled, scales[name])
            tables.append(with_values(self.coefficients, values))
        return tables


def doubt_of(cloth: Cloth, in_force: Coefficients | None = None) -> Doubt:
    """What is in doubt of a cloth.

    Args:
        in_force: the coefficients played with, the cloth's own when None.
    """
    used = cloth.coefficients if in_force is None else in_force
    stated = tuple(
        name
        for name in COEFFICIENTS
        if not math.isclose(value_of(used, name), value_of(cloth.coefficients, name))
    )
    kinds = [
        kind
        for kind in KINDS
        if kind.name not in stated and on_scale(value_of(used, kind.name), kind.scale)
    ]
    gauging = cloth.gauging
    assumed = np.diag([kind.width**2 for kind in kinds])
    if gauging is not None:
        for i, one in enumerate(kinds):
            for j, other in enumerate(kinds):
                if one.name in gauging.names and other.name in gauging.names:
                    row, column = gauging.names.index(one.name), gauging.names.index(other.name)
                    assumed[i, j] = gauging.covariance[row][column]
    covariance = tuple(tuple(map(float, row)) for row in assumed)
    return Doubt(used, tuple(kind.name for kind in kinds), covariance, gauging, stated)


def spread_normals(count: int, width: int) -> Floats:
    """(count, width) standard normal numbers, evenly spread: no two runs differ.

    An additive recurrence by powers of the root of x^(d+1) = x + 1, as good as golden ratios are
    in one dimension (after Roberts, 2018, from memory), through the inverse of the normal
    distribution.
    """
    root = 2.0
    for _ in range(64):
        root = (1.0 + root) ** (1.0 / (width + 1.0))
    steps = root ** -np.arange(1.0, width + 1.0)
    uniform = (0.5 + np.outer(np.arange(1, count + 1), steps)) % 1.0
    inverse = NormalDist().inv_cdf
    numbers = [inverse(min(max(one, 1e-9), 1.0 - 1e-9)) for one in uniform.ravel().tolist()]
    return np.array(numbers).reshape(count, width)
