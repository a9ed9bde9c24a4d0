"""A two-ball shot on the same laws by a general integrator, scipy's ``solve_ivp`` with events.

Both balls in one state of fourteen: x, y, vx, vy, ωx, ωy, ωz of each. A ball slides, rolls or
rests; the integrator's events say when that ends and when the balls meet. At the meeting the
slip of the two surfaces is integrated along the normal impulse, to its end or until it sticks.
Written from the laws; neither the engine's kernels nor the exact law's closed forms are used.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp

from compared.two_ball_shot import (
    GRAVITY,
    RADIUS,
    READ_AFTER,
    RESTITUTION,
    ROLLING_RESISTANCE,
    SLIDING_FRICTION,
    SPIN_DECELERATION,
    BallFriction,
    Outcome,
    TwoBallShot,
)

Vector = Any
TOLERANCES = {"method": "DOP853", "rtol": 1e-12, "atol": 1e-13}
LONGEST = 200.0  # [s]
SLIDING, ROLLING, RESTING = "sliding", "rolling", "resting"
WHITE, BALL = slice(0, 7), slice(7, 14)
NO_SLIP = 1e-9  # [m s⁻¹]; at the bed, what the integrator leaves of a slip that ended


class SolveIvpEngine:
    """Plays a shot by numerical integration."""

    def __init__(self, shot: TwoBallShot) -> None:
        self._shot = shot

    def outcome(self) -> Outcome:
        """Played to rest and read on the way."""
        shot = self._shot
        state = np.array([0.0, 0.0, *shot.start, *shot.object_ball, 0.0, 0.0, 0.0, 0.0, 0.0])
        modes, contact, time, direction = [_begin(state[WHITE]), RESTING], math.nan, 0.0, math.nan
        while modes != [RESTING, RESTING]:
            solution = _integrate(state, modes, met=not math.isnan(contact))
            state, end = solution.y[:, -1].copy(), time + solution.t[-1]
            read = contact + READ_AFTER
            if time <= read < end:
                vx, vy = solution.sol(read - time)[2:4]
                direction = math.atan2(vy, vx)
            time = end
            if len(solution.t_events[2]):
                contact = time
                state = _impact(state, shot.friction)
                modes = [_begin(state[WHITE]), _begin(state[BALL])]
                continue
            for number, part in enumerate((WHITE, BALL)):
                if len(solution.t_events[number]):
                    modes[number] = _next(state[part], modes[number])
                if len(solution.t_events[3 + number]):
                    state[part][6] = 0.0
        return Outcome(contact, direction, (float(state[0]), float(state[1])))


def _begin(ball: Vector) -> str:
    if math.hypot(*_bed_slip(ball)) > NO_SLIP:
        return SLIDING
    return ROLLING if math.hypot(ball[2], ball[3]) > 0.0 else RESTING


def _next(ball: Vector, mode: str) -> str:
    """How a ball moves once that has ended; what is zero but for rounding is made zero."""
    if mode == ROLLING:
        ball[2:6] = 0.0
        return RESTING
    ball[4:6] = -ball[3] / RADIUS, ball[2] / RADIUS
    return ROLLING


def _bed_slip(ball: Vector) -> tuple[float, float]:
    return ball[2] - RADIUS * ball[5], ball[3] + RADIUS * ball[4]


def _integrate(state: Vector, modes: list[str], met: bool) -> Any:
    """Until one of the two ends its way of moving, or they meet."""
    rates, endings = zip(
        *(_law(state[part], mode) for part, mode in zip((WHITE, BALL), modes, strict=True)),
        strict=True,
    )

    def rate(_: float, now: Vector) -> Vector:
        return np.concatenate([rates[0](now[WHITE]), rates[1](now[BALL])])

    events = [
        _event(lambda now: endings[0](now[WHITE])),
        _event(lambda now: endings[1](now[BALL])),
        _event(lambda now: 1.0 if met else math.dist(now[0:2], now[7:9]) - 2.0 * RADIUS),
        *(_spin_end(part, float(np.sign(state[part][6]))) for part in (WHITE, BALL)),
    ]
    # The motion is so smooth that the integrator would stride across the whole meeting.
    longest = math.inf if met else RADIUS / math.hypot(*state[2:4])
    solution = solve_ivp(
        rate,
        (0.0, LONGEST),
        state,
        events=events,
        dense_output=True,
        max_step=longest,
        **TOLERANCES,
    )
    if solution.status != 1:
        raise ArithmeticError(f"nothing ended: {solution.message}")
    return solution


def _spin_end(part: slice, turn: float) -> Any:
    """The end of that ball's spin about the vertical, if it has any."""
    return _event(lambda now: now[part][6] * turn if turn else 1.0)


