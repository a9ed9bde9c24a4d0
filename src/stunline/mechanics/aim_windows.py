"""Which aims send a ball into a pocket, and which height makes the white arrive as asked.

A pot is known only by playing it. Here the plays of one search run one after another without
going back to the caller, so that several searches run beside each other on all cores.

``table`` is what stands: bodies (n, WORK_COLUMNS), the white's mass over the cue's end mass,
interior, noses, jaws, drops, coefficients. ``scratch`` is what runs: work, motion, pair times,
members, contacts, holds, and the four arrays of rows, all as in ``run_events``. A strike is a row
with the columns STRIKE_ of ``layout``; its aim is given apart, as it is what is looked for.
"""

import math

from stunline.mechanics.compiling import copied_kernel, kernel
from stunline.mechanics.layout import (
    BALL_RADIUS,
    EVENT_A_AFTER,
    EVENT_BALL_A,
    EVENT_KIND,
    EVENT_OTHER,
    EVENT_POCKET,
    RESTING,
    RUN_TO_ARRIVAL,
    RUN_WATCHED,
    STOP_RECORD_FULL,
    STOP_RULE_MET,
    STRIKE_AIM,
    STRIKE_ELEVATION,
    STRIKE_HEIGHT,
    STRIKE_PACE,
    STRIKE_SIDE,
)
from stunline.mechanics.moving_ball import VX, VY, WX, WY, WZ
from stunline.mechanics.run_events import run_events
from stunline.mechanics.strike import strike

# What is looked for.
POCKETS, LAST_AIMS, WINDOWS = 0, 1, 2
# What became of it.
FOUND = 1
LOST = 0  # not near where it was looked for
NO_HEIGHT = -1  # the white can't arrive so at any height within the limit
NO_POCKET = -1  # the watched ball does not drop
TOO_FEW_ROWS = -2  # the play needs longer arrays

# How much longer each next step is while an edge or a height is looked for, and how often. [-]
_LONGER = 4.0
_MOST_STEPS = 5
# As ``arrival`` has them: what counts as rolling, and by how much a solved ratio may be off. [-]
_ROLLING = 1e-9
_RATIO_TOLERANCE = 1e-4
_STOPPED = -10.0  # lower than any ratio that can be asked for
# A height is closed in to this [m], and its first step to either side is so long [m].
_HEIGHT_TOLERANCE = 1e-8
_HEIGHT_STEP = 2e-5
_MOST_TRIES = 60  # halving alone reaches the tolerance in half as many
_PATIENCE = 3  # tries before a bracket that does not halve is halved
_ROUNDS = 2  # of height and aim: each moves the other by a hundredth of its own change
# The first step on the second round, in which an edge has hardly moved, over the first one's. [-]
_FINER = 0.05
_WHITE = 0


@copied_kernel
def pocket_of(aim, row, strikes, watched, table, scratch):
    """The pocket that the watched ball drops into directly, off jaws at most.

    Returns: its index, NO_POCKET, or TOO_FEW_ROWS.
    """
    height = strikes[row, STRIKE_HEIGHT]
    stop, events, _ = _run(aim, height, row, strikes, RUN_WATCHED, watched, table, scratch)
    if stop == STOP_RECORD_FULL:
        return TOO_FEW_ROWS
    event_ints = scratch[7]
    for k in range(events):
        if event_ints[k, EVENT_KIND] == EVENT_POCKET and event_ints[k, EVENT_BALL_A] == watched:
            return event_ints[k, EVENT_OTHER]
    return NO_POCKET


@copied_kernel
def last_aim(true_at, false_at, tolerance, row, strikes, watched, pocket, table, scratch):
    """Between an aim that pots and one that does not: the last that does. [rad]"""
    while abs(false_at - true_at) > tolerance:
        middle = 0.5 * (true_at + false_at)
        if middle == true_at or middle == false_at:
            break
        if pocket_of(middle, row, strikes, watched, table, scratch) == pocket:
            true_at = middle
        else:
            false_at = middle
    return true_at


