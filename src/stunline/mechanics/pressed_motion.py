"""Law 7, the motion: pieces of constant acceleration while bodies stay in contact.

A piece takes the cloth's force and the normals from its own middle and the contact forces so
that the gaps at its end are zero, which is of second order; its length follows from how fast
the forces turn. A straight push is one piece, exactly.
"""

import math

from stunline.mechanics.cloth import slip
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.equal_speeds import STANDS
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
    leaves_wall,
    set_normal,
    towards,
)
from stunline.mechanics.layout import (
    EVENT_CUSHION,
    GRAVITY,
    ROLLING,
    SLIDING,
    SLIDING_FRICTION,
    SPINNING,
)
from stunline.mechanics.moving_ball import (
    AX,
    AY,
    CLOTH_X,
    CLOTH_Y,
    DWX,
    DWY,
    END,
    MASS,
    PRESSED,
    PUSH_X,
    PUSH_Y,
    RADIUS,
    START,
    VX,
    VY,
    WX,
    WY,
    set_box,
)
from stunline.mechanics.pressing_forces import (
    acceleration,
    cloth_forces,
    forces_now,
    forces_over,
    set_pushes,
    set_rolling_force,
    set_sliding_force,
)
from stunline.mechanics.touching import TOUCH

# Bounds on a piece. [s] The shortest stops the series of ever shorter ones as a slip turns
# round near its end: the forces then turn faster than a piece follows, over micrometres.
SHORTEST_PIECE = 2e-5
LONGEST_PIECE = 0.05
# A rolling ball's piece ends where it is slowest, if less than this of its speed is left: it may
# stop there, or turn back, and its resistance would then push it on. [-]
LEFT_AT_SLOWEST = 0.5
# Overlap allowed to build up within a piece, over ``TOUCH``. [-] Impacts cut pieces short, and
# then it stays for a while.
OVERLAP_IN_A_PIECE = 0.1
# The gap within a piece of length h that begins and ends closed, its third derivative j, is
# j t²(t − h)/6, at most j h³ over this. [X]
BULGE = 40.5
# From no sideways speed, with the sideways acceleration s, it is at most s² h⁴ over this times the
# distance of the centres. [X]
BULGE_FROM_REST = 32.0
# How far a piece may carry a ball beside its way as the cloth's force turns. [m] The middle's
# force leaves an error of order h³ in the place.
ASTRAY = 1e-9
OF_TURNING = 12.0
# Of a rolling ball's speed, how fast it may go at the end of a piece against the way that its
# resistance has been taken for. [-] Other pushes than at first foreseen turn it round; its
# resistance would then drive it.
TURNED_ROUND = 0.05
SHORTER = 0.25  # of a piece in which that happens, what is tried next


@kernel
def plan_piece(work, motion, holds, count, coefficients, time):
    """Give every ball of the group that is pressed its motion until the piece ends."""
    forces_now(work, motion, holds, count, coefficients)
    duration = _length_of_piece(work, motion, holds, count, coefficients)
    _forces_of_piece(work, motion, holds, count, coefficients, duration)
    while duration > SHORTEST_PIECE and _drives(work, motion, coefficients, duration, False):
        duration = max(SHORTER * duration, SHORTEST_PIECE)
        _look_from_the_start(work, motion, holds, count, coefficients)
        _forces_of_piece(work, motion, holds, count, coefficients, duration)
    if _drives(work, motion, coefficients, duration, True):
        _solve(work, motion, holds, count, coefficients, duration)
    for i in range(work.shape[0]):
        if work[i, PRESSED] == 0.0:
            continue
        ax, ay = acceleration(work, motion, i, coefficients)
        work[i, START] = time
        work[i, END] = time + duration
        work[i, AX] = ax
        work[i, AY] = ay
        if motion[i] == SLIDING:
            work[i, DWX] = 2.5 / work[i, RADIUS] * work[i, CLOTH_Y]
            work[i, DWY] = -2.5 / work[i, RADIUS] * work[i, CLOTH_X]
        else:
            if motion[i] <= SPINNING and (ax != 0.0 or ay != 0.0):
                motion[i] = ROLLING
            work[i, DWX] = -ay / work[i, RADIUS]
            work[i, DWY] = ax / work[i, RADIUS]
        set_box(work, i)


