"""How the white's way after its first contact passes places and gaps.

Its phases are quadratic in time; the nearest point of one to a place is where a cubic is nought,
found from the best of a few samples by Newton's method.
"""

import math

from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.layout import (
    EVENT_CUSHION,
    EVENT_JAW,
    EVENT_KIND,
    EVENT_TIME,
    GAP_CLEAR,
    GAP_X,
    GAP_Y,
    PHASE_AX,
    PHASE_AY,
    PHASE_BALL,
    PHASE_END,
    PHASE_START,
    PHASE_VX,
    PHASE_VY,
    PHASE_X,
    PHASE_Y,
    RASTER_CELL,
    RASTER_COLUMNS,
    RASTER_ROWS,
)
from stunline.mechanics.read_rows import is_meeting, place_at, row_of_ball

WHITE = 0
SAMPLES = 12  # of a phase, before Newton's method; a quadratic has two turns at most
NEWTON_STEPS = 6
NOWHERE = -math.inf  # room in a gap when the white never met a ball
# Of a cell's side, between two looks at which cell the white is in: a corner that it cuts by less
# is left out. [-]
STEP_IN_A_CELL = 0.2
NO_CELL = -1


@kernel
def nearest_to(x, y, since, until, phase_floats, phase_ints, phases):
    """Least distance of the white's centre from a place, between two times; infinite without any
    motion then. [m]"""
    best = math.inf
    for k in range(phases):
        if phase_ints[k, PHASE_BALL] != WHITE:
            continue
        low = max(phase_floats[k, PHASE_START], since)
        high = min(phase_floats[k, PHASE_END], until)
        if low <= high:
            best = min(best, _nearest_in_phase(phase_floats, k, x, y, low, high))
    return best


@inlined_kernel
def _nearest_in_phase(phase_floats, k, x, y, low, high):
    begin = phase_floats[k, PHASE_START]
    px = phase_floats[k, PHASE_X] - x
    py = phase_floats[k, PHASE_Y] - y
    vx = phase_floats[k, PHASE_VX]
    vy = phase_floats[k, PHASE_VY]
    ax = phase_floats[k, PHASE_AX]
    ay = phase_floats[k, PHASE_AY]
    step = (high - low) / SAMPLES
    best = math.inf
    at = low - begin
    for i in range(SAMPLES + 1):
        t = low - begin + i * step
        d = math.hypot(px + t * (vx + 0.5 * t * ax), py + t * (vy + 0.5 * t * ay))
        if d < best:
            best = d
            at = t
    for _ in range(NEWTON_STEPS):
        dx = px + at * (vx + 0.5 * at * ax)
        dy = py + at * (vy + 0.5 * at * ay)
        ux = vx + at * ax
        uy = vy + at * ay
        curvature = ux * ux + uy * uy + dx * ax + dy * ay
        if curvature <= 0.0:
            break
        at = min(max(at - (dx * ux + dy * uy) / curvature, low - begin), high - begin)
        best = min(best, math.hypot(px + at * (vx + 0.5 * at * ax), py + at * (vy + 0.5 * at * ay)))
    return best


@kernel
def room_in_gap(
    start, since, gap, posts, event_floats, event_ints, events, phase_floats, phase_ints, phases
):
    """How much room the white has to spare where it passes a gap, at its best passage. [m]

    It passes where its centre crosses the line between the posts; its room there is that on the
    whole leg, from what it met before to what it met after, so that it is clear of both posts
    and not only between them. Without a passage minus the distance by which it missed.

    Args:
        since: from when on its way counts [s]
        gap: (2,) GAP_BALLS; posts: (GAP_COLUMNS,), as in ``layout``
    """
    best = NOWHERE
    for k in range(phases):
        if phase_ints[k, PHASE_BALL] != WHITE or phase_floats[k, PHASE_END] <= since:
            continue
        begin = phase_floats[k, PHASE_START]
        low = max(begin, since)
        ax, ay = _post(start, gap, posts, 0, phase_floats, phase_ints, phases, low)
        bx, by = _post(start, gap, posts, 1, phase_floats, phase_ints, phases, low)
        first, second = _crossings(phase_floats, k, ax, ay, bx, by)
        crossed = False
        for t in (first, second):
            if not (low - begin <= t <= phase_floats[k, PHASE_END] - begin):
                continue
            x = phase_floats[k, PHASE_X] + t * (
                phase_floats[k, PHASE_VX] + 0.5 * t * phase_floats[k, PHASE_AX]
            )
            y = phase_floats[k, PHASE_Y] + t * (
                phase_floats[k, PHASE_VY] + 0.5 * t * phase_floats[k, PHASE_AY]
            )
            wide = (bx - ax) * (bx - ax) + (by - ay) * (by - ay)
            share = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / wide
            if not 0.0 < share < 1.0:
                continue
            crossed = True
            leg, end = _leg(event_floats, event_ints, events, since, begin + t)
            to_first = nearest_to(ax, ay, leg, end, phase_floats, phase_ints, phases)
            to_second = nearest_to(bx, by, leg, end, phase_floats, phase_ints, phases)
            room = min(to_first - posts[GAP_CLEAR], to_second - posts[3 + GAP_CLEAR])
            best = max(best, room)
        if not crossed:
            missed = _missed(phase_floats, k, ax, ay, bx, by, low)
            best = max(best, -missed)
    return best


