"""Many shots one after another without going back to the caller.

Every shot is played from its own numbers and writes into its own row, so it does not matter
which thread plays which shots, nor in which order.
"""

import math

from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.layout import (
    BALL_RADIUS,
    BALL_REACH,
    COEFFICIENT_COUNT,
    EVENT_BALL_A,
    EVENT_KIND,
    EVENT_OTHER,
    EVENT_POCKET,
    POTTED,
    READ_CONTACT_TIME,
    RESTING,
    STOP_RECORD_FULL,
    STRIKE_AIM,
    STRIKE_ELEVATION,
    STRIKE_HEIGHT,
    STRIKE_PACE,
    STRIKE_SIDE,
    TALLY_COLUMNS,
    TALLY_EVENTS,
    TALLY_FIRST_BALL,
    TALLY_OF_GROUP,
    TALLY_STOP,
)
from stunline.mechanics.moving_ball import VX, VY, WX, WY, WZ, X, Y
from stunline.mechanics.read_shot import WHITE, first_of_group, read_shot
from stunline.mechanics.read_way import cells_of_way, nearest_to, room_in_gap
from stunline.mechanics.run_events import run_events
from stunline.mechanics.strike import strike

ON_THE_TABLE = -1  # instead of a pocket


@kernel
def play_many(
    first, last, most_events, full_is_final, rule, watched,
    places, strikes, coefficients, bodies, ball_to_end_mass, interior, noses, jaws, drops,
    start, work, motion, pair_times, members, contacts, holds, vector, tally, read,
    event_floats, event_ints, phase_floats, phase_ints,
    wanted, group, near, points, gaps, gap_posts, raster,
    rests, potted, tallies, reads, nearest, rooms, ways,
):  # fmt: skip
    """Play the shots first, first + 1, … until ``last``, or until so many events have passed.

    Args:
        full_is_final: whether a shot that needs more rows than there are is left as it is; if
            not, the call ends at that shot, so that it can be played with more.
        places: (N or 1, n, 2), strikes: (N or 1, STRIKE_COLUMNS), coefficients: (N or 1,
            COEFFICIENT_COUNT); one row serves all.
        bodies: (n, WORK_COLUMNS) with radii, masses and reaches.
        start … phase_ints: scratch, as in ``run_events`` and ``read_shot``.
        wanted: (K,) READ_ columns; group: (n,) 1 for the balls of TALLY_OF_GROUP
        near: (M,) balls to whose places the white's way is measured, from its first contact on
        points: (P, 2) places to which its whole way is measured [m]
        gaps: (G, 2) and gap_posts: (G, GAP_COLUMNS), gaps that it may pass; see ``read_way``
        raster: (RASTER_LENGTH,), over which the white's way is followed; ways: (N, C), C 0 for no
            raster, the cells that it passes, as in ``read_way``
        nearest: (N, M + P), rooms: (N, G) [m]; reads: (N, K), rests: (N, n, 2), NaN where potted,
            potted: (N, n) pockets, tallies: (N, TALLY_COLUMNS).

    Returns: the next shot to play.
    """
    passed = 0
    shot = first
    while shot < last and passed < most_events:
        _set_up(shot, places, coefficients, bodies, start, work, motion, vector)
        row = shot if strikes.shape[0] > 1 else 0
        _strike(work, strikes, row, ball_to_end_mass)
        stop, events, phases = run_events(
            work, motion, pair_times, members, contacts, holds,
            vector, interior, noses, jaws, drops,
            rule, watched, event_floats, event_ints, phase_floats, phase_ints,
        )  # fmt: skip
        if stop == STOP_RECORD_FULL and not full_is_final:
            break
        read_shot(
            start, strikes[row, STRIKE_AIM], vector, event_floats, event_ints, events,
            phase_floats, phase_ints, phases, tally, read,
        )  # fmt: skip
        tally[TALLY_OF_GROUP] = first_of_group(
            start, group, event_floats, event_ints, events, phase_floats, phase_ints, phases
        )
        tally[TALLY_STOP] = stop
        tally[TALLY_EVENTS] = events
        _read_way(
            shot, start, near, points, gaps, gap_posts, raster, event_floats, event_ints, events,
            phase_floats, phase_ints, phases, tally, read, nearest, rooms, ways,
        )  # fmt: skip
        _keep(
            shot, work, motion, event_ints, events, tally, read, wanted,
            rests, potted, tallies, reads,
        )  # fmt: skip
        passed += events
        shot += 1
    return shot


