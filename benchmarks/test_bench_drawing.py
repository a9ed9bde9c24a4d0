"""How long a plan takes from a played ladder to SVG text, and how large the text is.

The ladder was climbed before, as a page has it when something is drawn again; nothing that the
drawing remembers from one call to the next helps it, since each round gets shots of its own.
"""

from __future__ import annotations

from copy import copy
from dataclasses import replace

import pytest

from stunline.drawing import SCREEN_LIGHT, plan_of_ladder, plan_of_shot, svg
from stunline.drawing.narrow_bands import strip_rows
from stunline.shot.ladder import Ladder
from stunline.tasks.climb_ladder import climb_ladder
from stunline.tasks.play_shot import play_shot
from stunline.tasks.read_position import read_position

LONGEST, LARGEST = 0.005, 60_000  # s and bytes for a ladder of five; the time without its fonts
POSITIONS = ("edge-of-the-pack", "edge-of-the-pack-low", "thin-contact-running-side")


def fresh(ladder: Ladder) -> Ladder:
    """The same ladder with shots that nobody has drawn yet."""
    strip_rows.cache_clear()
    rungs = tuple(replace(rung, shot=copy(rung.shot)) for rung in ladder.rungs)
    return replace(ladder, rungs=rungs)


@pytest.mark.parametrize("name", POSITIONS)
def test_ladder_of_five(benchmark, name):
    ladder = climb_ladder(read_position(name)).ladder
    assert len(ladder.rungs) == 5
    text = benchmark.pedantic(
        lambda played: svg(plan_of_ladder(played), SCREEN_LIGHT, embed_font=False),
        setup=lambda: ((fresh(ladder),), {}),
        rounds=60,
        warmup_rounds=5,
    )
    whole = svg(plan_of_ladder(ladder), SCREEN_LIGHT)
    tell(benchmark, name, text, whole)


@pytest.mark.parametrize("name", POSITIONS)
def test_shot(benchmark, name):
    shot = play_shot(read_position(name)).shot
    text = benchmark.pedantic(
        lambda played: svg(plan_of_shot(played), SCREEN_LIGHT, embed_font=False),
        setup=lambda: ((copy(shot),), {}),
        rounds=60,
        warmup_rounds=5,
    )
    tell(benchmark, name, text, svg(plan_of_shot(shot), SCREEN_LIGHT))


def tell(benchmark, name: str, text: str, whole: str) -> None:
    plain, full = (len(one.encode()) for one in (text, whole))
    assert full < LARGEST
    sizes = f"{plain / 1e3:.0f} kB, with its fonts {full / 1e3:.0f} kB"
    if benchmark.stats:
        seconds = benchmark.stats.stats.median
        met = "met" if seconds <= LONGEST else "not met"
        print(f"\n{name}: {seconds * 1e3:.1f} ms ({LONGEST * 1e3:g} ms {met}), {sizes}")
