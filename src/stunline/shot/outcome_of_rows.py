"""The outcome of a strike straight from the engine's rows, for the many plays of a scan.

The same as ``outcome.outcome`` of the shot, in a tenth of the time: no event, phase or
contact is made for it. ``outcome`` says what the words mean.
"""

from __future__ import annotations

from stunline.equipment.model import Point
from stunline.mechanics import layout
from stunline.shot import plane
from stunline.shot.outcome import Outcome, outcome
from stunline.shot.play import Prepared
from stunline.shot.position import Position, PotAim, Side, Strike, StrikePlan
from stunline.shot.shot import Record

_WHITE = 0  # the ball struck
_SURFACES = (layout.EVENT_CUSHION, layout.EVENT_JAW)


def outcome_of_strike(
    prepared: Prepared, strike: Strike, plan: StrikePlan | None = None
) -> Outcome:
    """What the strike comes to; with a plan that asks for a pot, whether it was made."""
    record = prepared.rows(strike)
    position = prepared.position
    events = record.event_ints.tolist()
    if [layout.EVENT_MEMBER, _WHITE] in [row[: layout.EVENT_OTHER] for row in events]:
        # A cluster reached the white without its being one of the two that met.
        return outcome(prepared.play(strike), plan)
    first, second = _met_after_contact(events)
    on: Side | None = None
    if second is not None and events[second][layout.EVENT_KIND] in layout.MEETINGS:
        on = _side(record, position, events, second)
        if on is None:
            return outcome(prepared.play(strike), plan)
    pot = plan.aim if plan is not None and isinstance(plan.aim, PotAim) else None
    fell = {
        row[layout.EVENT_BALL_A]: position.table.pockets[row[layout.EVENT_OTHER]].name
        for row in events
        if row[layout.EVENT_KIND] == layout.EVENT_POCKET
    }
    alone = len(position.balls) == 1
    return Outcome(
        object_ball="" if first is None else position.names[events[first][layout.EVENT_OTHER]],
        pot=pot,
        pot_made=fell.get(position.names.index(pot.ball)) == pot.pocket if pot else None,
        meets="" if second is None else _words(position, events[second]),
        on=on,
        in_off=fell.get(_WHITE, ""),
        cushions=sum(row[layout.EVENT_KIND] == layout.EVENT_CUSHION for row in events)
        if alone
        else None,
        cue_ball=position.names[_WHITE],
    )


def _met_after_contact(events: list[list[int]]) -> tuple[int | None, int | None]:
    """Rows of the white's first contact and of what it met next; None where there is none.

    The white has the lowest number, so in every meeting of two balls it is the first.
    """
    first: int | None = None
    for index, row in enumerate(events):
        if row[layout.EVENT_BALL_A] != _WHITE:
            continue
        kind = row[layout.EVENT_KIND]
        if first is None:
            first = index if kind in layout.MEETINGS else None
        elif kind in layout.MEETINGS or kind in _SURFACES:
            return first, index
    return first, None


def _words(position: Position, row: list[int]) -> str:
    kind, _, other = row
    table = position.table
    if kind in layout.MEETINGS:
        return position.names[other]
    if kind == layout.EVENT_JAW:
        return f"jaw of the {table.jaws[other].pocket} pocket"
    noses = table.noses if position.coefficients.pockets else table.plain_noses
    return f"{noses[other].name} cushion"


def _side(record: Record, position: Position, events: list[list[int]], index: int) -> Side | None:
    """On which side the white meets that ball; None with other meetings at the same instant."""
    times = record.event_floats[:, layout.EVENT_TIME]
    now = float(times[index])
    if index > 0 and times[index - 1] == now:
        return None
    white = record.event_floats[index, layout.EVENT_X : layout.EVENT_Y + 1].tolist()
    motion = _moved(record, _WHITE, now)
    if motion is None:
        return None
    other = events[index][layout.EVENT_OTHER]
    moving = _moved(record, other, now)
    ball = _last_place(record, position, other, now) if moving is None else moving[0]
    line = plane.unit(plane.between((white[0], white[1]), ball))
    return "right" if plane.cross(plane.unit(motion[1]), line) > 0.0 else "left"


def _moved(record: Record, ball: int, now: float) -> tuple[Point, Point] | None:
    """Place and velocity just before that time; None for a ball that is at rest then."""
    starts = record.phase_floats[:, layout.PHASE_START]
    ends = record.phase_floats[:, layout.PHASE_END]
    balls = record.phase_ints[:, layout.PHASE_BALL]
    found = ((balls == ball) & (starts < now) & (now <= ends)).nonzero()[0]
    if len(found) == 0:
        return None
    row = record.phase_floats[found[0]].tolist()
    t = now - row[layout.PHASE_START]
    x, y = row[layout.PHASE_X], row[layout.PHASE_Y]
    vx, vy = row[layout.PHASE_VX], row[layout.PHASE_VY]
    ax, ay = row[layout.PHASE_AX], row[layout.PHASE_AY]
    place = (x + t * (vx + 0.5 * t * ax), y + t * (vy + 0.5 * t * ay))
    return place, (vx + t * ax, vy + t * ay)


def _last_place(record: Record, position: Position, ball: int, now: float) -> Point:
    """Where a ball rests that is at rest at that time. [m]"""
    balls = record.phase_ints[:, layout.PHASE_BALL]
    ends = record.phase_floats[:, layout.PHASE_END]
    earlier = ((balls == ball) & (ends < now)).nonzero()[0]
    if len(earlier) == 0:
        return position.balls[position.names[ball]]
    end = float(ends[earlier[-1]])
    moved = _moved(record, ball, end)
    assert moved is not None
    return moved[0]
