"""Law 7, the forces: what bodies that stay in contact push each other with.

Each contact pushes, or it does nothing: ``N ≥ 0``, the gap does not close, and one of the two
is zero. For one contact of two balls that is
``N = [n·(f_a − f_b) − v_t²/D]/(1/m'_a + 1/m'_b)``, f the cloth's acceleration, D the distance of
the centres, m' = m for a sliding ball and 7m/5 for a rolling one, whose cloth turns it as well;
for a ball against a straight cushion ``N = m' n·f``. Several contacts are solved together, one
after the other until nothing changes (projected Gauss and Seidel). A ball at rest takes a push
up to its rolling resistance without moving. The push is without friction.
"""

import math

from stunline.mechanics.cloth import slip
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.holds import (
    HOLD_A,
    HOLD_B,
    HOLD_DISTANCE,
    HOLD_FORCE,
    HOLD_KIND,
    HOLD_NX,
    HOLD_NY,
    HOLD_OPEN,
    approach,
    towards,
)
from stunline.mechanics.layout import (
    EVENT_CUSHION,
    GRAVITY,
    ROLLING,
    ROLLING_RESISTANCE,
    SLIDING,
    SLIDING_FRICTION,
    SPINNING,
)
from stunline.mechanics.moving_ball import (
    CLOTH_X,
    CLOTH_Y,
    GROUP,
    MASS,
    PER_MASS,
    PUSH_X,
    PUSH_Y,
    RADIUS,
    VX,
    VY,
    WX,
    WY,
)

ROLLING_INERTIA = 7.0 / 5.0  # m'/m of a rolling solid sphere
# Sweeps over the contacts, at most; a row of n balls takes some n² of them. Too few leaves an
# overlap that the next piece takes back.
MOST_SWEEPS = 2000
# In which a gap within ``TOUCH`` closes. [s] Over pieces of 20 µs that takes 0.01 m s⁻², a tenth of
# a rolling ball's resistance; faster would kick the bodies.
CLOSING_TIME = 2e-4
# Forces are settled when a sweep changes no acceleration by more than this. [m s⁻²]
SETTLED = 1e-9
# Gaps can't be told to better than this. [m]
GAP_ROUNDING = 1e-16


@kernel
def cloth_forces(work, motion, coefficients):
    """Set the cloth's acceleration and 1/m' of every ball in the group."""
    for i in range(work.shape[0]):
        if work[i, GROUP] == 0.0:
            continue
        work[i, CLOTH_X] = 0.0
        work[i, CLOTH_Y] = 0.0
        work[i, PER_MASS] = 1.0 / (ROLLING_INERTIA * work[i, MASS])
        if motion[i] == SLIDING:
            ux, uy = slip(work[i, VX], work[i, VY], work[i, WX], work[i, WY], work[i, RADIUS])
            set_sliding_force(work, i, ux, uy, coefficients)
        elif motion[i] == ROLLING:
            set_rolling_force(work, i, work[i, VX], work[i, VY], coefficients)


@inlined_kernel
def set_sliding_force(work, i, ux, uy, coefficients):
    """The cloth's acceleration of a ball with that slip."""
    speed = math.sqrt(ux * ux + uy * uy)
    strength = coefficients[SLIDING_FRICTION] * coefficients[GRAVITY]
    work[i, PER_MASS] = 1.0 / work[i, MASS]
    if speed > 0.0:
        work[i, CLOTH_X] = -strength * ux / speed
        work[i, CLOTH_Y] = -strength * uy / speed


@inlined_kernel
def set_rolling_force(work, i, vx, vy, coefficients):
    """The cloth's acceleration of a ball that rolls with that velocity."""
    speed = math.sqrt(vx * vx + vy * vy)
    strength = coefficients[ROLLING_RESISTANCE] * coefficients[GRAVITY]
    if speed > 0.0:
        work[i, CLOTH_X] = -strength * vx / speed
        work[i, CLOTH_Y] = -strength * vy / speed


@inlined_kernel
def acceleration(work, motion, i, coefficients):
    """Of a ball under cloth and pushes; at rest only what exceeds its resistance. [m s⁻²]"""
    px = work[i, PUSH_X] * work[i, PER_MASS]
    py = work[i, PUSH_Y] * work[i, PER_MASS]
    if motion[i] <= SPINNING:
        push = math.sqrt(px * px + py * py)
        left = push - coefficients[ROLLING_RESISTANCE] * coefficients[GRAVITY]
        if left <= 0.0:
            return 0.0, 0.0
        return px / push * left, py / push * left
    return work[i, CLOTH_X] + px, work[i, CLOTH_Y] + py


