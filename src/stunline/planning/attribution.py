"""How much each of several causes gives, when they act together: Shapley's shares.

Every cause is there or not, so n causes make 2ⁿ cases. A cause's share is what it adds when it
joins the others, averaged over all orders in which they can join. It is the only rule that gives
all of the whole away, gives nothing to a cause that changes nothing, treats equal causes alike
and adds up when the values do.
Source: L. S. Shapley, "A value for n-person games", Contributions to the Theory of Games II
(1953); for pairs M. Grabisch & M. Roubens, International Journal of Game Theory 28 (1999).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import factorial

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Attribution:
    """A number taken apart; all in its own unit, the causes in their order.

    Attributes:
        whole: with every cause
        base: with none
        parts: each cause's share; ``base + sum(parts)`` is the whole
        alone: what each adds where no other cause is
        missing: how much less it is where only that cause is not
        pairs: (n, n) what two causes make only together, averaged over the others' presence;
            positive where they strengthen each other; nought on the diagonal
    """

    whole: float
    base: float
    parts: tuple[float, ...]
    alone: tuple[float, ...]
    missing: tuple[float, ...]
    pairs: Floats

    @property
    def interaction(self) -> float:
        """What the causes make only by acting together: the whole less each one alone."""
        return self.whole - self.base - sum(self.alone)


def attribute(values: Floats) -> Attribution:
    """Take apart what all causes together make of a number.

    Args:
        values: (2ⁿ,) in the case whose set bits are the causes that are there.
    """
    count = len(values).bit_length() - 1
    if len(values) != 1 << count:
        raise ValueError(f"2ⁿ values are needed, one for each set of causes; given {len(values)}")
    full = len(values) - 1
    return Attribution(
        whole=float(values[full]),
        base=float(values[0]),
        parts=tuple(_share(values, count, k) for k in range(count)),
        alone=tuple(float(values[1 << k] - values[0]) for k in range(count)),
        missing=tuple(float(values[full] - values[full ^ (1 << k)]) for k in range(count)),
        pairs=_pairs(values, count),
    )


def _share(values: Floats, count: int, cause: int) -> float:
    """Of the orders of all causes, those in which exactly this set came before it are weighed."""
    bit, total = 1 << cause, 0.0
    for case in range(len(values)):
        if not case & bit:
            before = case.bit_count()
            weight = factorial(before) * factorial(count - before - 1) / factorial(count)
            total += weight * float(values[case | bit] - values[case])
    return total


def _pairs(values: Floats, count: int) -> Floats:
    found = np.zeros((count, count))
    for one in range(count):
        for two in range(one):
            found[one, two] = found[two, one] = _pair(values, count, 1 << one, 1 << two)
    return found


def _pair(values: Floats, count: int, one: int, two: int) -> float:
    total = 0.0
    for case in range(len(values)):
        if not case & (one | two):
            others = case.bit_count()
            weight = factorial(others) * factorial(count - others - 2) / factorial(count - 1)
            both = values[case | one | two] - values[case | one] - values[case | two] + values[case]
            total += weight * float(both)
    return total
