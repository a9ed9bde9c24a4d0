"""One impulse on balls that touch, integrated with the balls' small displacements as state.

Lines of centres are frozen. Every ball has a displacement, a velocity and an angular velocity,
all in three dimensions; the compression of a contact is what the displacements make of it. Hertz
with damping along the line, Coulomb friction smoothed across it. Units: the striking speed, the
first ball's mass and radius are 1, and time is scaled so that Hertz's stiffness is 1.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

Vector = NDArray[np.float64]

TOLERANCE = 1e-9  # relative; absolute a hundredth of it
STRETCH = 4.0  # of scaled time between looks whether all is over; a contact lasts about 3
MOST_STRETCHES = 60
SETTLED = 1e-6  # speeds below this no longer close a contact
LONGEST_STEP = 0.05  # no contact can come and go unseen within it


@dataclass(frozen=True)
class TouchingBalls:
    """Balls of one size and mass that stand about on one bed.

    Attributes:
        places: (n, 2) centres over the radius
        velocities: (n, 2) over the striking speed
        spins: (n, 3) times the radius over the striking speed
        damping: α of Hertz's law with damping
        friction: floor, span and decay (times the striking speed)
        smoothing: ε of the friction
        nearby: gap below which two balls concern each other, over the radius
        peak: compression of the first impact over the radius, by which gaps are scaled
    """

    places: Vector
    velocities: Vector
    spins: Vector
    damping: float
    friction: tuple[float, float, float]
    smoothing: float
    nearby: float
    peak: float


def after_impulse(balls: TouchingBalls) -> tuple[Vector, Vector]:
    """Velocities (n, 2) and spins (n, 3) when no contact presses or is about to."""
    law = _Law(balls)
    count = len(balls.places)
    state = np.zeros((count, 9))
    state[:, 3:5] = balls.velocities
    state[:, 6:] = balls.spins
    flat = state.ravel()
    for _ in range(MOST_STRETCHES):
        run = solve_ivp(
            law.rate, (0.0, STRETCH), flat, method="LSODA",
            rtol=TOLERANCE, atol=0.01 * TOLERANCE, max_step=LONGEST_STEP,
        )  # fmt: skip
        flat = run.y[:, -1]
        if law.over(flat):
            break
    state = flat.reshape(count, 9)
    return state[:, 3:5], state[:, 6:]


class _Law:
    def __init__(self, balls: TouchingBalls) -> None:
        self.balls = balls
        pairs: list[tuple[int, int]] = []
        lines: list[Sequence[float]] = []
        gaps: list[float] = []
        for i, j in combinations(range(len(balls.places)), 2):
            line = balls.places[j] - balls.places[i]
            distance = float(np.hypot(*line))
            if distance - 2.0 < balls.nearby:
                pairs.append((i, j))
                lines.append((*(line / distance), 0.0))
                gaps.append(max(distance - 2.0, 0.0))
        self.first = np.array([pair[0] for pair in pairs])
        self.second = np.array([pair[1] for pair in pairs])
        self.lines = np.array(lines)
        # Lengths are scaled so that k = 1; the peak of an impact at speed 1 is then known.
        self.gaps = np.array(gaps) / balls.peak * (1.25 * 0.5) ** 0.4

    def forces(self, state: Vector) -> tuple[Vector, Vector, Vector]:
        """Normal force of each contact, closing speeds, and slips."""
        velocity, spin = state[:, 3:6], state[:, 6:]
        apart = state[self.first, :3] - state[self.second, :3]
        depth = np.maximum(np.sum(apart * self.lines, axis=1) - self.gaps, 0.0)
        relative = velocity[self.first] - velocity[self.second]
        closing = np.sum(relative * self.lines, axis=1)
        reduced = 0.5
        force = depth**1.5 + self.balls.damping * np.sqrt(reduced) * depth**0.25 * closing
        turning = np.cross(spin[self.first] + spin[self.second], self.lines)
        slip = relative + turning - closing[:, None] * self.lines
        return np.maximum(force, 0.0), closing, slip

    def rate(self, _: float, flat: Vector) -> Vector:
        state = flat.reshape(-1, 9)
        force, _, slip = self.forces(state)
        square = np.sum(slip * slip, axis=1)
        floor, span, decay = self.balls.friction
        coefficient = floor + span * np.exp(-decay * np.sqrt(square))
        smooth = np.sqrt(square + self.balls.smoothing**2)
        rub = -(coefficient * force / smooth)[:, None] * slip
        on_first = rub - force[:, None] * self.lines
        change = np.zeros_like(state)
        change[:, :3] = state[:, 3:6]
        np.add.at(change[:, 3:6], self.first, on_first)
        np.add.at(change[:, 3:6], self.second, -on_first)
        torque = 2.5 * np.cross(self.lines, rub)
        np.add.at(change[:, 6:], self.first, torque)
        np.add.at(change[:, 6:], self.second, torque)
        return change.ravel()

    def over(self, flat: Vector) -> bool:
        """Whether nothing presses and nothing closes."""
        force, closing, _ = self.forces(flat.reshape(-1, 9))
        return bool(np.all(force <= 0.0) and np.all(closing < SETTLED))
