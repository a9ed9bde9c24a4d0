"""Opening a pack over many racks: what is counted, and that a seed gives the same numbers."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy import stats

from random_positions import MATCH, TABLE
from stunline.errors import InputError
from stunline.shot.pack_study import CHUNK, OpenedPacks, PackPlan, Share, Spread, open_packs
from stunline.shot.position import Position, Strike

RACK = dict(TABLE.racks["triangle"])
POSITION = Position(TABLE, "match", MATCH, {"white": (0.95, 0.7), **RACK})
BREAK = Strike(aim=0.5 * math.pi + 0.01, pace=5.0, height=0.004)


def opened(strike: Strike = BREAK, **changes: Any) -> OpenedPacks:
    """All plays of that plan."""
    plan = PackPlan(POSITION, RACK, gaps=2e-4, racks=150, seed=1)
    *_, last = open_packs(replace(plan, **changes), strike)
    return last


def test_every_rack_is_played_and_the_seed_is_all_that_chance_has() -> None:
    one, again = opened(), opened()
    assert one.plays == 150
    for name in ("met", "freed", "on", "rests"):
        assert getattr(one, name).tobytes() == getattr(again, name).tobytes()
    other = opened(seed=1_000)
    assert one.rests.tobytes() != other.rests.tobytes()


def test_results_grow_by_hundreds() -> None:
    plan = PackPlan(POSITION, RACK, gaps=2e-4, racks=250, seed=1)
    seen = [packs.plays for packs in open_packs(plan, BREAK)]
    assert seen == [CHUNK, 2 * CHUNK, 250]
    first = next(open_packs(plan, BREAK))
    assert first.rests.tobytes() == opened(racks=250).rests[:CHUNK].tobytes()


def test_a_touch_frees_nothing() -> None:
    softly = opened(replace(BREAK, pace=0.3), racks=20)
    assert softly.freed.max() == 0
    assert softly.met.max() == -1
    assert softly.by_point().keys() == {""}


def test_harder_strokes_free_more() -> None:
    # Common practice, no source.
    means = [opened(replace(BREAK, pace=pace)).freed_spread.mean for pace in (2.0, 4.0, 7.0)]
    assert means == sorted(means)
    assert means[2] > means[0] + 1.0


def test_touching_packs_are_all_the_same() -> None:
    same = opened(gaps=0.0, racks=12)
    assert len(np.unique(same.rests, axis=0)) == 1


def test_parts_by_point_add_up() -> None:
    whole = opened(Strike(aim=0.5 * math.pi - 0.02, pace=3.0))
    parts = whole.by_point()
    assert sum(part.plays for part in parts.values()) == whole.plays
    assert sum(part.stuck.count for part in parts.values()) == whole.stuck.count
    assert sum(int(part.freed.sum()) for part in parts.values()) == int(whole.freed.sum())
    assert set(parts) <= {*RACK, ""}


def test_intervals_are_those_of_a_general_library() -> None:
    # scipy's Wilson interval, and numpy's standard error.
    share = Share(7, 150)
    expected = stats.binomtest(7, 150).proportion_ci(method="wilson")
    assert share.interval == pytest.approx((expected.low, expected.high), abs=1e-9)
    values = np.random.default_rng(2).integers(0, 9, 400)
    spread = Spread.of(values)
    half = stats.norm.ppf(0.975) * stats.sem(values)
    assert spread.interval == pytest.approx((values.mean() - half, values.mean() + half), rel=1e-4)
    assert spread.quartiles[1] == np.sort(values)[199]


def test_a_rack_without_room_is_refused() -> None:
    # A white that touches the pack exactly: racks that move towards it are drawn again, and with
    # gaps wider than the room between pack and pink there is none at all.
    x, y = RACK["red1"]
    beside = replace(
        POSITION, balls={"white": (0.95, 0.7), **RACK, "pink": (x, y - 2.0 * 0.02625 - 1e-6)}
    )
    assert opened(position=beside, racks=10).plays == 10
    shut = {**beside.balls}
    left, right = RACK["red11"], RACK["red15"]
    shut["blue"] = (right[0] + 2.0 * 0.02625 + 1e-9, right[1])
    shut["brown"] = (left[0] - 2.0 * 0.02625 - 1e-9, left[1])
    with pytest.raises(InputError, match="no room"):
        opened(position=replace(beside, balls=shut), gaps=4e-3, racks=10)
