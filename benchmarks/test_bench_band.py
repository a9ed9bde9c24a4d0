"""What it costs to say how far a shot, or a ladder, may be off on its table.

Processor time of one thread, the least of several runs; nothing is asserted about it, only about
what was played.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest

from stunline.shot import compiled
from stunline.shot.band import ShotBand, band_of_shot
from stunline.shot.drawn_tables import drawn_rows
from stunline.shot.ladder_band import band_of_ladder
from stunline.shot.play import Prepared
from stunline.tasks.climb_ladder import climb_ladder
from stunline.tasks.play_shot import play_shot
from stunline.tasks.read_position import read_position

NAMES = (
    "stay-on-the-black",
    "thin-contact-running-side",
    "edge-of-the-pack",
    "pool-open-the-rack",
)
RUNS = 7


def least(work: Callable[[], object]) -> float:
    """Processor time of this thread. [ms]"""
    work()
    found = []
    for _ in range(RUNS):
        began = time.thread_time()
        work()
        found.append(1e3 * (time.thread_time() - began))
    return min(found)


@pytest.mark.parametrize("name", NAMES)
def test_a_band(name: str) -> None:
    result = play_shot(read_position(name))
    position, strike, plan = result.file.position, result.solution.strike, result.file.plan
    prepared = Prepared(position)

    def band() -> ShotBand:
        return band_of_shot(position, strike, plan, patience=0, prepared=prepared)

    def all_of_it() -> None:
        one = band()
        assert one.tables == 100 and one.readouts and one.ribbon

    began = time.perf_counter()
    band_of_shot(position, strike, plan)
    whole = 1e3 * (time.perf_counter() - began)
    print(
        f"\n{name}, 100 tables: to the next ball {least(band):.0f} ms, with numbers and ribbon "
        f"{least(all_of_it):.0f} ms; to rest {whole:.0f} ms by the clock; kernels "
        f"{compiled.sources_hash()}"
    )


def test_drawing_the_tables() -> None:
    position = read_position(NAMES[0]).file.position
    print(f"\n100 tables drawn: {least(lambda: drawn_rows(position, 100)):.1f} ms")


@pytest.mark.parametrize("name", ["stay-on-the-black", "edge-of-the-pack"])
def test_the_band_of_a_ladder(name: str) -> None:
    ladder = climb_ladder(read_position(name)).ladder
    began = time.perf_counter()
    band = band_of_ladder(ladder)
    took = time.perf_counter() - began
    assert len(band.steps) == len(ladder.rungs) - 1
    print(f"\n{name}, {len(ladder.rungs)} rungs: {took:.2f} s by the clock")
