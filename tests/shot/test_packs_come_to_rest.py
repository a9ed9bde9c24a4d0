"""Packs that nearly rest: draws of the campaign with 22 balls that once stood still or sank in."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

from record_check import IN_ORDER, check
from stunline.shot.play import play
from stunline.shot.shot import StopReason

CAMPAIGNS = Path(__file__).resolve().parents[2] / "campaigns"


@pytest.mark.parametrize(
    ("seed", "draw"),
    [
        (1000070, 471),  # a ball pushed to and fro between two at rest, without end
        (1000019, 27),  # two rolling balls let go that pressed again at once, 1.04e-9 R deep
        (1000025, 224),  # pieces cut short by impacts, 1.17e-9 R deep
        (1000005, 762),  # a rolling ball pushed on by its own resistance
        (3000053, 178),  # another, whose push is not what was foreseen
        (3000025, 762),  # a white between two at rest that it can hardly move
        (3000060, 1217),  # one at rest, set off at nm/s again and again by another that creeps
    ],
)
def test_it_ends_at_rest_and_in_order(
    seed: int, draw: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """[property] No overlap of a billionth of the radius, no gain of energy, and an end."""
    monkeypatch.syspath_prepend(str(CAMPAIGNS))
    full_tables = pytest.importorskip("full_tables")
    random = np.random.default_rng(seed)
    for _ in range(draw):
        full_tables.shot_with_full_table(random)
    shot = play(*full_tables.shot_with_full_table(random))
    assert shot.stop_reason == StopReason.AT_REST
    assert check(shot)[0] == IN_ORDER
    sys.modules.pop("full_tables", None)
