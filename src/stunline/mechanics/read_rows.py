"""Looking things up in the rows that a run has written: who met whom, and how balls moved.

The same as ``Shot`` says of events and phases, for callers that read many shots and make no
object of any.
"""

import math

from stunline.mechanics.cloth import spin_after
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.layout import (
    EVENT_A_AFTER,
    EVENT_B_AFTER,
    EVENT_BALL,
    EVENT_BALL_A,
    EVENT_CLUSTER,
    EVENT_CUSHION,
    EVENT_JAW,
    EVENT_KIND,
    EVENT_MEMBER,
    EVENT_OTHER,
    EVENT_PRESS,
    EVENT_RELEASE,
    EVENT_TIME,
    PHASE_AX,
    PHASE_AY,
    PHASE_BALL,
    PHASE_DWX,
    PHASE_DWY,
    PHASE_END,
    PHASE_START,
    PHASE_VX,
    PHASE_VY,
    PHASE_WX,
    PHASE_WY,
    PHASE_WZ,
    PHASE_X,
    PHASE_Y,
)


@inlined_kernel
def is_meeting(kind):
    """Whether balls meet in an event of that kind."""
    return kind == EVENT_BALL or kind == EVENT_CLUSTER


@inlined_kernel
def is_of_two_balls(kind):
    """Whether the other of that kind of event is a ball."""
    return is_meeting(kind) or kind == EVENT_PRESS or kind == EVENT_RELEASE


@kernel
def row_of_ball(event_ints, events, row, ball):
    """Where the event that begins in that row tells of this ball: its own row or a member's.

    Returns: the row, −1 when the ball has no part in the event; whether it is the second ball.
    """
    if event_ints[row, EVENT_BALL_A] == ball:
        return row, False
    kind = event_ints[row, EVENT_KIND]
    if is_of_two_balls(kind) and event_ints[row, EVENT_OTHER] == ball:
        return row, True
    if kind == EVENT_CLUSTER:
        member = row + 1
        while member < events and event_ints[member, EVENT_KIND] == EVENT_MEMBER:
            if event_ints[member, EVENT_BALL_A] == ball:
                return member, False
            member += 1
    return -1, False


@kernel
def next_meeting(event_ints, events, row, ball, walls):
    """The first row after that one in which the ball meets a ball (or a wall); −1 for none."""
    for k in range(row + 1, events):
        kind = event_ints[k, EVENT_KIND]
        met = is_meeting(kind) or (walls and (kind == EVENT_CUSHION or kind == EVENT_JAW))
        if met and row_of_ball(event_ints, events, k, ball)[0] >= 0:
            return k
    return -1


@kernel
def last_begun(phase_floats, phase_ints, phases, ball, time):
    """The row of the ball's last phase that has begun by then; −1 for none."""
    found = -1
    for k in range(phases):
        if phase_ints[k, PHASE_BALL] == ball:
            if phase_floats[k, PHASE_START] > time:
                break
            found = k
    return found


@kernel
def place_at(start, phase_floats, phase_ints, phases, ball, time):
    """The ball's centre at that time; ``start`` (n, ≥ 4) holds where it stood at first. [m]"""
    row = last_begun(phase_floats, phase_ints, phases, ball, time)
    if row < 0:
        return start[ball, PHASE_X], start[ball, PHASE_Y]
    t = min(time, phase_floats[row, PHASE_END]) - phase_floats[row, PHASE_START]
    vx = phase_floats[row, PHASE_VX]
    vy = phase_floats[row, PHASE_VY]
    x = phase_floats[row, PHASE_X] + t * (vx + 0.5 * t * phase_floats[row, PHASE_AX])
    y = phase_floats[row, PHASE_Y] + t * (vy + 0.5 * t * phase_floats[row, PHASE_AY])
    return x, y


@inlined_kernel
def motion_in_phase(phase_floats, row, time, spin_deceleration):
    """Velocity and spin at that time in that phase. [m s⁻¹, rad s⁻¹]"""
    t = time - phase_floats[row, PHASE_START]
    vx = phase_floats[row, PHASE_VX] + t * phase_floats[row, PHASE_AX]
    vy = phase_floats[row, PHASE_VY] + t * phase_floats[row, PHASE_AY]
    wx = phase_floats[row, PHASE_WX] + t * phase_floats[row, PHASE_DWX]
    wy = phase_floats[row, PHASE_WY] + t * phase_floats[row, PHASE_DWY]
    wz = spin_after(phase_floats[row, PHASE_WZ], t, spin_deceleration)
    return vx, vy, wx, wy, wz


@kernel
def motion_before(
    event_floats, event_ints, events, phase_floats, phase_ints, phases,
    row, ball, spin_deceleration,
):  # fmt: skip
    """Velocity and spin of a ball just before the event of that row.

    Of two events at one instant the earlier in order counts first.
    """
    time = event_floats[row, EVENT_TIME]
    k = row - 1
    while k >= 0 and event_floats[k, EVENT_TIME] == time:
        earlier, second = row_of_ball(event_ints, events, k, ball)
        if earlier >= 0:
            return motion_after(event_floats, earlier, second)
        k -= 1
    for k in range(phases):
        if (
            phase_ints[k, PHASE_BALL] == ball
            and phase_floats[k, PHASE_START] < time <= phase_floats[k, PHASE_END]
        ):
            return motion_in_phase(phase_floats, k, time, spin_deceleration)
    return 0.0, 0.0, 0.0, 0.0, 0.0


@inlined_kernel
def motion_after(event_floats, row, second):
    """Velocity and spin of a row's ball, or of its second ball, just after. [m s⁻¹, rad s⁻¹]"""
    at = EVENT_B_AFTER if second else EVENT_A_AFTER
    return (
        event_floats[row, at],
        event_floats[row, at + 1],
        event_floats[row, at + 2],
        event_floats[row, at + 3],
        event_floats[row, at + 4],
    )


@inlined_kernel
def turned(ax, ay, bx, by):
    """Angle from the first vector to the second, left positive. [rad]"""
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)
