"""A quick scan finds what solving and playing every value finds."""

from __future__ import annotations

import json
import math
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from stunline.equipment.catalogue import load_table
from stunline.shot.ladder import CHANGE_TOLERANCE, climb, find_bands
from stunline.shot.outcome import outcome
from stunline.shot.outcome_of_rows import outcome_of_strike
from stunline.shot.play import Prepared, play
from stunline.shot.position import (
    Arrive,
    ContactAim,
    LadderPlan,
    Position,
    PotAim,
    Strike,
    StrikePlan,
)
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.shot.rung import RungPlayer
from stunline.shot.strikes_along import StrikesAlong

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
# Recorded with this program while every value was still solved by itself and played as a
# whole shot: start, end and words of each band. A position that changes is recorded anew with
# ``find_bands(RungPlayer(…).outcome_at, …)``.
RECORDED = json.loads(Path(__file__).with_name("recorded_bands.json").read_text(encoding="utf-8"))


def position_of(**balls: tuple[float, float]) -> Position:
    return Position(TABLE, CLOTH.name, CLOTH.coefficients, balls)


@pytest.mark.parametrize("name", RECORDED)
def test_bands_of_the_shipped_positions_are_those_of_solving_every_value(name: str) -> None:
    file = read_position_file(shipped_position_path(name))
    assert file.ladder is not None
    bands = climb(file.position, file.plan, file.ladder).bands
    resolution = CHANGE_TOLERANCE * (bands[-1].end - bands[0].start)
    words = [
        band.outcome.words() + (f" on its {band.outcome.on}" if band.outcome.on else "")
        for band in bands
    ]
    assert words == [recorded[2] for recorded in RECORDED[name]]
    for band, (start, end, _) in zip(bands, RECORDED[name], strict=True):
        assert band.start == pytest.approx(start, abs=2.0 * resolution)
        assert band.end == pytest.approx(end, abs=2.0 * resolution)


@pytest.mark.parametrize(
    ("plan", "ladder"),
    [
        (StrikePlan(PotAim("blue", "middle left"), 1.5, Arrive(0.3)), ("pace", (1.0, 3.0))),
        (StrikePlan(ContactAim("blue", 0.4, "left"), 2.5, Arrive(0.0)), ("pace", (2.2, 3.0))),
        (StrikePlan(PotAim("blue", "middle left"), 1.5), ("side", (-0.006, 0.006))),
        (StrikePlan(ContactAim("blue", 0.4, "left"), 2.0, 0.004), ("thickness", (0.2, 0.8))),
    ],
)
def test_bands_are_those_of_solving_every_value(plan, ladder) -> None:
    position = position_of(white=(1.1, 1.2), blue=(0.889, 1.7845), red1=(0.6, 1.5), red2=(1.4, 2.3))
    values = ladder[1]
    ladder_plan = LadderPlan(*ladder)
    quick = climb(position, plan, ladder_plan)
    player = RungPlayer(position, plan, ladder_plan)
    player.rungs()
    full = find_bands(player.outcome_at, *values, scanned=61)
    resolution = CHANGE_TOLERANCE * (values[1] - values[0])
    # A coarser scan sees the wider bands only: each of its changes is one of the quick ones.
    changes = [(change.at, change.before, change.after) for change in quick.changes]
    for before, after in pairwise(full):
        assert any(
            abs(at - after.start) <= 2.0 * resolution and now == before.outcome
            for at, now, _ in changes
        )


def test_outcomes_from_rows_are_those_of_the_shots() -> None:
    """Seeded strikes into seven balls, three of which touch: all kinds of outcome occur."""
    balls = {
        "white": (0.9, 0.6), "red1": (0.9, 1.5), "red2": (0.9526, 1.5), "red3": (0.5, 2.4),
        "blue": (1.4, 1.8), "pink": (1.2, 2.9), "black": (0.3, 3.2),
    }  # fmt: skip
    many = position_of(**balls)
    alone = position_of(white=(0.9, 0.6))
    plan = StrikePlan(PotAim("blue", "middle right"), 1.0)
    random = np.random.default_rng(20)
    kinds = set()
    for position, pot, count in ((many, plan, 600), (alone, None, 60)):
        prepared = Prepared(position)
        for _ in range(count):
            aim, height, side = random.uniform((0.2, -0.01, -0.006), (2.9, 0.01, 0.006))
            strike = Strike(float(aim), float(random.uniform(0.3, 6.0)), float(height), float(side))
            quick = outcome_of_strike(prepared, strike, pot)
            assert quick == outcome(play(position, strike), pot)
            kinds.add((bool(quick.object_ball), quick.on, bool(quick.meets), bool(quick.in_off)))
    assert {(True, "left", True, False), (True, "right", True, False)} <= kinds
    assert any(kind[3] for kind in kinds)
    assert (False, None, False, False) in kinds


def _smooth(value: float) -> Strike:
    return Strike(0.3 * math.exp(-value), 1.0 + value, 0.002 * math.sin(value))


def test_smooth_strikes_are_interpolated_to_what_is_promised() -> None:
    solved: list[float] = []

    def solve(value: float) -> Strike:
        solved.append(value)
        return _smooth(value)

    along = StrikesAlong(solve, 0.0, 2.0)
    for value in np.linspace(0.0, 2.0, 501).tolist():
        strike = along.at(value)
        assert strike is not None
        assert strike.aim == pytest.approx(_smooth(value).aim, abs=1e-6)
        assert strike.pace == pytest.approx(1.0 + value, abs=1e-12)
        assert strike.height == pytest.approx(_smooth(value).height, abs=1e-7)
    assert len(solved) < 501 / 8


def test_a_jump_and_a_gap_are_solved_value_by_value() -> None:
    def solve(value: float) -> Strike | None:
        if 1.2 < value < 1.3:
            return None
        return Strike(0.1 * value + (0.05 if value > 0.731 else 0.0), 1.0)

    along = StrikesAlong(solve, 0.0, 2.0)
    for value in np.linspace(0.0, 2.0, 1001).tolist():
        wanted, found = solve(value), along.at(value)
        assert (found is None) == (wanted is None)
        if found is not None and wanted is not None:
            assert found.aim == pytest.approx(wanted.aim, abs=1e-6)
