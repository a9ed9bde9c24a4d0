"""What a coach names about a shot, read from the rows of its run.

The same numbers as the read-outs of a ``Shot``, in SI units; here for shots that are played by
the thousand. The white is ball 0.
"""

import math

from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.layout import (
    BALL_MASS,
    BALL_RADIUS,
    EVENT_A_AFTER,
    EVENT_BALL_A,
    EVENT_CLUSTER,
    EVENT_CUSHION,
    EVENT_KIND,
    EVENT_MEMBER,
    EVENT_OTHER,
    EVENT_ROLL,
    EVENT_TIME,
    EVENT_X,
    EVENT_Y,
    PHASE_BALL,
    PHASE_END,
    PHASE_MOTION,
    PHASE_START,
    READ_ARRIVAL_SPEED,
    READ_COLUMNS,
    READ_CONTACT_TIME,
    READ_CONTACT_X,
    READ_CONTACT_Y,
    READ_CUSHION_NOSE,
    READ_CUSHION_X,
    READ_CUSHION_Y,
    READ_CUT_ANGLE,
    READ_DURATION,
    READ_ENERGY_KEPT,
    READ_FIRST_DIRECTION,
    READ_FOLLOW_RATIO,
    READ_NEXT_SINE,
    READ_NEXT_SPEED,
    READ_NEXT_THICKNESS,
    READ_NEXT_TIME,
    READ_NEXT_X,
    READ_NEXT_Y,
    READ_OBJECT_DIRECTION,
    READ_OBJECT_SPEED_AFTER,
    READ_OFF_TANGENT,
    READ_SECOND_SINE,
    READ_SQUIRT,
    READ_TANGENT_DIRECTION,
    READ_THICKNESS,
    READ_THROW,
    READ_TOTAL_BEND,
    READ_WHITE_SPEED_AFTER,
    SLIDING,
    SPIN_DECELERATION,
    SPINNING,
    TALLY_CUSHIONS,
    TALLY_FIRST_BALL,
    TALLY_NEXT_KIND,
    TALLY_NEXT_OTHER,
    TALLY_SECOND_BALL,
    TALLY_TOUCHED,
)
from stunline.mechanics.read_rows import (
    is_meeting,
    motion_after,
    motion_before,
    motion_in_phase,
    next_meeting,
    place_at,
    row_of_ball,
    turned,
)

WHITE = 0
TOUCHING = 1e-6  # balls this near are in contact, over their distance then [-]


@kernel
def read_shot(
    start, aim, coefficients, event_floats, event_ints, events,
    phase_floats, phase_ints, phases, tally, read,
):  # fmt: skip
    """Fill ``tally`` (TALLY_COLUMNS) and ``read`` (READ_COLUMNS) from the rows of one run.

    Args:
        start: (n, ≥ BALL_REACH + 1), the balls as they stood: places, radii, masses.
        aim: of the strike [rad]
        Others: as ``run_events`` left them.
    """
    for k in range(READ_COLUMNS):
        read[k] = math.nan
    first_x = event_floats[0, EVENT_A_AFTER]
    first_y = event_floats[0, EVENT_A_AFTER + 1]
    read[READ_SQUIRT] = turned(math.cos(aim), math.sin(aim), first_x, first_y)
    read[READ_DURATION] = event_floats[events - 1, EVENT_TIME]
    tally[TALLY_CUSHIONS] = _cushions_met(event_ints, events)
    tally[TALLY_NEXT_KIND] = -1
    tally[TALLY_NEXT_OTHER] = -1
    tally[TALLY_FIRST_BALL] = -1
    tally[TALLY_SECOND_BALL] = -1
    tally[TALLY_TOUCHED] = 0
    row = next_meeting(event_ints, events, 0, WHITE, False)
    _read_first_cushion(event_floats, event_ints, events, max(row, 0), read)
    if row < 0:
        return
    other = _met_by_white(
        start, event_floats, event_ints, events, phase_floats, phase_ints, phases, row
    )
    tally[TALLY_FIRST_BALL] = other
    _read_contact(
        start, coefficients, event_floats, event_ints, events,
        phase_floats, phase_ints, phases, row, other, read,
    )  # fmt: skip
    _read_bend(
        start, coefficients, event_floats, event_ints, events,
        phase_floats, phase_ints, phases, row, other, read,
    )  # fmt: skip
    _read_next(
        start, coefficients, event_floats, event_ints, events,
        phase_floats, phase_ints, phases, row, tally, read,
    )  # fmt: skip
    _read_others(
        start, coefficients, event_floats, event_ints, events,
        phase_floats, phase_ints, phases, row, tally, read,
    )  # fmt: skip