@kernel
def search_aims(
    what, first, last, strikes, watched, pocket, tolerance, follow_ratio, limit, at_once,
    table, scratch, windows, found,
):  # fmt: skip
    """Do one kind of search for each of the strikes ``first`` to ``last``.

    POCKETS: the pocket that the watched ball drops into, as ``pocket_of``, into ``found``.
    LAST_AIMS: ``windows`` holds an aim that pots and one that does not; the first is replaced by
    the last aim between them that pots.
    WINDOWS: windows of aims that pot, each looked for near a guess; with the height, where
    asked. Steps: the height for the middle of the window; the window's two edges; both once more
    where a height is solved. Window and height are left in ``windows`` and ``strikes``, and
    ``found`` says FOUND, LOST or NO_HEIGHT.

    One function for all three, since each that calls ``run_events`` takes seconds to compile.

    Args:
        strikes: (N, STRIKE_COLUMNS); heights are guesses where ``follow_ratio`` is a number.
        tolerance: of an edge [rad]
        follow_ratio: at arrival, NaN where heights are given [-]
        limit: the largest safe height [m]; at_once: the height that rolls at once [m]
        windows: (N, 3): low, high [rad], and the first step to look for an edge [rad]
        found: (N,)
    """
    for row in range(first, last):
        if what == POCKETS:
            found[row] = pocket_of(strikes[row, STRIKE_AIM], row, strikes, watched, table, scratch)
        elif what == LAST_AIMS:
            windows[row, 0] = last_aim(
                windows[row, 0], windows[row, 1], tolerance,
                row, strikes, watched, pocket, table, scratch,
            )  # fmt: skip
        else:
            found[row] = _close_in(
                row, strikes, watched, pocket, tolerance, follow_ratio, limit, at_once,
                table, scratch, windows,
            )  # fmt: skip


@copied_kernel
def _close_in(
    row, strikes, watched, pocket, tolerance, follow_ratio, limit, at_once,
    table, scratch, windows,
):  # fmt: skip
    solving = not math.isnan(follow_ratio)
    step = windows[row, 2]
    for _ in range(_ROUNDS if solving else 1):
        middle = 0.5 * (windows[row, 0] + windows[row, 1])
        if solving:
            height = _height(middle, row, strikes, follow_ratio, limit, at_once, table, scratch)
            if math.isnan(height):
                return NO_HEIGHT
            strikes[row, STRIKE_HEIGHT] = height
        if pocket_of(middle, row, strikes, watched, table, scratch) != pocket:
            return LOST
        for side in range(2):
            way = step if side == 1 else -step
            edge = _edge(middle, windows[row, side], way, tolerance,
                         row, strikes, watched, pocket, table, scratch)  # fmt: skip
            if math.isnan(edge):
                return LOST
            windows[row, side] = edge
        step *= _FINER
    strikes[row, STRIKE_AIM] = 0.5 * (windows[row, 0] + windows[row, 1])
    return FOUND


@copied_kernel
def _edge(inside, guess, step, tolerance, row, strikes, watched, pocket, table, scratch):
    """The last aim that pots on the side to which ``step`` goes; NaN when it is not near."""
    if pocket_of(guess, row, strikes, watched, table, scratch) == pocket:
        true_at = guess
        false_at = guess + step
        for _ in range(_MOST_STEPS):
            if pocket_of(false_at, row, strikes, watched, table, scratch) != pocket:
                return last_aim(true_at, false_at, tolerance,
                                row, strikes, watched, pocket, table, scratch)  # fmt: skip
            true_at = false_at
            step *= _LONGER
            false_at = true_at + step
        return math.nan
    # Back towards the inside, until it pots.
    false_at = guess
    nearer = guess - step
    while (nearer - inside) * step > 0.0:
        if pocket_of(nearer, row, strikes, watched, table, scratch) == pocket:
            return last_aim(nearer, false_at, tolerance,
                            row, strikes, watched, pocket, table, scratch)  # fmt: skip
        false_at = nearer
        step *= _LONGER
        nearer = guess - step
    return last_aim(inside, false_at, tolerance,
                    row, strikes, watched, pocket, table, scratch)  # fmt: skip


