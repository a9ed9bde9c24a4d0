"""Law 3: two balls meet."""

import math

from stunline.mechanics.compiling import inlined_kernel, kernel


@inlined_kernel
def slip_left(slip, normal_impulse, rate, floor, span, decay):
    """Slip at the end of the impact under friction ``μ(u) = floor + span·exp(−decay·u)``.

    Integrated along the impact, du/dJ = −rate·μ(u):
    ``(a·e^{c u_f} + b) = (a·e^{c u₀} + b)·e^{−rate·a·c·J}``, rate = (7/2)(1/m₁ + 1/m₂); the
    contact sticks (0) where that gives u_f ≤ 0. [m s⁻¹]
    """
    if span == 0.0 or decay == 0.0:
        return max(slip - rate * (floor + span) * normal_impulse, 0.0)
    # Solved for e^{c(u_f − u₀)} − 1, so that neither a small a nor a small c cancels.
    shrunk = -rate * decay * normal_impulse
    if floor > 0.0:
        shrunk = math.expm1(shrunk * floor) / floor
    grown = shrunk * (floor + span * math.exp(-decay * slip))
    return max(slip + math.log1p(grown) / decay, 0.0) if grown > -1.0 else 0.0


@kernel
def ball_impact(
    nx, ny, radius_a, mass_a, radius_b, mass_b,
    vax, vay, wax, way, waz, vbx, vby, wbx, wby, wbz,
    restitution, floor, span, decay,
):  # fmt: skip
    """Velocities and spins of both balls just after they meet.

    Steps: tilt the line of centres when the radii differ; normal impulse from restitution;
    slip of one surface over the other at the contact, its vertical part included; tangential
    impulse against the slip, ``min(∫μ dJ_n, (2/7)·m₁m₂/(m₁+m₂)·u)``; both balls free
    vertically during the impact, the vertical velocity dropped after, which keeps horizontal
    momentum.

    Args: (nx, ny) unit vector in plan from ball a to ball b; velocities [m s⁻¹], spins
        [rad s⁻¹], restitution and friction of ``slip_left``.
    Returns: vax, vay, wax, way, waz, vbx, vby, wbx, wby, wbz.
    Valid for hard balls: contact much shorter than any other time. Sources: Coulomb friction
    with restitution, Coriolis (1835); friction falling with slip, W. Marlow's measurements as
    fitted by D. Alciatore, TP A.14 [M].
    """
    tilt = (radius_b - radius_a) / (radius_a + radius_b)  # sine: b's centre is higher
    level = math.sqrt(1.0 - tilt * tilt)
    lx = level * nx
    ly = level * ny
    closing = (vax - vbx) * lx + (vay - vby) * ly
    reduced = mass_a * mass_b / (mass_a + mass_b)
    # Balls that do not approach do not meet.
    normal = max(reduced * (1.0 + restitution) * closing, 0.0)
    # Surface slip: relative velocity plus (R_a ω_a + R_b ω_b) × n, less its normal part.
    sx = radius_a * wax + radius_b * wbx
    sy = radius_a * way + radius_b * wby
    sz = radius_a * waz + radius_b * wbz
    ux = vax - vbx - closing * lx + sy * tilt - sz * ly
    uy = vay - vby - closing * ly + sz * lx - sx * tilt
    uz = -closing * tilt + sx * ly - sy * lx
    slip = math.sqrt(ux * ux + uy * uy + uz * uz)
    tx = 0.0
    ty = 0.0
    tz = 0.0
    if slip > 0.0:
        rate = 3.5 / reduced
        tangential = (slip - slip_left(slip, normal, rate, floor, span, decay)) / rate
        tx = -tangential * ux / slip
        ty = -tangential * uy / slip
        tz = -tangential * uz / slip
    # Impulse on a; b takes the opposite one.
    jx = tx - normal * lx
    jy = ty - normal * ly
    # Spin: R n × J / I for each, I = (2/5)mR²; n × the normal part vanishes.
    cx = ly * tz - tilt * ty
    cy = tilt * tx - lx * tz
    cz = lx * ty - ly * tx
    turn_a = 2.5 / (mass_a * radius_a)
    turn_b = 2.5 / (mass_b * radius_b)
    return (
        vax + jx / mass_a, vay + jy / mass_a,
        wax + turn_a * cx, way + turn_a * cy, waz + turn_a * cz,
        vbx - jx / mass_b, vby - jy / mass_b,
        wbx + turn_b * cx, wby + turn_b * cy, wbz + turn_b * cz,
    )  # fmt: skip