@kernel
def _forces_of_piece(work, motion, holds, count, coefficients, duration):
    """Set the cloth's forces and the pushes that stand for those of the whole piece."""
    _look_from_the_middle(work, motion, holds, count, coefficients, duration)
    _solve(work, motion, holds, count, coefficients, duration)


@inlined_kernel
def _solve(work, motion, holds, count, coefficients, duration):
    if duration < SHORTEST_PIECE:
        # Too short for its gaps to tell the forces.
        forces_now(work, motion, holds, count, coefficients)
    else:
        set_pushes(work, holds, count)
        forces_over(work, motion, holds, count, coefficients, duration)


@inlined_kernel
def _drives(work, motion, coefficients, duration, drop):
    """Whether a ball's resistance drives it at the end of the piece; ``drop`` takes it away."""
    any_driven = False
    for i in range(work.shape[0]):
        if work[i, PRESSED] == 0.0 or motion[i] != ROLLING:
            continue
        ax, ay = acceleration(work, motion, i, coefficients)
        vx = work[i, VX] + duration * ax
        vy = work[i, VY] + duration * ay
        along = vx * work[i, CLOTH_X] + vy * work[i, CLOTH_Y]
        allowed = TURNED_ROUND * math.hypot(work[i, VX], work[i, VY]) + STANDS
        if along > allowed * math.hypot(work[i, CLOTH_X], work[i, CLOTH_Y]):
            any_driven = True
            if drop:
                work[i, CLOTH_X] = 0.0
                work[i, CLOTH_Y] = 0.0
    return any_driven


@inlined_kernel
def _look_from_the_start(work, motion, holds, count, coefficients):
    """Turn the normals and the forces back to where they are as the piece begins."""
    for c in range(count):
        if holds[c, HOLD_OPEN] > 0.0:
            dx, dy = towards(work, holds, c)
            set_normal(holds, c, dx, dy)
    cloth_forces(work, motion, coefficients)
    forces_now(work, motion, holds, count, coefficients)


@inlined_kernel
def _length_of_piece(work, motion, holds, count, coefficients):
    """As the forces' turning allows, and no longer than a slide or a roll goes on. [s]"""
    turning = 0.0
    bulging = 0.0
    swerving = 0.0
    ends = LONGEST_PIECE
    for i in range(work.shape[0]):
        if work[i, PRESSED] == 0.0:
            continue
        ax, ay = acceleration(work, motion, i, coefficients)
        vx = work[i, VX]
        vy = work[i, VY]
        if motion[i] == SLIDING:
            ux, uy = slip(vx, vy, work[i, WX], work[i, WY], work[i, RADIUS])
            speed = math.sqrt(ux * ux + uy * uy)
            strength = coefficients[SLIDING_FRICTION] * coefficients[GRAVITY]
            ux /= speed
            uy /= speed
            px = work[i, PUSH_X] / work[i, MASS]
            py = work[i, PUSH_Y] / work[i, MASS]
            turning += strength * abs(ux * py - uy * px) / speed
            slowing = 3.5 * strength - (ux * px + uy * py)
            if slowing > 0.0:
                ends = min(ends, speed / slowing)
        elif motion[i] == ROLLING:
            along = vx * ax + vy * ay
            square = vx * vx + vy * vy
            if along < 0.0:
                strength = ax * ax + ay * ay
                least = square - along * along / strength
                if least < LEFT_AT_SLOWEST * LEFT_AT_SLOWEST * square:
                    ends = min(ends, -along / strength)
            if square > 0.0:
                resisting = math.hypot(work[i, CLOTH_X], work[i, CLOTH_Y])
                turning += resisting * abs(vx * ay - vy * ax) / square
    for c in range(count):
        if holds[c, HOLD_FORCE] > 0.0 and int(holds[c, HOLD_B]) < 0:
            ax, ay = acceleration(work, motion, int(holds[c, HOLD_A]), coefficients)
            ends = min(ends, leaves_wall(work, holds, c, ax, ay, ends))
        if holds[c, HOLD_FORCE] > 0.0 and int(holds[c, HOLD_KIND]) != EVENT_CUSHION:
            jerk, quartic = _turning_of_line(work, motion, holds, c, coefficients)
            bulging += jerk
            swerving += quartic
    if turning > 0.0:
        allowed = (OF_TURNING * ASTRAY / turning) ** (1.0 / 3.0)
        ends = min(ends, max(allowed, SHORTEST_PIECE))
    if bulging > 0.0:
        allowed = (BULGE * OVERLAP_IN_A_PIECE * TOUCH / bulging) ** (1.0 / 3.0)
        ends = min(ends, max(allowed, SHORTEST_PIECE))
    if swerving > 0.0:
        allowed = math.sqrt(math.sqrt(BULGE_FROM_REST * OVERLAP_IN_A_PIECE * TOUCH / swerving))
        ends = min(ends, max(allowed, SHORTEST_PIECE))
    return ends