@copied_kernel
def _height(aim, row, strikes, wanted, limit, at_once, table, scratch):
    """The height at which the white arrives with that ratio; NaN for none within the limit. [m]

    Looked for outwards from the row's own height, then by regula falsi (Illinois), halved where
    it stalls. The ratio rises with the height.
    """
    may_roll_at_once = abs(wanted - 1.0) <= _ROLLING and at_once <= limit
    if (
        may_roll_at_once
        and abs(_ratio(aim, at_once, row, strikes, table, scratch) - 1.0) <= _ROLLING
    ):
        return at_once
    b = min(max(strikes[row, STRIKE_HEIGHT], -limit), limit)
    at_b = _ratio(aim, b, row, strikes, table, scratch) - wanted
    if at_b == 0.0:
        return b
    way = -1.0 if at_b > 0.0 else 1.0
    step = _HEIGHT_STEP
    while True:
        a = b
        at_a = at_b
        b = min(max(b + way * step, -limit), limit)
        if a == b:
            return math.nan
        at_b = _ratio(aim, b, row, strikes, table, scratch) - wanted
        if (at_b > 0.0) != (at_a > 0.0):
            break
        step *= _LONGER
    return _root(aim, a, at_a, b, at_b, row, strikes, wanted, table, scratch)


@copied_kernel
def _root(aim, a, at_a, b, at_b, row, strikes, wanted, table, scratch):
    """The height between two at which the ratio is the one wanted; NaN where it jumps past. [m]"""
    width = abs(b - a)
    waited = 0
    nearest = at_b
    for _ in range(_MOST_TRIES):
        if abs(b - a) <= _HEIGHT_TOLERANCE or at_b == 0.0:
            break
        if abs(b - a) <= 0.5 * width:
            width = abs(b - a)
            waited = 0
        stalled = waited >= _PATIENCE
        waited = 0 if stalled else waited + 1
        x = 0.5 * (a + b) if stalled else b - at_b * (b - a) / (at_b - at_a)
        if abs(x - b) < 0.5 * _HEIGHT_TOLERANCE:
            x = b + math.copysign(0.5 * _HEIGHT_TOLERANCE, a - b)
        at_x = _ratio(aim, x, row, strikes, table, scratch) - wanted
        if (at_x > 0.0) != (at_b > 0.0):
            a = b
            at_a = at_b
        else:
            at_a *= 0.5
        b = x
        at_b = at_x
        nearest = at_x
    return b if abs(nearest) <= _RATIO_TOLERANCE else math.nan


@copied_kernel
def _ratio(aim, height, row, strikes, table, scratch):
    """Rω/v of the white as it arrives at the first ball; lower than any when it stops before."""
    stop, events, _ = _run(aim, height, row, strikes, RUN_TO_ARRIVAL, -1, table, scratch)
    if stop != STOP_RULE_MET:
        return _STOPPED
    event_floats = scratch[6]
    vx = event_floats[events - 1, EVENT_A_AFTER]
    vy = event_floats[events - 1, EVENT_A_AFTER + 1]
    wx = event_floats[events - 1, EVENT_A_AFTER + 2]
    wy = event_floats[events - 1, EVENT_A_AFTER + 3]
    square = vx * vx + vy * vy
    if square == 0.0:
        return _STOPPED
    return table[0][_WHITE, BALL_RADIUS] * (wy * vx - wx * vy) / square


@copied_kernel
def _run(aim, height, row, strikes, rule, watched, table, scratch):
    """Set the balls up, strike, and run to the rule: stop code, events, phases."""
    bodies, ball_to_end_mass, interior, noses, jaws, drops, coefficients = table
    (
        work, motion, pair_times, members, contacts, holds,
        event_floats, event_ints, phase_floats, phase_ints,
    ) = scratch  # fmt: skip
    for i in range(work.shape[0]):
        for k in range(work.shape[1]):
            work[i, k] = bodies[i, k]
        motion[i] = RESTING
    (
        work[_WHITE, VX], work[_WHITE, VY],
        work[_WHITE, WX], work[_WHITE, WY], work[_WHITE, WZ],
    ) = strike(
        aim, strikes[row, STRIKE_PACE], height, strikes[row, STRIKE_SIDE],
        strikes[row, STRIKE_ELEVATION], work[_WHITE, BALL_RADIUS], ball_to_end_mass,
    )  # fmt: skip
    return run_events(
        work, motion, pair_times, members, contacts, holds,
        coefficients, interior, noses, jaws, drops,
        rule, watched, event_floats, event_ints, phase_floats, phase_ints,
    )  # fmt: skip
