"""How long the engine takes, one thread, warm.

Kernels are timed inside a compiled loop of many runs, so that the call from Python is not
counted; ``Position`` → ``Shot`` is timed as a caller sees it. Targets stand beside each
case as ``extra_info``; nothing is asserted about time, only about how many events were played.
"""

from __future__ import annotations

import math
import time

import numba
import numpy as np
import pytest

from stunline.equipment.catalogue import load_table
from stunline.equipment.loose_rack import loose_rack
from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.play import Prepared, play
from stunline.shot.position import Position, Strike

RUNS = 1_000
TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()


def position_of(**balls: tuple[float, float]) -> Position:
    """A position on the shipped table and its default cloth."""
    return Position(TABLE, CLOTH.name, CLOTH.coefficients, balls)


def scattered(count: int) -> Position:
    """That many balls spread over the table, by seed."""
    random = np.random.default_rng(22)
    names = list(TABLE.balls)[:count]
    places: dict[str, tuple[float, float]] = {}
    while len(places) < count:
        x, y = random.uniform(0.1, TABLE.width - 0.1), random.uniform(0.1, TABLE.length - 0.1)
        if all(math.hypot(x - px, y - py) > 0.12 for px, py in places.values()):
            places[names[len(places)]] = (x, y)
    return position_of(**places)


# case: position, strike, events expected, target in µs
CASES = {
    # strike, ball, roll, roll, stop, stop, and the blue's spin from throw dies out: spin-stop
    "two balls, no cushion": (
        position_of(white=(0.9, 0.7), blue=(0.93, 1.2)),
        Strike(aim=0.5 * math.pi, pace=1.0),
        7,
        1.5,
    ),
    "two balls, three cushions": (
        position_of(white=(0.5, 1.0), blue=(0.7, 1.3)),
        Strike(aim=math.radians(50.0), pace=2.6, height=0.005, side=0.003),
        None,
        18.0,
    ),
    "22 scattered balls": (scattered(22), Strike(aim=1.2, pace=4.0), None, 30.0),
}


@numba.njit(nogil=True)
def run_many(
    times, start, work, motion, pair_times, members, contacts, holds,
    coefficients, interior, noses, jaws, drops,
    event_floats, event_ints, phase_floats, phase_ints,
):  # fmt: skip
    """Play the same struck position that many times; events of one run."""
    events = 0
    for _ in range(times):
        work[:] = start
        motion[:] = 0
        _, events, _ = compiled_run(
            work, motion, pair_times, members, contacts, holds,
            coefficients, interior, noses, jaws, drops,
            0, -1, event_floats, event_ints, phase_floats, phase_ints,
        )  # fmt: skip
    return events


compiled_run = compiled.run_events


@pytest.mark.parametrize("name", CASES)
def test_kernel(benchmark, name):
    position, strike, expected, target = CASES[name]
    prepared = Prepared(position)
    shot = prepared.play(strike)
    rows = prepared._rows
    struck = prepared._start.copy()
    velocity = compiled.strike(
        strike.aim, strike.pace, strike.height, strike.side, strike.elevation,
        prepared._radius, prepared._ball_to_end_mass,
    )  # fmt: skip
    struck[0, layout.PHASE_VX : layout.PHASE_VY + 1] = velocity[:2]
    struck[0, layout.PHASE_WX : layout.PHASE_WZ + 1] = velocity[2:]
    arguments = (
        struck, prepared._work, prepared._motion, prepared._pair_times,
        prepared._members, prepared._contacts, prepared._holds, prepared._coefficients,
        *prepared._boundary, rows.event_floats, rows.event_ints, rows.phase_floats, rows.phase_ints,
    )  # fmt: skip
    events = run_many(1, *arguments)
    assert events == len(shot.record.event_ints)
    assert expected is None or events == expected
    benchmark.pedantic(run_many, (RUNS, *arguments), rounds=30, warmup_rounds=2)
    cushions = sum(event.kind == "cushion" for event in shot.events)
    benchmark.extra_info["events, the strike counted"] = events
    benchmark.extra_info["cushions"] = cushions
    if benchmark.stats:
        report(benchmark, name, benchmark.stats.stats.median / RUNS, target, events)


def test_position_to_shot(benchmark):
    """As a caller sees it: arrays made anew, played, wrapped."""
    position, strike, _, _ = CASES["two balls, three cushions"]
    benchmark.pedantic(play, (position, strike), rounds=200, iterations=5, warmup_rounds=20)
    if benchmark.stats:
        report(benchmark, "Position → Shot", benchmark.stats.stats.median, 200.0, 0)


def pack_shots(count: int, gaps: float = 0.0) -> list[tuple[Position, Strike]]:
    """All 22 balls set up, the white anywhere about the D, struck at any red at 5 m/s, by seed."""
    random = np.random.default_rng(5)
    colours = {name: TABLE.spots[name] for name in ("yellow", "green", "brown", "blue", "pink")}
    black = {"black": TABLE.spots["black"]}
    shots = []
    for number in range(count):
        reds = loose_rack(TABLE.racks["triangle"], gaps, number)
        white = (0.5 * TABLE.width + random.uniform(-0.25, 0.25), 0.5)
        at = reds[f"red{random.integers(1, 16)}"]
        aim = math.atan2(at[1] - white[1], at[0] - white[0]) + random.uniform(-0.01, 0.01)
        position = position_of(white=white, **reds, **colours, **black)
        shots.append((position, Strike(aim=aim, pace=5.0)))
    return shots


# Reds that touch open as one impulse; with gaps of up to 2 mm, wider than they are pressed in,
# nearly all meet pair by pair.
@pytest.mark.parametrize(
    ("gaps", "words", "target"),
    [(0.0, "pack at 5 m/s", 1000.0), (2e-3, "pack with gaps up to 2 mm, pair by pair", 150.0)],
)
def test_the_pack_opened(benchmark, gaps: float, words: str, target: float):
    """200 packs at 5 m/s: median and 90 % of one play each, the best of three."""
    shots = [(Prepared(position), strike) for position, strike in pack_shots(200, gaps)]
    prepared, strike = shots[0]
    benchmark.pedantic(prepared.rows, (strike,), rounds=20, warmup_rounds=2)
    times = []
    for prepared, strike in shots:
        tries = []
        for _ in range(4):  # the first finds how many rows it takes
            begun = time.perf_counter()
            record = prepared.rows(strike)
            tries.append(time.perf_counter() - begun)
        assert record.event_ints[0, layout.EVENT_KIND] == layout.EVENT_STRIKE
        times.append(min(tries[1:]))
    if benchmark.stats:
        report(benchmark, f"{words}, median of 200", float(np.median(times)), target, 0)
        report(benchmark, f"{words}, 90 %", float(np.quantile(times, 0.9)), target, 0)


def report(benchmark, name: str, seconds: float, target: float, events: int) -> None:
    """The figure beside its target, as it came out."""
    microseconds = 1e6 * seconds
    benchmark.extra_info["median µs"] = round(microseconds, 3)
    benchmark.extra_info["target µs"] = target
    benchmark.extra_info["kernels"] = compiled.sources_hash()
    ratio = microseconds / target
    verdict = "met" if ratio <= 1.0 else "not met"
    told = f", {events} events" if events else ""
    print(f"\n{name}{told}: {microseconds:.2f} µs, target {target:g}: {verdict}, {ratio:.2f} ×")
