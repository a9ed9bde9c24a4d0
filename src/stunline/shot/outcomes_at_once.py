"""What many values of a ladder come to, solved and played together on all cores."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

from stunline.shot.aiming.pot_aim import PotWindow
from stunline.shot.aiming.pots_at_once import PotsAtOnce, Solved
from stunline.shot.aiming.solve import Solution
from stunline.shot.batch import Tallies
from stunline.shot.outcome import Outcome
from stunline.shot.outcome_of_rows import outcome_of_tally
from stunline.shot.position import Arrive, PotAim, Strike, StrikePlan
from stunline.shot.rung import RungPlayer

# About how long plays go on before it is asked whether they are still wanted. [s] A hand that
# moves a ball waits for it; shorter, and the cores wait for each other more often.
_BETWEEN_LOOKS = 0.004
# Plays at first, and at most, between two looks.
_FEW, _MOST = 8, 32


class OutcomesAtOnce:
    """The outcomes of a plan with any values of its pace or height, on one position."""

    def __init__(
        self, player: RungPlayer, low: float, high: float, look: Callable[[], None]
    ) -> None:
        """``look``: called every few plays; may raise, to end it."""
        self._player, self._look = player, look
        self._position, plan = player.solver.position, player.plan
        self._tallies = Tallies(player.solver.prepared)
        self._pots: PotsAtOnce | None = None
        self._chunk = _FEW
        self._strike_at = player.strikes_over(low, high)
        if isinstance(plan.aim, PotAim):
            ratio = plan.height.follow_ratio if isinstance(plan.height, Arrive) else None
            self._pots = PotsAtOnce(player.solver.prepared, plan.aim, ratio)
            for value, solution in player.first_solutions():
                self._take_in(value, solution)

    def __call__(self, values: Sequence[float]) -> list[Outcome]:
        """In the order of the values. SI."""
        strikes = self._strikes(values)
        known = {index: one for index, one in enumerate(strikes) if one is not None}
        plans = [self._player.plan_with(values[index]) for index in known]
        outcomes = dict(zip(known, self._played(list(known.values()), plans), strict=True))
        # A pot that fails where its window was found is for solving to look into.
        again = [
            index
            for index in range(len(values))
            if index not in outcomes or outcomes[index].pot_made is False
        ]
        outcomes.update(zip(again, self._solved([values[index] for index in again]), strict=True))
        return [outcomes[index] for index in range(len(values))]

    def _solved(self, values: Sequence[float]) -> list[Outcome]:
        """Each solved by itself, then all played."""
        solved = []
        for value in values:
            self._look()
            solved.append(self._player.solved_strike_at(value))
        played = self._played([strike for strike, _, _ in solved], [plan for _, plan, _ in solved])
        return [
            replace(one, pot_made=False) if missed else one
            for one, (_, _, missed) in zip(played, solved, strict=True)
        ]

    def _played(self, strikes: Sequence[Strike], plans: Sequence[StrikePlan]) -> list[Outcome]:
        outcomes: list[Outcome] = []
        while len(outcomes) < len(strikes):
            self._look()
            part = slice(len(outcomes), len(outcomes) + self._chunk)
            began = time.perf_counter()
            tallies = self._tallies.play(strikes[part])
            self._pace_looks(len(tallies), time.perf_counter() - began)
            outcomes += [
                outcome_of_tally(self._position, tally, plan)
                for tally, plan in zip(tallies, plans[part], strict=True)
            ]
        return outcomes

    def _pace_looks(self, plays: int, seconds: float) -> None:
        """How many plays come before the next look; no number depends on it."""
        fitting = int(plays * _BETWEEN_LOOKS / max(seconds, 1e-6))
        self._chunk = min(max(fitting, 2), _MOST)

    def _strikes(self, values: Sequence[float]) -> list[Strike | None]:
        if self._pots is None:
            return [self._strike_at(value) for value in values]
        strikes: list[Strike | None] = [None] * len(values)
        for level in _levels(len(values)):
            self._look()
            solved = self._pots.solve(
                [values[index] for index in level],
                [self._player.without_aim(values[index]) for index in level],
            )
            for index, strike in zip(level, solved, strict=True):
                strikes[index] = strike
        return strikes

    def _take_in(self, value: float, solution: Solution) -> None:
        window = solution.pot
        assert self._pots is not None and isinstance(window, PotWindow)
        self._pots.know(value, Solved(window.low, window.high, solution.strike.height))


def _levels(count: int) -> list[list[int]]:
    """Indices in the order in which each has neighbours that come before it: halves, quarters …"""
    steps = [1]
    while steps[-1] < count // 8:
        steps.append(2 * steps[-1])
    levels = [list(range(0, count, steps[-1]))]
    for wide, narrow in pairwise(reversed(steps)):
        levels.append([index for index in range(0, count, narrow) if index % wide])
    return levels
