"""How much each of several causes gives, when they act together: Shapley's shares, by groups.

Every cause is there or not, so n causes make 2ⁿ cases. A share is what a cause adds when it joins
the others, averaged over all orders in which they can join. It is the only rule that gives all of
the whole away, gives nothing to what changes nothing, treats equals alike and adds up when the
values do. Causes that do one thing together are a group: the orders are then those in which its
members join one after another, and the shares of the members add up to the share that the group
has as one cause. So height and cloth that leave no spin at all give nothing together.
Sources: L. S. Shapley, "A value for n-person games", Contributions to the Theory of Games II
(1953); for groups G. Owen, "Values of games with a priori unions" (1977); for pairs M. Grabisch &
M. Roubens, International Journal of Game Theory 28 (1999).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import factorial

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Groups = Sequence[Sequence[int]]


@dataclass(frozen=True, slots=True)
class Shares:
    """What each of n causes, or of m groups of them, has in a number; in the number's unit.

    Attributes:
        parts: each one's share
        alone: what each adds where nothing else is
        taken_away: how much less it is where only that one is not
    """

    parts: tuple[float, ...]
    alone: tuple[float, ...]
    taken_away: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Attribution:
    """A number taken apart; all in its own unit.

    Attributes:
        whole: with every cause
        base: with none
        groups: the shares of the groups: ``base + sum(groups.parts)`` is the whole
        causes: the shares of the causes: the parts of a group's add up to the group's part
        pairs: (m, m) what two groups make only together, averaged over the others' presence;
            positive where they strengthen each other; nought on the diagonal
    """

    whole: float
    base: float
    groups: Shares
    causes: Shares
    pairs: Floats

    @property
    def interaction(self) -> float:
        """What the groups make only by acting together: the whole less each one alone."""
        return self.whole - self.base - sum(self.groups.alone)


def attribute(values: Floats, groups: Groups | None = None) -> Attribution:
    """Take apart what all causes together make of a number.

    Args:
        values: (2ⁿ,) in the case whose set bits are the causes that are there.
        groups: the numbers of the causes of each group, every cause in one of them; without it
            every cause is a group by itself.
    """
    count = len(values).bit_length() - 1
    if len(values) != 1 << count:
        raise ValueError(f"2ⁿ values are needed, one for each set of causes; given {len(values)}")
    groups = [[k] for k in range(count)] if groups is None else groups
    if sorted(k for group in groups for k in group) != list(range(count)):
        raise ValueError(f"every cause of {count} belongs to one group; given {groups}")
    masks = [sum(1 << k for k in group) for group in groups]
    together = _of_groups(values, masks)
    parts = [0.0] * count
    for number, group in enumerate(groups):
        for cause in group:
            parts[cause] = _share_in_group(values, masks, number, group, cause)
    bits = [1 << k for k in range(count)]
    return Attribution(
        whole=float(values[-1]),
        base=float(values[0]),
        groups=Shares(_shapley(together), *_alone_and_taken_away(values, masks)),
        causes=Shares(tuple(parts), *_alone_and_taken_away(values, bits)),
        pairs=_pairs(together, len(groups)),
    )


def _of_groups(values: Floats, masks: Sequence[int]) -> Floats:
    """(2ᵐ,) the values of the cases in which each group is whole or not there."""
    return np.array([values[_united(masks, chosen)] for chosen in range(1 << len(masks))])


def _united(masks: Sequence[int], chosen: int) -> int:
    return sum(mask for k, mask in enumerate(masks) if chosen >> k & 1)


def _weight(before: int, count: int) -> float:
    """Of all orders of so many, the part in which exactly a given set came before a given one."""
    return factorial(before) * factorial(count - before - 1) / factorial(count)


def _shapley(values: Floats) -> tuple[float, ...]:
    count = len(values).bit_length() - 1
    return tuple(
        sum(
            _weight(case.bit_count(), count) * float(values[case | 1 << k] - values[case])
            for case in range(len(values))
            if not case >> k & 1
        )
        for k in range(count)
    )


def _share_in_group(
    values: Floats, masks: Sequence[int], number: int, group: Sequence[int], cause: int
) -> float:
    """Owen's share: over the groups that came before, and the members that did."""
    total, bit = 0.0, 1 << cause
    members = [1 << k for k in group if k != cause]
    for chosen in range(1 << len(masks)):
        if chosen >> number & 1:
            continue
        others = _united(masks, chosen)
        outer = _weight(chosen.bit_count(), len(masks))
        for some in range(1 << len(members)):
            case = others | _united(members, some)
            inner = _weight(some.bit_count(), len(group))
            total += outer * inner * float(values[case | bit] - values[case])
    return total


def _alone_and_taken_away(
    values: Floats, masks: Sequence[int]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    full = len(values) - 1
    alone = tuple(float(values[mask] - values[0]) for mask in masks)
    return alone, tuple(float(values[full] - values[full ^ mask]) for mask in masks)


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
            both = values[case | one | two] - values[case | one] - values[case | two] + values[case]
            total += _weight(case.bit_count(), count - 1) * float(both)
    return total
