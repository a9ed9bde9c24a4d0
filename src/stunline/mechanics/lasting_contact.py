"""Law 7: contact that lasts, from the first press to the release.

A sliding ball pressed against another, or against a cushion, would make an endless shrinking
series of impacts. Where bodies that touch hardly part and the free accelerations press them
together, their normal speeds are made equal and they stay together until the force between
them would have to pull.
"""

import math

from stunline.mechanics.boundary import BEHIND, SEAM, SEAM_OF_IMPACTS
from stunline.mechanics.cloth import slip
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.layout import (
    EVENT_BALL,
    EVENT_CUSHION,
    EVENT_JAW,
    EVENT_PRESS,
    EVENT_PRESS_CUSHION,
    EVENT_PRESS_JAW,
    EVENT_RELEASE,
    EVENT_RELEASE_CUSHION,
    EVENT_RELEASE_JAW,
    EVENT_ROLL,
    EVENT_SPIN_STOP,
    EVENT_STOP,
    JAW_COSINE,
    JAW_MIDDLE_X,
    JAW_MIDDLE_Y,
    JAW_RADIUS,
    JAW_X,
    JAW_Y,
    NOSE_ALONG_X,
    NOSE_ALONG_Y,
    NOSE_INWARD_X,
    NOSE_INWARD_Y,
    NOSE_LENGTH,
    NOSE_X,
    NOSE_Y,
    POTTED,
    RESTING,
    ROLLING,
    SLIDING,
    SPINNING,
)
from stunline.mechanics.meetings import polynomial
from stunline.mechanics.moving_ball import (
    CHANGED,
    GROUP,
    HELD_1,
    HELD_2,
    LAST_RELEASE,
    NO_WALL,
    PLANNED,
    PRESSED,
    RADIUS,
    REACH,
    STOPPING,
    VX,
    VY,
    WX,
    WY,
    WZ,
    X,
    Y,
    begin,
)
from stunline.mechanics.pressed_motion import plan_piece
from stunline.mechanics.pressing_forces import (
    HOLD_A,
    HOLD_ALONG_X,
    HOLD_ALONG_Y,
    HOLD_B,
    HOLD_BEFORE,
    HOLD_DISTANCE,
    HOLD_FORCE,
    HOLD_HIGH,
    HOLD_INDEX,
    HOLD_KIND,
    HOLD_LOW,
    HOLD_NOW,
    HOLD_NX,
    HOLD_NY,
    HOLD_OPEN,
    HOLD_X,
    HOLD_Y,
    STANDS,
    cloth_forces,
    equalise,
    forces_now,
    set_normal,
    towards,
)
from stunline.mechanics.record import write_event
from stunline.mechanics.touching import PRESS_SPEED, TOUCH, held_by, wall_code

# A slide in lasting contact has ended below this slip. [m s⁻¹] Pieces do not end on it exactly;
# what is left is far below anything seen.
ENDED = 1e-8
SLIP_TO_SPEED = 2.0 / 7.0  # of the slip, what a solid sphere's speed changes as it starts to roll
# Approach at which bodies of a pressed group count as pressed. [m s⁻¹] More than what a piece of
# motion and the end of a slide leave; less would let a ball between two others hop from one to
# the other for ever.
STILL_PRESSED = 2e-5
# A push that is only rounding. [N] Forces of a newton leave some 1e-14 of it.
LEAST_FORCE = 1e-12
# Gap up to which a contact that was pressed still is, over ``TOUCH``. [-]
STILL_TOUCHES = 10.0


@kernel
def gather(work, motion, a, b, time):
    """Mark, in GROUP, the balls joined to a, b or a pressed ball by contacts that may last."""
    count = work.shape[0]
    for i in range(count):
        marked = i == a or i == b or work[i, PRESSED] > 0.0
        work[i, GROUP] = 1.0 if marked and motion[i] != POTTED else 0.0
    again = True
    while again:
        again = False
        for i in range(count):
            if work[i, GROUP] != 1.0:
                continue
            work[i, GROUP] = 2.0
            for k in range(count):
                free = work[k, GROUP] == 0.0 and motion[k] != POTTED
                if free and _may_press(work, motion, i, k, time, 0.0):
                    work[k, GROUP] = 1.0
                    again = True


