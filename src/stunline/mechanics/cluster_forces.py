"""Law 6, the forces: Hertz with damping along every line of centres, Coulomb across it."""

import math

from stunline.mechanics.cluster_members import (
    CONTACT_A,
    CONTACT_B,
    CONTACT_DAMPING,
    CONTACT_FADING,
    CONTACT_FORCE,
    CONTACT_LIST,
    CONTACT_LIVE,
    CONTACT_LOADED,
    CONTACT_NOW,
    CONTACT_NX,
    CONTACT_NY,
    CONTACT_NZ,
    CONTACT_RATE,
    CONTACT_SLIP,
    CONTACT_STAGE,
    CONTACT_STIFFNESS,
    MEMBER_GRIP,
    MEMBER_LIST,
    MEMBER_LIVE,
    MEMBER_NOW,
    MEMBER_PER_MASS,
    MEMBER_RATE,
    MEMBER_STAGE,
    VECTOR,
)
from stunline.mechanics.compiling import inlined_kernel, kernel

SLIP_PER_IMPULSE = 3.5  # of solid spheres: both centres and both turns give way [-]
# By how much a contact may close faster within a step than at its start, over the striking
# speed. [-] A hundredth of a contact time changes it by some 0.05 of that. One that sets in all the
# same is found a step late, when its force is still next to nothing.
MORE_CLOSING = 0.1
NEAR_FADING = 1.0 / 16.0  # change of decay · slip over which the series is taken [-]


@kernel
def choose_live(members, balls, contacts, count, step, speed):
    """List the contacts that may be loaded within the step, and their members.

    The others are only looked at from step to step. Sets every contact's rate of closing.

    Args: ``balls`` and ``count`` rows of members and contacts; ``step`` [s]; ``speed`` at which
        the balls were struck. [m s⁻¹]
    Returns: how many contacts and members are listed, and whether one of these contacts sets in or
        ends within the step.
    """
    changes = False
    for row in range(balls):
        members[row, MEMBER_LIVE] = 0.0
    live = 0
    for c in range(count):
        a = int(contacts[c, CONTACT_A])
        b = int(contacts[c, CONTACT_B])
        closing = (
            (members[a, MEMBER_NOW] - members[b, MEMBER_NOW]) * contacts[c, CONTACT_NX]
            + (members[a, MEMBER_NOW + 1] - members[b, MEMBER_NOW + 1]) * contacts[c, CONTACT_NY]
            + (members[a, MEMBER_NOW + 2] - members[b, MEMBER_NOW + 2]) * contacts[c, CONTACT_NZ]
        )  # fmt: skip
        contacts[c, CONTACT_RATE] = closing
        contacts[c, CONTACT_FORCE] = 0.0
        contacts[c, CONTACT_LIVE] = 0.0
        depth = contacts[c, CONTACT_NOW]
        if depth + max(closing + MORE_CLOSING * speed, 0.0) * step > 0.0:
            changes = changes or depth <= 0.0 or depth + closing * step <= 0.0
            contacts[c, CONTACT_LIVE] = 1.0
            contacts[c, CONTACT_STAGE] = depth
            contacts[live, CONTACT_LIST] = c
            live += 1
            members[a, MEMBER_LIVE] = 1.0
            members[b, MEMBER_LIVE] = 1.0
    moving = 0
    for row in range(balls):
        if members[row, MEMBER_LIVE] > 0.0:
            members[moving, MEMBER_LIST] = row
            moving += 1
            for k in range(VECTOR):
                members[row, MEMBER_STAGE + k] = members[row, MEMBER_NOW + k]
    return live, moving, changes


@inlined_kernel
def _fading(contacts, c, decay, slip):
    """exp(−decay · slip), from the last one found by its series where the slip is near that. [-]

    With |x| < 1/16 the series leaves x⁷/7!, below 1e-12.
    """
    x = decay * (contacts[c, CONTACT_SLIP] - slip)
    if abs(x) < NEAR_FADING:
        series = 1.0 + x * (1.0 / 5.0) * (1.0 + x * (1.0 / 6.0))
        series = 1.0 + x * (1.0 / 3.0) * (1.0 + x * (1.0 / 4.0) * series)
        return contacts[c, CONTACT_FADING] * (1.0 + x * (1.0 + x * (1.0 / 2.0) * series))
    fading = math.exp(-decay * slip)
    contacts[c, CONTACT_SLIP] = slip
    contacts[c, CONTACT_FADING] = fading
    return fading


