"""One impact on a cushion, integrated over the normal impulse.

The incremental-impulse model of Mathavan, Jackson and Parkin (2010): a rigid sphere meets the
cushion's nose above its centre while the cloth carries it below; Coulomb friction at both; the
recovery ends when the work given back is e² of the work taken (energetic restitution).

Frame: ``x`` along the cushion, ``y`` horizontal into it, ``z`` up. Inside, mass, radius and the
ball's speed of approach are 1; the law has no scale of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from reference.smooth_friction import (
    Matrix,
    Vector,
    direction,
    direction_slope,
    integrate_until,
)

SMOOTHING = 1e-10  # ε over the speed of approach: sticking impacts are off by up to 100 ε
INVERSE_INERTIA = 2.5  # solid sphere, I = 2/5 m R², in units of m R²
LARGEST_IMPULSE = 50.0  # over the normal speed of approach; an impact needs about 2 or 3
STUCK_SLIP = 1e-5  # over the speed of approach: below it for a while, a contact counts as sticking
STUCK_SPAN = 0.01  # the while, as a share of the whole normal impulse

Motion = tuple[float, float, float, float, float]


@dataclass(frozen=True)
class CushionImpact:
    """What the reference found.

    Attributes:
        after: vx, vy [m s⁻¹], ωx, ωy, ωz [rad s⁻¹]
        nose_sticks, bed_sticks: whether that contact stuck during part of the impact
        unloaded: whether the cloth's load reached zero
    """

    after: Motion
    nose_sticks: bool
    bed_sticks: bool
    unloaded: bool


def cushion_impact_reference(
    vx: float,
    vy: float,
    wx: float,
    wy: float,
    wz: float,
    radius: float,
    nose_height: float,
    restitution: float,
    cushion_friction: float,
    sliding_friction: float,
    smoothing: float = SMOOTHING,
) -> Motion:
    """Velocity [m s⁻¹] and spin [rad s⁻¹] after the impact; ``vy`` > 0 approaches."""
    return cushion_impact(
        (vx, vy, wx, wy, wz),
        radius,
        nose_height,
        restitution,
        cushion_friction,
        sliding_friction,
        smoothing,
    ).after


def cushion_impact(
    before: Motion,
    radius: float,
    nose_height: float,
    restitution: float,
    cushion_friction: float,
    sliding_friction: float,
    smoothing: float = SMOOTHING,
) -> CushionImpact:
    """The impact, and which contacts stuck while it lasted."""
    if before[1] <= 0.0:
        raise ValueError(f"the ball does not approach the cushion: vy = {before[1]} m/s")
    speed = float(np.hypot(before[0], before[1]))
    scale = np.array([speed, speed, speed / radius, speed / radius, speed / radius])
    law = _Law(nose_height / radius - 1.0, cushion_friction, sliding_friction, smoothing)
    start = law.start(np.array(before) / scale)
    limit = LARGEST_IMPULSE * before[1] / speed
    middle, at_rest, impulses, states = integrate_until(
        law.rate, law.jacobian, start, (0.0, limit), law.approach, law.approach_rate
    )
    kept = (1.0 - restitution**2) * at_rest[5]
    _, end, more_impulses, more_states = integrate_until(
        law.rate,
        law.jacobian,
        at_rest,
        (middle, middle + limit),
        lambda state: state[5] - kept,
        law.work_rate,
    )
    impulses = np.concatenate([impulses, more_impulses])
    states = np.concatenate([states, more_states], axis=1)
    nose = _sticks(impulses, np.linalg.norm(states[:2], axis=0))
    bed = _sticks(impulses, np.linalg.norm(states[2:4], axis=0))
    unloaded = min(law.load(law.nose_friction(state)) for state in states.T) <= 0.0
    after = tuple(float(number) for number in law.motion(end) * scale)
    return CushionImpact(after, nose, bed, unloaded)


def _sticks(impulses: Vector, slips: Vector) -> bool:
    both = (slips[:-1] < STUCK_SLIP) & (slips[1:] < STUCK_SLIP)
    return bool(np.sum(np.diff(impulses)[both]) > STUCK_SPAN * impulses[-1])


class _Law:
    """Rates per unit normal impulse.

    State: slip at the nose (along, upwards), slip at the bed (along, into the cushion), speed
    along the cushion, work taken by the nose. The slips are coordinates themselves so that the
    solver's relative tolerance holds for a slip of the order of ε.
    """

    def __init__(
        self, sine: float, cushion_friction: float, sliding_friction: float, smoothing: float
    ) -> None:
        self.sine, self.cosine = sine, float(np.sqrt(1.0 - sine**2))
        self.cushion_friction, self.sliding_friction = cushion_friction, sliding_friction
        self.smoothing = smoothing
        nose = np.array([0.0, self.cosine, self.sine])
        bed = np.array([0.0, 0.0, -1.0])
        along = np.array([1.0, 0.0, 0.0])
        nose_plane = [along, np.array([0.0, -self.sine, self.cosine])]
        bed_plane = [along, np.array([0.0, 1.0, 0.0])]
        self.to_slips = np.vstack([_slip(nose_plane, nose), _slip(bed_plane, bed), np.eye(5)[0]])
        self.from_slips = np.linalg.inv(self.to_slips)
        self.normal_response = self.to_slips @ _response(-nose, nose)
        self.nose_response = self.to_slips @ _columns(nose_plane, nose)
        self.bed_response = self.to_slips @ _columns(bed_plane, bed)

    def start(self, motion: Vector) -> Vector:
        """State of a ball with this motion (vx, vy, ωx, ωy, ωz) that reaches the nose."""
        return np.append(self.to_slips @ motion, 0.0)

    def motion(self, state: Vector) -> Vector:
        """Motion (vx, vy, ωx, ωy, ωz) of the ball in this state."""
        return self.from_slips @ state[:5]

    def approach(self, state: Vector) -> float:
        """Speed into the cushion."""
        return float(self.from_slips[1] @ state[:5])

    def approach_rate(self, state: Vector) -> float:
        """Its change per unit normal impulse."""
        return float(self.from_slips[1] @ self.rate(0.0, state)[:5])

    def work_rate(self, state: Vector) -> float:
        """Work taken by the nose per unit impulse: its normal times the ball's velocity."""
        return self.approach(state) * self.cosine

    def nose_friction(self, state: Vector) -> Vector:
        """Friction on the ball in the nose's tangent plane (along, upwards)."""
        return -self.cushion_friction * direction(state[:2], self.smoothing)

    def load(self, nose_friction: Vector) -> float:
        """The cloth's load that holds the ball's vertical velocity at zero; never below 0."""
        return max(0.0, self.sine - self.cosine * float(nose_friction[1]))

    def rate(self, _: float, state: Vector) -> Vector:
        """Change of the state per unit normal impulse."""
        friction = self.nose_friction(state)
        cloth = -self.sliding_friction * direction(state[2:4], self.smoothing)
        change = np.empty(6)
        change[:5] = self.normal_response + self.nose_response @ friction
        change[:5] += self.bed_response @ (self.load(friction) * cloth)
        change[5] = self.work_rate(state)
        return change

    def jacobian(self, _: float, state: Vector) -> Matrix:
        """Derivative of ``rate``."""
        friction = self.nose_friction(state)
        load = self.load(friction)
        cloth = -self.sliding_friction * direction(state[2:4], self.smoothing)
        nose_slope = -self.cushion_friction * direction_slope(state[:2], self.smoothing)
        bed_slope = -self.sliding_friction * direction_slope(state[2:4], self.smoothing)
        load_slope = -self.cosine * nose_slope[1] if load > 0.0 else np.zeros(2)
        slope = np.zeros((6, 6))
        slope[:5, :2] = self.nose_response @ nose_slope
        slope[:5, :2] += np.outer(self.bed_response @ cloth, load_slope)
        slope[:5, 2:4] = load * self.bed_response @ bed_slope
        slope[5, :5] = self.cosine * self.from_slips[1]
        return slope


def _response(force: Vector, point: Vector) -> Vector:
    """Newton and Euler: change of vx, vy and spin by a unit impulse at a point of the ball."""
    return np.concatenate([force[:2], INVERSE_INERTIA * np.cross(point, force)])


def _columns(plane: list[Vector], point: Vector) -> Matrix:
    return np.column_stack([_response(tangent, point) for tangent in plane])


def _slip(plane: list[Vector], point: Vector) -> Matrix:
    """Rows that give the velocity of a point of the ball along two tangents."""
    rows = np.zeros((2, 5))
    for column in range(5):
        unit = np.zeros(5)
        unit[column] = 1.0
        velocity = np.array([unit[0], unit[1], 0.0]) + np.cross(unit[2:], point)
        rows[:, column] = [tangent @ velocity for tangent in plane]
    return rows