@inlined_kernel
def _may_press(work, motion, i, k, time, before):
    """Whether two balls touch and neither approach nor clearly part."""
    px, py, pvx, pvy, _, _ = polynomial(work, i, motion[i] > SPINNING, time)
    qx, qy, qvx, qvy, _, _ = polynomial(work, k, motion[k] > SPINNING, time)
    dx = qx - px
    dy = qy - py
    distance = math.sqrt(dx * dx + dy * dy)
    if distance - 2.0 * math.sqrt(work[i, RADIUS] * work[k, RADIUS]) > _near(before):
        return False
    return _hardly_parts(((qvx - pvx) * dx + (qvy - pvy) * dy) / distance)


@inlined_kernel
def _near(before):
    """Gap up to which bodies touch that did, or did not, press each other until now. [m]"""
    return STILL_TOUCHES * TOUCH if before > 0.0 else TOUCH


@inlined_kernel
def _hardly_parts(rate):
    """Whether that separating speed leaves bodies in contact if they are pressed."""
    return -STILL_PRESSED <= rate <= PRESS_SPEED


@kernel
def find_holds(work, motion, pair_times, holds, noses, jaws, time):
    """Write every contact of the group that may last, or that did until now; how many."""
    balls = work.shape[0]
    count = 0
    for i in range(balls):
        for j in range(i + 1, balls):
            before = pair_times[j, i]
            may = False
            if work[i, GROUP] > 0.0 and work[j, GROUP] > 0.0:
                may = _may_press(work, motion, i, j, time, before)
            if (may or before > 0.0) and count < holds.shape[0]:
                distance = 2.0 * math.sqrt(work[i, RADIUS] * work[j, RADIUS])
                _write_hold(holds, count, i, j, EVENT_BALL, j, distance, before, may)
                dx, dy = towards(work, holds, count)
                set_normal(holds, count, dx, dy)
                count += 1
    for i in range(balls):
        if work[i, GROUP] == 0.0 and work[i, PRESSED] == 0.0:
            continue
        for k in range(noses.shape[0]):
            before = 1.0 if held_by(work, i, EVENT_CUSHION, k) else 0.0
            may = work[i, GROUP] > 0.0 and _touches_nose(work, i, noses, k, before)
            if (may or before > 0.0) and count < holds.shape[0]:
                _write_hold(holds, count, i, -1, EVENT_CUSHION, k, work[i, REACH], before, may)
                holds[count, HOLD_X] = noses[k, NOSE_X]
                holds[count, HOLD_Y] = noses[k, NOSE_Y]
                holds[count, HOLD_NX] = -noses[k, NOSE_INWARD_X]
                holds[count, HOLD_NY] = -noses[k, NOSE_INWARD_Y]
                holds[count, HOLD_ALONG_X] = noses[k, NOSE_ALONG_X]
                holds[count, HOLD_ALONG_Y] = noses[k, NOSE_ALONG_Y]
                holds[count, HOLD_LOW] = -SEAM
                holds[count, HOLD_HIGH] = noses[k, NOSE_LENGTH] + SEAM
                count += 1
        for k in range(jaws.shape[0]):
            before = 1.0 if held_by(work, i, EVENT_JAW, k) else 0.0
            may = work[i, GROUP] > 0.0 and _touches_jaw(work, i, jaws, k, before)
            if (may or before > 0.0) and count < holds.shape[0]:
                distance = jaws[k, JAW_RADIUS] + work[i, REACH]
                _write_hold(holds, count, i, -1, EVENT_JAW, k, distance, before, may)
                holds[count, HOLD_X] = jaws[k, JAW_X]
                holds[count, HOLD_Y] = jaws[k, JAW_Y]
                holds[count, HOLD_ALONG_X] = jaws[k, JAW_MIDDLE_X]
                holds[count, HOLD_ALONG_Y] = jaws[k, JAW_MIDDLE_Y]
                holds[count, HOLD_LOW] = jaws[k, JAW_COSINE] * distance - SEAM
                holds[count, HOLD_HIGH] = 2.0 * distance
                dx, dy = towards(work, holds, count)
                set_normal(holds, count, dx, dy)
                count += 1
    return count


@inlined_kernel
def _write_hold(holds, count, a, b, kind, index, distance, before, may):
    holds[count, HOLD_A] = a
    holds[count, HOLD_B] = b
    holds[count, HOLD_KIND] = kind
    holds[count, HOLD_INDEX] = index
    holds[count, HOLD_DISTANCE] = distance
    holds[count, HOLD_BEFORE] = before
    holds[count, HOLD_OPEN] = 1.0 if may else 0.0
    holds[count, HOLD_FORCE] = 0.0


