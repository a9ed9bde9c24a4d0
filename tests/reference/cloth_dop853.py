"""A ball alone on the cloth: its equations of motion, integrated numerically.

Sliding: Coulomb friction at the bed contact against the slip there, force and torque by Newton
and Euler. Rolling: constant resistance against the motion. Spin about the vertical falls at a
constant rate by itself. The ends of these are events of the integrator; beyond an event the
direction of slip or of motion is held, so that the equation is smooth through it.

State of a ball: x, y [m], vx, vy [m s⁻¹], ωx, ωy, ωz [rad s⁻¹].
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp

from reference.smooth_friction import Vector

RELATIVE_TOLERANCE = 1e-12
ABSOLUTE_TOLERANCE = 1e-13
LONGEST_PIECE = 1e4  # s; a ball is at rest long before, whatever the cloth
NO_SLIP = 1e-9  # m s⁻¹; the impacts' smooth friction leaves this much where a contact stuck
NO_SPEED = 1e-12  # m s⁻¹
NO_SPIN = 1e-12  # rad s⁻¹
INVERSE_INERTIA = 2.5  # solid sphere, times 1/(m R²)
DOWN = np.array([0.0, 0.0, -1.0])


@dataclass(frozen=True)
class Cloth:
    """The cloth's coefficients: frictions [-], spin deceleration [rad s⁻²], gravity [m s⁻²]."""

    sliding_friction: float
    rolling_resistance: float
    spin_deceleration: float
    gravity: float


@dataclass(frozen=True)
class Piece:
    """One way of moving between two events. Times in s; ``state`` takes an array of times."""

    start: float
    end: float
    motion: str
    state: Callable[[Vector], Vector]


def trajectory(state: Vector, start: float, radius: float, cloth: Cloth) -> list[Piece]:
    """The ball's motion from this state until it rests for good, were it never met again."""
    pieces: list[Piece] = []
    motion = "sliding" if np.hypot(*bed_slip(state, radius)) > NO_SLIP else "rolling"
    while True:
        state, motion = _begin(state, radius, motion)
        if motion == "rest":
            pieces.append(_rest(state, start))
            return pieces
        piece, state, motion = _piece(state, start, radius, cloth, motion)
        pieces.append(piece)
        start = piece.end


def at_times(pieces: list[Piece], times: Vector) -> Vector:
    """States at these times (rising), one column each."""
    columns = np.empty((7, len(times)))
    for number, piece in enumerate(pieces):
        first = 0 if number == 0 else int(np.searchsorted(times, piece.start))
        last = int(np.searchsorted(times, piece.end)) if number + 1 < len(pieces) else len(times)
        if last > first:
            columns[:, first:last] = piece.state(times[first:last])
    return columns


def bed_slip(state: Vector, radius: float) -> Vector:
    """Velocity of the ball's lowest point over the cloth, in plan. [m s⁻¹]"""
    return state[2:4] + np.cross(state[4:7], radius * DOWN)[:2]


def _begin(state: Vector, radius: float, motion: str) -> tuple[Vector, str]:
    """The state with what is zero but for rounding set to zero, and how it moves then."""
    state = state.copy()
    if abs(state[6]) < NO_SPIN:
        state[6] = 0.0
    if motion == "rolling" and np.hypot(*state[2:4]) < NO_SPEED:
        state[2:4] = 0.0
        motion = "spinning"
    if motion != "sliding":
        state[4:6] = -state[3] / radius, state[2] / radius
    if motion == "spinning" and state[6] == 0.0:
        motion = "rest"
    return state, motion


def _rest(state: Vector, start: float) -> Piece:
    return Piece(start, np.inf, "rest", lambda times: np.repeat(state[:, None], len(times), axis=1))


def _piece(
    state: Vector, start: float, radius: float, cloth: Cloth, motion: str
) -> tuple[Piece, Vector, str]:
    """Integrate one way of moving to its end, or to the end of the spin about the vertical."""
    turn = float(np.sign(state[6]))
    plane_rate, left = _LAWS[motion](state, radius, cloth)

    def rate(_: float, now: Vector) -> Vector:
        return np.append(plane_rate(now), -cloth.spin_deceleration * turn)

    solution = solve_ivp(
        rate,
        (0.0, LONGEST_PIECE),
        state,
        method="DOP853",
        dense_output=True,
        events=[_ending(left), _ending(lambda now: now[6] * turn if turn else 1.0)],
        rtol=RELATIVE_TOLERANCE,
        atol=ABSOLUTE_TOLERANCE,
    )
    if solution.status != 1:
        raise ArithmeticError(f"{motion} never ended: {solution.message}")
    after, dense = solution.y[:, -1].copy(), solution.sol
    piece = Piece(start, start + solution.t[-1], motion, lambda times: dense(times - start))
    if len(solution.t_events[0]) == 0:
        after[6] = 0.0
        return piece, after, motion
    if motion == "rolling":
        after[2:6] = 0.0
    return piece, after, "rolling" if motion == "sliding" else "spinning"


def _ending(left: Callable[[Vector], float]) -> Callable[[float, Vector], float]:
    def event(_: float, now: Vector) -> float:
        return left(now)

    event.terminal, event.direction = True, -1.0
    return event


PlaneLaw = tuple[Callable[[Vector], Vector], Callable[[Vector], float]]


def _sliding(begin: Vector, radius: float, cloth: Cloth) -> PlaneLaw:
    """Rate of x, y, vx, vy, ωx, ωy, and what is left of the slip along its first direction."""
    first = bed_slip(begin, radius)
    first = first / np.hypot(*first)

    def left(now: Vector) -> float:
        return float(bed_slip(now, radius) @ first)

    def rate(now: Vector) -> Vector:
        slip = bed_slip(now, radius)
        along = slip / np.hypot(*slip) if slip @ first > 0.0 else first
        # Per unit mass: the force, and its moment about the centre at the lowest point.
        force = -cloth.sliding_friction * cloth.gravity * np.array([along[0], along[1], 0.0])
        turning = INVERSE_INERTIA / radius**2 * np.cross(radius * DOWN, force)
        return np.concatenate([now[2:4], force[:2], turning[:2]])

    return rate, left


def _rolling(begin: Vector, radius: float, cloth: Cloth) -> PlaneLaw:
    """Rate of x, y, vx, vy, ωx, ωy, and what is left of the speed along its first direction."""
    first = begin[2:4] / np.hypot(*begin[2:4])

    def left(now: Vector) -> float:
        return float(now[2:4] @ first)

    def rate(now: Vector) -> Vector:
        along = now[2:4] / np.hypot(*now[2:4]) if now[2:4] @ first > 0.0 else first
        pull = -cloth.rolling_resistance * cloth.gravity * along
        return np.array([now[2], now[3], pull[0], pull[1], -pull[1] / radius, pull[0] / radius])

    return rate, left


def _spinning(begin: Vector, radius: float, cloth: Cloth) -> PlaneLaw:
    """On the spot: nothing moves in plan; only the spin about the vertical ends this."""
    return lambda now: np.zeros(6), lambda now: 1.0


_LAWS = {"sliding": _sliding, "rolling": _rolling, "spinning": _spinning}
