"""Choosing a strike: an open position of eight balls, a goal beside the pack, the pack opened.

Targets stand beside each case; nothing is asserted about time, only about what was found.
"""

from __future__ import annotations

import resource
import time
from pathlib import Path

import pytest

from stunline.equipment.player import load_player
from stunline.planning.choose import STRIKES, Choice, choose
from stunline.planning.request import Request, request
from stunline.shot import compiled
from stunline.shot.goal import Goal, Meeting, NextBall, StrikeRange
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path

CLUB = load_player("club")
VARY = StrikeRange((0.8, 3.0), (-0.012, 0.012), None)
RED7 = Goal(meet=Meeting("red7"), vary=VARY)


def shipped(name: str, goal: Goal | None = None) -> Request:
    """The request of a shipped position, with another goal if one is given."""
    file = read_position_file(Path(shipped_position_path(name)))
    wanted = goal or file.goal
    assert wanted is not None
    return request(file.position, file.plan, wanted, CLUB)


def opened_pack() -> Request:
    """The pack opened from the black, some red wanted next: every play goes on to rest."""
    file = read_position_file(Path(shipped_position_path("edge-of-the-pack")))
    reds = tuple(name for name in file.position.names if name.startswith("red"))
    goal = Goal(next=NextBall(reds, (0.0, 0.9)), in_off=False, vary=VARY)
    return request(file.position, file.plan, goal, CLUB)


CASES = {
    "open, 8 balls": (lambda: shipped("stay-on-the-black"), 1.5),
    "beside the pack, decided early": (lambda: shipped("edge-of-the-pack", RED7), None),
    "pack opened": (opened_pack, 30.0),
}


@pytest.mark.parametrize("case", CASES)
def test_choose(benchmark, case: str) -> None:
    make, target = CASES[case]
    asked = make()
    choose(asked, 100, 64)  # warm: imports, kernels
    found: list[Choice] = []
    seconds: list[float] = []

    def search() -> None:
        began = time.perf_counter()
        found.append(choose(asked, STRIKES))
        seconds.append(time.perf_counter() - began)

    benchmark.pedantic(search, rounds=1 if target and target > 10.0 else 3)
    best = min(seconds)
    verdict = "" if target is None else f", target {target:g} s: {best / target:.2f} ×"
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    print(
        f"\nchoose, {case}: {best:.2f} s{verdict}; {found[0].tried:,} strikes, "
        f"{len(found[0].options)} ways, {memory:.0f} MB at most; kernels {compiled.sources_hash()}"
    )
    assert found[0].options
    assert found[0].complete
