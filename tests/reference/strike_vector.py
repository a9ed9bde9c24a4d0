"""The strike from its vector formula.

The impulse acts at the contact point of tip and ball; the ball takes on the spin
``ω = 5/(2R²) · r_c × v`` with ``v`` its velocity after squirt; the bed takes up the vertical part.
"""

from __future__ import annotations

import numpy as np

from reference.smooth_friction import Vector

UP = np.array([0.0, 0.0, 1.0])


def strike_reference(
    aim: float,
    pace: float,
    height: float,
    side: float,
    elevation: float,
    radius: float,
    ball_to_end_mass: float | None,
) -> Vector:
    """Motion (vx, vy [m s⁻¹], ωx, ωy, ωz [rad s⁻¹]) of the white off the tip.

    Args:
        aim, elevation: of the cue [rad]
        pace: horizontal speed of the white off the tip [m s⁻¹]
        height, side: of the contact point, up and to the right, perpendicular to the cue [m]
        radius: [m]
        ball_to_end_mass: for squirt; None for none [-]
    """
    along = np.array([np.cos(aim), np.sin(aim), 0.0])
    right = np.cross(along, UP)
    cue = np.cos(elevation) * along - np.sin(elevation) * UP
    upwards = np.cross(right, cue)
    contact = height * upwards + side * right
    contact = contact - np.sqrt(radius**2 - height**2 - side**2) * cue
    squirt = _squirt(side / radius, ball_to_end_mass)
    first = np.cos(squirt) * along - np.sin(squirt) * right
    velocity = pace * (first - np.tan(elevation) * UP)
    spin = 5.0 / (2.0 * radius**2) * np.cross(contact, velocity)
    return np.concatenate([velocity[:2], spin])


def _squirt(side: float, ball_to_end_mass: float | None) -> float:
    """Angle by which the white leaves to the left for side on the right. [rad]"""
    if ball_to_end_mass is None:
        return 0.0
    rest = 1.0 - side**2
    return float(np.arctan2(2.5 * side * np.sqrt(rest), 1.0 + ball_to_end_mass + 2.5 * rest))