@kernel
def _read_others(
    start, coefficients, event_floats, event_ints, events,
    phase_floats, phase_ints, phases, row, tally, read,
):  # fmt: skip
    """Every ball that the white met, and how it met the second of them."""
    first = tally[TALLY_FIRST_BALL]
    while row >= 0:
        other = _met_by_white(
            start, event_floats, event_ints, events, phase_floats, phase_ints, phases, row
        )
        tally[TALLY_TOUCHED] |= 1 << other
        time = event_floats[row, EVENT_TIME]
        if event_ints[row, EVENT_KIND] == EVENT_CLUSTER:
            tally[TALLY_TOUCHED] |= _touched_at(
                start, phase_floats, phase_ints, phases, event_ints, events, row, time
            )
        if other != first and tally[TALLY_SECOND_BALL] < 0:
            tally[TALLY_SECOND_BALL] = other
            vx, vy, _, _, _ = motion_before(
                event_floats, event_ints, events, phase_floats, phase_ints, phases,
                row, WHITE, coefficients[SPIN_DECELERATION],
            )  # fmt: skip
            speed = math.hypot(vx, vy)
            nx, ny = _line_of_centres(start, phase_floats, phase_ints, phases, other, time)
            read[READ_SECOND_SINE] = (vx * ny - vy * nx) / speed if speed > 0.0 else 0.0
        row = next_meeting(event_ints, events, row, WHITE, False)


@kernel
def _touched_at(start, phase_floats, phase_ints, phases, event_ints, events, row, time):
    """Balls of a cluster that touch the white in it, as bits."""
    bits = 0
    x, y = place_at(start, phase_floats, phase_ints, phases, WHITE, time)
    for ball in range(1, start.shape[0]):
        if row_of_ball(event_ints, events, row, ball)[0] >= 0:
            bx, by = place_at(start, phase_floats, phase_ints, phases, ball, time)
            apart = 2.0 * math.sqrt(start[WHITE, BALL_RADIUS] * start[ball, BALL_RADIUS])
            if math.hypot(bx - x, by - y) < apart * (1.0 + TOUCHING):
                bits |= 1 << ball
    return bits


@kernel
def first_of_group(
    start, group, event_floats, event_ints, events, phase_floats, phase_ints, phases
):  # fmt: skip
    """The first ball with ``group`` 1 that the white meets; −1 for none."""
    row = next_meeting(event_ints, events, 0, WHITE, False)
    while row >= 0:
        other = _met_by_white(
            start, event_floats, event_ints, events, phase_floats, phase_ints, phases, row
        )
        if group[other] > 0:
            return other
        row = next_meeting(event_ints, events, row, WHITE, False)
    return -1


@inlined_kernel
def _cushions_met(event_ints, events):
    count = 0
    for k in range(events):
        if event_ints[k, EVENT_KIND] == EVENT_CUSHION and event_ints[k, EVENT_BALL_A] == WHITE:
            count += 1
    return count


@kernel
def _read_first_cushion(event_floats, event_ints, events, row, read):
    """Which nose the white first met after the event of that row, and where."""
    for k in range(row + 1, events):
        if event_ints[k, EVENT_KIND] == EVENT_CUSHION and event_ints[k, EVENT_BALL_A] == WHITE:
            read[READ_CUSHION_NOSE] = event_ints[k, EVENT_OTHER]
            read[READ_CUSHION_X] = event_floats[k, EVENT_X]
            read[READ_CUSHION_Y] = event_floats[k, EVENT_Y]
            return