@inlined_kernel
def _touches_nose(work, i, noses, k, before):
    inx = noses[k, NOSE_INWARD_X]
    iny = noses[k, NOSE_INWARD_Y]
    px = work[i, X] - noses[k, NOSE_X]
    py = work[i, Y] - noses[k, NOSE_Y]
    gap = px * inx + py * iny - work[i, REACH]
    along = px * noses[k, NOSE_ALONG_X] + py * noses[k, NOSE_ALONG_Y]
    rate = work[i, VX] * inx + work[i, VY] * iny
    moves = work[i, VX] * noses[k, NOSE_ALONG_X] + work[i, VY] * noses[k, NOSE_ALONG_Y]
    beside = _stays(along, moves) and _stays(noses[k, NOSE_LENGTH] - along, -moves)
    return beside and -BEHIND < gap <= _near(before) and _hardly_parts(rate)


@inlined_kernel
def _stays(within, rate):
    """Whether a ball so far within a wall's end stands beside it; at the end, unless it leaves.

    Half-way between where impacts end and where the contact does, far from the rounding of both.
    """
    return within > -0.5 * (1.0 + SEAM_OF_IMPACTS) * SEAM or (within >= -SEAM and rate >= 0.0)


@inlined_kernel
def _touches_jaw(work, i, jaws, k, before):
    px = work[i, X] - jaws[k, JAW_X]
    py = work[i, Y] - jaws[k, JAW_Y]
    distance = math.sqrt(px * px + py * py)
    rate = (work[i, VX] * px + work[i, VY] * py) / distance
    along = px * jaws[k, JAW_MIDDLE_X] + py * jaws[k, JAW_MIDDLE_Y]
    moves = work[i, VX] * jaws[k, JAW_MIDDLE_X] + work[i, VY] * jaws[k, JAW_MIDDLE_Y]
    beside = _stays(along - jaws[k, JAW_COSINE] * distance, moves)
    gap = distance - jaws[k, JAW_RADIUS] - work[i, REACH]
    return beside and gap <= _near(before) and _hardly_parts(rate)


@kernel
def settle(
    work, motion, pair_times, holds, coefficients, noses, jaws, a, b, time,
    event_floats, event_ints, events,
):  # fmt: skip
    """Decide which contacts of the gathered balls last from now on; the new number of events.

    The gathered balls stand at ``time``. Steps: balls whose slide or roll has ended in contact
    roll or rest; every contact that may press gets its force; those that push stay, with
    equal normal speeds, and their balls get the next piece of motion; the others are let go,
    and balls that were pressed, or are a or b, move freely again.
    """
    events = _end_motions(work, motion, event_floats, event_ints, events, time)
    count = find_holds(work, motion, pair_times, holds, noses, jaws, time)
    cloth_forces(work, motion, coefficients)
    forces_now(work, motion, holds, count, coefficients)
    equalise(work, motion, holds, count, coefficients)
    if _choose(work, holds, count):
        cloth_forces(work, motion, coefficients)
        plan_piece(work, motion, holds, count, coefficients, time)
    _mark(work, pair_times, holds, count, a, b, time)
    for i in range(work.shape[0]):
        if work[i, CHANGED] > 0.0 and work[i, PRESSED] == 0.0:
            begin(work, motion, i, time, coefficients)
        if work[i, STOPPING] > 0.0 and motion[i] <= SPINNING:
            write_event(work, event_floats, event_ints, events, EVENT_STOP, i, -1, time)
            events += 1
    for c in range(count):
        before = holds[c, HOLD_BEFORE] > 0.0
        now = holds[c, HOLD_OPEN] > 0.0
        # A potted ball's contacts end with it, without an event of their own.
        fell = motion[int(holds[c, HOLD_A])] == POTTED
        if int(holds[c, HOLD_B]) >= 0:
            fell = fell or motion[int(holds[c, HOLD_B])] == POTTED
        if before != now and not fell:
            kind = _kind_of_change(int(holds[c, HOLD_KIND]), now)
            first = int(holds[c, HOLD_A])
            other = int(holds[c, HOLD_INDEX])
            write_event(work, event_floats, event_ints, events, kind, first, other, time)
            events += 1
    return events


