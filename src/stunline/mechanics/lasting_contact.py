"""Law 7: contact that lasts, from the first press to the release.

A sliding ball pressed against another, or against a cushion, would make an endless shrinking
series of impacts. Where bodies that touch hardly part and the free accelerations press them
together, their normal speeds are made equal and they stay together until the force between
them would have to pull.
"""

import math

from stunline.mechanics.cloth import slip
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.equal_speeds import STANDS, equalise
from stunline.mechanics.find_holds import find_holds
from stunline.mechanics.holds import (
    HOLD_A,
    HOLD_B,
    HOLD_BEFORE,
    HOLD_FORCE,
    HOLD_INDEX,
    HOLD_KIND,
    HOLD_NOW,
    HOLD_OPEN,
)
from stunline.mechanics.layout import (
    EVENT_BALL,
    EVENT_CUSHION,
    EVENT_PRESS,
    EVENT_PRESS_CUSHION,
    EVENT_PRESS_JAW,
    EVENT_RELEASE,
    EVENT_RELEASE_CUSHION,
    EVENT_RELEASE_JAW,
    EVENT_ROLL,
    EVENT_SPIN_STOP,
    EVENT_STOP,
    POTTED,
    RESTING,
    ROLLING,
    SLIDING,
    SPINNING,
)
from stunline.mechanics.moving_ball import (
    CHANGED,
    HELD_1,
    HELD_2,
    LAST_RELEASE,
    NO_WALL,
    PLANNED,
    PRESSED,
    RADIUS,
    STOPPING,
    VX,
    VY,
    WX,
    WY,
    WZ,
    begin,
)
from stunline.mechanics.pressed_motion import plan_piece
from stunline.mechanics.pressing_forces import cloth_forces, forces_now
from stunline.mechanics.record import write_event
from stunline.mechanics.touching import wall_code

# A slide in lasting contact has ended below this slip. [m s⁻¹] Pieces do not end on it exactly;
# what is left is far below anything seen.
ENDED = 1e-8
SLIP_TO_SPEED = 2.0 / 7.0  # of the slip, what a solid sphere's speed changes as it starts to roll
# A push that is only rounding. [N] Forces of a newton leave some 1e-14 of it.
LEAST_FORCE = 1e-12


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
