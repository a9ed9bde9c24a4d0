"""From the strike to rest: the next event, advance, its law, again.

Between events each ball's motion is one polynomial, kept from the event at which it began
and never advanced in steps. Steps of a run:

1. Give every ball its motion, the time at which that motion ends by itself, and the first
   time at which it meets the boundary; find for every pair when they meet.
2. Take the earliest of all. At one instant the order is fixed: pairs of balls by their
   numbers, then the boundary by the ball's number, then ends of motion.
3. Advance the balls concerned to that time, apply the law, write the event. Two balls, or a
   ball and the boundary; where the impact reaches touching balls, all of those; where contact
   lasts, all balls in it.
4. Renew what depends on those balls, and go on until nothing moves.
"""

from stunline.mechanics.cluster_members import (
    MEMBER_BALL,
    MEMBER_TOUCHED,
)
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.event_laws import apply_law, closing_of
from stunline.mechanics.find_holds import gather
from stunline.mechanics.lasting_contact import settle
from stunline.mechanics.layout import (
    EVENT_BALL,
    EVENT_CLUSTER,
    EVENT_JAW,
    EVENT_MEMBER,
    EVENT_PIECE,
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
    RUN_TO_SECOND_BALL,
    RUN_WATCHED,
    SLIDING,
    STOP_AT_REST,
    STOP_RECORD_FULL,
    STOP_RULE_MET,
)
from stunline.mechanics.meetings import (
    pair_time,
    renew_changed,
    renew_pairs,
    renew_row,
    renew_wall,
)
from stunline.mechanics.moving_ball import (
    CHANGED,
    END,
    GROUP,
    HELD_1,
    HELD_2,
    LAST_RELEASE,
    NO_WALL,
    PAIR_OTHER,
    PAIR_TIME,
    PRESSED,
    WALL_INDEX,
    WALL_KIND,
    WALL_TIME,
    advance,
    begin,
)
from stunline.mechanics.record import close_phase, write_event
from stunline.mechanics.roots import NEVER
from stunline.mechanics.touching import NO_SPEED

# Turns of the loop without an event, for each row of the record. [-] A bound, so that no input
# stalls: lasting contact takes a turn for each piece of its motion.
TURNS_A_ROW = 64
WHITE = 0
# What is done when a run is to end with the white's second ball, above any ball's number. [-]
WHITE_DONE, WATCHED_DONE = 1024, 2048


