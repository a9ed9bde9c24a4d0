"""Holds: the contacts of law 7, a row each, and what places and speeds say at one."""

import math

from stunline.mechanics.compiling import inlined_kernel
from stunline.mechanics.layout import EVENT_CUSHION
from stunline.mechanics.moving_ball import VX, VY, X, Y
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


@inlined_kernel
def towards(work, holds, c):
    """Vector from A's centre to B's, or to the wall's point. [m]"""
    a = int(holds[c, HOLD_A])
    b = int(holds[c, HOLD_B])
    if b >= 0:
        return work[b, X] - work[a, X], work[b, Y] - work[a, Y]
    return holds[c, HOLD_X] - work[a, X], holds[c, HOLD_Y] - work[a, Y]


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
