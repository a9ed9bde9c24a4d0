"""How long a whole ladder and a hundred misplaced plays take, one thread, warm.

Nothing is asserted about time; the table in docs/performance.md holds what was measured.
"""

from __future__ import annotations

import time

import pytest

from stunline.shot.ladder import climb
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.shot.setting_error import setting_survival

NAMES = ("edge-of-the-pack", "edge-of-the-pack-low", "stun-and-hold", "screw-between-two-balls")


@pytest.mark.parametrize("name", NAMES)
def test_ladder(benchmark, name):
    file = read_position_file(shipped_position_path(name))
    benchmark._timer = time.process_time
    ladder = benchmark.pedantic(
        climb, (file.position, file.plan, file.ladder), rounds=5, warmup_rounds=1
    )
    assert ladder.bands


@pytest.mark.parametrize("name", NAMES)
def test_hundred_misplaced_plays(benchmark, name):
    file = read_position_file(shipped_position_path(name))
    benchmark._timer = time.process_time
    survival = benchmark.pedantic(
        setting_survival, (file.position, file.plan), rounds=5, warmup_rounds=1
    )
    assert survival.plays == 100