@inlined_kernel
def _kind_of_change(kind, now):
    if kind == EVENT_BALL:
        return EVENT_PRESS if now else EVENT_RELEASE
    if kind == EVENT_CUSHION:
        return EVENT_PRESS_CUSHION if now else EVENT_RELEASE_CUSHION
    return EVENT_PRESS_JAW if now else EVENT_RELEASE_JAW


@inlined_kernel
def _end_motions(work, motion, event_floats, event_ints, events, time):
    """In contact a slide or a roll ends by measure; what is then known is set exactly."""
    for i in range(work.shape[0]):
        work[i, STOPPING] = 0.0
        if work[i, PRESSED] == 0.0 or motion[i] == POTTED:
            continue
        radius = work[i, RADIUS]
        vx = work[i, VX]
        vy = work[i, VY]
        ux, uy = slip(vx, vy, work[i, WX], work[i, WY], radius)
        slides = motion[i] == SLIDING
        if math.sqrt(ux * ux + uy * uy) > ENDED:
            motion[i] = SLIDING
            continue
        if slides:
            # As friction would end it: what is left of the slip turns into roll.
            vx -= ux * SLIP_TO_SPEED
            vy -= uy * SLIP_TO_SPEED
            work[i, VX] = vx
            work[i, VY] = vy
        speed = math.sqrt(vx * vx + vy * vy)
        kind = -1
        if speed > STANDS:
            motion[i] = ROLLING
            work[i, WX] = -vy / radius
            work[i, WY] = vx / radius
            kind = EVENT_ROLL if slides else -1
        else:
            if motion[i] > SPINNING:
                work[i, STOPPING] = 1.0
            elif motion[i] == SPINNING and work[i, WZ] == 0.0:
                kind = EVENT_SPIN_STOP
            motion[i] = SPINNING if work[i, WZ] != 0.0 else RESTING
            work[i, VX] = 0.0
            work[i, VY] = 0.0
            work[i, WX] = 0.0
            work[i, WY] = 0.0
        if kind >= 0:
            write_event(work, event_floats, event_ints, events, kind, i, -1, time)
            events += 1
    return events


@inlined_kernel
def _choose(work, holds, count):
    """Keep which contacts push now, and mark the balls of all that touch for the plan of a piece.

    A contact that does not push now may have to before the piece has ended, since forces and
    directions turn; left out, it would sink in.

    Returns: whether anything pushes now.
    """
    pushing = False
    for i in range(work.shape[0]):
        work[i, PLANNED] = work[i, PRESSED]
        work[i, PRESSED] = 0.0
    for c in range(count):
        pushes = holds[c, HOLD_FORCE] > LEAST_FORCE
        pushing = pushing or pushes
        holds[c, HOLD_NOW] = 1.0 if pushes else 0.0
        if holds[c, HOLD_OPEN] > 0.0:
            work[int(holds[c, HOLD_A]), PRESSED] = 1.0
            if int(holds[c, HOLD_B]) >= 0:
                work[int(holds[c, HOLD_B]), PRESSED] = 1.0
    return pushing


@inlined_kernel
def _mark(work, pair_times, holds, count, a, b, time):
    """Keep which contacts press now or in the piece, and which balls' motions change."""
    for i in range(work.shape[0]):
        if work[i, PLANNED] > 0.0 or work[i, PRESSED] > 0.0 or i == a or i == b:
            work[i, CHANGED] = 1.0
            work[i, LAST_RELEASE] = time
        work[i, PRESSED] = 0.0
        work[i, HELD_1] = NO_WALL
        work[i, HELD_2] = NO_WALL
    for c in range(count):
        first = int(holds[c, HOLD_A])
        other = int(holds[c, HOLD_B])
        pushes = holds[c, HOLD_NOW] > 0.0 or holds[c, HOLD_FORCE] > LEAST_FORCE
        presses = holds[c, HOLD_OPEN] > 0.0 and pushes
        holds[c, HOLD_OPEN] = 1.0 if presses else 0.0
        if other >= 0:
            pair_times[other, first] = 1.0 if presses else 0.0
        if presses:
            work[first, PRESSED] = 1.0
            if other >= 0:
                work[other, PRESSED] = 1.0
            else:
                code = wall_code(int(holds[c, HOLD_KIND]), int(holds[c, HOLD_INDEX]))
                if work[first, HELD_1] == NO_WALL:
                    work[first, HELD_1] = code
                else:
                    work[first, HELD_2] = code
