"""Law 7, the impulses: bodies that stay in contact have equal normal speeds from then on."""

import math

from stunline.mechanics.cloth import SMALLEST_SPEED
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.holds import (
    HOLD_A,
    HOLD_B,
    HOLD_BEFORE,
    HOLD_FORCE,
    HOLD_NX,
    HOLD_NY,
    HOLD_OPEN,
    approach,
)
from stunline.mechanics.layout import ROLLING, SLIDING, SPINNING
from stunline.mechanics.moving_ball import CHANGED, GROUP, PER_MASS, RADIUS, VX, VY, WX, WY
from stunline.mechanics.pressing_forces import MOST_SWEEPS, acceleration

# Normal speeds are equal when a sweep changes none by more than this. [m s⁻¹] Less than
# ``touching.NO_SPEED``, more than rounding.
EQUAL = 1e-13
# A ball in contact that rolls more slowly than this stands, unless it is pushed on; and one at
# rest is not set off by less. [m s⁻¹]
STANDS = 1e-7
# Sweeps after which a ball between two that stand drives them apart after all.
WEDGED = 100


@kernel
def equalise(work, motion, holds, count, coefficients):
    """Make the normal speeds of every pressing contact equal, with impulses along them.

    Touching balls that do not press lose what approach they have, so that none follows at once. A
    rolling ball keeps rolling, with 7m/5; one at rest that the pushes can't keep going stands
    like a wall to whoever creeps up to it. Energy falls: the change is a projection.
    """
    for sweep in range(MOST_SWEEPS):
        change = 0.0
        for c in range(count):
            presses = holds[c, HOLD_FORCE] > 0.0
            if not presses and holds[c, HOLD_OPEN] == 0.0:
                continue
            wx, wy = approach(work, holds, c)
            nx = holds[c, HOLD_NX]
            ny = holds[c, HOLD_NY]
            closing = wx * nx + wy * ny
            a = int(holds[c, HOLD_A])
            b = int(holds[c, HOLD_B])
            if not presses and closing <= 0.0:
                continue
            per_a, per_b = _free_to_move(
                work, motion, holds, c, closing, presses, sweep < WEDGED, coefficients
            )
            if per_a + per_b == 0.0:
                continue
            if b >= 0:
                work[b, CHANGED] = 1.0
                part = closing / (per_a + per_b) * per_b
                work[b, VX] += part * nx
                work[b, VY] += part * ny
            work[a, CHANGED] = 1.0
            part = closing / (per_a + per_b) * per_a
            work[a, VX] -= part * nx
            work[a, VY] -= part * ny
            change = max(change, abs(closing))
        if change < EQUAL:
            break
    for i in range(work.shape[0]):
        if work[i, GROUP] > 0.0 and motion[i] != SLIDING:
            _keep_rolling(work, motion, i)


@inlined_kernel
def _free_to_move(work, motion, holds, c, closing, presses, may_stand, coefficients):
    """1/m' of both bodies at a contact, 0 of one that its impulse does not move. [kg⁻¹]"""
    a = int(holds[c, HOLD_A])
    b = int(holds[c, HOLD_B])
    creeps = may_stand and abs(closing) <= STANDS
    per_a = work[a, PER_MASS]
    if creeps and _stays_at_rest(work, motion, a, coefficients):
        per_a = 0.0
    if b < 0:
        return per_a, 0.0
    per_b = work[b, PER_MASS]
    if creeps and _stays_at_rest(work, motion, b, coefficients):
        return per_a, 0.0
    # Nothing pulls: a ball at rest stays, where one that parts or is let go leaves it.
    if closing < 0.0 or (not presses and holds[c, HOLD_BEFORE] > 0.0):
        if motion[b] <= SPINNING and motion[a] > SPINNING:
            per_b = 0.0
        elif motion[a] <= SPINNING:
            per_a = 0.0
    return per_a, per_b


@inlined_kernel
def _stays_at_rest(work, motion, i, coefficients):
    """Whether a ball stands still, and what pushes it is no more than its resistance."""
    ax, ay = acceleration(work, motion, i, coefficients)
    return motion[i] <= SPINNING and ax == 0.0 and ay == 0.0


@inlined_kernel
def _keep_rolling(work, motion, i):
    speed = math.sqrt(work[i, VX] * work[i, VX] + work[i, VY] * work[i, VY])
    if motion[i] <= SPINNING:
        if speed > SMALLEST_SPEED:
            motion[i] = ROLLING
        else:
            work[i, VX] = 0.0
            work[i, VY] = 0.0
    work[i, WX] = -work[i, VY] / work[i, RADIUS]
    work[i, WY] = work[i, VX] / work[i, RADIUS]
