"""What a search is asked: a position, the strike to start from, a goal, and what may vary."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stunline.equipment.player import Player
from stunline.errors import UnsolvableShotError
from stunline.shot.aiming.pace import FASTEST, SLOWEST
from stunline.shot.aiming.solve import Solver
from stunline.shot.aiming.strike_limits import safe_height
from stunline.shot.goal import Goal, Span, StrikeRange
from stunline.shot.position import Aim, Arrive, Position, PotAim, Strike, StrikePlan

# Searched when a goal does not say what may vary: from a touch to a power stroke, over all
# heights that the cue's profile advises, without side. [m s⁻¹] Common practice, no source.
USUAL_PACES = (0.5, 4.0)


@dataclass(frozen=True, slots=True)
class Ranges:
    """How far a search goes; least and most, the same number where nothing may vary.

    Attributes:
        pace: [m s⁻¹]
        height, side: [m]
        usual: whether the goal left them to be chosen here
    """

    pace: Span
    height: Span
    side: Span
    usual: bool = False


@dataclass(frozen=True, slots=True)
class Request:
    """A goal, made whole.

    Attributes:
        position: where the balls stand
        goal: with the strike's pot among its demands, if it has one
        aim: what is aimed for
        base: the strike to start from, in numbers
        ranges: what may vary
        player: whose strokes they are
    """

    position: Position
    goal: Goal
    aim: Aim
    base: Strike
    ranges: Ranges
    player: Player


def request(position: Position, plan: StrikePlan, goal: Goal, player: Player) -> Request:
    """The goal with the strike's pot, and ranges that leave what does not vary as it is.

    Raises:
        UnsolvableShotError: where the strike's pace or height depends on a pot that can't be made.
    """
    pot = goal.pot or (plan.aim if isinstance(plan.aim, PotAim) else None)
    goal = replace(goal, pot=pot)
    aim = pot or plan.aim
    base = _base(position, replace(plan, aim=aim), goal.vary)
    return Request(position, goal, aim, base, _ranges(position, goal.vary, base), player)


def _base(position: Position, plan: StrikePlan, vary: StrikeRange) -> Strike:
    """The strike as asked, its aim only solved where pace or height need it."""
    if vary.pace is not None and not isinstance(plan.pace, float):
        plan = replace(plan, pace=sum(vary.pace) / 2.0)
    if vary.height is not None and isinstance(plan.height, Arrive):
        plan = replace(plan, height=sum(vary.height) / 2.0)
    solver = Solver(position)
    try:
        return solver.solve(plan).strike
    except UnsolvableShotError:
        # Another pace or height may do; where these themselves must be solved, none can.
        if isinstance(plan.height, Arrive):
            raise
        return solver.without_aim(plan)


def _ranges(position: Position, vary: StrikeRange, base: Strike) -> Ranges:
    if vary == StrikeRange():
        safe = safe_height(position, base.side)
        return Ranges(USUAL_PACES, (-safe, safe), (base.side, base.side), usual=True)
    return Ranges(
        vary.pace or (base.pace, base.pace),
        vary.height or (base.height, base.height),
        vary.side or (base.side, base.side),
    )


def widened(ranges: Ranges, position: Position, name: str) -> Ranges:
    """The ranges with one of them as wide as the cue and the file allow."""
    if name == "pace":
        low, high = ranges.pace
        return replace(ranges, pace=(max(0.5 * low, SLOWEST), min(1.6 * high, FASTEST)))
    safe = safe_height(position, 0.0)
    if name == "height":
        return replace(ranges, height=(-safe, safe))
    return replace(ranges, side=(-safe, safe))
