"""From the strike to rest: the next event, advance, its law, again.

Between events each ball's motion is one polynomial, kept from the event at which it began
and never advanced in steps. Steps of a run:

1. Give every ball its motion, the time at which that motion ends by itself, and the first
   time at which it meets the boundary; find for every pair when they meet.
2. Take the earliest of all. At one instant the order is fixed: pairs of balls by their
   numbers, then the boundary by the ball's number, then ends of motion.
3. Advance the one or two balls concerned to that time, apply the law, write the event.
4. Renew what depends on those balls, and go on until nothing moves.
"""

import math

from stunline.mechanics.ball_impact import ball_impact
from stunline.mechanics.cloth import SMALLEST_SPEED
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.layout import (
    BALL_FRICTION_DECAY,
    BALL_FRICTION_FLOOR,
    BALL_FRICTION_SPAN,
    BALL_RESTITUTION,
    EVENT_BALL,
    EVENT_JAW,
    EVENT_POCKET,
    EVENT_ROLL,
    EVENT_SPIN_STOP,
    EVENT_STOP,
    EVENT_STRIKE,
    EVENT_TIME,
    POTTED,
    ROLLING,
    RUN_TO_ARRIVAL,
    RUN_TO_FIRST_CONTACT,
    RUN_WATCHED,
    SLIDING,
    STOP_AT_REST,
    STOP_AT_REST_PAIRWISE,
    STOP_RECORD_FULL,
    STOP_RULE_MET,
)
from stunline.mechanics.meetings import pair_time, renew_pairs, renew_row, renew_wall
from stunline.mechanics.moving_ball import (
    END,
    LAST_IMPACT,
    MASS,
    PAIR_OTHER,
    PAIR_TIME,
    RADIUS,
    VX,
    VY,
    WALL_INDEX,
    WALL_KIND,
    WALL_TIME,
    WX,
    WY,
    WZ,
    X,
    Y,
    advance,
    begin,
)
from stunline.mechanics.record import close_phase, write_event
from stunline.mechanics.roots import NEVER
from stunline.mechanics.wall_impact import wall_impact

# A ball that meets two others within this time was touching both. [s] Two snooker balls are
# pressed together for some 3e-4 s, so nothing closer than that is two separate impacts; larger
# would call impacts across a visible gap one.
SAME_INSTANT = 1e-9


@kernel
def run_events(
    work, motion, pair_times, coefficients, interior, noses, jaws, drops,
    rule, watched, event_floats, event_ints, phase_floats, phase_ints,
):  # fmt: skip
    """Run from the state in ``work`` until rest, or until the rule is met.

    Args:
        work: (n, WORK_COLUMNS) with X, Y, VX, VY, WX, WY, WZ, RADIUS, MASS and REACH filled
            and ball 0 just struck.
        motion: (n,) int, POTTED for balls off the table.
        pair_times: (n, n), scratch.
        interior: x low, x high, y low, y high of a rectangle in which, a ball's reach away
            from its sides, nothing of the boundary can be met.
        Others: as in ``layout``.

    Returns: stop code, number of events, number of phases, number of impacts in which the
        floor under the separating speed was used.
    """
    count = work.shape[0]
    phases = 0
    floored = 0
    together = 0  # impacts of a ball that met another at the same instant
    met = 0
    _prepare(work, motion, pair_times, coefficients, interior, noses, jaws, drops)
    write_event(work, event_floats, event_ints, 0, EVENT_STRIKE, 0, -1, 0.0)
    events = 1
    while True:
        time, kind, a, b = next_event(work, motion)
        if kind < 0:
            stop = STOP_AT_REST_PAIRWISE if floored + together > 0 else STOP_AT_REST
            break
        if events >= event_ints.shape[0] or phases + 2 + count > phase_ints.shape[0]:
            stop = STOP_RECORD_FULL
            break
        phases = close_phase(work, motion, a, time, phase_floats, phase_ints, phases)
        advance(work, motion, a, time, coefficients)
        second = a
        if kind == EVENT_BALL:
            second = b
            phases = close_phase(work, motion, b, time, phase_floats, phase_ints, phases)
            advance(work, motion, b, time, coefficients)
            if rule == RUN_TO_ARRIVAL:
                write_event(work, event_floats, event_ints, events, kind, a, b, time)
                events += 1
                stop = STOP_RULE_MET
                break
            if time - max(work[a, LAST_IMPACT], work[b, LAST_IMPACT]) <= SAME_INSTANT:
                together += 1
            floored += _meet(work, a, b, time, coefficients)
        elif kind < EVENT_POCKET:
            floored += _bounce(work, a, kind, b, coefficients, noses, jaws)
        else:
            kind = _end_motion(work, motion, a, kind)
        begin(work, motion, a, time, coefficients)
        renew_wall(work, motion, a, interior, noses, jaws, drops)
        if second != a:
            begin(work, motion, second, time, coefficients)
            renew_wall(work, motion, second, interior, noses, jaws, drops)
        renew_pairs(work, motion, pair_times, a, second, time)
        write_event(work, event_floats, event_ints, events, kind, a, b, time)
        events += 1
        met, done = _rule_met(rule, watched, kind, a, b, met)
        if done:
            stop = STOP_RULE_MET
            break
    for i in range(count):
        last = event_floats[events - 1, EVENT_TIME]
        phases = close_phase(work, motion, i, last, phase_floats, phase_ints, phases)
    return stop, events, phases, floored