@kernel
def set_pushes(work, holds, count):
    """Sum the forces on every ball of the group."""
    for i in range(work.shape[0]):
        work[i, PUSH_X] = 0.0
        work[i, PUSH_Y] = 0.0
    for c in range(count):
        if holds[c, HOLD_OPEN] > 0.0:
            _add_push(work, holds, c, holds[c, HOLD_FORCE])


@inlined_kernel
def _add_push(work, holds, c, force):
    a = int(holds[c, HOLD_A])
    b = int(holds[c, HOLD_B])
    work[a, PUSH_X] -= force * holds[c, HOLD_NX]
    work[a, PUSH_Y] -= force * holds[c, HOLD_NY]
    if b >= 0:
        work[b, PUSH_X] += force * holds[c, HOLD_NX]
        work[b, PUSH_Y] += force * holds[c, HOLD_NY]


@inlined_kernel
def _relative_acceleration(work, motion, holds, c, coefficients):
    """Acceleration of A over B, and the sum of both 1/m'."""
    a = int(holds[c, HOLD_A])
    b = int(holds[c, HOLD_B])
    ax, ay = acceleration(work, motion, a, coefficients)
    per_mass = work[a, PER_MASS]
    if b >= 0:
        bx, by = acceleration(work, motion, b, coefficients)
        return ax - bx, ay - by, per_mass + work[b, PER_MASS]
    return ax, ay, per_mass


@kernel
def forces_now(work, motion, holds, count, coefficients):
    """Set each N so that no gap's second derivative is negative."""
    set_pushes(work, holds, count)
    for _ in range(MOST_SWEEPS):
        change = 0.0
        for c in range(count):
            if holds[c, HOLD_OPEN] == 0.0:
                continue
            ax, ay, per_mass = _relative_acceleration(work, motion, holds, c, coefficients)
            nx = holds[c, HOLD_NX]
            ny = holds[c, HOLD_NY]
            pressing = ax * nx + ay * ny
            if int(holds[c, HOLD_KIND]) != EVENT_CUSHION:
                wx, wy = approach(work, holds, c)
                along = wy * nx - wx * ny
                pressing -= along * along / holds[c, HOLD_DISTANCE]
            change = max(change, _change_force(work, holds, c, pressing, per_mass))
        if change < SETTLED:
            break


@inlined_kernel
def _change_force(work, holds, c, pressing, per_mass):
    """Push against that acceleration, never pulling; the change of acceleration made."""
    before = holds[c, HOLD_FORCE]
    after = max(before + pressing / per_mass, 0.0)
    holds[c, HOLD_FORCE] = after
    _add_push(work, holds, c, after - before)
    return abs(after - before) * per_mass


@kernel
def forces_over(work, motion, holds, count, coefficients, duration):
    """Set each N, constant over the piece, so that no gap has changed at its end.

    The gap at the end follows from the velocities and the constant accelerations, so the
    growth of the distance by the sideways motion is in it. A gap that rounding or an earlier
    piece left closes gently.
    """
    kept = 1.0 - min(duration / CLOSING_TIME, 1.0)
    settled = max(SETTLED, GAP_ROUNDING / (duration * duration))
    for _ in range(MOST_SWEEPS):
        change = 0.0
        for c in range(count):
            if holds[c, HOLD_OPEN] == 0.0:
                continue
            ax, ay, per_mass = _relative_acceleration(work, motion, holds, c, coefficients)
            dx, dy = towards(work, holds, c)
            before = _gap(holds, c, dx, dy)
            wx, wy = approach(work, holds, c)
            dx -= duration * (wx + 0.5 * duration * ax)
            dy -= duration * (wy + 0.5 * duration * ay)
            keeps = 1.0 if _rests(motion, holds, c) else kept
            gap = _gap(holds, c, dx, dy) - keeps * before
            pressing = -2.0 * gap / (duration * duration)
            change = max(change, _change_force(work, holds, c, pressing, per_mass))
        if change < settled:
            break


@inlined_kernel
def _rests(motion, holds, c):
    """Whether nothing moves at a contact: then it is no reason to move anything."""
    b = int(holds[c, HOLD_B])
    return motion[int(holds[c, HOLD_A])] <= SPINNING and (b < 0 or motion[b] <= SPINNING)


@inlined_kernel
def _gap(holds, c, dx, dy):
    """Gap of a contact, given the vector from A to B. [m]"""
    if int(holds[c, HOLD_KIND]) == EVENT_CUSHION:
        return dx * holds[c, HOLD_NX] + dy * holds[c, HOLD_NY] - holds[c, HOLD_DISTANCE]
    return math.sqrt(dx * dx + dy * dy) - holds[c, HOLD_DISTANCE]
