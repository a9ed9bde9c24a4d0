"""A whole shot of a few equal balls on a rectangle of plain cushions.

Between impacts every ball is integrated by itself (``cloth_dop853``). Meetings are found by
sampling: the gap of two balls, or of a ball and a nose line, is looked at every few milliseconds
and where it stops closing, and the moment is then bracketed. An impact is integrated over its
normal impulse (``ball_impact_radau``, ``cushion_radau``).

Left out: pockets, jaws, touching balls, contact that lasts. A shot that runs into one of the last
two is marked ``lasting``, for the tests to leave it out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import Any

import numpy as np
from scipy.optimize import brentq

from reference.ball_impact_radau import Friction, ball_impact
from reference.cloth_dop853 import Cloth, Piece, at_times, trajectory
from reference.cushion_radau import cushion_impact_reference
from reference.smooth_friction import Vector
from reference.strike_vector import strike_reference

SAMPLING = 2e-3  # s between looks; at 5 m/s a ball moves 10 mm, a fifth of a ball
STRETCH = 256  # looks at a time
TIME_TOLERANCE = 1e-15  # s, of a bracketed moment
SMALL_SEPARATION = 1e-3  # m s⁻¹; slower than this after an impact, contact may come to last
OVERLAP = 1e-11  # m; deeper, two bodies came back together between two looks: lasting contact
SMALL_GAP = 1e-4  # m; a third ball this near to an impact would take part in it
IMPACT_LIMIT = 400  # a shot of four balls has a few dozen

OUTWARD = (np.array([0.0, -1.0]), np.array([1.0, 0.0]), np.array([0.0, 1.0]), np.array([-1.0, 0.0]))
Point = tuple[float, float]
Pieces = list[Piece]


@dataclass
class _Table:
    length: float
    width: float
    radius: float
    coefficients: Mapping[str, Any]
    cloth: Cloth
    events: list[tuple[float, str, tuple[int, ...]]] = field(default_factory=list)
    places: list[list[Point]] = field(default_factory=list)
    lasting: bool = False

    @property
    def contact_distance(self) -> float:
        """Distance of a centre from the nose line when the nose is met. [m]"""
        above = float(self.coefficients["nose_height"]) - self.radius
        return float(np.sqrt(self.radius**2 - above**2))

    def reach(self, cushion: int) -> float:
        """How far out that cushion's nose line lies, along its outward normal. [m]"""
        return (0.0, self.width, self.length, 0.0)[cushion]

    def number(self, name: str) -> float:
        """The coefficient of that name."""
        return float(self.coefficients[name])


def simulate(
    table_length: float,
    table_width: float,
    radius: float,
    coefficients: Mapping[str, Any],
    balls: Sequence[Point],
    strike: Mapping[str, float],
    ball_to_end_mass: float | None = None,
) -> dict[str, Any]:
    """Play the first ball and follow all of them to rest.

    Args:
        table_length, table_width: between the nose lines; width along x, length along y [m]
        radius: of every ball [m]
        coefficients: sliding_friction, rolling_resistance, spin_deceleration, gravity,
            ball_restitution, ball_friction (a number, or floor, span and decay),
            cushion_restitution, cushion_friction, nose_height
        balls: centres at the start, the white first [m]
        strike: aim, pace, height, side, elevation
        ball_to_end_mass: for squirt; None for none [-]

    Returns:
        ``rest``: centres at the end [m]; ``events``: (time [s], "ball" or "cushion", who: two
        balls, or a ball and a cushion 0 baulk, 1 right, 2 top, 3 left), in order; ``places``: of
        all balls at each of them [m]; ``duration``: until the last ball rests [s]; ``lasting``.
    """
    cloth = Cloth(*(float(coefficients[name]) for name in _CLOTH_NAMES))
    table = _Table(table_length, table_width, radius, coefficients, cloth)
    states = [np.array([x, y, 0.0, 0.0, 0.0, 0.0, 0.0]) for x, y in balls]
    states[0][2:] = strike_reference(**strike, radius=radius, ball_to_end_mass=ball_to_end_mass)
    moving = [trajectory(state, 0.0, radius, cloth) for state in states]
    now = 0.0
    for _ in range(IMPACT_LIMIT):
        found = _next_meeting(table, moving, now)
        if found is None or table.lasting:
            break
        now = found[0]
        _resolve(table, moving, found)
        table.events.append(found)
        table.places.append([_place(pieces, now) for pieces in moving])
    else:
        raise ArithmeticError(f"more than {IMPACT_LIMIT} impacts")
    rest = [tuple(float(z) for z in pieces[-1].state(np.zeros(1))[:2, 0]) for pieces in moving]
    return {
        "rest": rest,
        "events": table.events,
        "places": table.places,
        "duration": max(pieces[-1].start for pieces in moving),
        "lasting": table.lasting,
    }


_CLOTH_NAMES = ("sliding_friction", "rolling_resistance", "spin_deceleration", "gravity")
Meeting = tuple[float, str, tuple[int, ...]]


def _next_meeting(table: _Table, moving: list[Pieces], now: float) -> Meeting | None:
    """The earliest meeting after now: stretch by stretch, so that little is looked at."""
    last = max(pieces[-1].start for pieces in moving)
    while now < last:
        times = now + SAMPLING * np.arange(STRETCH + 1)
        states = [at_times(pieces, times) for pieces in moving]
        found = [*_ball_meetings(table, moving, times, states)]
        found += _cushion_meetings(table, moving, times, states)
        if found:
            return min(found, key=lambda meeting: meeting[0])
        now = times[-1]
    return None