@kernel
def _met_by_white(start, event_floats, event_ints, events, phase_floats, phase_ints, phases, row):
    """The ball that the white meets; where a cluster reached it, the nearest of the cluster."""
    first = event_ints[row, EVENT_BALL_A]
    second = event_ints[row, EVENT_OTHER]
    if first == WHITE:
        return second
    if second == WHITE:
        return first
    time = event_floats[row, EVENT_TIME]
    x, y = place_at(start, phase_floats, phase_ints, phases, WHITE, time)
    best = math.inf
    nearest = first
    for ball in range(1, start.shape[0]):
        if row_of_ball(event_ints, events, row, ball)[0] >= 0:
            bx, by = place_at(start, phase_floats, phase_ints, phases, ball, time)
            distance = math.hypot(bx - x, by - y)
            if distance < best:
                best = distance
                nearest = ball
    return nearest


@inlined_kernel
def _line_of_centres(start, phase_floats, phase_ints, phases, other, time):
    """Unit vector from the white's centre to the other's."""
    x, y = place_at(start, phase_floats, phase_ints, phases, WHITE, time)
    bx, by = place_at(start, phase_floats, phase_ints, phases, other, time)
    distance = math.hypot(bx - x, by - y)
    return (bx - x) / distance, (by - y) / distance


@inlined_kernel
def _energy(radius, mass, vx, vy, wx, wy, wz):
    """Kinetic energy, m(v²/2 + R²ω²/5) of a solid sphere. [J]"""
    turning = 0.2 * radius * radius * (wx * wx + wy * wy + wz * wz)
    return mass * (0.5 * (vx * vx + vy * vy) + turning)


@kernel
def _read_contact(
    start, coefficients, event_floats, event_ints, events,
    phase_floats, phase_ints, phases, row, other, read,
):  # fmt: skip
    """How the white arrived at its first contact, and how both balls left it."""
    time = event_floats[row, EVENT_TIME]
    read[READ_CONTACT_TIME] = time
    read[READ_CONTACT_X], read[READ_CONTACT_Y] = place_at(
        start, phase_floats, phase_ints, phases, WHITE, time
    )
    nx, ny = _line_of_centres(start, phase_floats, phase_ints, phases, other, time)
    before = motion_before(
        event_floats, event_ints, events, phase_floats, phase_ints, phases,
        row, WHITE, coefficients[SPIN_DECELERATION],
    )  # fmt: skip
    ball_before = motion_before(
        event_floats, event_ints, events, phase_floats, phase_ints, phases,
        row, other, coefficients[SPIN_DECELERATION],
    )  # fmt: skip
    at, second = row_of_ball(event_ints, events, row, WHITE)
    after = motion_after(event_floats, at, second)
    at, second = row_of_ball(event_ints, events, row, other)
    ball_after = motion_after(event_floats, at, second)
    sine = _read_arrival(before, nx, ny, start[WHITE, BALL_RADIUS], read)
    _read_leaving(after, ball_after, nx, ny, sine, read)
    white = (start[WHITE, BALL_RADIUS], start[WHITE, BALL_MASS])
    ball = (start[other, BALL_RADIUS], start[other, BALL_MASS])
    energy = _energy(*white, *before) + _energy(*ball, *ball_before)
    read[READ_ENERGY_KEPT] = (_energy(*white, *after) + _energy(*ball, *ball_after)) / energy


@inlined_kernel
def _read_arrival(before, nx, ny, radius, read):
    """Speed, thickness, angle of cut and spin on arrival; the signed sine of the cut."""
    vx, vy, wx, wy, _ = before
    speed = math.hypot(vx, vy)
    sine = 0.0
    ratio = 0.0
    if speed > 0.0:
        sine = (vx * ny - vy * nx) / speed
        ratio = radius * (wy * vx - wx * vy) / (speed * speed)
    read[READ_CUT_ANGLE] = abs(turned(vx, vy, nx, ny))
    read[READ_THICKNESS] = 1.0 - abs(sine)
    read[READ_ARRIVAL_SPEED] = speed
    read[READ_FOLLOW_RATIO] = ratio
    return sine