@kernel
def run_events(
    work, motion, pair_times, members, contacts, holds,
    coefficients, interior, noses, jaws, drops,
    rule, watched, event_floats, event_ints, phase_floats, phase_ints,
):  # fmt: skip
    """Run from the state in ``work`` until rest, or until the rule is met.

    Args:
        work: (n, WORK_COLUMNS) with X, Y, VX, VY, WX, WY, WZ, RADIUS, MASS and REACH filled
            and ball 0 just struck.
        motion: (n,) int, POTTED for balls off the table.
        pair_times: (n, n), scratch: above the diagonal when two balls meet, below it 1 while
            they are in lasting contact.
        members, contacts, holds: scratch with the columns of ``cluster_members`` and of
            ``pressing_forces``, and as many rows a ball as these say.
        interior: x low, x high, y low, y high of a rectangle in which, a ball's reach away
            from its sides, nothing of the boundary can be met.
        Others: as in ``layout``.

    Returns: stop code, number of events, number of phases.
    """
    count = work.shape[0]
    rows = event_ints.shape[0] - 3 * count - holds.shape[0]
    phases = 0
    met = 0
    turns = 0
    _prepare(work, motion, pair_times, coefficients, interior, noses, jaws, drops)
    write_event(work, event_floats, event_ints, 0, EVENT_STRIKE, 0, -1, 0.0)
    events = 1
    while True:
        time, kind, a, b = next_event(work, motion)
        if kind < 0:
            stop = STOP_AT_REST
            break
        turns += 1
        if (
            events >= rows
            or phases + 2 + 2 * count > phase_ints.shape[0]
            or turns > TURNS_A_ROW * event_ints.shape[0]
        ):
            stop = STOP_RECORD_FULL
            break
        second = b if kind == EVENT_BALL else a
        pressed = work[a, PRESSED] > 0.0 or work[second, PRESSED] > 0.0
        phases = _bring(work, motion, pressed, a, second, time, coefficients,
                        phase_floats, phase_ints, phases)  # fmt: skip
        if rule == RUN_TO_ARRIVAL and kind == EVENT_BALL and closing_of(work, a, b) > NO_SPEED:
            write_event(work, event_floats, event_ints, events, kind, a, b, time)
            events += 1
            stop = STOP_RULE_MET
            break
        if rule == RUN_TO_SECOND_BALL and kind == EVENT_BALL and not pressed:
            met, taken = _second_reached(work, watched, a, b, met)
            if taken:
                write_event(work, event_floats, event_ints, events, kind, a, b, time)
                events += 1
                if met >= WHITE_DONE + WATCHED_DONE or watched < 0:
                    stop = STOP_RULE_MET
                    break
                motion[WHITE] = POTTED
                begin(work, motion, WHITE, time, coefficients)
                renew_wall(work, motion, WHITE, interior, noses, jaws, drops)
                renew_pairs(work, motion, pair_times, WHITE, b, time)
                continue
        kind, others, phases = apply_law(
            work, motion, members, contacts, kind, a, b, time, coefficients, noses, jaws,
            phase_floats, phase_ints, phases,
        )  # fmt: skip
        if kind != EVENT_PIECE:
            _go_on(work, motion, a, second, time, coefficients)
            write_event(work, event_floats, event_ints, events, kind, a, b, time)
            events += 1
        if pressed or others > 0 or kind == EVENT_PIECE:
            pressed, events = _go_on_together(
                work, motion, members, others, pressed, a, second, time, coefficients,
                event_floats, event_ints, events,
            )  # fmt: skip
            if pressed or kind == EVENT_PIECE:
                gather(work, motion, a, second, time)
                phases = _halt(work, motion, GROUP, time, coefficients, phase_floats, phase_ints,
                               phases)  # fmt: skip
                events = settle(
                    work, motion, pair_times, holds, coefficients, noses, jaws, a, second, time,
                    event_floats, event_ints, events,
                )  # fmt: skip
            renew_changed(work, motion, pair_times, interior, noses, jaws, drops, time)
        else:
            renew_wall(work, motion, a, interior, noses, jaws, drops)
            if second != a:
                renew_wall(work, motion, second, interior, noses, jaws, drops)
            renew_pairs(work, motion, pair_times, a, second, time)
        met, done = _rule_met(work, rule, watched, kind, a, b, met)
        if done:
            stop = STOP_RULE_MET
            break
    last = event_floats[events - 1, EVENT_TIME]
    for i in range(count):
        phases = close_phase(work, motion, i, last, phase_floats, phase_ints, phases)
    return stop, events, phases


@inlined_kernel
def _bring(
    work, motion, pressed, a, second, time, coefficients, phase_floats, phase_ints, phases
):  # fmt: skip
    """Step 3: bring the balls concerned to that time, in lasting contact all of those."""
    if pressed:
        phases = _halt(work, motion, PRESSED, time, coefficients, phase_floats, phase_ints, phases)
    phases = close_phase(work, motion, a, time, phase_floats, phase_ints, phases)
    advance(work, motion, a, time, coefficients)
    if second != a:
        phases = close_phase(work, motion, second, time, phase_floats, phase_ints, phases)
        advance(work, motion, second, time, coefficients)
    return phases


@inlined_kernel
def _go_on(work, motion, a, second, time, coefficients):
    """Begin the motions that follow of one ball or two."""
    begin(work, motion, a, time, coefficients)
    if second != a:
        begin(work, motion, second, time, coefficients)


@inlined_kernel
def _go_on_together(
    work, motion, members, others, pressed, a, second, time, coefficients,
    event_floats, event_ints, events,
):  # fmt: skip
    """Mark all balls whose motions change; begin and write those of a cluster's further balls.

    Returns: whether any of them is in lasting contact, and the number of events.
    """
    for i in range(work.shape[0]):
        work[i, CHANGED] = 0.0
    work[a, CHANGED] = 1.0
    work[second, CHANGED] = 1.0
    for row in range(2, 2 + others):
        i = int(members[row, MEMBER_BALL])
        if members[row, MEMBER_TOUCHED] > 0.0:
            work[i, CHANGED] = 1.0
            pressed = pressed or work[i, PRESSED] > 0.0
            begin(work, motion, i, time, coefficients)
            write_event(work, event_floats, event_ints, events, EVENT_MEMBER, i, -1, time)
            events += 1
    return pressed, events