def _ball_meetings(
    table: _Table, moving: list[Pieces], times: Vector, states: list[Vector]
) -> list[Meeting]:
    found: list[Meeting] = []
    for a, b in combinations(range(len(moving)), 2):
        apart = states[b][:2] - states[a][:2]
        faster = states[b][2:4] - states[a][2:4]
        if not np.any(faster):
            continue

        def gap(time: float, a: int = a, b: int = b) -> float:
            place_a, place_b = (_state(moving[index], time)[:2] for index in (a, b))
            return float(np.hypot(*(place_b - place_a))) - 2.0 * table.radius

        def opening(time: float, a: int = a, b: int = b) -> float:
            state_a, state_b = (_state(moving[index], time) for index in (a, b))
            return float((state_b[:2] - state_a[:2]) @ (state_b[2:4] - state_a[2:4]))

        gaps = np.hypot(*apart) - 2.0 * table.radius
        openings = np.sum(apart * faster, axis=0)
        time = _first_closing(times, gaps, openings, gap, opening)
        if time is not None:
            found.append((time, "ball", (a, b)))
    return found


def _cushion_meetings(
    table: _Table, moving: list[Pieces], times: Vector, states: list[Vector]
) -> list[Meeting]:
    found: list[Meeting] = []
    for index, cushion in ((i, c) for i in range(len(moving)) for c in range(4)):
        if not np.any(states[index][2:4]):
            continue
        outward = OUTWARD[cushion]

        def gap(time: float, index: int = index, cushion: int = cushion) -> float:
            beyond = OUTWARD[cushion] @ _state(moving[index], time)[:2]
            return float(table.reach(cushion) - beyond) - table.contact_distance

        def opening(time: float, index: int = index, cushion: int = cushion) -> float:
            return -float(OUTWARD[cushion] @ _state(moving[index], time)[2:4])

        gaps = table.reach(cushion) - outward @ states[index][:2] - table.contact_distance
        time = _first_closing(times, gaps, -outward @ states[index][2:4], gap, opening)
        if time is not None:
            found.append((time, "cushion", (index, cushion)))
    return found


def _first_closing(
    times: Vector,
    gaps: Vector,
    openings: Vector,
    gap: Callable[[float], float],
    opening: Callable[[float], float],
) -> float | None:
    """First time at which a gap closes: between two looks, or in a dip between them."""
    for number in range(len(times) - 1):
        start, end = times[number], times[number + 1]
        if openings[number] >= 0.0:
            continue
        if gaps[number] <= 0.0:
            return float(start)
        if gaps[number + 1] > 0.0 and openings[number + 1] > 0.0:
            end = brentq(opening, start, end, xtol=TIME_TOLERANCE)
            if gap(end) >= 0.0:
                continue
        elif gaps[number + 1] > 0.0:
            continue
        return float(brentq(gap, start, end, xtol=TIME_TOLERANCE))
    return None


def _state(pieces: Pieces, time: float) -> Vector:
    return at_times(pieces, np.array([time]))[:, 0]


def _place(pieces: Pieces, time: float) -> Point:
    x, y = _state(pieces, time)[:2]
    return float(x), float(y)


def _resolve(table: _Table, moving: list[Pieces], meeting: Meeting) -> None:
    """Give the balls of a meeting the motions that they leave with."""
    time, kind, who = meeting
    if kind == "ball":
        _resolve_balls(table, moving, time, who)
    else:
        _resolve_cushion(table, moving, time, who)


def _resolve_balls(table: _Table, moving: list[Pieces], time: float, who: tuple[int, ...]) -> None:
    a, b = (_state(moving[index], time) for index in who)
    apart = float(np.hypot(*(b[:2] - a[:2])))
    table.lasting |= apart < 2.0 * table.radius - OVERLAP
    normal = (b[:2] - a[:2]) / apart
    friction: Friction = table.coefficients["ball_friction"]
    restitution = table.number("ball_restitution")
    a[2:], b[2:] = ball_impact(a[2:], b[2:], normal, table.radius, restitution, friction)
    _leave(table, moving, time, who, [a, b], float((b[2:4] - a[2:4]) @ normal))
    for other in set(range(len(moving))) - set(who):
        place = _state(moving[other], time)[:2]
        nearest = min(np.hypot(*(place - ball[:2])) for ball in (a, b))
        table.lasting |= bool(nearest - 2.0 * table.radius < SMALL_GAP)


def _resolve_cushion(
    table: _Table, moving: list[Pieces], time: float, who: tuple[int, ...]
) -> None:
    ball, outward = _state(moving[who[0]], time), OUTWARD[who[1]]
    far = table.reach(who[1])
    gap = far - float(outward @ ball[:2]) - table.contact_distance
    table.lasting |= gap < -OVERLAP
    along = np.cross(np.append(outward, 0.0), [0.0, 0.0, 1.0])[:2]
    turned = np.vstack([along, outward])
    after = np.array(
        cushion_impact_reference(
            *(turned @ ball[2:4]),
            *(turned @ ball[4:6]),
            ball[6],
            table.radius,
            table.number("nose_height"),
            table.number("cushion_restitution"),
            table.number("cushion_friction"),
            table.number("sliding_friction"),
        )
    )
    ball[2:4], ball[4:6], ball[6] = turned.T @ after[:2], turned.T @ after[2:4], after[4]
    _leave(table, moving, time, who[:1], [ball], -float(after[1]))


def _leave(
    table: _Table,
    moving: list[Pieces],
    time: float,
    who: Sequence[int],
    states: Sequence[Vector],
    separation: float,
) -> None:
    table.lasting |= separation < SMALL_SEPARATION
    for index, state in zip(who, states, strict=True):
        moving[index] = trajectory(state, time, table.radius, table.cloth)