@inlined_kernel
def _post(start, gap, posts, which, phase_floats, phase_ints, phases, time):
    """Where a post is at that time. [m]"""
    if gap[which] >= 0:
        return place_at(start, phase_floats, phase_ints, phases, gap[which], time)
    return posts[3 * which + GAP_X], posts[3 * which + GAP_Y]


@inlined_kernel
def _crossings(phase_floats, k, ax, ay, bx, by):
    """Times since the phase's start at which the line through both posts is crossed; or NaN."""
    nx = ay - by
    ny = bx - ax
    c = nx * (phase_floats[k, PHASE_X] - ax) + ny * (phase_floats[k, PHASE_Y] - ay)
    b = nx * phase_floats[k, PHASE_VX] + ny * phase_floats[k, PHASE_VY]
    a = 0.5 * (nx * phase_floats[k, PHASE_AX] + ny * phase_floats[k, PHASE_AY])
    square = b * b - 4.0 * a * c
    if square < 0.0:
        return math.nan, math.nan
    q = -0.5 * (b + math.copysign(math.sqrt(square), b))
    first = c / q if q != 0.0 else math.nan
    second = q / a if a != 0.0 else math.nan
    return first, second


@inlined_kernel
def _leg(event_floats, event_ints, events, since, time):
    """When the white last met anything by that time, and when it next does. [s]"""
    begin = since
    for k in range(events):
        kind = event_ints[k, EVENT_KIND]
        meets = is_meeting(kind) or kind == EVENT_CUSHION or kind == EVENT_JAW
        if meets and row_of_ball(event_ints, events, k, WHITE)[0] >= 0:
            if event_floats[k, EVENT_TIME] > time:
                return begin, event_floats[k, EVENT_TIME]
            begin = max(begin, event_floats[k, EVENT_TIME])
    return begin, math.inf


@inlined_kernel
def _missed(phase_floats, k, ax, ay, bx, by, low):
    """Least distance of a phase's samples from the stretch between the posts. [m]"""
    begin = phase_floats[k, PHASE_START]
    step = (phase_floats[k, PHASE_END] - low) / SAMPLES
    wide = (bx - ax) * (bx - ax) + (by - ay) * (by - ay)
    best = math.inf
    for i in range(SAMPLES + 1):
        t = low - begin + i * step
        x = phase_floats[k, PHASE_X] + t * (
            phase_floats[k, PHASE_VX] + 0.5 * t * phase_floats[k, PHASE_AX]
        )
        y = phase_floats[k, PHASE_Y] + t * (
            phase_floats[k, PHASE_VY] + 0.5 * t * phase_floats[k, PHASE_AY]
        )
        share = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / wide
        share = min(max(share, 0.0), 1.0)
        best = min(best, math.hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay)))
    return best


@kernel
def cells_of_way(
    since, raster, event_floats, event_ints, events, phase_floats, phase_ints, phases, cells
):
    """The cells of a raster that the white's centre passes, up to its next meeting with a ball.

    Args:
        since: from when on its way counts; what it meets until then is not its next meeting [s]
        raster: (RASTER_LENGTH,), as in ``layout``
        cells: (C,), filled here: row · columns + column, in the order of the way, none twice in
            a row; those beyond C are left out, what is left over is −1
    """
    until = _next_ball(event_floats, event_ints, events, since)
    columns = int(raster[RASTER_COLUMNS])
    step = STEP_IN_A_CELL * raster[RASTER_CELL]
    found = 0
    last = NO_CELL
    for k in range(phases):
        if phase_ints[k, PHASE_BALL] != WHITE:
            continue
        begin = phase_floats[k, PHASE_START]
        low = max(begin, since)
        high = min(phase_floats[k, PHASE_END], until)
        if low > high:
            continue
        looks = 1 + int(_farthest(phase_floats, k, low - begin, high - begin) / step)
        for i in range(looks + 1):
            t = low - begin + (high - low) * i / looks
            x = phase_floats[k, PHASE_X] + t * (
                phase_floats[k, PHASE_VX] + 0.5 * t * phase_floats[k, PHASE_AX]
            )
            y = phase_floats[k, PHASE_Y] + t * (
                phase_floats[k, PHASE_VY] + 0.5 * t * phase_floats[k, PHASE_AY]
            )
            column = math.floor(x / raster[RASTER_CELL])
            row = math.floor(y / raster[RASTER_CELL])
            if not (0 <= column < columns and 0 <= row < int(raster[RASTER_ROWS])):
                continue
            cell = row * columns + column
            if cell != last and found < cells.shape[0]:
                cells[found] = cell
                found += 1
            last = cell
    for i in range(found, cells.shape[0]):
        cells[i] = NO_CELL


@inlined_kernel
def _next_ball(event_floats, event_ints, events, since):
    """When the white next meets a ball after that time; infinite when it meets none. [s]"""
    for k in range(events):
        time = event_floats[k, EVENT_TIME]
        met = time > since and is_meeting(event_ints[k, EVENT_KIND])
        if met and row_of_ball(event_ints, events, k, WHITE)[0] >= 0:
            return time
    return math.inf


@inlined_kernel
def _farthest(phase_floats, k, low, high):
    """How far the white can come in a stretch of a phase: at its greatest speed. [m]"""
    vx = phase_floats[k, PHASE_VX]
    vy = phase_floats[k, PHASE_VY]
    ax = phase_floats[k, PHASE_AX]
    ay = phase_floats[k, PHASE_AY]
    first = math.hypot(vx + low * ax, vy + low * ay)
    second = math.hypot(vx + high * ax, vy + high * ay)
    return max(first, second) * (high - low)
