"""A shot's inputs and the engine give the same bits again, in this process and in a new one."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from random_positions import MATCH, TABLE, random_shot
from stunline.shot.batch import play_many
from stunline.shot.play import Prepared, play
from stunline.shot.position import Position, Strike
from stunline.shot.replay import replay_digest

PACK = Position(
    TABLE,
    "match",
    MATCH,
    {"white": (0.9, 0.6), **TABLE.racks["triangle"], "black": TABLE.spots["black"]},
)
BREAK = Strike(aim=1.57, pace=6.0, height=0.004, side=0.003)
SEEDS = range(12)
ANOTHER_PROCESS = """
import sys
sys.path.insert(0, sys.argv[1])
from test_replay import SEEDS, digest
print(" ".join(digest(seed) for seed in (-1, *SEEDS)))
"""


def digest(seed: int) -> str:
    """Of a random shot, or for −1 of an opened pack."""
    return replay_digest(play(PACK, BREAK) if seed < 0 else play(*random_shot(seed)))


def test_another_process_gives_the_same_digests() -> None:
    here = Path(__file__).parent
    paths = os.pathsep.join([str(here.parent), *filter(None, [os.environ.get("PYTHONPATH")])])
    run = subprocess.run(
        [sys.executable, "-c", ANOTHER_PROCESS, str(here)],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": paths},
    )
    assert run.stdout.split() == [digest(seed) for seed in (-1, *SEEDS)]


def test_what_was_played_before_in_the_same_arrays_leaves_no_trace() -> None:
    prepared = Prepared(PACK)
    fresh = replay_digest(prepared.play(BREAK))
    prepared.play(replace(BREAK, aim=1.3, pace=12.0))
    assert replay_digest(prepared.play(BREAK)) == fresh
    play_many(PACK, [BREAK] * 3)
    assert replay_digest(play(PACK, BREAK)) == fresh


@pytest.mark.parametrize(
    "change", [{"pace": 6.000000000000001}, {"height": 0.0040000000000000001}, {"aim": -1.57}]
)
def test_the_digest_tells_shots_apart(change: dict[str, float]) -> None:
    other = replace(BREAK, **change)
    same = replay_digest(play(PACK, other)) == replay_digest(play(PACK, BREAK))
    assert same == (other == BREAK)
