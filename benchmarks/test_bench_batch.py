"""Many shots in one call: 20,000 two-ball shots on one thread and on two, and opened packs.

Targets stand beside each case; nothing is asserted about time, only about what was played.
"""

from __future__ import annotations

import math
import os
import resource
import time

import numpy as np
import pytest

from stunline.equipment.catalogue import load_table
from stunline.mechanics import layout
from stunline.shot import batch as batch_module
from stunline.shot import compiled
from stunline.shot.batch import BATCH_READOUTS, Batch, play_many
from stunline.shot.pack_study import PackPlan, open_packs
from stunline.shot.position import Position, Strike

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
SHOTS = 20_000
PAIR = Position(TABLE, CLOTH.name, CLOTH.coefficients, {"white": (0.9, 0.7), "blue": (0.93, 1.2)})
TRIANGLE = TABLE.racks["triangle"]
COLOURS = {
    name: TABLE.spots[name] for name in ("yellow", "green", "brown", "blue", "pink", "black")
}
PACK = Position(
    TABLE, CLOTH.name, CLOTH.coefficients, {"white": (0.95, 0.7), **TRIANGLE, **COLOURS}
)


def strikes(count: int, hardest: float) -> np.ndarray:
    """At the blue, thick and thin, some past it; any height and side; by seed."""
    random = np.random.default_rng(1)
    rows = np.zeros((count, layout.STRIKE_COLUMNS))
    rows[:, layout.STRIKE_AIM] = 0.5 * math.pi + random.uniform(-0.06, 0.1, count)
    rows[:, layout.STRIKE_PACE] = random.uniform(0.5, hardest, count)
    rows[:, layout.STRIKE_HEIGHT] = random.uniform(-0.01, 0.01, count)
    rows[:, layout.STRIKE_SIDE] = random.uniform(-0.005, 0.005, count)
    return rows


def report(name: str, seconds: float, target: float | None, told: str = "") -> None:
    """The figure beside its target, as it came out."""
    verdict = "" if target is None else f", target {target:g}: {seconds / target:.2f} ×"
    print(f"\n{name}: {seconds:.3f} s{verdict}{told}, kernels {compiled.sources_hash()}")


@pytest.mark.parametrize(("threads", "target"), [(1, 0.2), (2, 0.105)])
def test_two_ball_shots(benchmark, threads: int, target: float) -> None:
    rows = strikes(SHOTS, 3.1)
    results: list[Batch] = []
    benchmark.pedantic(
        lambda: results.append(play_many(PAIR, rows, threads=threads)), rounds=5, warmup_rounds=1
    )
    assert results[-1].all_played
    events = results[-1].events
    assert 8.0 < events.mean() < 9.0
    if benchmark.stats:
        seconds = benchmark.stats.stats.min
        rate = events.sum() / seconds
        report(
            f"{SHOTS:,} two-ball shots, {threads} threads",
            seconds,
            target,
            f", {events.mean():.1f} events each, {rate / 1e6:.2f} million events a second",
        )


def test_all_read_outs(benchmark) -> None:
    rows = strikes(SHOTS, 3.1)
    benchmark.pedantic(
        lambda: play_many(PAIR, rows, threads=1, readouts=BATCH_READOUTS), rounds=3, warmup_rounds=1
    )
    if benchmark.stats:
        report("the same with all read-outs, 1 thread", benchmark.stats.stats.min, None)


def test_the_longest_call(benchmark, monkeypatch) -> None:
    """How long a thread can't be stopped: the longest call of any, while packs are opened."""
    longest = []
    plain = batch_module._Player.play

    def timed(self, first: int, last: int) -> int:
        begun = time.perf_counter()
        reached = plain(self, first, last)
        longest.append(time.perf_counter() - begun)
        return reached

    monkeypatch.setattr(batch_module._Player, "play", timed)
    plan = PackPlan(PACK, dict(TRIANGLE), gaps=2e-4, racks=1_000, seed=1)
    strike = Strike(aim=0.5 * math.pi + 0.01, pace=5.0)

    def run() -> int:
        *_, packs = open_packs(plan, strike)
        return packs.plays

    played = benchmark.pedantic(run, rounds=1, warmup_rounds=0)
    assert played == 1_000
    if benchmark.stats:
        seconds = benchmark.stats.stats.min
        told = f", {1e6 * seconds / 1_000:.0f} µs each over {os.cpu_count()} cores"
        report("1,000 racks with gaps up to 0.2 mm at 5 m/s", seconds, None, told)
        report("the longest call of a thread", max(longest), 0.05)


def test_memory_is_bounded(benchmark) -> None:
    """200,000 shots take what is told of them, and no more."""
    rows = strikes(200_000, 3.1)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    result = benchmark.pedantic(lambda: play_many(PAIR, rows), rounds=1, warmup_rounds=0)
    grown = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024.0
    assert result.all_played
    if benchmark.stats:
        report("200,000 two-ball shots", benchmark.stats.stats.min, None, f", {grown:.0f} MB more")
