"""Contact that lasts, as a stiff damped spring between bodies that may overlap a little.

A ball on the cloth: friction against the slip, smoothed, which makes it slide, and then roll
because nothing else is left; rolling resistance as a force on a ball that rolls. Two balls, or
a ball and a straight wall, push each other along the line of centres where they overlap. Nothing
is known here of motions, events, or of mass that rolls.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

Vector = NDArray[np.float64]

SPRING = 1e8  # [s⁻²] over the mass; 2 m s⁻² of push overlap by a fiftieth of a micrometre
DAMPING = 2.0 * SPRING**0.5  # [s⁻¹] so that it does not bounce
SMALL_SLIP = 1e-5  # [m s⁻¹] over which friction is smoothed
ROLLING_SLIP = 1e-3  # [m s⁻¹] below which rolling resistance counts
SMALL_SPEED = 1e-5  # [m s⁻¹] over which rolling resistance is smoothed
AT_REST = 2e-5  # [m s⁻¹]
STRETCH, MOST_STRETCHES = 0.5, 60  # [s]
TOLERANCE = 1e-8


@dataclass(frozen=True)
class PressedBalls:
    """Equal balls with place [m], velocity [m s⁻¹] and spin about x and y [rad s⁻¹].

    ``wall``: whether the centres may not go below y = 0 (a wall whose contact is there).
    """

    states: Sequence[tuple[float, float, float, float, float, float]]
    radius: float
    sliding_friction: float
    rolling_resistance: float
    gravity: float
    wall: bool = False


def rests(balls: PressedBalls) -> Vector:
    """(n, 2) where they come to rest. [m]"""
    flat = np.array(balls.states, dtype=float).ravel()
    for _ in range(MOST_STRETCHES):
        run = solve_ivp(
            lambda _, y: _rate(balls, y), (0.0, STRETCH), flat, method="LSODA",
            rtol=TOLERANCE, atol=1e-10,
        )  # fmt: skip
        flat = run.y[:, -1]
        speeds = np.hypot(*flat.reshape(-1, 6)[:, 2:4].T)
        slips = np.hypot(*_slips(balls, flat.reshape(-1, 6)).T)
        if np.all(speeds < AT_REST) and np.all(slips < AT_REST):
            break
    return flat.reshape(-1, 6)[:, :2]


def _slips(balls: PressedBalls, state: Vector) -> Vector:
    """Velocity of each ball's lowest point over the cloth."""
    turned = np.column_stack([-state[:, 5], state[:, 4]])
    return state[:, 2:4] + balls.radius * turned


def _rate(balls: PressedBalls, flat: Vector) -> Vector:
    state = flat.reshape(-1, 6)
    slip = _slips(balls, state)
    square = np.sum(slip * slip, axis=1)
    strength = balls.sliding_friction * balls.gravity
    cloth = -strength * slip / np.sqrt(square + SMALL_SLIP**2)[:, None]
    velocity = state[:, 2:4]
    speed = np.sqrt(np.sum(velocity * velocity, axis=1) + SMALL_SPEED**2)
    # A rolling ball is held back by its resistance although its spin must slow as well.
    rolling = np.exp(-square / ROLLING_SLIP**2)
    resisting = 1.4 * balls.rolling_resistance * balls.gravity * rolling
    change = np.zeros_like(state)
    change[:, :2] = velocity
    change[:, 2:4] = cloth - (resisting / speed)[:, None] * velocity + _pushes(balls, state)
    change[:, 4] = 2.5 / balls.radius * cloth[:, 1]
    change[:, 5] = -2.5 / balls.radius * cloth[:, 0]
    return change.ravel()


def _pushes(balls: PressedBalls, state: Vector) -> Vector:
    """Accelerations by the springs."""
    push = np.zeros((len(state), 2))
    for i in range(len(state)):
        for j in range(i + 1, len(state)):
            line = state[j, :2] - state[i, :2]
            distance = float(np.hypot(*line))
            line = line / distance
            closing = float((state[i, 2:4] - state[j, 2:4]) @ line)
            depth = 2.0 * balls.radius - distance
            force = _spring(depth, closing)
            push[i] -= force * line
            push[j] += force * line
    if balls.wall:
        for i, one in enumerate(state):
            push[i, 1] += _spring(-one[1], -one[3])
    return push


def _spring(depth: float, closing: float) -> float:
    return max(SPRING * depth + DAMPING * closing, 0.0) if depth > 0.0 else 0.0