@kernel
def _prepare(work, motion, pair_times, coefficients, interior, noses, jaws, drops):
    """Step 1: begin every ball's motion, and find all first meetings."""
    count = work.shape[0]
    for i in range(count):
        work[i, LAST_IMPACT] = -1.0
        begin(work, motion, i, 0.0, coefficients)
        renew_wall(work, motion, i, interior, noses, jaws, drops)
    for i in range(count):
        for j in range(i + 1, count):
            pair_times[i, j] = pair_time(work, motion, i, j, 0.0)
        renew_row(work, pair_times, i)


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
def _rule_met(rule, watched, kind, a, b, met):
    """Count the watched ball's impacts; whether the early rule is now met."""
    if rule == RUN_TO_FIRST_CONTACT:
        return met, kind == EVENT_BALL
    if rule == RUN_WATCHED:
        if kind == EVENT_BALL:
            if met == 0:
                # The first ball of all to be met must be the watched one.
                return 1, not (a == watched or b == watched)
            return met, a == watched or b == watched
        if a == watched:
            return met, kind != EVENT_ROLL and kind != EVENT_JAW
        # The white, not having met anything, is down or at rest.
        return met, met == 0 and a == 0 and (kind == EVENT_POCKET or kind == EVENT_STOP)
    return met, False


@inlined_kernel
def next_event(work, motion):
    """Earliest event: time, kind (−1 when nothing moves), ball, other."""
    count = work.shape[0]
    best = NEVER
    kind = -1
    a = -1
    b = -1
    for i in range(count):
        if work[i, PAIR_TIME] < best:
            best = work[i, PAIR_TIME]
            kind = EVENT_BALL
            a = i
            b = int(work[i, PAIR_OTHER])
    for i in range(count):
        if work[i, WALL_TIME] < best:
            best = work[i, WALL_TIME]
            kind = int(work[i, WALL_KIND])
            a = i
            b = int(work[i, WALL_INDEX])
    for i in range(count):
        if work[i, END] < best:
            best = work[i, END]
            a = i
            b = -1
            if motion[i] == SLIDING:
                kind = EVENT_ROLL
            elif motion[i] == ROLLING:
                kind = EVENT_STOP
            else:
                kind = EVENT_SPIN_STOP
    return best, kind, a, b


@inlined_kernel
def _meet(work, a, b, time, coefficients):
    """Apply law 3 to two balls that touch."""
    nx = work[b, X] - work[a, X]
    ny = work[b, Y] - work[a, Y]
    distance = math.sqrt(nx * nx + ny * ny)
    (
        work[a, VX], work[a, VY], work[a, WX], work[a, WY], work[a, WZ],
        work[b, VX], work[b, VY], work[b, WX], work[b, WY], work[b, WZ],
        floored,
    ) = ball_impact(
        nx / distance, ny / distance,
        work[a, RADIUS], work[a, MASS], work[b, RADIUS], work[b, MASS],
        work[a, VX], work[a, VY], work[a, WX], work[a, WY], work[a, WZ],
        work[b, VX], work[b, VY], work[b, WX], work[b, WY], work[b, WZ],
        coefficients[BALL_RESTITUTION], coefficients[BALL_FRICTION_FLOOR],
        coefficients[BALL_FRICTION_SPAN], coefficients[BALL_FRICTION_DECAY],
    )  # fmt: skip
    work[a, LAST_IMPACT] = time
    work[b, LAST_IMPACT] = time
    return floored


@inlined_kernel
def _bounce(work, a, kind, index, coefficients, noses, jaws):
    """Apply law 4 to a ball that stands against a nose or a jaw."""
    (
        work[a, VX], work[a, VY], work[a, WX], work[a, WY], work[a, WZ], floored,
    ) = wall_impact(
        work[a, X], work[a, Y], work[a, VX], work[a, VY], work[a, WX], work[a, WY], work[a, WZ],
        work[a, RADIUS], kind, index, coefficients, noses, jaws,
    )  # fmt: skip
    return floored
