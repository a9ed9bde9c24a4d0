"""Racks with random gaps: how far their balls stand apart, and that a seed means one rack."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest

from stunline.equipment.catalogue import load_table
from stunline.equipment.loose_rack import loose_rack
from stunline.equipment.model import Point

SNOOKER = load_table("snooker-12ft")
TRIANGLE = SNOOKER.racks["triangle"]
RADIUS = SNOOKER.balls["red1"].radius


def gaps_of(rack: dict[str, Point], exact: dict[str, Point]) -> np.ndarray:
    """Gaps between those that touch in the exact rack. [m]"""
    touching = [
        (one, other)
        for one, other in combinations(exact, 2)
        if math.dist(exact[one], exact[other]) < 2.0 * RADIUS + 1e-9
    ]
    # A triangle of rows 1 to 5 has 30 touching pairs: 10 in rows, 20 between them. [X]
    assert len(touching) == 30
    return np.array([math.dist(rack[one], rack[other]) for one, other in touching]) - 2.0 * RADIUS


def test_without_gaps_it_is_the_rack_itself() -> None:
    assert loose_rack(TRIANGLE, 0.0, 5) == TRIANGLE


@pytest.mark.parametrize("size", [1e-6, 2e-4, 1e-3])
def test_gaps_lie_between_nought_and_their_size(size: float) -> None:
    every = np.concatenate(
        [gaps_of(loose_rack(TRIANGLE, size, seed), TRIANGLE) for seed in range(200)]
    )
    assert every.min() > 0.0
    assert every.max() <= size * (1.0 + 1e-9)
    # Half of the size in the middle: both balls are set off alike in all directions.
    assert np.mean(every) == pytest.approx(0.5 * size, rel=0.02)
    assert np.std(every) > 0.1 * size


def test_the_rack_stays_where_it_is() -> None:
    middles = [
        np.mean(list(loose_rack(TRIANGLE, 2e-4, seed).values()), axis=0) for seed in range(200)
    ]
    exact = np.mean(list(TRIANGLE.values()), axis=0)
    # Drawn apart from the apex its middle moves up by a few tenths of a gap, and not aside.
    assert np.abs(np.mean(middles, axis=0) - exact).max() < 4e-4
    assert abs(np.mean(middles, axis=0)[0] - exact[0]) < 1e-5


def test_a_seed_is_one_rack() -> None:
    # The numbers themselves, so that another machine or library version is found out.
    first = loose_rack(TRIANGLE, 2e-4, 7)
    assert first == loose_rack(TRIANGLE, 2e-4, 7)
    assert first != loose_rack(TRIANGLE, 2e-4, 8)
    expected = np.random.Generator(np.random.PCG64(7)).random(15)
    off = math.dist(first["red1"], TRIANGLE["red1"])
    assert off == pytest.approx(0.25 * 2e-4 * math.sqrt(expected[0]), rel=1e-6)


def test_diamonds_take_gaps_too() -> None:
    table = load_table("pool-9ft")
    rack = loose_rack(table.racks["diamond"], 3e-4, 1)
    radius = table.balls[next(iter(rack))].radius
    nearest = [math.dist(rack[one], rack[other]) for one, other in combinations(rack, 2)]
    assert min(nearest) > 2.0 * radius
