"""What a strike forgives: margins and 16,384 or 32,768 plays, in the open and into a pack.

Targets stand beside each case; nothing is asserted about time, only about what was played.
"""

from __future__ import annotations

import pytest

from stunline.shot import compiled
from stunline.shot.position_file import parse_position
from stunline.tasks.margin_of_strike import MarginResult, margin_of_strike
from stunline.tasks.read_position import ReadPosition, read_position

OPEN = """\
title = "Eight balls in the open, an invented position"
table = "snooker-12ft"
[balls]
white = [450.0, 1600.0]
blue = "blue"
pink = "pink"
black = "black"
brown = "brown"
green = "green"
yellow = "yellow"
reds = [[900.0, 2950.0]]
[strike]
pot = { ball = "blue", pocket = "middle right" }
pace = 1.6
height = -4.0
[goal]
next = { ball = "any red", cut = [0.0, 60.0] }
in_off = false
"""
# The white comes off the black into the pack and is to stay in the upper half.
PACKED = """\
title = "Off the black into the pack, an invented position"
table = "snooker-12ft"
[balls]
white = [150.0, 3050.0]
black = [600.0, 3060.0]
reds = "triangle"
[strike]
pot = { ball = "black", pocket = "top right" }
pace = 2.6
height = 10.5
[goal]
rest = { polygon = [[0.0, 1784.5], [1778.0, 1784.5], [1778.0, 3569.0], [0.0, 3569.0]] }
in_off = false
"""
CASES = [
    ("8 balls in the open, 16,384 plays", OPEN, 16_384, 0.5),
    ("8 balls in the open, 32,768 plays", OPEN, 32_768, 0.5),
]


def read(text: str) -> ReadPosition:
    return ReadPosition(parse_position(text, "bench.toml"), text)


def last(text: str | ReadPosition, plays: int) -> MarginResult:
    file = read(text) if isinstance(text, str) else text
    return list(margin_of_strike(file, plays=plays))[-1]


def report(name: str, seconds: float, target: float) -> None:
    """The figure beside its target, as it came out."""
    verdict = f"target {target:g}: {seconds / target:.2f} ×"
    print(f"\n{name}: {seconds:.3f} s, {verdict}, kernels {compiled.sources_hash()}")


@pytest.mark.parametrize(("name", "text", "plays", "target"), CASES, ids=[one[0] for one in CASES])
def test_margin(benchmark, name: str, text: str, plays: int, target: float) -> None:
    found: list[MarginResult] = []
    benchmark.pedantic(lambda: found.append(last(text, plays)), rounds=3, warmup_rounds=1)
    assert found[-1].study.played == plays
    if benchmark.stats:
        report(name, benchmark.stats.stats.min, target)


def test_margin_beside_a_pack(benchmark) -> None:
    """The strike held to the ball that it meets: plays end there."""
    found: list[MarginResult] = []
    file = read_position("edge-of-the-pack")
    benchmark.pedantic(lambda: found.append(last(file, 16_384)), rounds=1, warmup_rounds=0)
    assert found[-1].study.played == 16_384
    if benchmark.stats:
        report("edge of the pack, 17 balls", benchmark.stats.stats.min, 15.0)


def test_margin_with_the_pack_opened(benchmark) -> None:
    """A goal that is only decided when everything rests."""
    found: list[MarginResult] = []
    benchmark.pedantic(lambda: found.append(last(PACKED, 16_384)), rounds=1, warmup_rounds=0)
    assert found[-1].study.played == 16_384
    if benchmark.stats:
        report("pack opened, 17 balls, played to rest", benchmark.stats.stats.min, 15.0)
