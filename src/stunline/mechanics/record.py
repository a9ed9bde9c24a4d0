"""Writing down what happens: phases and events, row by row, into the caller's arrays."""

from stunline.mechanics.compiling import inlined_kernel
from stunline.mechanics.layout import (
    EVENT_A_AFTER,
    EVENT_B_AFTER,
    EVENT_BALL,
    EVENT_BALL_A,
    EVENT_CLUSTER,
    EVENT_KIND,
    EVENT_OTHER,
    EVENT_PRESS,
    EVENT_RELEASE,
    EVENT_TIME,
    EVENT_X,
    EVENT_Y,
    PHASE_BALL,
    PHASE_END,
    PHASE_FLOAT_COLUMNS,
    PHASE_MOTION,
    POTTED,
    RESTING,
)
from stunline.mechanics.moving_ball import START, VX, VY, WX, WY, WZ, X, Y


@inlined_kernel
def close_phase(work, motion, i, time, phase_floats, phase_ints, phases):
    """Write the ball's present phase, if it moves or turns in it; the new number of phases."""
    lasted = motion[i] != RESTING and motion[i] != POTTED and time > work[i, START]
    if lasted:
        for k in range(PHASE_FLOAT_COLUMNS):
            phase_floats[phases, k] = work[i, k]
        phase_floats[phases, PHASE_END] = time
        phase_ints[phases, PHASE_BALL] = i
        phase_ints[phases, PHASE_MOTION] = motion[i]
    return phases + 1 if lasted else phases


@inlined_kernel
def write_event(work, event_floats, event_ints, index, kind, a, b, time):
    """Write what happened, where, and the state of the balls concerned just after."""
    event_ints[index, EVENT_KIND] = kind
    event_ints[index, EVENT_BALL_A] = a
    event_ints[index, EVENT_OTHER] = b
    event_floats[index, EVENT_TIME] = time
    event_floats[index, EVENT_X] = work[a, X]
    event_floats[index, EVENT_Y] = work[a, Y]
    _write_after(event_floats, index, EVENT_A_AFTER, work, a)
    if kind == EVENT_BALL or kind == EVENT_CLUSTER or kind == EVENT_PRESS or kind == EVENT_RELEASE:
        _write_after(event_floats, index, EVENT_B_AFTER, work, b)


@inlined_kernel
def _write_after(event_floats, index, column, work, i):
    event_floats[index, column] = work[i, VX]
    event_floats[index, column + 1] = work[i, VY]
    event_floats[index, column + 2] = work[i, WX]
    event_floats[index, column + 3] = work[i, WY]
    event_floats[index, column + 4] = work[i, WZ]
