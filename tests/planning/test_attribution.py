"""Shares of causes that act together, against averages over all orders and known games."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from stunline.planning.attribution import Floats, Groups, attribute


def random_values(count: int, seed: int) -> Floats:
    return np.random.default_rng(seed).normal(size=1 << count)


def averaged_over_orders(values: Floats, groups: Groups) -> list[float]:
    """By the definition: in each order what a cause adds when it joins; groups stay together."""
    count = len(values).bit_length() - 1
    sums, orders = [0.0] * count, 0
    for order in permutations(range(count)):
        numbers = [next(k for k, group in enumerate(groups) if one in group) for one in order]
        blocks = [k for i, k in enumerate(numbers) if i == 0 or numbers[i - 1] != k]
        if len(blocks) != len(groups):
            continue
        case = 0
        for one in order:
            sums[one] += float(values[case | 1 << one] - values[case])
            case |= 1 << one
        orders += 1
    return [total / orders for total in sums]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(
    "groups",
    [
        [[0], [1], [2], [3], [4], [5]],
        [[0, 2], [1], [3], [4], [5]],
        [[5, 1, 3], [0, 4], [2]],
        [[0, 1, 2, 3, 4, 5]],
    ],
    ids=str,
)
def test_shares_are_averages_over_all_orders(groups: Groups, seed: int) -> None:
    values = random_values(6, seed)
    found = attribute(values, groups)
    assert found.causes.parts == pytest.approx(averaged_over_orders(values, groups), abs=1e-12)


def test_the_glove_game() -> None:
    # [S] the textbook game: one left and two right gloves, only a pair is worth something; from
    # memory, the shares are 2/3, 1/6 and 1/6. Cause 0 is the left glove.
    values = np.array([1.0 if case & 1 and case & 6 else 0.0 for case in range(8)])
    assert attribute(values).causes.parts == pytest.approx((2 / 3, 1 / 6, 1 / 6), abs=1e-15)


@pytest.mark.parametrize("seed", range(20))
def test_shares_add_up_in_groups_and_causes(seed: int) -> None:
    values = random_values(6, seed)
    groups = [[0, 2], [1], [3, 4, 5]]
    found = attribute(values, groups)
    assert found.base + sum(found.causes.parts) == pytest.approx(found.whole, abs=1e-12)
    assert found.base + sum(found.groups.parts) == pytest.approx(found.whole, abs=1e-12)
    for group, part in zip(groups, found.groups.parts, strict=True):
        assert sum(found.causes.parts[k] for k in group) == pytest.approx(part, abs=1e-12)


def test_what_changes_nothing_has_no_share_and_equals_have_equal_shares() -> None:
    # Cause 3 changes nothing; 0 and 1 can be exchanged.
    values = np.array(
        [(case & 3).bit_count() ** 2 + 5.0 * (case >> 2 & 1) * (case & 1 or case >> 1 & 1)
         for case in range(16)]
    )  # fmt: skip
    found = attribute(values)
    assert found.causes.parts[3] == 0.0
    assert found.causes.parts[0] == pytest.approx(found.causes.parts[1], abs=1e-15)


def test_two_that_only_work_together_are_a_pair_and_all_interaction() -> None:
    values = np.array([1.0 if case & 3 == 3 else 0.0 for case in range(8)])
    found = attribute(values)
    assert found.interaction == 1.0
    assert found.pairs.tolist() == [[0.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 0.0]]
    assert found.causes.alone == (0.0, 0.0, 0.0)
    assert found.causes.taken_away == (1.0, 1.0, 0.0)


def test_a_group_whose_members_undo_each_other_has_no_share() -> None:
    # Cause 0 adds 3, cause 1 takes it away again whatever else is there; cause 2 adds 1 and, by
    # itself with 0, another 4.
    def value(case: int) -> float:
        up, down, other = case & 1, case >> 1 & 1, case >> 2 & 1
        spin = 3.0 * (up - down)
        return spin + other * (1.0 + (4.0 if spin > 0.0 else 0.0))

    values = np.array([value(case) for case in range(8)])
    found = attribute(values, [[0, 1], [2]])
    assert found.groups.parts == pytest.approx((0.0, 1.0), abs=1e-15)
    assert sum(attribute(values).causes.parts[:2]) != pytest.approx(0.0, abs=0.1)


def test_values_and_groups_that_do_not_fit_are_refused() -> None:
    with pytest.raises(ValueError, match="one for each set of causes; given 5"):
        attribute(np.zeros(5))
    with pytest.raises(ValueError, match="belongs to one group"):
        attribute(np.zeros(8), [[0, 1]])
