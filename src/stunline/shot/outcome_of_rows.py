"""The outcome of a strike from what the engine tells of its rows, for the many plays of a scan.

The same as ``outcome.outcome`` of the shot, in a tenth of the time: no event, phase or
contact is made for it. ``outcome`` says what the words mean.
"""

from __future__ import annotations

from stunline.mechanics import layout
from stunline.shot.meeting import Tally
from stunline.shot.outcome import Outcome
from stunline.shot.play import Prepared
from stunline.shot.position import Position, PotAim, Side, Strike, StrikePlan

_WHITE = 0  # the ball struck


def outcome_of_strike(
    prepared: Prepared, strike: Strike, plan: StrikePlan | None = None
) -> Outcome:
    """What the strike comes to; with a plan that asks for a pot, whether it was made."""
    return outcome_of_tally(prepared.position, prepared.tally(strike), plan)


def outcome_of_tally(position: Position, tally: Tally, plan: StrikePlan | None = None) -> Outcome:
    """The same of a shot that is played already."""
    pot = plan.aim if plan is not None and isinstance(plan.aim, PotAim) else None
    names, pockets = position.names, position.table.pockets
    fell = {names[ball]: pockets[pocket].name for ball, pocket in tally.potted.items()}
    alone = len(names) == 1
    return Outcome(
        object_ball="" if tally.first_ball < 0 else names[tally.first_ball],
        pot=pot,
        pot_made=fell.get(pot.ball) == pot.pocket if pot else None,
        meets=_meets(position, tally.next_kind, tally.next_other),
        on=_side(tally),
        in_off=fell.get(names[_WHITE], ""),
        cushions=tally.cushions if alone else None,
        cue_ball=names[_WHITE],
    )


def _meets(position: Position, kind: int, other: int) -> str:
    """The ball or cushion that the white met after its first contact, in words."""
    if kind < 0:
        return ""
    if kind in layout.MEETINGS:
        return position.names[other]
    table = position.table
    if kind == layout.EVENT_JAW:
        return f"jaw of the {table.jaws[other].pocket} pocket"
    noses = table.noses if position.coefficients.pockets else table.plain_noses
    return f"{noses[other].name} cushion"


def _side(tally: Tally) -> Side | None:
    if tally.next_kind not in layout.MEETINGS:
        return None
    return "right" if tally.next_sine > 0.0 else "left"
