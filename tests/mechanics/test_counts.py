"""What a shot costs, in counts that no machine changes: events, roots, memory."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

from numba.core.runtime import _nrt_python, rtsys

from stunline.equipment.catalogue import load_table
from stunline.mechanics import layout, meetings, roots
from stunline.shot.play import Prepared
from stunline.shot.position import Position, Strike

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
PLACES = {
    "white": (0.5, 0.6),
    "red1": (0.9, 1.5),
    "red2": (1.2, 2.4),
    "red3": (0.4, 2.0),
    "red4": (1.5, 1.0),
    "red5": (0.7, 3.0),
}
POSITION = Position(TABLE, CLOTH.name, CLOTH.coefficients, PLACES)
STRIKE = Strike(aim=1.15, pace=2.5)


def test_the_engine_allocates_nothing() -> None:
    # Property: kernels make no array, which is also what lets numba's counting be off.
    prepared = Prepared(POSITION)
    prepared.play(STRIKE)
    _nrt_python.memsys_enable_stats()
    before = rtsys.get_allocation_stats()
    for _ in range(20):
        prepared.falls_into(STRIKE, 1)
    after = rtsys.get_allocation_stats()
    assert after.alloc == before.alloc
    assert after.mi_alloc == before.mi_alloc


def test_neither_does_a_pack_nor_contact_that_lasts() -> None:
    # Property: the same with all reds set up, and with a topspin white against a ball.
    reach = 2.0 * TABLE.balls["white"].radius
    pack = {"white": (0.9, 2.4), **TABLE.racks["triangle"]}
    pressed = {"white": (0.9, 1.8), "red1": (0.9, 1.8 + reach)}
    aim = Strike(aim=0.5 * 3.141592653589793, pace=0.6, height=0.0125)
    low_loss = replace(CLOTH.coefficients, ball_restitution=0.05)
    for places, kind in ((pack, layout.EVENT_CLUSTER), (pressed, layout.EVENT_PRESS)):
        prepared = Prepared(Position(TABLE, CLOTH.name, low_loss, places))
        kinds = prepared.play(aim).record.event_ints[:, layout.EVENT_KIND]
        assert kind in kinds
        _nrt_python.memsys_enable_stats()
        before = rtsys.get_allocation_stats()
        for _ in range(20):
            prepared.falls_into(aim, 1)
        assert rtsys.get_allocation_stats().alloc == before.alloc


def test_a_plain_stroke_has_only_the_events_it_must_have() -> None:
    # By hand: up the table and back, one cushion, and each slide ends in a roll.
    alone = Position(TABLE, CLOTH.name, CLOTH.coefficients, {"white": TABLE.spots["brown"]})
    shot = Prepared(alone).play(Strike(aim=0.5 * 3.141592653589793, pace=1.5))
    kinds = [str(event.kind) for event in shot.events]
    assert kinds == ["strike", "roll", "cushion", "roll", "stop"]


def test_roots_are_looked_for_only_where_a_meeting_is_possible() -> None:
    # Six balls, and every event renews up to nine pairs and eighteen pieces of boundary; the
    # boxes and the line of sight leave few quartics. Counted in plain Python; stored from this
    # code, with room.
    environment = {**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": os.pathsep.join(sys.path)}
    child = subprocess.run(
        [sys.executable, str(Path(__file__).resolve())],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    counted = json.loads(child.stdout)
    assert counted["events"] == len(Prepared(POSITION).play(STRIKE).events)
    assert counted["pair quartics"] <= counted["events"]  # 6 of 15 when stored


def count_roots() -> dict[str, int]:
    """Play in plain Python, counting the quartics solved for pairs of balls."""
    counted = {"pair quartics": 0}
    solve = roots.entry_of_quartic

    def counting(*coefficients: float) -> float:
        counted["pair quartics"] += 1
        return float(solve(*coefficients))

    meetings.entry_of_quartic = counting
    counted["events"] = len(Prepared(POSITION).play(STRIKE).events)
    return counted


if __name__ == "__main__":
    sys.stdout.write(json.dumps(count_roots()))
