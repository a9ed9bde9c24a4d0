"""Which balls can be potted next from where all lie: straight ways that a ball has room on.

Plane geometry alone. A ball has a clear way between two places when no other ball is nearer to
the straight line between them than both radii, in plan. Nothing is played: throw, swerve and
helpful jaws are left out.
"""

import math

from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.layout import JAW_POCKET, JAW_RADIUS, JAW_X, JAW_Y

ON_THE_TABLE = -1


@kernel
def count_next(
    starts, rests, potted, radii, reaches, group, mouths, jaws, width, length,
    far, touching, steepest, freed, can_be_potted,
):  # fmt: skip
    """Count, for every shot, the balls of a group that are freed and that can be potted next.

    Freed is a ball that has moved more than ``far`` and touches none; potted balls are not.
    It can be potted next when some pocket's mouth and a contact have clear ways, cut less than
    ``steepest``.

    Args:
        starts: (N or 1, n, 2) before, rests: (N, n, 2) after [m]; potted: (N, n), −1 on the table
        radii, reaches: (n,) [m]; group: (n,) 1 for the balls counted
        mouths: (P, 2) middles of the pockets' mouths [m]; jaws as in ``layout``
        far, touching: [m]; touching is the largest gap that counts as none
        steepest: cut [rad]
        freed, can_be_potted: (N,), filled here
    """
    for shot in range(rests.shape[0]):
        before = shot if starts.shape[0] > 1 else 0
        freed[shot] = 0
        can_be_potted[shot] = 0
        for i in range(radii.shape[0]):
            if group[i] == 0 or potted[shot, i] != ON_THE_TABLE:
                continue
            dx = rests[shot, i, 0] - starts[before, i, 0]
            dy = rests[shot, i, 1] - starts[before, i, 1]
            moved = math.sqrt(dx * dx + dy * dy) > far
            if moved and not _touches_any(shot, i, rests, potted, radii, touching):
                freed[shot] += 1
            if potted[shot, 0] == ON_THE_TABLE and _some_pocket(
                shot, i, rests, potted, radii, reaches, mouths, jaws, width, length, steepest
            ):
                can_be_potted[shot] += 1


@kernel
def outside_of_cuts(
    rests, potted, radii, reaches, group, mouths, jaws, width, length, least, most, outside
):
    """By how much the best cut at a ball of a group misses a range, for every shot.

    Of all balls of the group and all pockets with clear ways, the cut nearest to the range.

    Args:
        as in ``count_next``; least, most: of the cut [rad]
        outside: (N,), filled here; 0 within the range, infinite without any clear way [rad]
    """
    for shot in range(rests.shape[0]):
        outside[shot] = math.inf
        if potted[shot, 0] != ON_THE_TABLE:
            continue
        for i in range(radii.shape[0]):
            if group[i] == 0 or potted[shot, i] != ON_THE_TABLE:
                continue
            for pocket in range(mouths.shape[0]):
                cut = _cut_into(
                    shot, i, pocket, rests, potted, radii, reaches, mouths, jaws, width, length
                )
                outside[shot] = min(outside[shot], max(least - cut, cut - most, 0.0))


@kernel
def _cut_into(shot, i, pocket, rests, potted, radii, reaches, mouths, jaws, width, length):
    """The cut with which the white can send ball i into that pocket; infinite when it can't."""
    x = rests[shot, i, 0]
    y = rests[shot, i, 1]
    wx = rests[shot, 0, 0]
    wy = rests[shot, 0, 1]
    cut, gx, gy = _cut_and_ghost(wx, wy, x, y, radii[0], radii[i], mouths, pocket)
    if not (cut < 0.5 * math.pi):
        return math.inf
    reach = reaches[0]
    if not (reach <= gx <= width - reach and reach <= gy <= length - reach):
        return math.inf
    mx = mouths[pocket, 0]
    my = mouths[pocket, 1]
    if (
        _clear_of_balls(shot, x, y, mx, my, i, 0, i, rests, potted, radii)
        and _clear_of_jaws(x, y, mx, my, reaches[i], jaws, pocket)
        and _clear_of_balls(shot, wx, wy, gx, gy, 0, 0, i, rests, potted, radii)
    ):
        return cut
    return math.inf


@inlined_kernel
def _cut_and_ghost(wx, wy, x, y, white_radius, radius, mouths, pocket):
    """The cut angle towards a mouth and the white's place at contact; infinite in the mouth."""
    dx = mouths[pocket, 0] - x
    dy = mouths[pocket, 1] - y
    distance = math.sqrt(dx * dx + dy * dy)
    if distance == 0.0:
        return math.inf, x, y
    dx /= distance
    dy /= distance
    apart = 2.0 * math.sqrt(white_radius * radius)
    gx = x - apart * dx
    gy = y - apart * dy
    cx = gx - wx
    cy = gy - wy
    return abs(math.atan2(cx * dy - cy * dx, cx * dx + cy * dy)), gx, gy


@kernel
def _touches_any(shot, i, rests, potted, radii, touching):
    for k in range(radii.shape[0]):
        if k == i or potted[shot, k] != ON_THE_TABLE:
            continue
        dx = rests[shot, k, 0] - rests[shot, i, 0]
        dy = rests[shot, k, 1] - rests[shot, i, 1]
        if math.sqrt(dx * dx + dy * dy) <= 2.0 * math.sqrt(radii[i] * radii[k]) + touching:
            return True
    return False


@kernel
def _some_pocket(
    shot, i, rests, potted, radii, reaches, mouths, jaws, width, length, steepest
):  # fmt: skip
    """Whether ball i can be potted by the white into any pocket."""
    for pocket in range(mouths.shape[0]):
        cut = _cut_into(shot, i, pocket, rests, potted, radii, reaches, mouths, jaws, width, length)
        if cut < steepest:
            return True
    return False


@inlined_kernel
def _to_stretch(px, py, ax, ay, bx, by):
    """Distance of a point from the stretch between two others. [m]"""
    dx = bx - ax
    dy = by - ay
    square = dx * dx + dy * dy
    share = 0.0
    if square > 0.0:
        share = min(max(((px - ax) * dx + (py - ay) * dy) / square, 0.0), 1.0)
    return math.hypot(px - ax - share * dx, py - ay - share * dy)


@kernel
def _clear_of_balls(shot, ax, ay, bx, by, moving, apart_from, and_from, rests, potted, radii):
    """Whether the moving ball has room between two places, these two balls left out."""
    for k in range(radii.shape[0]):
        if k == apart_from or k == and_from or potted[shot, k] != ON_THE_TABLE:
            continue
        near = _to_stretch(rests[shot, k, 0], rests[shot, k, 1], ax, ay, bx, by)
        if near < 2.0 * math.sqrt(radii[moving] * radii[k]):
            return False
    return True


@kernel
def _clear_of_jaws(ax, ay, bx, by, reach, jaws, pocket):
    """Whether a ball passes between the jaws of that pocket without touching either."""
    for k in range(jaws.shape[0]):
        if int(jaws[k, JAW_POCKET]) == pocket:
            near = _to_stretch(jaws[k, JAW_X], jaws[k, JAW_Y], ax, ay, bx, by)
            if near < jaws[k, JAW_RADIUS] + reach:
                return False
    return True