@kernel
def _halt(work, motion, column, time, coefficients, phase_floats, phase_ints, phases):
    """Close the phases of all balls marked in that column, and bring them to that time."""
    for i in range(work.shape[0]):
        if work[i, column] > 0.0:
            phases = close_phase(work, motion, i, time, phase_floats, phase_ints, phases)
            advance(work, motion, i, time, coefficients)
    return phases


@kernel
def _prepare(work, motion, pair_times, coefficients, interior, noses, jaws, drops):
    """Step 1: begin every ball's motion, and find all first meetings."""
    count = work.shape[0]
    for i in range(count):
        work[i, LAST_RELEASE] = -1.0
        work[i, PRESSED] = 0.0
        work[i, HELD_1] = NO_WALL
        work[i, HELD_2] = NO_WALL
        work[i, GROUP] = 0.0
        begin(work, motion, i, 0.0, coefficients)
        renew_wall(work, motion, i, interior, noses, jaws, drops)
    for i in range(count):
        for j in range(i + 1, count):
            pair_times[j, i] = 0.0
            pair_times[i, j] = pair_time(work, motion, pair_times, i, j, 0.0)
        renew_row(work, pair_times, i)


@inlined_kernel
def _rule_met(work, rule, watched, kind, a, b, met):
    """Count the watched ball's impacts; whether the early rule is now met."""
    balls_met = kind == EVENT_BALL or kind == EVENT_CLUSTER
    if rule == RUN_TO_FIRST_CONTACT:
        return met, balls_met
    if rule == RUN_TO_SECOND_BALL:
        return _second_met(watched, kind, a, b, balls_met, met)
    if rule == RUN_WATCHED:
        if kind == EVENT_PIECE:
            return met, False
        if balls_met:
            if met == 0:
                # The first ball of all to be met must be the watched one.
                return 1, not (a == watched or b == watched)
            reached = kind == EVENT_CLUSTER and work[watched, CHANGED] > 0.0
            return met, a == watched or b == watched or reached
        if a == watched:
            return met, kind != EVENT_ROLL and kind != EVENT_JAW
        # The white, not having met anything, is down or at rest.
        return met, met == 0 and a == 0 and (kind == EVENT_POCKET or kind == EVENT_STOP)
    return met, False


@inlined_kernel
def _second_reached(work, watched, a, b, met):
    """Whether the white now reaches its second ball, and ``met`` as in ``_second_met``."""
    first = met % WHITE_DONE
    reached = a == WHITE and first > 0 and b != first and closing_of(work, a, b) > NO_SPEED
    return met + WHITE_DONE if reached else met, reached


@inlined_kernel
def _second_met(watched, kind, a, b, balls_met, met):
    """``met``: the first ball's number, and more than any such for each of two things done."""
    first = met % WHITE_DONE
    white_done = met % WATCHED_DONE >= WHITE_DONE
    if balls_met and a == WHITE and first == 0:
        met += b
    elif not white_done and balls_met and (a == WHITE or b == WHITE) and a + b - WHITE != first:
        met += WHITE_DONE
        white_done = True
    if kind == EVENT_POCKET and a == WHITE and not white_done:
        met += WHITE_DONE
    if (kind == EVENT_POCKET or kind == EVENT_STOP) and a == watched and met < WATCHED_DONE:
        met += WATCHED_DONE
    return met, met >= (WHITE_DONE if watched < 0 else WHITE_DONE + WATCHED_DONE)


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
            if work[i, PRESSED] > 0.0:
                kind = EVENT_PIECE
            elif motion[i] == SLIDING:
                kind = EVENT_ROLL
            elif motion[i] == ROLLING:
                kind = EVENT_STOP
            else:
                kind = EVENT_SPIN_STOP
    return best, kind, a, b
