"""Law 7: which balls and walls touch and may go on pressing each other."""

import math

from stunline.mechanics.boundary import BEHIND, SEAM, SEAM_OF_IMPACTS
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.holds import (
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
    HOLD_NX,
    HOLD_NY,
    HOLD_OPEN,
    HOLD_X,
    HOLD_Y,
    set_normal,
    towards,
)
from stunline.mechanics.layout import (
    EVENT_BALL,
    EVENT_CUSHION,
    EVENT_JAW,
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
    SPINNING,
)
from stunline.mechanics.meetings import polynomial
from stunline.mechanics.moving_ball import GROUP, PRESSED, RADIUS, REACH, VX, VY, X, Y
from stunline.mechanics.touching import PRESS_SPEED, TOUCH, held_by

# Approach at which bodies of a pressed group count as pressed. [m s⁻¹] More than what a piece of
# motion and the end of a slide leave; less would let a ball between two others hop from one to
# the other for ever.
STILL_PRESSED = 2e-5
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
