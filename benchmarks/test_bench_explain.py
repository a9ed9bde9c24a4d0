"""How long an explanation takes, warm: 4 to 64 plays, each with its own contact solved.

Nothing is asserted about time; the table in docs/performance.md holds what was measured.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from stunline.planning.explaining import explain
from stunline.shot.aiming.solve import solve
from stunline.shot.play import play
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path

NAMES = ("edge-of-the-pack", "screw-between-two-balls", "pool-open-the-rack")


def shipped(name: str):
    file = read_position_file(shipped_position_path(name))
    return file.position, file.plan


def timed(benchmark, name, position, plan):
    shot = play(position, solve(position, plan).strike)
    explained = benchmark.pedantic(explain, (shot,), rounds=15, warmup_rounds=2)
    if benchmark.stats:
        seconds = benchmark.stats.stats.median
        told = "met" if seconds <= 1.0 else "not met"
        print(f"\nexplain {name}, {len(explained.cases)} plays: {1e3 * seconds:.0f} ms; 1 s {told}")
    assert len(explained.cases) >= 16


@pytest.mark.parametrize("name", NAMES)
def test_shipped(benchmark, name):
    timed(benchmark, name, *shipped(name))


@pytest.mark.parametrize("elevation", [0.0, 0.15])
def test_every_cause_beside_a_pack(benchmark, elevation):
    position, plan = shipped("edge-of-the-pack")
    plan = replace(plan, height=-0.008, side=0.005, elevation=elevation, pace=2.6)
    timed(benchmark, f"beside a pack, butt raised {elevation} rad", position, plan)


def test_every_cause_and_the_pack_opened(benchmark):
    position, plan = shipped("edge-of-the-pack")
    timed(benchmark, "pack opened", position, replace(plan, side=0.004, pace=6.0))
