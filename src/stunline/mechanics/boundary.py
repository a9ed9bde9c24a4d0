"""Law 5, where a table ends: straight noses, rounded jaws, drop circles.

A ball touches a nose when its centre is ``reach`` from the nose line in plan, because the
nose stands above the ball's centre; a jaw is the same nose bent into an arc, so the ball's
centre is then ``jaw radius + reach`` from the arc's centre. It is potted when its centre
enters the drop circle.
"""

import math

from stunline.mechanics.compiling import kernel
from stunline.mechanics.layout import (
    DROP_RADIUS,
    DROP_X,
    DROP_Y,
    EVENT_CUSHION,
    EVENT_JAW,
    EVENT_POCKET,
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
)
from stunline.mechanics.moving_ball import (
    AX,
    AY,
    BOX,
    END,
    LAST_RELEASE,
    REACH,
    START,
    VX,
    VY,
    X,
    Y,
)
from stunline.mechanics.roots import NEVER, entry_of_quartic
from stunline.mechanics.touching import TOUCH, contact_entry, held_by, plane_entry

# A nose piece and the jaw that continues it overlap by this much, so that rounding at the
# seam lets no ball through. [m] and, for the jaw, cosine. Larger would make a ball feel a
# jaw's circle where the straight nose already is, by as much.
SEAM = 1e-9
# Impacts are looked for within this part of a seam, contacts that last within all of it. [-] One
# that has come to the end of its wall is then never found by that wall again as an impact.
SEAM_OF_IMPACTS = 0.5
# A centre further than this behind a nose line is in a pocket's mouth, not in the cushion. [m]
BEHIND = 1e-7


@kernel
def nose_reach(radius, nose_height):
    """Distance in plan from the nose line to the centre at contact, R√(1−(h/R−1)²). [m]"""
    rise = nose_height / radius - 1.0
    return radius * math.sqrt(1.0 - rise * rise)


@kernel
def circle_entry(x, y, vx, vy, ax, ay, cx, cy, distance, limit):
    """When a moving centre first comes within ``distance`` of a fixed point. [s]"""
    dx = x - cx
    dy = y - cy
    hx = 0.5 * ax
    hy = 0.5 * ay
    return entry_of_quartic(
        dx * dx + dy * dy - distance * distance,
        2.0 * (dx * vx + dy * vy),
        vx * vx + vy * vy + 2.0 * (dx * hx + dy * hy),
        2.0 * (vx * hx + vy * hy),
        hx * hx + hy * hy,
        limit,
    )


@kernel
def nose_entry(x, y, vx, vy, ax, ay, reach, noses, k, limit, released):
    """When a moving centre first touches the straight piece of cushion k. [s]"""
    inx = noses[k, NOSE_INWARD_X]
    iny = noses[k, NOSE_INWARD_Y]
    px = x - noses[k, NOSE_X]
    py = y - noses[k, NOSE_Y]
    gap = px * inx + py * iny - reach
    time = plane_entry(
        gap, vx * inx + vy * iny, 0.5 * (ax * inx + ay * iny), limit, released
    )  # fmt: skip
    if time == NEVER or (time == 0.0 and gap < -BEHIND):
        return NEVER
    alx = noses[k, NOSE_ALONG_X]
    aly = noses[k, NOSE_ALONG_Y]
    along = (px + time * (vx + 0.5 * time * ax)) * alx + (py + time * (vy + 0.5 * time * ay)) * aly
    seam = SEAM_OF_IMPACTS * SEAM
    return time if -seam <= along <= noses[k, NOSE_LENGTH] + seam else NEVER


@kernel
def jaw_entry(x, y, vx, vy, ax, ay, reach, jaws, k, limit, released):
    """When a moving centre first touches the rounded end of a cushion k. [s]"""
    cx = jaws[k, JAW_X]
    cy = jaws[k, JAW_Y]
    distance = jaws[k, JAW_RADIUS] + reach
    dx = x - cx
    dy = y - cy
    hx = 0.5 * ax
    hy = 0.5 * ay
    time = contact_entry(
        dx * dx + dy * dy - distance * distance,
        2.0 * (dx * vx + dy * vy),
        vx * vx + vy * vy + 2.0 * (dx * hx + dy * hy),
        2.0 * (vx * hx + vy * hy),
        hx * hx + hy * hy,
        limit, distance, released,
    )  # fmt: skip
    if time == NEVER:
        return NEVER
    px = x + time * (vx + 0.5 * time * ax) - cx
    py = y + time * (vy + 0.5 * time * ay) - cy
    cosine = (px * jaws[k, JAW_MIDDLE_X] + py * jaws[k, JAW_MIDDLE_Y]) / distance
    return time if cosine >= jaws[k, JAW_COSINE] - SEAM else NEVER


@kernel
def boundary_entry(work, i, noses, jaws, drops):
    """The first meeting of ball i with the table's boundary in its present motion.

    Args: ``work`` holds the ball's polynomial and the smallest upright rectangle (BOX) around
        its path to the motion's own end; pieces out of its reach are passed over.
    Returns: time since the motion began [s] or ``NEVER``, event kind, index of the nose, jaw
        or drop. Of two at one instant the first in the order noses, jaws, drops counts.
    """
    x = work[i, X]
    y = work[i, Y]
    vx = work[i, VX]
    vy = work[i, VY]
    ax = work[i, AX]
    ay = work[i, AY]
    reach = work[i, REACH]
    limit = work[i, END] - work[i, START]
    released = work[i, LAST_RELEASE] == work[i, START]
    best = NEVER
    kind = -1
    index = -1
    for k in range(noses.shape[0]):
        inx = noses[k, NOSE_INWARD_X]
        iny = noses[k, NOSE_INWARD_Y]
        # The corner of the box that lies furthest towards this cushion.
        fx = work[i, BOX] if inx > 0.0 else work[i, BOX + 1]
        fy = work[i, BOX + 2] if iny > 0.0 else work[i, BOX + 3]
        if (fx - noses[k, NOSE_X]) * inx + (fy - noses[k, NOSE_Y]) * iny > reach + TOUCH:
            continue
        if held_by(work, i, EVENT_CUSHION, k):
            continue
        time = nose_entry(x, y, vx, vy, ax, ay, reach, noses, k, limit, released)
        if time < best:
            best = time
            kind = EVENT_CUSHION
            index = k
    for k in range(jaws.shape[0]):
        if _far(work, i, jaws[k, JAW_X], jaws[k, JAW_Y], jaws[k, JAW_RADIUS] + reach + TOUCH):
            continue
        if held_by(work, i, EVENT_JAW, k):
            continue
        time = jaw_entry(x, y, vx, vy, ax, ay, reach, jaws, k, limit, released)
        if time < best:
            best = time
            kind = EVENT_JAW
            index = k
    for k in range(drops.shape[0]):
        cx = drops[k, DROP_X]
        cy = drops[k, DROP_Y]
        if _far(work, i, cx, cy, drops[k, DROP_RADIUS]):
            continue
        time = circle_entry(x, y, vx, vy, ax, ay, cx, cy, drops[k, DROP_RADIUS], limit)
        if time < best:
            best = time
            kind = EVENT_POCKET
            index = k
    return best, kind, index


@kernel
def _far(work, i, x, y, distance):
    """Whether the path in the ball's box cannot come within that distance of a point."""
    return (
        work[i, BOX] - x > distance
        or x - work[i, BOX + 1] > distance
        or work[i, BOX + 2] - y > distance
        or y - work[i, BOX + 3] > distance
    )
