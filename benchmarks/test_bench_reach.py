"""Where the white can go on an open position of 8 balls: the whole search, from file to cells.

Targets stand beside each case; nothing is asserted about time, only about what was found.
"""

from __future__ import annotations

import resource
import time

import pytest

from stunline.equipment.catalogue import load_table
from stunline.equipment.player import load_player
from stunline.planning.reach import reach
from stunline.planning.reach_at import point_at
from stunline.planning.request import Request, request
from stunline.planning.white_places import white_places
from stunline.shot import compiled
from stunline.shot.goal import Goal, NextBall
from stunline.shot.position import Position, PotAim, StrikePlan

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
OPEN = {
    "white": (1.15, 2.9),
    "red1": (0.7, 2.45),
    "red2": (1.3, 1.9),
    "red3": (0.4, 3.0),
    **{name: TABLE.spots[name] for name in ("black", "pink", "blue", "yellow")},
}


def asked(goal: Goal) -> Request:
    position = Position(TABLE, CLOTH.name, CLOTH.coefficients, OPEN)
    plan = StrikePlan(PotAim("black", "top left"), 1.7, 0.005)
    return request(position, plan, goal, load_player("club"))


def report(name: str, seconds: float, target: float | None, processor: float) -> None:
    """The figure beside its target, as it came out."""
    verdict = "" if target is None else f", target {target:g}: {seconds / target:.2f} ×"
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"\n{name}: {seconds:.2f} s{verdict}; processor {processor:.2f} s, "
        f"memory at most {memory:.0f} MB, kernels {compiled.sources_hash()}"
    )


@pytest.mark.parametrize("what", ["reach", "at", "from"])
def test_reach_on_an_open_position(what: str) -> None:
    goal = Goal(next=NextBall(("pink",), (0.0, 0.7))) if what == "from" else Goal()
    request_ = asked(goal)
    times: list[tuple[float, float]] = []
    for _ in range(4):
        began, used = time.perf_counter(), time.process_time()
        if what == "from":
            places = white_places(request_, request_.player.aim, request_.player.pace)
            assert places.met.sum() > 500
        else:
            found = reach(request_)
            assert found.reached.mean() > 0.7
            if what == "at":
                began, used = time.perf_counter(), time.process_time()
                assert point_at(found, (1.3, 0.7)).is_there
        times.append((time.perf_counter() - began, time.process_time() - used))
    seconds, processor = min(times[1:])
    targets = {"reach": 2.0, "at": None, "from": None}
    report(f"{what}, open position of 8 balls", seconds, targets[what], processor)
