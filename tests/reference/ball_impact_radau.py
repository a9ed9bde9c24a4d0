"""One impact of two equal balls, integrated over the normal impulse.

The normal impulse ends at (1 + e) times what stops the approach; along it Coulomb friction
opposes the slip of the two surfaces, its vertical part included. Both balls are free vertically
while it lasts; the vertical velocity is dropped after. Inside, mass, radius and the normal
speed of approach are 1.
"""

from __future__ import annotations

import numpy as np

from reference.smooth_friction import Matrix, Vector, direction, direction_slope, integrate

SMOOTHING = 1e-10  # ε over the normal speed of approach
INVERSE_INERTIA = 2.5  # solid sphere, I = 2/5 m R², in units of m R²

Friction = float | tuple[float, float, float]  # a constant, or (floor, span, decay [s m⁻¹])


def ball_impact(
    motion_a: Vector,
    motion_b: Vector,
    normal: Vector,
    radius: float,
    restitution: float,
    friction: Friction,
) -> tuple[Vector, Vector]:
    """Motions (vx, vy, ωx, ωy, ωz) after; ``normal`` is the unit vector from a to b in plan."""
    speed = float((motion_a[:2] - motion_b[:2]) @ normal)
    if speed <= 0.0:
        raise ValueError(f"the balls do not approach: {speed} m/s")
    scale = np.array([speed, speed, speed / radius, speed / radius, speed / radius])
    law = _Law(np.array([normal[0], normal[1], 0.0]), friction, speed)
    start = np.concatenate([_spatial(motion_a / scale), _spatial(motion_b / scale)])
    impulse = 0.5 * (1.0 + restitution)
    slip = law.slip @ start
    slip_after = integrate(law.rate, law.jacobian, slip, (0.0, impulse)).y[:, -1]
    end = start + law.change(impulse, slip_after - slip)
    return _plan(end[:6]) * scale, _plan(end[6:]) * scale


def _spatial(motion: Vector) -> Vector:
    return np.concatenate([motion[:2], [0.0], motion[2:]])


def _plan(motion: Vector) -> Vector:
    return np.concatenate([motion[:2], motion[3:]])


class _Law:
    """Rate of the slip (along the horizontal tangent, upwards) per unit normal impulse."""

    def __init__(self, normal: Vector, friction: Friction, speed: float) -> None:
        self.floor, self.span, self.decay = (
            (friction, 0.0, 0.0) if isinstance(friction, float | int) else friction
        )
        self.decay = self.decay * speed
        plane = [np.cross([0.0, 0.0, 1.0], normal), np.array([0.0, 0.0, 1.0])]
        self.normal_response = _response(-normal, normal)
        self.friction_response = np.column_stack([_response(along, normal) for along in plane])
        self.slip = np.vstack([_surface_velocity(along, normal) for along in plane])
        self.slip_response = self.slip @ self.friction_response

    def coefficient(self, slip: Vector) -> float:
        """Friction at this slip. [-]"""
        return self.floor + self.span * float(np.exp(-self.decay * np.sqrt(slip @ slip)))

    def rate(self, _: float, slip: Vector) -> Vector:
        """Change of the slip; the normal impulse itself changes none of it."""
        return -self.coefficient(slip) * self.slip_response @ direction(slip, SMOOTHING)

    def jacobian(self, _: float, slip: Vector) -> Matrix:
        """Derivative of ``rate``."""
        towards, length = direction(slip, SMOOTHING), np.sqrt(slip @ slip)
        slope = self.coefficient(slip) * direction_slope(slip, SMOOTHING)
        if length > 0.0:
            fall = -self.decay * (self.coefficient(slip) - self.floor)
            slope += fall * np.outer(towards, slip / length)
        return -self.slip_response @ slope

    def change(self, impulse: float, slip_change: Vector) -> Vector:
        """Change of both balls' motions by the normal impulse and by the friction's.

        The friction's impulse is the one that makes the change of slip found.
        """
        friction_impulse = np.linalg.solve(self.slip_response, slip_change)
        return self.normal_response * impulse + self.friction_response @ friction_impulse


def _response(force: Vector, normal: Vector) -> Vector:
    """Change of both balls by a unit impulse on a, and its opposite on b, at the contact."""
    spin = INVERSE_INERTIA * np.cross(normal, force)
    return np.concatenate([force, spin, -force, INVERSE_INERTIA * np.cross(-normal, -force)])


def _surface_velocity(along: Vector, normal: Vector) -> Vector:
    """Row that gives the velocity of a's surface over b's at the contact, along a tangent."""
    row = np.zeros(12)
    for column in range(12):
        unit = np.zeros(12)
        unit[column] = 1.0
        surface_a = unit[:3] + np.cross(unit[3:6], normal)
        surface_b = unit[6:9] + np.cross(unit[9:], -normal)
        row[column] = along @ (surface_a - surface_b)
    return row