@kernel
def rates(members, moving, contacts, live, smoothing, floor, span, decay):
    """Set the rates of change at the stage of velocities, spins and compressions.

    Args: how many live ``moving`` members and ``live`` contacts are listed; ``smoothing`` ε
        [m s⁻¹]; friction as in ``slip_left``.
    Returns: whether any contact is loaded, and a bound on how fast friction turns a slip
        round, the greatest sum of two balls' Σ (7/2) μF/(m √(u² + ε²)). [s⁻¹]
    """
    for listed in range(moving):
        row = int(members[listed, MEMBER_LIST])
        members[row, MEMBER_GRIP] = 0.0
        for k in range(VECTOR):
            members[row, MEMBER_RATE + k] = 0.0
    any_loaded = False
    rough = floor + span > 0.0
    for listed in range(live):
        c = int(contacts[listed, CONTACT_LIST])
        a = int(contacts[c, CONTACT_A])
        b = int(contacts[c, CONTACT_B])
        nx = contacts[c, CONTACT_NX]
        ny = contacts[c, CONTACT_NY]
        nz = contacts[c, CONTACT_NZ]
        wx = members[a, MEMBER_STAGE] - members[b, MEMBER_STAGE]
        wy = members[a, MEMBER_STAGE + 1] - members[b, MEMBER_STAGE + 1]
        wz = members[a, MEMBER_STAGE + 2] - members[b, MEMBER_STAGE + 2]
        closing = wx * nx + wy * ny + wz * nz
        contacts[c, CONTACT_RATE] = closing
        contacts[c, CONTACT_FORCE] = 0.0
        depth = contacts[c, CONTACT_STAGE]
        if depth <= 0.0:
            continue
        root = math.sqrt(depth)
        force = (
            contacts[c, CONTACT_STIFFNESS] * depth * root
            + contacts[c, CONTACT_DAMPING] * math.sqrt(root) * closing
        )  # fmt: skip
        if force <= 0.0:
            continue
        any_loaded = True
        contacts[c, CONTACT_LOADED] = 1.0
        contacts[c, CONTACT_FORCE] = force
        per_a = members[a, MEMBER_PER_MASS]
        per_b = members[b, MEMBER_PER_MASS]
        fx = -force * nx
        fy = -force * ny
        fz = -force * nz
        if rough:
            # Slip of the surfaces: relative velocity plus R times both spins × n, less its
            # normal part.
            sx = members[a, MEMBER_STAGE + 3] + members[b, MEMBER_STAGE + 3]
            sy = members[a, MEMBER_STAGE + 4] + members[b, MEMBER_STAGE + 4]
            sz = members[a, MEMBER_STAGE + 5] + members[b, MEMBER_STAGE + 5]
            ux = wx - closing * nx + sy * nz - sz * ny
            uy = wy - closing * ny + sz * nx - sx * nz
            uz = wz - closing * nz + sx * ny - sy * nx
            square = ux * ux + uy * uy + uz * uz
            friction = floor
            if span > 0.0:
                friction += span * _fading(contacts, c, decay, math.sqrt(square))
            rub = friction * force / math.sqrt(square + smoothing * smoothing)
            members[a, MEMBER_GRIP] += SLIP_PER_IMPULSE * rub * per_a
            members[b, MEMBER_GRIP] += SLIP_PER_IMPULSE * rub * per_b
            tx = -rub * ux
            ty = -rub * uy
            tz = -rub * uz
            fx += tx
            fy += ty
            fz += tz
            # I = (2/5) m R²: R dω/dt = (5/2) n × T/m, the same way round for both.
            cx = 2.5 * (ny * tz - nz * ty)
            cy = 2.5 * (nz * tx - nx * tz)
            cz = 2.5 * (nx * ty - ny * tx)
            members[a, MEMBER_RATE + 3] += cx * per_a
            members[a, MEMBER_RATE + 4] += cy * per_a
            members[a, MEMBER_RATE + 5] += cz * per_a
            members[b, MEMBER_RATE + 3] += cx * per_b
            members[b, MEMBER_RATE + 4] += cy * per_b
            members[b, MEMBER_RATE + 5] += cz * per_b
        members[a, MEMBER_RATE] += fx * per_a
        members[a, MEMBER_RATE + 1] += fy * per_a
        members[a, MEMBER_RATE + 2] += fz * per_a
        members[b, MEMBER_RATE] -= fx * per_b
        members[b, MEMBER_RATE + 1] -= fy * per_b
        members[b, MEMBER_RATE + 2] -= fz * per_b
    grip = 0.0
    if rough:
        for listed in range(live):
            c = int(contacts[listed, CONTACT_LIST])
            grip = max(
                grip,
                members[int(contacts[c, CONTACT_A]), MEMBER_GRIP]
                + members[int(contacts[c, CONTACT_B]), MEMBER_GRIP],
            )
    return any_loaded, grip