@inlined_kernel
def _turning_of_line(work, motion, holds, c, coefficients):
    """What the turning of the line of centres does to the gap.

    Returns: rate at which its acceleration changes now [m s⁻³], and the square of the sideways
        acceleration over the distance of the centres, by which that rate grows. [m s⁻⁴]
    """
    a = int(holds[c, HOLD_A])
    b = int(holds[c, HOLD_B])
    ax, ay = acceleration(work, motion, a, coefficients)
    if b >= 0:
        bx, by = acceleration(work, motion, b, coefficients)
        ax -= bx
        ay -= by
    wx, wy = approach(work, holds, c)
    nx = holds[c, HOLD_NX]
    ny = holds[c, HOLD_NY]
    speed = abs(wy * nx - wx * ny)
    side = abs(ay * nx - ax * ny)
    distance = holds[c, HOLD_DISTANCE]
    jerk = speed / distance * (3.0 * side + speed * speed / distance)
    return jerk, side * side / distance


@inlined_kernel
def _look_from_the_middle(work, motion, holds, count, coefficients, duration):
    """Turn the normals and the cloth's forces to where they are half-way."""
    half = 0.5 * duration
    for c in range(count):
        if holds[c, HOLD_OPEN] == 0.0:
            continue
        a = int(holds[c, HOLD_A])
        b = int(holds[c, HOLD_B])
        ax, ay = acceleration(work, motion, a, coefficients)
        if b >= 0:
            bx, by = acceleration(work, motion, b, coefficients)
            ax -= bx
            ay -= by
        dx, dy = towards(work, holds, c)
        wx, wy = approach(work, holds, c)
        dx -= half * (wx + 0.5 * half * ax)
        dy -= half * (wy + 0.5 * half * ay)
        set_normal(holds, c, dx, dy)
    for i in range(work.shape[0]):
        if work[i, PRESSED] == 0.0:
            continue
        ax, ay = acceleration(work, motion, i, coefficients)
        vx = work[i, VX] + half * ax
        vy = work[i, VY] + half * ay
        if motion[i] == SLIDING:
            radius = work[i, RADIUS]
            # R times the cloth's torque over I: (5/2) of its acceleration, turned.
            wx = work[i, WX] + half * 2.5 / radius * work[i, CLOTH_Y]
            wy = work[i, WY] - half * 2.5 / radius * work[i, CLOTH_X]
            ux, uy = slip(vx, vy, wx, wy, radius)
            set_sliding_force(work, i, ux, uy, coefficients)
        elif motion[i] == ROLLING and vx * work[i, VX] + vy * work[i, VY] > 0.0:
            set_rolling_force(work, i, vx, vy, coefficients)
