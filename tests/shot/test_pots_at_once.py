"""Pots solved together are those solved one by one; values tried together give the same bands."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from stunline.equipment.catalogue import load_table
from stunline.errors import UnsolvableShotError
from stunline.shot.aiming.contact_aim import aimed
from stunline.shot.aiming.pot_aim import direct_strike, goes_in, solve_pot
from stunline.shot.aiming.pots_at_once import PotsAtOnce, Solved
from stunline.shot.aiming.root_search import last_true
from stunline.shot.aiming.solve import Solver
from stunline.shot.aiming.windows_at_once import last_aims, pots_made
from stunline.shot.batch import Tallies
from stunline.shot.cores import cores, over_cores
from stunline.shot.ladder import find_bands, find_bands_at_once
from stunline.shot.outcome import Outcome
from stunline.shot.play import Prepared
from stunline.shot.position import Arrive, Position, PotAim, Strike, StrikePlan
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
POT = PotAim("blue", "middle left")


def position_of(**balls: tuple[float, float]) -> Position:
    return Position(TABLE, CLOTH.name, CLOTH.coefficients, balls)


OPEN = position_of(white=(1.3, 1.55), blue=(0.889, 1.7845), red1=(0.6, 1.5), red2=(1.4, 2.3))


def test_pots_and_edges_of_one_call_are_those_of_single_plays() -> None:
    """To the last bit: the same plays, in the engine instead of one by one."""
    prepared = Prepared(OPEN)
    strike = Strike(0.0, 1.8, 0.004, 0.002)
    direct = direct_strike(prepared, POT, strike)
    aims = (direct.aim + np.linspace(-0.012, 0.012, 41)).tolist()
    made = pots_made(prepared, POT, direct, aims)
    assert made == [goes_in(prepared, POT, aimed(direct, aim)) for aim in aims]
    assert 3 < sum(made) < 38
    first, last = made.index(True), len(made) - 1 - made[::-1].index(True)
    brackets = [(aims[first], aims[first - 1]), (aims[last], aims[last + 1])]
    assert last_aims(prepared, POT, direct, brackets, 1e-8) == [
        last_true(lambda aim: goes_in(prepared, POT, aimed(direct, aim)), *bracket, 1e-8)
        for bracket in brackets
    ]


@pytest.mark.parametrize("follow_ratio", [None, 0.0, 0.6])
def test_pots_of_many_paces_are_those_solved_by_themselves(follow_ratio: float | None) -> None:
    """To what a strip allows: 20 µrad of aim, 2 µm of height; a value not found is not given."""
    solver = Solver(OPEN)
    height = 0.0 if follow_ratio is None else Arrive(follow_ratio)
    paces = np.linspace(1.6, 3.0, 29).tolist()
    alone = [solver.solve(StrikePlan(POT, pace, height)) for pace in paces]
    together = PotsAtOnce(solver.prepared, POT, follow_ratio)
    for index in (0, 14, 28):
        window = alone[index].pot
        assert window is not None
        together.know(paces[index], Solved(window.low, window.high, alone[index].strike.height))
    strikes: list[Strike | None] = []
    for part in (paces[7::14], paces):
        blank = [Strike(0.0, pace) for pace in part]
        strikes = together.solve(part, blank)
    found = 0
    for strike, solution in zip(strikes, alone, strict=True):
        if strike is None:
            continue
        found += 1
        assert strike.aim == pytest.approx(solution.strike.aim, abs=2e-5)
        assert strike.height == pytest.approx(solution.strike.height, abs=2e-6)
        assert strike.pace == pytest.approx(solution.strike.pace, abs=1e-15)
    assert found >= 27


def test_a_pot_that_dies_on_the_way_is_not_found() -> None:
    solver = Solver(OPEN)
    known = solver.solve(StrikePlan(POT, 1.5))
    assert known.pot is not None
    together = PotsAtOnce(solver.prepared, POT, None)
    together.know(1.5, Solved(known.pot.low, known.pot.high, 0.0))
    with pytest.raises(UnsolvableShotError):
        solve_pot(solver.prepared, POT, Strike(0.0, 0.3))
    assert together.solve([0.3], [Strike(0.0, 0.3)]) == [None]


def test_tallies_of_one_call_are_those_of_single_plays() -> None:
    file = read_position_file(shipped_position_path("edge-of-the-pack"))
    prepared = Prepared(file.position)
    random = np.random.default_rng(4)
    strikes = [
        Strike(float(aim), float(pace))
        for aim, pace in random.uniform((0.0, 0.5), (6.28, 5.0), (40, 2))
    ]
    for one, alone in zip(Tallies(prepared).play(strikes), strikes, strict=True):
        wanted = Prepared(file.position).tally(alone)
        assert repr(one) == repr(wanted)  # NaN equals itself in words


def _named(name: str) -> Outcome:
    return Outcome("red1", None, None, name, None, "")


def _stepped(value: float) -> Outcome:
    """Three outcomes within one step of a coarse scan, and one far from them. [X]"""
    names = ("a", "b", "c", "d")
    return _named(names[sum(value > change for change in (0.31, 0.325, 0.8))])


def test_values_tried_together_give_the_changes_in_few_rounds() -> None:
    rounds: list[int] = []

    def outcomes_at(values: Sequence[float]) -> list[Outcome]:
        rounds.append(len(values))
        return [_stepped(value) for value in values]

    bands = find_bands_at_once(outcomes_at, 0.0, 1.0, 11, 1e-3)
    assert [band.outcome.meets for band in bands] == ["a", "b", "c", "d"]
    for band, change in zip(bands[1:], (0.31, 0.325, 0.8), strict=True):
        assert band.start == pytest.approx(change, abs=1e-3)
    assert bands == find_bands(_stepped, 0.0, 1.0, 11, 1e-3)
    assert rounds[0] == 11
    assert max(rounds[1:]) == 2  # one for each pair of neighbours that differ


def test_every_piece_of_work_is_done_once() -> None:
    done = [0] * 101

    def work(thread: int, first: int, last: int) -> None:
        assert 0 <= thread < cores()
        for index in range(first, last):
            done[index] += 1

    over_cores(len(done), work)
    assert done == [1] * len(done)


def test_what_goes_wrong_in_a_thread_is_told_to_the_caller() -> None:
    def work(thread: int, first: int, last: int) -> None:
        if first <= 50 < last:
            raise ValueError("piece 50")

    with pytest.raises(ValueError, match="piece 50"):
        over_cores(101, work)
