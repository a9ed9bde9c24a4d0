"""What happens at an event: the law for it, applied to the balls that stand where it happens."""

import math

from stunline.mechanics.ball_impact import ball_impact
from stunline.mechanics.cloth import SMALLEST_SPEED
from stunline.mechanics.cluster_impact import cluster_impact
from stunline.mechanics.cluster_members import MEMBER_BALL, find_contacts, find_members
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.layout import (
    BALL_DAMPING,
    BALL_FRICTION_DECAY,
    BALL_FRICTION_FLOOR,
    BALL_FRICTION_SPAN,
    BALL_RESTITUTION,
    EVENT_BALL,
    EVENT_CLUSTER,
    EVENT_PIECE,
    EVENT_POCKET,
    EVENT_ROLL,
    EVENT_SPIN_STOP,
    EVENT_STOP,
    POTTED,
)
from stunline.mechanics.moving_ball import (
    MASS,
    RADIUS,
    VX,
    VY,
    WX,
    WY,
    WZ,
    X,
    Y,
    advance,
)
from stunline.mechanics.record import close_phase
from stunline.mechanics.touching import SLOW_CLOSING
from stunline.mechanics.wall_impact import wall_closing, wall_impact


@inlined_kernel
def apply_law(
    work, motion, members, contacts, kind, a, b, time, coefficients, noses, jaws,
    phase_floats, phase_ints, phases,
):  # fmt: skip
    """Apply the law of that event to the balls a and b, and to those that touch them.

    Returns: what it was: EVENT_PIECE where nothing meets but a contact lasts, EVENT_CLUSTER
        where touching balls meet together; how many these are beside the first two; phases.
    """
    others = 0
    if kind == EVENT_BALL:
        closing = closing_of(work, a, b)
        if closing <= SLOW_CLOSING:
            kind = EVENT_PIECE
        else:
            others = find_members(work, motion, members, a, b, closing, time) - 2
            for row in range(2, 2 + others):
                i = int(members[row, MEMBER_BALL])
                phases = close_phase(work, motion, i, time, phase_floats, phase_ints, phases)
                advance(work, motion, i, time, coefficients)
            if others > 0:
                others = _meet_together(
                    work, motion, members, contacts, others, closing, time, coefficients
                )
            if others > 0:
                kind = EVENT_CLUSTER
            else:
                _meet(work, a, b, coefficients)
    elif kind < EVENT_POCKET:
        if _bounce(work, a, kind, b, coefficients, noses, jaws):
            kind = EVENT_PIECE
    elif kind != EVENT_PIECE:
        kind = _end_motion(work, motion, a, kind)
    return kind, others, phases


@inlined_kernel
def _end_motion(work, motion, a, kind):
    """A motion ended by itself, or in a pocket: what is known exactly is set exactly.

    Returns: the kind of event; a ball whose sliding ends with no speed left has stopped.
    """
    if kind == EVENT_POCKET:
        motion[a] = POTTED
    elif kind == EVENT_SPIN_STOP:
        work[a, WZ] = 0.0
    else:
        speed = math.hypot(work[a, VX], work[a, VY])
        if kind == EVENT_ROLL and speed > SMALLEST_SPEED:
            work[a, WX] = -work[a, VY] / work[a, RADIUS]
            work[a, WY] = work[a, VX] / work[a, RADIUS]
        else:
            kind = EVENT_STOP
            work[a, VX] = 0.0
            work[a, VY] = 0.0
            work[a, WX] = 0.0
            work[a, WY] = 0.0
    return kind


@inlined_kernel
def closing_of(work, a, b):
    """Speed at which two balls close, in plan. [m s⁻¹]"""
    nx = work[b, X] - work[a, X]
    ny = work[b, Y] - work[a, Y]
    rate = (work[a, VX] - work[b, VX]) * nx + (work[a, VY] - work[b, VY]) * ny
    return rate / math.sqrt(nx * nx + ny * ny)


@inlined_kernel
def _meet(work, a, b, coefficients):
    """Apply law 3 to two balls that touch."""
    nx = work[b, X] - work[a, X]
    ny = work[b, Y] - work[a, Y]
    distance = math.sqrt(nx * nx + ny * ny)
    (
        work[a, VX], work[a, VY], work[a, WX], work[a, WY], work[a, WZ],
        work[b, VX], work[b, VY], work[b, WX], work[b, WY], work[b, WZ],
    ) = ball_impact(
        nx / distance, ny / distance,
        work[a, RADIUS], work[a, MASS], work[b, RADIUS], work[b, MASS],
        work[a, VX], work[a, VY], work[a, WX], work[a, WY], work[a, WZ],
        work[b, VX], work[b, VY], work[b, WX], work[b, WY], work[b, WZ],
        coefficients[BALL_RESTITUTION], coefficients[BALL_FRICTION_FLOOR],
        coefficients[BALL_FRICTION_SPAN], coefficients[BALL_FRICTION_DECAY],
    )  # fmt: skip


@kernel
def _meet_together(work, motion, members, contacts, others, closing, time, coefficients):
    """Apply law 6; how many of the others it is for, 0 when only the first two press."""
    balls = 2 + others
    count = find_contacts(
        work, motion, members, balls, contacts, closing, coefficients[BALL_DAMPING], time
    )
    loaded = cluster_impact(
        work, members, balls, contacts, count, coefficients[BALL_FRICTION_FLOOR],
        coefficients[BALL_FRICTION_SPAN], coefficients[BALL_FRICTION_DECAY],
    )  # fmt: skip
    return others if loaded > 1 else 0


@inlined_kernel
def _bounce(work, a, kind, index, coefficients, noses, jaws):
    """Apply law 4 to a ball that stands against a nose or a jaw, if it approaches it.

    Returns: whether it does not, or so slowly that it is pressed to it.
    """
    if wall_closing(work, a, kind, index, noses, jaws) <= SLOW_CLOSING:
        return True
    (
        work[a, VX], work[a, VY], work[a, WX], work[a, WY], work[a, WZ],
    ) = wall_impact(
        work[a, X], work[a, Y], work[a, VX], work[a, VY], work[a, WX], work[a, WY], work[a, WZ],
        work[a, RADIUS], kind, index, coefficients, noses, jaws,
    )  # fmt: skip
    return False
