"""What a strike itself does, as a goal: what a file without one is held to."""

from __future__ import annotations

from dataclasses import replace

from stunline.shot.batch import Batch, play_many
from stunline.shot.goal import Goal, Meeting
from stunline.shot.position import Position, PotAim, Strike, StrikePlan

_WHITE = 0  # the ball struck


def goal_held(position: Position, strike: Strike, plan: StrikePlan, goal: Goal | None) -> Goal:
    """The goal with the strike's own pot among its demands; without one, what the strike does."""
    if goal is None:
        return goal_of_strike(position, strike, plan)
    if goal.pot is None and isinstance(plan.aim, PotAim):
        return replace(goal, pot=plan.aim)
    return goal


def goal_of_strike(position: Position, strike: Strike, plan: StrikePlan) -> Goal:
    """The pot made and the same ball met next, as without error.

    A strike that pots nothing is held to the ball that it meets first; one after which the
    white meets no second ball, to meeting none and no in-off; one that meets no ball at all, to
    its cushions; one that goes in-off, to that pocket, as a game that scores it has it.
    """
    batch = play_many(position, [strike])
    names = position.names
    first, second = int(batch.first_contacts[0]), int(batch.second_balls[0])
    pot = _pot(position, plan, batch, first)
    in_off = int(batch.potted[0, _WHITE]) >= 0
    if first < 0:
        cushions = int(batch.cushions[0])
        return Goal(pot=pot, cushions=(cushions, cushions), in_off=None if in_off else False)
    known_first = pot is not None and pot.ball == names[first]
    others = tuple(name for number, name in enumerate(names[1:], 1) if number != first)
    return Goal(
        pot=pot,
        meet=Meeting(names[second]) if second >= 0 else None,
        touch=() if known_first else (names[first],),
        miss=others if second < 0 else (),
        in_off=False if second < 0 and not in_off else None,
    )


def _pot(position: Position, plan: StrikePlan, batch: Batch, first: int) -> PotAim | None:
    """The pot asked for, or the one that the strike makes; an in-off is one of the white."""
    if isinstance(plan.aim, PotAim):
        return plan.aim
    for ball in (first, _WHITE):
        pocket = int(batch.potted[0, ball]) if ball >= 0 else -1
        if pocket >= 0:
            return PotAim(position.names[ball], position.table.pockets[pocket].name)
    return None
