"""When moving balls next meet each other or the boundary, kept until a motion changes."""

import math

from stunline.mechanics.boundary import boundary_entry
from stunline.mechanics.compiling import kernel
from stunline.mechanics.layout import POTTED, SPINNING
from stunline.mechanics.moving_ball import (
    AX,
    AY,
    BOX,
    END,
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
from stunline.mechanics.roots import NEVER, entry_of_quartic


@kernel
def pair_time(work, motion, i, j, now):
    """When two balls meet, given their present motions; ``NEVER`` if they do not.

    Steps: no meeting without motion; none when the boxes around both paths stay apart; none
    when the faster ball's line passes clear of the other; otherwise the entry of the quartic.
    """
    moving_i = motion[i] > SPINNING and motion[i] != POTTED
    moving_j = motion[j] > SPINNING and motion[j] != POTTED
    if not (moving_i or moving_j) or motion[i] == POTTED or motion[j] == POTTED:
        return NEVER
    p = work[i]
    q = work[j]
    # In plan two balls on one bed touch at twice the geometric mean of their radii.
    distance = 2.0 * math.sqrt(p[RADIUS] * q[RADIUS])
    if (
        p[BOX] - q[BOX + 1] > distance
        or q[BOX] - p[BOX + 1] > distance
        or p[BOX + 2] - q[BOX + 3] > distance
        or q[BOX + 2] - p[BOX + 3] > distance
    ):
        return NEVER
    limit = min(p[END], q[END]) if moving_i and moving_j else (p[END] if moving_i else q[END])
    limit -= now
    dx, dy, wx, wy, hx, hy = _difference(p, q, moving_i, moving_j, now)
    speed = math.sqrt(wx * wx + wy * wy)
    bend = abs(hx * wy - hy * wx) * limit * limit
    if abs(dx * wy - dy * wx) - bend > distance * speed and speed > 0.0:
        return NEVER
    entry = entry_of_quartic(
        dx * dx + dy * dy - distance * distance,
        2.0 * (dx * wx + dy * wy),
        wx * wx + wy * wy + 2.0 * (dx * hx + dy * hy),
        2.0 * (wx * hx + wy * hy),
        hx * hx + hy * hy,
        limit,
    )
    return now + entry


@kernel
def _difference(p, q, moving_p, moving_q, now):
    """Place, velocity and half the acceleration of q relative to p, at the time ``now``."""
    px = p[X]
    py = p[Y]
    qx = q[X]
    qy = q[Y]
    wx = 0.0
    wy = 0.0
    hx = 0.0
    hy = 0.0
    if moving_q:
        t = now - q[START]
        qx += t * (q[VX] + 0.5 * t * q[AX])
        qy += t * (q[VY] + 0.5 * t * q[AY])
        wx += q[VX] + t * q[AX]
        wy += q[VY] + t * q[AY]
        hx += 0.5 * q[AX]
        hy += 0.5 * q[AY]
    if moving_p:
        t = now - p[START]
        px += t * (p[VX] + 0.5 * t * p[AX])
        py += t * (p[VY] + 0.5 * t * p[AY])
        wx -= p[VX] + t * p[AX]
        wy -= p[VY] + t * p[AY]
        hx -= 0.5 * p[AX]
        hy -= 0.5 * p[AY]
    return qx - px, qy - py, wx, wy, hx, hy


@kernel
def renew_wall(work, motion, i, noses, jaws, drops):
    """Find when a ball next meets the boundary in its present motion."""
    row = work[i]
    row[WALL_TIME] = NEVER
    if motion[i] <= SPINNING or motion[i] == POTTED:
        return
    time, kind, index = boundary_entry(
        row[X], row[Y], row[VX], row[VY], row[AX], row[AY], row[BOX : BOX + 4], row[REACH],
        noses, jaws, drops, row[END] - row[START],
    )  # fmt: skip
    row[WALL_TIME] = row[START] + time
    row[WALL_KIND] = kind
    row[WALL_INDEX] = index


@kernel
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


@kernel
def renew_pairs(work, motion, pair_times, a, b, now):
    """Find anew every meeting of the balls a and b (which may be one), and only those."""
    for k in range(work.shape[0]):
        changed = k == a or k == b
        if k != a:
            low = min(a, k)
            high = max(a, k)
            pair_times[low, high] = pair_time(work, motion, low, high, now)
        if b != a and k != b and k != a:
            low = min(b, k)
            high = max(b, k)
            pair_times[low, high] = pair_time(work, motion, low, high, now)
        if not changed and k < max(a, b):
            renew_row(work, pair_times, k)
    renew_row(work, pair_times, a)
    if b != a:
        renew_row(work, pair_times, b)
