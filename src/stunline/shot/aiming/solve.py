"""From what a coach asks for to a strike in numbers."""

from __future__ import annotations

from collections.abc import Callable
from copy import copy
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stunline.errors import UnsolvableShotError
from stunline.shot.aiming.arrival import solve_height
from stunline.shot.aiming.contact_aim import aimed, solve_contact
from stunline.shot.aiming.pace import SLOWEST, pace_of_lengths
from stunline.shot.aiming.pot_aim import PotWindow, Why, direct_strike, goes_in, solve_pot
from stunline.shot.aiming.pot_refusal import refusal
from stunline.shot.aiming.root_search import last_true
from stunline.shot.aiming.strike_limits import named_height
from stunline.shot.play import Prepared
from stunline.shot.position import (
    Arrive,
    ContactAim,
    DirectAim,
    Lengths,
    NamedHeight,
    PocketWeight,
    Position,
    PotAim,
    Strike,
    StrikePlan,
)
from stunline.shot.shot import Shot
from stunline.units import degrees, metres, millimetres, radians

# Pocket weight is the slowest pace that drops, and this much more, so that the window of aim
# is not nought. [-] More would no longer be "just drops".
_ABOVE_THE_SLOWEST = 1.01
_PACE_TOLERANCE = 1e-5  # [m s⁻¹]
# Where the search for pocket weight gives up. [m s⁻¹]
_FASTEST_DROP = 6.0

Potting = Callable[[Prepared, PotAim, Strike, Why], tuple[Strike, PotWindow]]


@dataclass(frozen=True, slots=True)
class Solution:
    """A strike that does what was asked, and how far the aim may be off when it pots.

    Attributes:
        strike: all in numbers
        pot: the window of aim, where a pot was asked for
    """

    strike: Strike
    pot: PotWindow | None = None


def solve(position: Position, plan: StrikePlan) -> Solution:
    """The strike in numbers that does what the plan asks for.

    Raises:
        UnsolvableShotError: with the reason in a word, the facts, and what to try.
    """
    return Solver(position).solve(plan)


def pace_of(position: Position, plan: StrikePlan) -> float:
    """The plan's pace as a number, solved where it depends on the shot. [m s⁻¹]

    Raises:
        UnsolvableShotError: pocket weight of a pot that can't be made.
    """
    if isinstance(plan.pace, Lengths):
        return pace_of_lengths(position, plan.pace.value)
    return plan.pace if isinstance(plan.pace, float) else solve(position, plan).strike.pace


def play_plan(position: Position, plan: StrikePlan) -> Shot:
    """Solve and play in one go."""
    solver = Solver(position)
    return solver.prepared.play(solver.solve(plan).strike)


def _as_typed(strike: Strike) -> Strike:
    """The nearest strike that a file can hold in degrees and mm, a rounding away at most.

    What is played is then exactly what the JSON says: behind a pack even the last bit of the
    aim tells.
    """
    return replace(
        strike,
        aim=radians(degrees(strike.aim)),
        height=metres(millimetres(strike.height)),
        side=metres(millimetres(strike.side)),
        elevation=radians(degrees(strike.elevation)),
    )


