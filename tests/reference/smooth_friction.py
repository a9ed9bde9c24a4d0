"""Coulomb friction made smooth, and an event found to full accuracy on a stiff solution.

Friction opposes slip with the direction ``u/√(u² + ε²)`` in place of ``u/|u|``. Sticking is then
slip of the order of ε: no modes, no switching, only a stiff equation.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

Vector = NDArray[np.float64]
Matrix = NDArray[np.float64]
Rate = Callable[[float, Vector], Vector]
Jacobian = Callable[[float, Vector], Matrix]

RELATIVE_TOLERANCE = 1e-8  # of the stiff solver; results then repeat to 1e-9
ABSOLUTE_TOLERANCE = 1e-12  # must stay well under ε, or a slip may leap through zero unseen
NEWTON_ROUNDS = 6  # an event needs two or three; six leaves room
NEWTON_TARGET = 1e-12  # the last correction of an event, in units of the approach speed


def direction(slip: Vector, smoothing: float) -> Vector:
    """Smooth direction of slip, ``u/√(u² + ε²)``. [-]"""
    return slip / np.sqrt(slip @ slip + smoothing**2)


def direction_slope(slip: Vector, smoothing: float) -> Matrix:
    """Derivative of ``direction`` with respect to the slip. [one over the slip's unit]"""
    length = np.sqrt(slip @ slip + smoothing**2)
    return (np.eye(len(slip)) - np.outer(slip, slip) / length**2) / length


def integrate(
    rate: Rate,
    jacobian: Jacobian,
    start: Vector,
    impulse: tuple[float, float],
    event: Callable[[float, Vector], float] | None = None,
):
    """Radau over the normal impulse, ended by the event if one is given."""
    if event is not None:
        event.terminal = True
        event.direction = -1.0
    solution = solve_ivp(
        rate,
        impulse,
        start,
        method="Radau",
        jac=jacobian,
        events=event,
        rtol=RELATIVE_TOLERANCE,
        atol=ABSOLUTE_TOLERANCE,
    )
    if not solution.success:
        raise ArithmeticError(f"the stiff solver gave up: {solution.message}")
    return solution


def integrate_until(
    rate: Rate,
    jacobian: Jacobian,
    start: Vector,
    impulse: tuple[float, float],
    falling: Callable[[Vector], float],
    falling_rate: Callable[[Vector], float],
) -> tuple[float, Vector, Vector, Matrix]:
    """Integrate until ``falling(state)`` reaches zero from above.

    The solver places the event on its cubic between steps, which is far less accurate than its
    steps. So the last step is integrated again to the place found, and that place corrected by
    Newton's rule until it stands still.

    Returns:
        impulse and state at the event; impulses and states at every accepted step.
    """
    solution = integrate(rate, jacobian, start, impulse, lambda _, state: falling(state))
    if solution.status != 1:
        raise ArithmeticError(f"no end of this part of the impact up to an impulse of {impulse[1]}")
    before, state_before, place = solution.t[-2], solution.y[:, -2], solution.t[-1]
    state = solution.y[:, -1]
    for _ in range(NEWTON_ROUNDS):
        state = integrate(rate, jacobian, state_before, (before, place)).y[:, -1]
        correction = falling(state) / falling_rate(state)
        place -= correction
        if abs(correction) < NEWTON_TARGET:
            break
    return (
        place,
        state,
        np.append(solution.t[:-1], place),
        np.column_stack([solution.y[:, :-1], state]),
    )
