"""Law 1: the strike. From the tip's contact point to the white's velocity and spin."""

import math

from stunline.mechanics.compiling import kernel


@kernel
def squirt_angle(side, radius, ball_to_end_mass):
    """Angle between the cue's direction and the white's first direction. [rad]

    ``tan α = (5/2)·β·√(1−β²) / (1 + m/m_e + (5/2)(1−β²))`` with β = side/R and m_e the
    cue's effective end mass. Positive, turned to the left, for side on the right.

    Valid for a level cue and |β| ≤ 1/2, a contact that neither slips nor miscues.
    Source: R. Cross, "Cue and ball deflection (or 'squirt') in billiards", American Journal
    of Physics 76 (2008), in the form restated by D. Alciatore.
    """
    offset = side / radius
    remaining = 1.0 - offset * offset
    return math.atan2(2.5 * offset * math.sqrt(remaining), 1.0 + ball_to_end_mass + 2.5 * remaining)


@kernel
def ball_speed_from_cue_speed(cue_speed, offset, tip_restitution, ball_to_cue_mass):
    """Ball speed off the tip. [m s⁻¹]

    ``v = V(1 + e_t)/(1 + m/M + (5/2)β²)``: offset β over R [-], cue speed V, M the cue's mass.
    """
    return cue_speed * (1.0 + tip_restitution) / (1.0 + ball_to_cue_mass + 2.5 * offset * offset)


@kernel
def strike(aim, pace, height, side, elevation, radius, ball_to_end_mass):
    """Velocity and spin of the white just after the strike.

    ``ω = (5/2)/R²·(r_c × v)`` with r_c the contact point seen from the centre and v the
    velocity after squirt, ``v = pace·(d̂ − tan(elevation)·ẑ)``. The bed takes up the vertical
    velocity, so what is returned is horizontal; the spin about d̂ stays and gives swerve.

    Args: angles [rad], pace [m s⁻¹] horizontal, height and side perpendicular to the cue [m];
        ``ball_to_end_mass`` infinite for no squirt.
    Returns: vx, vy [m s⁻¹], ωx, ωy, ωz [rad s⁻¹].
    Source: G.-G. Coriolis, Théorie mathématique des effets du jeu de billard (1835), for the
    impulse at the contact point; squirt as in ``squirt_angle``.
    """
    cos_elevation = math.cos(elevation)
    sin_elevation = math.sin(elevation)
    dx = math.cos(aim)
    dy = math.sin(aim)
    # The cue's axes: right = d̂ × ẑ, up perpendicular to the cue, along = the way it moves.
    depth = math.sqrt(radius * radius - height * height - side * side)
    rx = side * dy + height * sin_elevation * dx - depth * cos_elevation * dx
    ry = -side * dx + height * sin_elevation * dy - depth * cos_elevation * dy
    rz = height * cos_elevation + depth * sin_elevation
    first = aim
    if ball_to_end_mass < math.inf:
        first += squirt_angle(side, radius, ball_to_end_mass)
    vx = pace * math.cos(first)
    vy = pace * math.sin(first)
    vz = -pace * sin_elevation / cos_elevation
    turn = 2.5 / (radius * radius)
    wx = turn * (ry * vz - rz * vy)
    wy = turn * (rz * vx - rx * vz)
    wz = turn * (rx * vy - ry * vx)
    return vx, vy, wx, wy, wz
