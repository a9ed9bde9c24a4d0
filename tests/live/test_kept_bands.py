"""A strip that is asked for again: what was found is kept, and kept apart from all else."""

from __future__ import annotations

from typing import Any

import pytest

from live.live_documents import asked, shipped, with_strike
from stunline.tasks.kept_bands import KeptBands
from stunline.tasks.live_strip import live_strip

Document = dict[str, Any]
WIDTH = 1300.0
OPENING = shipped("edge-of-the-pack")


def strip(kept: KeptBands, document: Document, **more: Any) -> tuple[Any, int]:
    """The strip, and how often it asked whether it is still wanted: not once without a play."""
    calls: list[None] = []

    def cancelled() -> bool:
        calls.append(None)
        return False

    wish = {"strip": "pace", "strip_width": WIDTH, **more}
    return live_strip(asked(document, **wish), None, cancelled, kept), len(calls)


@pytest.mark.parametrize("change", [{}, {"theme": "dark"}, {"strip_width": 700.0}])
def test_it_is_not_played_again_whatever_it_is_drawn_like(change: dict[str, Any]) -> None:
    kept = KeptBands()
    _, plays = strip(kept, OPENING)
    again, more = strip(kept, OPENING, **change)
    assert plays > 0
    assert more == 0
    assert again == strip(KeptBands(), OPENING, **change)[0]


@pytest.mark.parametrize(
    ("document", "change"),
    [
        (with_strike(OPENING, height=5.0), {}),
        (with_strike(OPENING, pace=5.0), {}),  # beyond the ruler, which grows
        ({**OPENING, "balls": {**OPENING["balls"], "white": [150.0, 3040.0]}}, {}),
        ({**OPENING, "coefficients": {"sliding_friction": 0.21}}, {}),
        (OPENING, {"strip": "height"}),
        (OPENING, {"drawing": {"words": False}}),  # something moves: coarser ones will do
    ],
)
def test_another_one_is_played(document: Document, change: dict[str, Any]) -> None:
    kept = KeptBands()
    strip(kept, OPENING)
    other, plays = strip(kept, document, **change)
    assert plays > 0
    assert other == strip(KeptBands(), document, **change)[0]


def test_one_that_was_stopped_is_not_kept() -> None:
    kept = KeptBands()
    wish = asked(OPENING, strip="pace", strip_width=WIDTH)
    assert live_strip(wish, None, lambda: True, kept) is None
    assert strip(kept, OPENING)[1] > 0
