"""How long it takes to tell a stroke back, warm, with all cores.

Nothing is asserted about time; the table in docs/performance.md holds what was measured.
"""

from __future__ import annotations

import pytest

from stunline.shot.position_file.shipped import shipped_position_path
from stunline.tasks.played_stroke import played_stroke
from stunline.tasks.read_position import read_position

TARGET = 2.0  # s
SEEN = {
    "stun-and-hold": {"white_rest": [1010.0, 3360.0], "potted": "black"},
    "up-and-down": {"white_rest": [900.0, 900.0]},
    "six-foot-blue-then-pink": {"white_rest": [600.0, 1500.0], "potted": "blue"},
    "thin-contact-running-side": {"white_cushion": "left"},
    "edge-of-the-pack": {"white_met": "red7", "potted": "black"},
}


@pytest.mark.parametrize("name", SEEN)
def test_shipped(benchmark, name):
    read = read_position(shipped_position_path(name))
    found = benchmark.pedantic(played_stroke, (read, SEEN[name]), rounds=3, warmup_rounds=1).found
    if benchmark.stats:
        seconds = benchmark.stats.stats.median
        told = "met" if seconds <= TARGET else "not met"
        print(f"\nplayed {name}, {found.plays:,} plays, worth {found.effective:.0f}: "
              f"{seconds:.2f} s; {TARGET:.0f} s {told}")  # fmt: skip
    assert found.plays > 0
