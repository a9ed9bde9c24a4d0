"""When moving balls next meet each other or the boundary, kept until a motion changes."""

import math

from stunline.mechanics.boundary import boundary_entry
from stunline.mechanics.cloth import SMALLEST_SPEED
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.layout import POTTED, SPINNING
from stunline.mechanics.moving_ball import (
    AX,
    AY,
    BOX,
    CHANGED,
    END,
    LAST_RELEASE,
    PAIR_OTHER,
    PAIR_TIME,
    RADIUS,
    REACH,
    START,
    VX,
    VY,
    WALL_INDEX,
    WALL_KIND,
    WALL_TIME,
    X,
    Y,
)
from stunline.mechanics.roots import NEVER
from stunline.mechanics.touching import TOUCH, contact_entry


@inlined_kernel
def pair_time(work, motion, pair_times, i, j, now):
    """When two balls meet, given their present motions; ``NEVER`` if they do not.

    Two balls of a lasting contact do not meet: ``pair_times[j, i]``, j > i, says that they are.

    Steps: no meeting without motion; none when the boxes around both paths stay apart; none
    when the way of one, seen from the other, passes clear of it; otherwise the entry of the
    quartic.
    """
    moving_i = motion[i] > SPINNING
    moving_j = motion[j] > SPINNING
    if (
        not (moving_i or moving_j)
        or motion[i] == POTTED
        or motion[j] == POTTED
        or pair_times[j, i] > 0.0
    ):
        return NEVER
    # In plan two balls on one bed touch at twice the geometric mean of their radii.
    distance = 2.0 * math.sqrt(work[i, RADIUS] * work[j, RADIUS])
    near = distance + TOUCH
    if (
        work[i, BOX] - work[j, BOX + 1] > near
        or work[j, BOX] - work[i, BOX + 1] > near
        or work[i, BOX + 2] - work[j, BOX + 3] > near
        or work[j, BOX + 2] - work[i, BOX + 3] > near
    ):
        return NEVER
    px, py, pvx, pvy, pax, pay = polynomial(work, i, moving_i, now)
    qx, qy, qvx, qvy, qax, qay = polynomial(work, j, moving_j, now)
    dx = qx - px
    dy = qy - py
    wx = qvx - pvx
    wy = qvy - pvy
    hx = 0.5 * (qax - pax)
    hy = 0.5 * (qay - pay)
    # A ball that rests has no end of its own: its motion is good for ever.
    limit = min(work[i, END] if moving_i else NEVER, work[j, END] if moving_j else NEVER) - now
    speed = math.sqrt(wx * wx + wy * wy)
    bend = abs(hx * wy - hy * wx) * limit * limit
    if abs(dx * wy - dy * wx) - bend > near * speed and speed > 0.0:
        return NEVER
    apart = dx * dx + dy * dy - distance * distance
    rate = 2.0 * (dx * wx + dy * wy)
    if (
        apart <= 2.0 * distance * TOUCH
        and -2.0 * distance * SMALLEST_SPEED < rate < 0.0
        and not (moving_i and moving_j)
    ):
        # A ball at rest could take so little only to be set to rest again: it is not met.
        rate = 0.0
    entry = contact_entry(
        apart,
        rate,
        wx * wx + wy * wy + 2.0 * (dx * hx + dy * hy),
        2.0 * (wx * hx + wy * hy),
        hx * hx + hy * hy,
        limit, distance,
        work[i, LAST_RELEASE] == now and work[j, LAST_RELEASE] == now,
    )  # fmt: skip
    return now + entry


@inlined_kernel
def polynomial(work, i, moving, now):
    """Place, velocity and acceleration of a ball at the time ``now``."""
    if not moving:
        return work[i, X], work[i, Y], 0.0, 0.0, 0.0, 0.0
    t = now - work[i, START]
    ax = work[i, AX]
    ay = work[i, AY]
    return (
        work[i, X] + t * (work[i, VX] + 0.5 * t * ax),
        work[i, Y] + t * (work[i, VY] + 0.5 * t * ay),
        work[i, VX] + t * ax,
        work[i, VY] + t * ay,
        ax,
        ay,
    )


@inlined_kernel
def renew_wall(work, motion, i, interior, noses, jaws, drops):
    """Find when a ball next meets the boundary in its present motion."""
    work[i, WALL_TIME] = NEVER
    if _near_boundary(work, motion, i, interior):
        time, kind, index = boundary_entry(work, i, noses, jaws, drops)
        work[i, WALL_TIME] = work[i, START] + time
        work[i, WALL_KIND] = kind
        work[i, WALL_INDEX] = index


@inlined_kernel
def _near_boundary(work, motion, i, interior):
    """Whether a moving ball's path leaves the rectangle in which no boundary can be met."""
    reach = work[i, REACH]
    inside = (
        work[i, BOX] > interior[0] + reach
        and work[i, BOX + 1] < interior[1] - reach
        and work[i, BOX + 2] > interior[2] + reach
        and work[i, BOX + 3] < interior[3] - reach
    )
    return motion[i] > SPINNING and motion[i] != POTTED and not inside


@inlined_kernel
def renew_row(work, pair_times, i):
    """The earliest meeting of ball i with a ball of a higher number."""
    best = NEVER
    other = -1
    for j in range(i + 1, work.shape[0]):
        if pair_times[i, j] < best:
            best = pair_times[i, j]
            other = j
    work[i, PAIR_TIME] = best
    work[i, PAIR_OTHER] = other


@inlined_kernel
def renew_pairs(work, motion, pair_times, a, b, now):
    """Find anew every meeting of the balls a and b (which may be one), and only those."""
    for k in range(work.shape[0]):
        changed = k == a or k == b
        if k != a:
            low = min(a, k)
            high = max(a, k)
            pair_times[low, high] = pair_time(work, motion, pair_times, low, high, now)
        if b != a and k != b and k != a:
            low = min(b, k)
            high = max(b, k)
            pair_times[low, high] = pair_time(work, motion, pair_times, low, high, now)
        if not changed and k < max(a, b):
            renew_row(work, pair_times, k)
    renew_row(work, pair_times, a)
    if b != a:
        renew_row(work, pair_times, b)


@kernel
def renew_changed(work, motion, pair_times, interior, noses, jaws, drops, now):
    """Find anew what depends on any of the balls whose motion changed."""
    count = work.shape[0]
    for i in range(count):
        if work[i, CHANGED] > 0.0:
            renew_wall(work, motion, i, interior, noses, jaws, drops)
    for i in range(count):
        for j in range(i + 1, count):
            if work[i, CHANGED] > 0.0 or work[j, CHANGED] > 0.0:
                pair_times[i, j] = pair_time(work, motion, pair_times, i, j, now)
        renew_row(work, pair_times, i)
