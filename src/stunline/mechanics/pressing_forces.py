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

from stunline.mechanics.cloth import SMALLEST_SPEED, slip
from stunline.mechanics.compiling import inlined_kernel, kernel
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
    CHANGED,
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
    X,
    Y,
)
from stunline.mechanics.roots import entry_of_quadratic

# --- holds: one row for each contact that lasts, or that may come to -------------------
HOLD_A, HOLD_B = 0, 1  # the balls; B is −1 for a wall
HOLD_KIND, HOLD_INDEX = 2, 3  # EVENT_BALL, or kind and index of the wall
HOLD_DISTANCE = 4  # from A's centre to B's, or to the wall's point, at contact [m]
HOLD_X, HOLD_Y = 5, 6  # of a wall: the jaw's centre, or a point of the nose [m]
HOLD_NX, HOLD_NY = 7, 8  # unit vector from A into B, at the time looked at
HOLD_FORCE = 9  # N [N]
HOLD_BEFORE = 10  # 1 when it was pressed until now
HOLD_OPEN = 11  # 1 when it touches and may press
HOLD_ALONG_X, HOLD_ALONG_Y = 12, 13  # of a wall: unit vector along which it has ends
HOLD_LOW, HOLD_HIGH = 14, 15  # these ends, from the wall's point to A's centre [m]
HOLD_NOW = 16  # 1 when it pushes at the start of the piece
HOLD_COLUMNS = 17
HOLDS_A_BALL = 8  # neighbours of unequal balls, and two walls

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
# Normal speeds are equal when a sweep changes none by more than this. [m s⁻¹] Less than
# ``touching.NO_SPEED``, more than rounding.
EQUAL = 1e-13
# A ball in contact that rolls more slowly than this stands, unless it is pushed on; and one at
# rest is not set off by less. [m s⁻¹]
STANDS = 1e-7
# Sweeps after which a ball between two that stand drives them apart after all.
WEDGED = 100


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


@inlined_kernel
def towards(work, holds, c):
    """Vector from A's centre to B's, or to the wall's point. [m]"""
    a = int(holds[c, HOLD_A])
    b = int(holds[c, HOLD_B])
    if b >= 0:
        return work[b, X] - work[a, X], work[b, Y] - work[a, Y]
    return holds[c, HOLD_X] - work[a, X], holds[c, HOLD_Y] - work[a, Y]


@inlined_kernel
def leaves_wall(work, holds, c, ax, ay, limit):
    """When a ball with that acceleration passes an end of the wall that holds it. [s]"""
    a = int(holds[c, HOLD_A])
    along_x = holds[c, HOLD_ALONG_X]
    along_y = holds[c, HOLD_ALONG_Y]
    at = (work[a, X] - holds[c, HOLD_X]) * along_x + (work[a, Y] - holds[c, HOLD_Y]) * along_y
    rate = work[a, VX] * along_x + work[a, VY] * along_y
    half = 0.5 * (ax * along_x + ay * along_y)
    low = entry_of_quadratic(at - holds[c, HOLD_LOW], rate, half, limit)
    high = entry_of_quadratic(holds[c, HOLD_HIGH] - at, -rate, -half, limit)
    return min(low, high)


@inlined_kernel
def approach(work, holds, c):
    """Velocity of A over B. [m s⁻¹]"""
    a = int(holds[c, HOLD_A])
    b = int(holds[c, HOLD_B])
    if b >= 0:
        return work[a, VX] - work[b, VX], work[a, VY] - work[b, VY]
    return work[a, VX], work[a, VY]


@inlined_kernel
def set_normal(holds, c, dx, dy):
    """Point a contact's normal along that vector; a straight nose keeps its own."""
    if int(holds[c, HOLD_KIND]) != EVENT_CUSHION:
        distance = math.sqrt(dx * dx + dy * dy)
        holds[c, HOLD_NX] = dx / distance
        holds[c, HOLD_NY] = dy / distance


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