def _event(value: Callable[[Vector], float]) -> Any:
    def event(_: float, now: Vector) -> float:
        return value(now)

    event.terminal, event.direction = True, -1.0  # type: ignore[attr-defined]
    return event


def _law(ball: Vector, mode: str) -> tuple[Callable[[Vector], Vector], Callable[[Vector], float]]:
    """Rate of a ball's state, and what falls through zero when that way of moving ends.

    Beyond the end the direction of slip or motion at the start is held, so that the equation
    is smooth where the event is bracketed.
    """
    spin_loss = -SPIN_DECELERATION * float(np.sign(ball[6]))
    if mode == RESTING:
        return lambda now: np.array([0.0] * 6 + [spin_loss]), lambda now: 1.0
    along = np.array(_bed_slip(ball) if mode == SLIDING else ball[2:4])
    along = along / math.hypot(*along)

    def sliding(now: Vector) -> Vector:
        ax, ay = -SLIDING_FRICTION * GRAVITY * along
        arm = 2.5 / RADIUS  # torque −R ẑ × F over 2/5 m R²
        return np.array([now[2], now[3], ax, ay, arm * ay, -arm * ax, spin_loss])

    def rolling(now: Vector) -> Vector:
        ax, ay = -ROLLING_RESISTANCE * GRAVITY * along
        return np.array([now[2], now[3], ax, ay, -ay / RADIUS, ax / RADIUS, spin_loss])

    if mode == SLIDING:
        return sliding, lambda now: float(np.dot(_bed_slip(now), along))
    return rolling, lambda now: float(now[2:4] @ along)


def _impact(state: Vector, friction: BallFriction) -> Vector:
    """Both balls after their impact: mass 1, integrated over the normal impulse."""
    normal = np.append(state[7:9] - state[0:2], 0.0)
    normal /= np.linalg.norm(normal)
    white, ball = np.append(state[2:4], 0.0), np.append(state[9:11], 0.0)
    spins = state[4:7].copy(), state[11:14].copy()
    slip = white - ball + np.cross(spins[0] + spins[1], RADIUS * normal)
    slip -= (slip @ normal) * normal
    size = float(np.linalg.norm(slip))
    along = slip / size if size > 0.0 else slip
    total = 0.5 * (1.0 + RESTITUTION) * float((white - ball) @ normal)
    tangential = (size - _slip_left(size, total, friction)) / 7.0
    push = -total * normal - tangential * along  # on the white
    turn = 2.5 / RADIUS**2 * np.cross(RADIUS * normal, push)  # the same for both
    after = state.copy()
    after[2:4], after[9:11] = (white + push)[:2], (ball - push)[:2]
    after[4:7], after[11:14] = spins[0] + turn, spins[1] + turn
    return after


def _slip_left(size: float, total: float, friction: BallFriction) -> float:
    """Slip at the end of the impact. A solid sphere's surface gives 7/2 of a push each."""
    if friction.floor + friction.span == 0.0 or size == 0.0:
        return size
    floor, span, decay = friction
    solution = solve_ivp(
        lambda _, slip: -7.0 * (floor + span * np.exp(-decay * slip)),
        (0.0, total),
        [size],
        events=_event(lambda slip: float(slip[0])),
        **TOLERANCES,
    )
    return max(0.0, float(solution.y[0, -1]))