@inlined_kernel
def _set_up(shot, places, coefficients, bodies, start, work, motion, vector):
    """Put the balls at this shot's places, at rest, and take its coefficients."""
    at = shot if places.shape[0] > 1 else 0
    for i in range(work.shape[0]):
        for k in range(work.shape[1]):
            start[i, k] = bodies[i, k]
        start[i, X] = places[at, i, 0]
        start[i, Y] = places[at, i, 1]
        for k in range(work.shape[1]):
            work[i, k] = start[i, k]
        motion[i] = RESTING
    at = shot if coefficients.shape[0] > 1 else 0
    for k in range(COEFFICIENT_COUNT):
        vector[k] = coefficients[at, k]


@inlined_kernel
def _strike(work, strikes, row, ball_to_end_mass):
    """Law 1 for the white."""
    (
        work[WHITE, VX], work[WHITE, VY], work[WHITE, WX], work[WHITE, WY], work[WHITE, WZ],
    ) = strike(
        strikes[row, STRIKE_AIM], strikes[row, STRIKE_PACE], strikes[row, STRIKE_HEIGHT],
        strikes[row, STRIKE_SIDE], strikes[row, STRIKE_ELEVATION],
        work[WHITE, BALL_RADIUS], ball_to_end_mass,
    )  # fmt: skip


@kernel
def _read_way(
    shot, start, near, points, gaps, gap_posts, raster, event_floats, event_ints, events,
    phase_floats, phase_ints, phases, tally, read, nearest, rooms, ways,
):  # fmt: skip
    """How near the white came to balls as they stood, its room in gaps, and the cells it passed.

    Counted from its first contact, and from its strike when no ball is met; to mere points always
    from its strike.
    """
    since = read[READ_CONTACT_TIME] if tally[TALLY_FIRST_BALL] >= 0 else 0.0
    for m in range(near.shape[0]):
        x = start[near[m], X]
        y = start[near[m], Y]
        nearest[shot, m] = nearest_to(x, y, since, math.inf, phase_floats, phase_ints, phases)
    for p in range(points.shape[0]):
        nearest[shot, near.shape[0] + p] = nearest_to(
            points[p, 0], points[p, 1], 0.0, math.inf, phase_floats, phase_ints, phases
        )
    for g in range(gaps.shape[0]):
        rooms[shot, g] = room_in_gap(
            start, since, gaps[g], gap_posts[g], event_floats, event_ints, events,
            phase_floats, phase_ints, phases,
        )  # fmt: skip
    if ways.shape[1] > 0:
        cells_of_way(
            since, raster, event_floats, event_ints, events, phase_floats, phase_ints, phases,
            ways[shot],
        )  # fmt: skip


@inlined_kernel
def _keep(
    shot, work, motion, event_ints, events, tally, read, wanted, rests, potted, tallies, reads
):
    """Copy what is kept of a shot into its rows."""
    for i in range(work.shape[0]):
        down = motion[i] == POTTED
        potted[shot, i] = ON_THE_TABLE
        rests[shot, i, 0] = math.nan if down else work[i, X]
        rests[shot, i, 1] = math.nan if down else work[i, Y]
    for k in range(events):
        if event_ints[k, EVENT_KIND] == EVENT_POCKET:
            potted[shot, event_ints[k, EVENT_BALL_A]] = event_ints[k, EVENT_OTHER]
    for k in range(TALLY_COLUMNS):
        tallies[shot, k] = tally[k]
    for k in range(wanted.shape[0]):
        reads[shot, k] = read[wanted[k]]


@kernel
def first_misplaced(places, bodies, width, length):
    """The first position in which a ball is off the bed or two overlap.

    Returns: position, ball, other ball; −1 for no position, and for a ball that is off the bed.
    """
    balls = bodies.shape[0]
    for p in range(places.shape[0]):
        for i in range(balls):
            x = places[p, i, 0]
            y = places[p, i, 1]
            reach = bodies[i, BALL_REACH]
            if not (reach - HARDLY <= x <= width - reach + HARDLY):
                return p, i, -1
            if not (reach - HARDLY <= y <= length - reach + HARDLY):
                return p, i, -1
            for k in range(i):
                dx = x - places[p, k, 0]
                dy = y - places[p, k, 1]
                touching = 4.0 * bodies[i, BALL_RADIUS] * bodies[k, BALL_RADIUS]
                if dx * dx + dy * dy < touching * (1.0 - HARDLY):
                    return p, k, i
    return -1, -1, -1


# Overlaps and places beyond a cushion up to this are rounding. [m, and of a squared distance -]
HARDLY = 1e-9
