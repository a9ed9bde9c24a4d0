"""The same laws as plain Python: what the compiler makes of them changes nothing.

Run as a script this file plays its shots and prints their events as JSON.
"""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

from stunline.equipment.catalogue import load_table
from stunline.shot.play import play
from stunline.shot.position import Position, Strike

SAME_TIME = 1e-12  # [s]
Told = list[tuple[float, str, list[str], str]]


def shots() -> list[tuple[Position, Strike]]:
    """Three shots: cushions with side, a pot attempt off a jaw, screw and a raised cue."""
    table = load_table("snooker-12ft")
    match = table.default_cloth().coefficients
    plain = replace(match, pockets=False)
    open_table = {"white": (0.5, 0.6), "red1": (0.9, 1.5), "red2": (1.2, 2.4)}
    return [
        (Position(table, "match", plain, open_table), Strike(1.15, 4.0, 0.008, 0.006)),
        (
            Position(table, "match", match, {"white": (1.2, 2.9), "black": (1.6, 3.3)}),
            Strike(math.radians(47.0), 2.5, -0.009, 0.0),
        ),
        (
            Position(table, "match", plain, {"white": (0.3, 3.0), "red1": (0.9, 3.3)}),
            Strike(math.radians(25.0), 1.8, -0.004, -0.01, 0.3),
        ),
    ]


def told() -> list[Told]:
    """The events of each: time, kind, balls, surface."""
    return [
        [(e.time, e.kind.value, list(e.balls), e.surface) for e in play(*shot).events]
        for shot in shots()
    ]


def test_compiled_and_plain_python_agree_event_by_event() -> None:
    # [by an independent method] the interpreter instead of the compiler, to 1e-12 s
    environment = {**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": os.pathsep.join(sys.path)}
    child = subprocess.run(
        [sys.executable, str(Path(__file__).resolve())],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    plain: list[Told] = json.loads(child.stdout)
    compiled = told()
    assert sum(one[1] == "cushion" for events in compiled for one in events) >= 6
    assert sum(one[1] == "ball" for events in compiled for one in events) >= 3
    for here, there in zip(compiled, plain, strict=True):
        assert [one[1:] for one in here] == [tuple(one[1:]) for one in there]
        apart = [abs(one[0] - other[0]) for one, other in zip(here, there, strict=True)]
        assert max(apart) < SAME_TIME


if __name__ == "__main__":
    sys.stdout.write(json.dumps(told()))