@inlined_kernel
def _read_leaving(after, ball_after, nx, ny, sine, read):
    """Speeds and directions just after; ``sine`` tells on which side the ball was met."""
    vx, vy = after[0], after[1]
    bx, by = ball_after[0], ball_after[1]
    tx = ny if sine > 0.0 else -ny
    ty = -nx if sine > 0.0 else nx
    read[READ_TANGENT_DIRECTION] = math.atan2(ty, tx)
    read[READ_FIRST_DIRECTION] = math.atan2(vy, vx)
    towards = math.copysign(1.0, tx * ny - ty * nx)
    read[READ_OFF_TANGENT] = towards * turned(tx, ty, vx, vy)
    read[READ_OBJECT_DIRECTION] = math.atan2(by, bx)
    read[READ_THROW] = turned(nx, ny, bx, by)
    read[READ_WHITE_SPEED_AFTER] = math.hypot(vx, vy)
    read[READ_OBJECT_SPEED_AFTER] = math.hypot(bx, by)


@kernel
def _read_bend(
    start, coefficients, event_floats, event_ints, events,
    phase_floats, phase_ints, phases, row, other, read,
):  # fmt: skip
    """How far the white's way turns from its first direction until it next meets something."""
    time = event_floats[row, EVENT_TIME]
    at, second = row_of_ball(event_ints, events, row, WHITE)
    first = motion_after(event_floats, at, second)
    end = _next_change(event_floats, event_ints, events, time)
    last = -1
    for k in range(phases):
        if (
            phase_ints[k, PHASE_BALL] == WHITE
            and time <= phase_floats[k, PHASE_START] < end
            and phase_ints[k, PHASE_MOTION] != SPINNING
        ):
            last = k
    read[READ_TOTAL_BEND] = 0.0
    if last < 0 or (first[0] == 0.0 and first[1] == 0.0):
        return
    # A ball that rolls to rest has no direction at the very end; half-way it has the same.
    moment = phase_floats[last, PHASE_END]
    if phase_ints[last, PHASE_MOTION] != SLIDING:
        moment = phase_floats[last, PHASE_START] + 0.5 * (moment - phase_floats[last, PHASE_START])
    way = motion_in_phase(phase_floats, last, moment, coefficients[SPIN_DECELERATION])
    nx, ny = _line_of_centres(start, phase_floats, phase_ints, phases, other, time)
    towards = math.copysign(1.0, first[0] * ny - first[1] * nx)
    read[READ_TOTAL_BEND] = towards * turned(first[0], first[1], way[0], way[1])


@inlined_kernel
def _next_change(event_floats, event_ints, events, time):
    """When anything but the end of sliding next happens to the white. [s]"""
    for k in range(events):
        if (
            event_floats[k, EVENT_TIME] > time
            and event_ints[k, EVENT_KIND] != EVENT_ROLL
            and row_of_ball(event_ints, events, k, WHITE)[0] >= 0
        ):
            return event_floats[k, EVENT_TIME]
    return math.inf


@kernel
def _read_next(
    start, coefficients, event_floats, event_ints, events,
    phase_floats, phase_ints, phases, row, tally, read,
):  # fmt: skip
    """What the white met after its first contact, where, how fast and how thick."""
    if event_ints[row, EVENT_KIND] == EVENT_CLUSTER:
        while row + 1 < events and event_ints[row + 1, EVENT_KIND] == EVENT_MEMBER:
            row += 1
    met = next_meeting(event_ints, events, row, WHITE, True)
    if met < 0:
        return
    time = event_floats[met, EVENT_TIME]
    vx, vy, _, _, _ = motion_before(
        event_floats, event_ints, events, phase_floats, phase_ints, phases,
        met, WHITE, coefficients[SPIN_DECELERATION],
    )  # fmt: skip
    speed = math.hypot(vx, vy)
    x, y = place_at(start, phase_floats, phase_ints, phases, WHITE, time)
    read[READ_NEXT_TIME] = time
    read[READ_NEXT_X] = x
    read[READ_NEXT_Y] = y
    read[READ_NEXT_SPEED] = speed
    kind = event_ints[met, EVENT_KIND]
    other = event_ints[met, EVENT_OTHER]
    if is_meeting(kind):
        other = _met_by_white(
            start, event_floats, event_ints, events, phase_floats, phase_ints, phases, met
        )
        nx, ny = _line_of_centres(start, phase_floats, phase_ints, phases, other, time)
        sine = (vx * ny - vy * nx) / speed if speed > 0.0 else 0.0
        read[READ_NEXT_SINE] = sine
        read[READ_NEXT_THICKNESS] = 1.0 - abs(sine)
    tally[TALLY_NEXT_KIND] = kind
    tally[TALLY_NEXT_OTHER] = other
