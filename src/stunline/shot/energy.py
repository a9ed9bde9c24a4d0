"""Kinetic energy of rolling and spinning balls."""

from __future__ import annotations

from stunline.shot.contact import Contact
from stunline.shot.shot import Motion


def energy_per_mass(motion: Motion, radius: float) -> float:
    """Kinetic energy over mass, spin included: v²/2 + R²ω²/5 for a solid sphere. [J kg⁻¹]"""
    vx, vy = motion.velocity
    wx, wy, wz = motion.spin
    return 0.5 * (vx * vx + vy * vy) + 0.2 * radius * radius * (wx * wx + wy * wy + wz * wz)


def energy_kept(contact: Contact) -> float:
    """Share of both balls' energy that is left just after they meet. [-]"""

    def total(white: Motion, ball: Motion) -> float:
        ball_energy = contact.mass_ratio * energy_per_mass(ball, contact.ball_radius)
        return energy_per_mass(white, contact.radius) + ball_energy

    before = total(contact.white_before, contact.ball_before)
    return total(contact.white_after, contact.ball_after) / before
