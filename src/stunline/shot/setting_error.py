"""How often a shot comes to the same when its balls are set a little off their places.

Each play sets every ball off by the same distance in a direction of its own, aims again at
the same pot or contact, plays with the printed pace, height and side, and asks whether the
white still meets what it should.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stunline.errors import UnsolvableShotError
from stunline.shot.aiming.pot_aim import (
    PotWindow,
    aim_near,
    balls_near_the_ways,
    direct_strike,
)
from stunline.shot.aiming.pot_refusal import unexplained
from stunline.shot.aiming.solve import Solution, Solver
from stunline.shot.outcome import Outcome
from stunline.shot.outcome_of_rows import outcome_of_strike
from stunline.shot.placing import Placing
from stunline.shot.position import Position, PotAim, Strike, StrikePlan

# How far off a ball set by tape ends up. [m] Common practice, no source.
SETTING_ERROR = 0.002
PLAYS = 100
SEED = 1  # any number; the same gives the same plays
# Normal deviate of a two-sided 95 % interval. [-]
_DEVIATE = 1.959963984540054


@dataclass(frozen=True, slots=True)
class Survival:
    """How often the outcome stayed what it was.

    Attributes:
        kept: plays with the same outcome
        plays: in all
        interval: low and high end of the 95 % interval for the share kept [-]
        error: how far each ball was set off [m]
        outcome: of the shot as printed
    """

    kept: int
    plays: int
    interval: tuple[float, float]
    error: float
    outcome: Outcome

    @property
    def share(self) -> float:
        """Of the plays, those that kept the outcome. [-]"""
        return self.kept / self.plays


def setting_survival(
    position: Position,
    plan: StrikePlan,
    error: float = SETTING_ERROR,
    plays: int = PLAYS,
    seed: int = SEED,
) -> Survival:
    """Play the shot with the balls set off their places, and count what stays the same.

    Balls that touch are set as one body. A pot or contact is aimed at anew and a direct aim
    held; pace, height, side and elevation stay as solved for the printed position. Kept means
    the same first ball, the same pot made, the same ball or cushion met next, and in-off or
    not as before; for a white that is alone the same number of cushions. What can no longer be
    aimed at is not kept.

    Args:
        error: how far each ball is set off [m]
        seed: of the directions; the same seed gives the same plays.

    Raises:
        UnsolvableShotError: when the printed shot itself can't be solved.
    """
    again = _Again(position, plan)
    placing = Placing(position)
    random = np.random.default_rng(seed)
    kept = sum(again.is_kept(placing.displaced(error, random)) for _ in range(plays))
    return Survival(kept, plays, wilson_interval(kept, plays), error, again.outcome)


def wilson_interval(kept: int, plays: int, deviate: float = _DEVIATE) -> tuple[float, float]:
    """The score interval, 95 % unless said, for ``kept`` seen of ``plays``. [-]

    ``(k + z²/2 ± z·√(k·(n−k)/n + z²/4)) / (n + z²)`` with z the ``deviate``. Unlike the
    share and its standard deviation it stays inside 0 to 1, and says something when all were kept.

    Source: Wilson, J. Am. Stat. Assoc. 22 (1927) 209–212.
    """
    square = deviate * deviate
    middle = kept + 0.5 * square
    half = deviate * math.sqrt(kept * (plays - kept) / plays + 0.25 * square)
    low, high = (middle - half) / (plays + square), (middle + half) / (plays + square)
    # None and all are possible whatever was seen; rounding must not say otherwise.
    return (0.0 if kept == 0 else low), (1.0 if kept == plays else high)


def survival_words(survival: Survival) -> str:
    """ "Survives 2 mm of setting error 9 times in 10"."""
    return f"Survives {1000.0 * survival.error:g} mm of setting error {_often(survival)}"


def _often(survival: Survival) -> str:
    tenths = round(10.0 * survival.share)
    if survival.kept == survival.plays:
        return f"every time in {survival.plays} plays"
    if survival.kept == 0:
        return f"not once in {survival.plays} plays"
    if tenths == 10:
        return "more than 9 times in 10"
    if tenths == 0:
        return "less than once in 10"
    return "once in 10" if tenths == 1 else f"{tenths} times in 10"


def _same(one: Outcome, other: Outcome) -> bool:
    """Whether both come to the same for a coach, whichever side of the next ball is met."""
    return (
        one.object_ball == other.object_ball
        and one.pot_made == other.pot_made
        and one.meets == other.meets
        and bool(one.in_off) == bool(other.in_off)
        and one.cushions == other.cushions
    )


class _Again:
    """The same shot played on positions that differ a little from the printed one."""

    def __init__(self, position: Position, plan: StrikePlan) -> None:
        self._solver = Solver(position, unexplained)
        solution = self._solver.solve(plan)
        strike = solution.strike
        self._strike = strike
        self._plan = replace(
            plan,
            pace=strike.pace,
            height=strike.height,
            side=strike.side,
            elevation=strike.elevation,
        )
        self._window = self._seen_from_the_direct_line(solution)
        self.outcome = outcome_of_strike(self._solver.prepared, strike, plan)

    def _seen_from_the_direct_line(self, solution: Solution) -> PotWindow | None:
        """The window of aim of the printed pot, counted from its direct line."""
        if solution.pot is None:
            return None
        assert isinstance(self._plan.aim, PotAim)
        direct = direct_strike(self._solver.prepared, self._plan.aim, solution.strike).aim
        window = solution.pot
        return PotWindow(window.aim - direct, window.low - direct, window.high - direct)

    def is_kept(self, places: NDArray[np.float64]) -> bool:
        """Whether the outcome is the same with the balls at those places. [m]"""
        solver = self._solver.with_balls_at(places)
        try:
            for strike in self._aims(solver):
                result = outcome_of_strike(solver.prepared, strike, self._plan)
                if result.pot_made == self.outcome.pot_made:
                    return _same(result, self.outcome)
            strike = solver.solve(self._plan).strike
        except UnsolvableShotError:
            return False
        return _same(outcome_of_strike(solver.prepared, strike, self._plan), self.outcome)

    def _aims(self, solver: Solver) -> list[Strike]:
        """The pot's window looked for near where it was; none when it isn't found there."""
        if self._window is None:
            return []
        assert isinstance(self._plan.aim, PotAim)
        pot, prepared = self._plan.aim, solver.prepared
        direct = direct_strike(prepared, pot, self._strike)
        near = prepared.only(balls_near_the_ways(prepared.position, pot))
        aim = aim_near(near, pot, direct, self._window)
        return [] if aim is None else [aim]