class Solver:
    """Solves plans on one position; holds its arrays, so one serves one thread."""

    def __init__(
        self, position: Position, why: Why = refusal, potting: Potting = solve_pot
    ) -> None:
        """``why``: makes the error when nothing pots; scans leave its reasons out.

        ``potting``: turns the cue; scans that need not be as fine take ``PotAlong``'s.
        """
        self.position = position
        self.prepared = Prepared(position)
        self._why = why
        self._potting = potting

    def with_potting(self, potting: Potting) -> Solver:
        """The same solver, turning the cue for pots in another way."""
        other = copy(self)
        other._potting = potting
        return other

    def with_balls_at(self, places: NDArray[np.float64]) -> Solver:
        """A solver for the same balls at other places, quicker to have than a new one.

        It uses this one's arrays, so the two serve one thread together.

        Args:
            places: (n, 2), in the order of the balls [m].
        """
        moved = copy(self)
        moved.prepared = self.prepared.with_balls_at(places)
        moved.position = moved.prepared.position
        return moved

    def solve(self, plan: StrikePlan) -> Solution:
        """As the function ``solve``."""
        strike = self.without_aim(plan)
        if not isinstance(plan.aim, PotAim):
            return Solution(_as_typed(self._aimed(plan, strike, self._aiming(plan))))
        pot = plan.aim
        strike = self._aimed(plan, strike, lambda one: direct_strike(self.prepared, pot, one))
        strike, window = self._potting(self.prepared, pot, strike, self._why)
        if isinstance(plan.height, Arrive):
            # That height belongs to the direct line; the middle of the window lies a little
            # beside it, where the white runs a little further or less far.
            held = strike
            strike = solve_height(
                self.prepared, plan.height, strike, lambda one: aimed(one, held.aim)
            )
            strike, window = self._potting(self.prepared, pot, strike, self._why)
        return Solution(_as_typed(strike), window)

    def direct(self, plan: StrikePlan) -> Strike:
        """The direct line of a pot, thrown, whether or not it pots.

        Raises:
            UnsolvableShotError: when no contact sends the ball that way.
        """
        assert isinstance(plan.aim, PotAim)
        pot = plan.aim
        strike = self.without_aim(plan)
        return _as_typed(
            self._aimed(plan, strike, lambda one: direct_strike(self.prepared, pot, one))
        )

    def without_aim(self, plan: StrikePlan) -> Strike:
        """Pace, height, side and elevation as asked, the height at centre if it is solved."""
        height = 0.0
        if isinstance(plan.height, NamedHeight):
            height = named_height(self.position, plan.height, plan.side)
        elif not isinstance(plan.height, Arrive):
            height = plan.height
        strike = Strike(0.0, SLOWEST, height, plan.side, plan.elevation)
        return replace(strike, pace=self._pace(plan, strike))

    def _pace(self, plan: StrikePlan, strike: Strike) -> float:
        if isinstance(plan.pace, Lengths):
            return pace_of_lengths(self.position, plan.pace.value)
        if isinstance(plan.pace, PocketWeight):
            return self._pocket_weight(plan, strike)
        return plan.pace

    def _pocket_weight(self, plan: StrikePlan, strike: Strike) -> float:
        """The slowest pace with which the ball, sent straight at the mouth, drops."""
        assert isinstance(plan.aim, PotAim)
        pot = plan.aim

        def direct(one: Strike) -> Strike:
            return direct_strike(self.prepared, pot, one)

        def drops(pace: float) -> bool:
            try:
                aimed = self._aimed(plan, replace(strike, pace=pace), direct)
            except UnsolvableShotError:
                return False
            return goes_in(self.prepared, pot, aimed)

        fast = 0.2
        while not drops(fast) and fast < _FASTEST_DROP:
            fast *= 1.3
        if fast >= _FASTEST_DROP:
            return fast  # solving the aim at this pace says what is in the way
        return _ABOVE_THE_SLOWEST * last_true(drops, fast, SLOWEST, _PACE_TOLERANCE)

    def _aiming(self, plan: StrikePlan) -> Callable[[Strike], Strike]:
        if isinstance(plan.aim, ContactAim):
            contact = plan.aim
            return lambda one: solve_contact(self.prepared, contact, one)
        assert isinstance(plan.aim, DirectAim)
        angle = plan.aim.angle
        return lambda one: aimed(one, angle)

    def _aimed(
        self, plan: StrikePlan, strike: Strike, aiming: Callable[[Strike], Strike]
    ) -> Strike:
        if isinstance(plan.height, Arrive):
            return solve_height(self.prepared, plan.height, strike, aiming)
        return aiming(strike)
