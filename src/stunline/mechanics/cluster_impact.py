"""Law 6: one impulse on a cluster of balls that touch.

While it lasts nothing moves: the lines of centres are frozen and the cloth has no time to
act. What changes are the velocities, the spins and the compression of every contact, which is
integrated from the normal velocities (a gap is a negative one). Contacts press by ``hertz``'s
law; friction is Coulomb's, ``−μ(u) F u/√(u² + ε²)``. Balls are free vertically during the
impulse and their vertical velocity is dropped after, as in law 3.

Surfaces inside a pack mostly stick, and smoothed friction is then a hundred times stiffer than
the contacts. So a step takes the normal forces by the method of Runge and Kutta, with friction
as it was in the step before; then the friction of each contact is taken back and found anew
from the slip that it meets, exactly, one contact after the other, forwards and backwards by
turns. It is stable at any friction.
"""

import math

from stunline.mechanics.cluster_members import (
    CONTACT_A,
    CONTACT_B,
    CONTACT_DAMPING,
    CONTACT_FORCE,
    CONTACT_LOADED,
    CONTACT_NOW,
    CONTACT_NX,
    CONTACT_NY,
    CONTACT_NZ,
    CONTACT_RATE,
    CONTACT_RUB,
    CONTACT_STAGE,
    CONTACT_STIFFNESS,
    CONTACT_SUM,
    MEMBER_BALL,
    MEMBER_NOW,
    MEMBER_PER_MASS,
    MEMBER_PULL,
    MEMBER_RATE,
    MEMBER_SPIN,
    MEMBER_STAGE,
    MEMBER_SUM,
    MEMBER_TOUCHED,
    MEMBER_TURN,
)
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.hertz import contact_time
from stunline.mechanics.moving_ball import MASS, RADIUS, VX, VY, WX, WY, WZ

# Steps in the contact time of two balls at the striking speed. [-] 100 leave 1e-5 of that
# speed, 50 leave 1e-4; the time taken is in proportion.
STEPS_A_CONTACT = 100
# ε of the friction, over the striking speed. [-] Larger lets stuck surfaces creep, smaller
# needs shorter steps.
SMOOTHING = 1e-3
# A contact that closes more slowly than this, over the striking speed, is not waited for: it
# is an impact of its own, at its own speed, right after. [-]
SLOWEST = 1e-6
# Nor is one that takes more than so many contact times to close: by then the balls have moved.
LONGEST_WAIT = 10.0
# A wave through 22 balls takes about a thousand steps. A bound, so that no input stalls.
MOST_STEPS = 200_000
SLIP_PER_IMPULSE = 3.5  # of solid spheres: both centres and both turns give way [-]
VECTOR = 3
LOOKS_AT_THE_MIDDLE = 3  # the slip half-way through a step, found by trying [-]
SLIGHT = 1e-6  # below it (1 − e^{−x})/x is 1 − x/2


@kernel
def cluster_impact(work, members, balls, contacts, count, floor, span, decay):
    """Change the velocities and spins of the members in ``work``; how many contacts loaded.

    Steps: copy the motions; then, in steps of a hundredth of a contact time (the classical
    fourth-order method, then friction), integrate until no contact is loaded and none is about
    to close, going at once over the time in which nothing is loaded; copy the motions back,
    without the vertical velocity, unless only the first contact was ever loaded: two balls
    alone are law 3.

    Args: ``balls`` and ``count`` rows of members and contacts; friction as in ``slip_left``.
    """
    _begin(work, members, balls, contacts, count)
    speed, step = _scales(work, members, contacts, count)
    smoothing = SMOOTHING * speed
    for number in range(MOST_STEPS):
        _stage_is_now(members, balls, contacts, count)
        if not _rates(members, balls, contacts, count, step):
            wait = _next_closing(contacts, count, SLOWEST * speed)
            if wait > LONGEST_WAIT * STEPS_A_CONTACT * step:
                break
            for c in range(count):
                contacts[c, CONTACT_NOW] += wait * contacts[c, CONTACT_RATE]
        _step(members, balls, contacts, count, step)
        if floor + span > 0.0:
            for row in range(balls):
                for k in range(VECTOR):
                    members[row, MEMBER_SPIN + k] += members[row, MEMBER_TURN + k]
            for k in range(count):
                c = k if number % 2 == 0 else count - 1 - k
                _rub(members, contacts, c, step, smoothing, floor, span, decay)
    return _end(work, members, balls, contacts, count)


@inlined_kernel
def _begin(work, members, balls, contacts, count):
    for row in range(balls):
        i = int(members[row, MEMBER_BALL])
        radius = work[i, RADIUS]
        members[row, MEMBER_PER_MASS] = 1.0 / work[i, MASS]
        members[row, MEMBER_NOW] = work[i, VX]
        members[row, MEMBER_NOW + 1] = work[i, VY]
        members[row, MEMBER_NOW + 2] = 0.0
        members[row, MEMBER_SPIN] = radius * work[i, WX]
        members[row, MEMBER_SPIN + 1] = radius * work[i, WY]
        members[row, MEMBER_SPIN + 2] = radius * work[i, WZ]
        members[row, MEMBER_TOUCHED] = 0.0
        for k in range(2 * VECTOR):
            members[row, MEMBER_PULL + k] = 0.0


@inlined_kernel
def _scales(work, members, contacts, count):
    """Striking speed, the fastest at which a contact closes [m s⁻¹], and the step [s]."""
    speed = 0.0
    for c in range(count):
        a = int(contacts[c, CONTACT_A])
        b = int(contacts[c, CONTACT_B])
        closing = (
            (members[a, MEMBER_NOW] - members[b, MEMBER_NOW]) * contacts[c, CONTACT_NX]
            + (members[a, MEMBER_NOW + 1] - members[b, MEMBER_NOW + 1]) * contacts[c, CONTACT_NY]
        )  # fmt: skip
        speed = max(speed, closing)
    i = int(members[0, MEMBER_BALL])
    j = int(members[1, MEMBER_BALL])
    lasts = contact_time(speed, work[i, RADIUS], work[i, MASS], work[j, RADIUS], work[j, MASS])
    return speed, lasts / STEPS_A_CONTACT


@inlined_kernel
def _stage_is_now(members, balls, contacts, count):
    for row in range(balls):
        for k in range(VECTOR):
            members[row, MEMBER_STAGE + k] = members[row, MEMBER_NOW + k]
    for c in range(count):
        contacts[c, CONTACT_STAGE] = contacts[c, CONTACT_NOW]


@inlined_kernel
def _next_closing(contacts, count, slowest):
    """Time until the first gap closes, nothing being loaded. [s]"""
    wait = math.inf
    for c in range(count):
        rate = contacts[c, CONTACT_RATE]
        if rate > slowest:
            wait = min(wait, max(-contacts[c, CONTACT_NOW], 0.0) / rate)
    return wait


@kernel
def _rates(members, balls, contacts, count, step):
    """Rates of change at the stage, friction as before; whether any contact is loaded."""
    for row in range(balls):
        for k in range(VECTOR):
            members[row, MEMBER_RATE + k] = members[row, MEMBER_PULL + k] / step
    any_loaded = False
    for c in range(count):
        a = int(contacts[c, CONTACT_A])
        b = int(contacts[c, CONTACT_B])
        nx = contacts[c, CONTACT_NX]
        ny = contacts[c, CONTACT_NY]
        nz = contacts[c, CONTACT_NZ]
        closing = (
            (members[a, MEMBER_STAGE] - members[b, MEMBER_STAGE]) * nx
            + (members[a, MEMBER_STAGE + 1] - members[b, MEMBER_STAGE + 1]) * ny
            + (members[a, MEMBER_STAGE + 2] - members[b, MEMBER_STAGE + 2]) * nz
        )
        contacts[c, CONTACT_RATE] = closing
        force = _force(contacts, c, contacts[c, CONTACT_STAGE], closing)
        if force > 0.0:
            any_loaded = True
            contacts[c, CONTACT_LOADED] = 1.0
            on_a = force * members[a, MEMBER_PER_MASS]
            on_b = force * members[b, MEMBER_PER_MASS]
            members[a, MEMBER_RATE] -= on_a * nx
            members[a, MEMBER_RATE + 1] -= on_a * ny
            members[a, MEMBER_RATE + 2] -= on_a * nz
            members[b, MEMBER_RATE] += on_b * nx
            members[b, MEMBER_RATE + 1] += on_b * ny
            members[b, MEMBER_RATE + 2] += on_b * nz
    return any_loaded


@inlined_kernel
def _force(contacts, c, depth, closing):
    """F of ``hertz`` at that compression and closing speed, cut at zero. [N]"""
    if depth <= 0.0:
        return 0.0
    root = math.sqrt(depth)
    force = (
        contacts[c, CONTACT_STIFFNESS] * depth * root
        + contacts[c, CONTACT_DAMPING] * math.sqrt(root) * closing
    )  # fmt: skip
    return max(force, 0.0)


@inlined_kernel
def _rub(members, contacts, c, step, smoothing, floor, span, decay):
    """Find one contact's friction over the step anew, under the mean of F at its ends.

    The slip keeps its direction and shrinks by du/dJ = −(7/2)(1/m₁ + 1/m₂) μ(u) u/√(u² + ε²).
    """
    a = int(contacts[c, CONTACT_A])
    b = int(contacts[c, CONTACT_B])
    nx = contacts[c, CONTACT_NX]
    ny = contacts[c, CONTACT_NY]
    nz = contacts[c, CONTACT_NZ]
    wx = members[a, MEMBER_NOW] - members[b, MEMBER_NOW]
    wy = members[a, MEMBER_NOW + 1] - members[b, MEMBER_NOW + 1]
    wz = members[a, MEMBER_NOW + 2] - members[b, MEMBER_NOW + 2]
    closing = wx * nx + wy * ny + wz * nz
    now = _force(contacts, c, contacts[c, CONTACT_NOW], closing)
    force = 0.5 * (now + contacts[c, CONTACT_FORCE])
    bx = contacts[c, CONTACT_RUB]
    by = contacts[c, CONTACT_RUB + 1]
    bz = contacts[c, CONTACT_RUB + 2]
    if force <= 0.0 and bx == 0.0 and by == 0.0 and bz == 0.0:
        return
    contacts[c, CONTACT_FORCE] = now
    per_a = members[a, MEMBER_PER_MASS]
    per_b = members[b, MEMBER_PER_MASS]
    yielding = SLIP_PER_IMPULSE * (per_a + per_b)
    # Slip of the surfaces: relative velocity plus R times both spins × n, less its normal part.
    sx = members[a, MEMBER_SPIN] + members[b, MEMBER_SPIN]
    sy = members[a, MEMBER_SPIN + 1] + members[b, MEMBER_SPIN + 1]
    sz = members[a, MEMBER_SPIN + 2] + members[b, MEMBER_SPIN + 2]
    ux = wx - closing * nx + sy * nz - sz * ny
    uy = wy - closing * ny + sz * nx - sx * nz
    uz = wz - closing * nz + sx * ny - sy * nx
    square = ux * ux + uy * uy + uz * uz
    # What friction takes in the step were it not smoothed, over the slip that smooths it.
    taken = yielding * force * step
    middle = square
    ex = ux
    ey = uy
    ez = uz
    for _ in range(LOOKS_AT_THE_MIDDLE):
        friction = floor + span * math.exp(-decay * math.sqrt(middle)) if span > 0.0 else floor
        rate = taken * friction / math.sqrt(middle + smoothing * smoothing)
        kept = math.exp(-rate)
        given = yielding * ((1.0 - kept) / rate if rate > SLIGHT else 1.0 - 0.5 * rate)
        ex = kept * ux - given * bx
        ey = kept * uy - given * by
        ez = kept * uz - given * bz
        middle = 0.25 * (
            (ux + ex) * (ux + ex) + (uy + ey) * (uy + ey) + (uz + ez) * (uz + ez)
        )
    tx = (ex - ux) / yielding
    ty = (ey - uy) / yielding
    tz = (ez - uz) / yielding
    contacts[c, CONTACT_RUB] = bx + tx
    contacts[c, CONTACT_RUB + 1] = by + ty
    contacts[c, CONTACT_RUB + 2] = bz + tz
    # I = (2/5) m R²: R dω = (5/2) n × T/m, the same way round for both.
    cx = 2.5 * (ny * tz - nz * ty)
    cy = 2.5 * (nz * tx - nx * tz)
    cz = 2.5 * (nx * ty - ny * tx)
    _give(members, a, tx * per_a, ty * per_a, tz * per_a, cx * per_a, cy * per_a, cz * per_a)
    _give(members, b, -tx * per_b, -ty * per_b, -tz * per_b, cx * per_b, cy * per_b, cz * per_b)


@inlined_kernel
def _give(members, row, vx, vy, vz, sx, sy, sz):
    """Change a member's motion, and what friction is expected to do in the next step."""
    members[row, MEMBER_NOW] += vx
    members[row, MEMBER_NOW + 1] += vy
    members[row, MEMBER_NOW + 2] += vz
    members[row, MEMBER_SPIN] += sx
    members[row, MEMBER_SPIN + 1] += sy
    members[row, MEMBER_SPIN + 2] += sz
    members[row, MEMBER_PULL] += vx
    members[row, MEMBER_PULL + 1] += vy
    members[row, MEMBER_PULL + 2] += vz
    members[row, MEMBER_TURN] += sx
    members[row, MEMBER_TURN + 1] += sy
    members[row, MEMBER_TURN + 2] += sz


@kernel
def _step(members, balls, contacts, count, step):
    """One step of the normal forces from NOW to NOW, the rates at its start being known."""
    _sum_and_stage(members, balls, contacts, count, 1.0, 0.5 * step, True)
    _rates(members, balls, contacts, count, step)
    _sum_and_stage(members, balls, contacts, count, 2.0, 0.5 * step, False)
    _rates(members, balls, contacts, count, step)
    _sum_and_stage(members, balls, contacts, count, 2.0, step, False)
    _rates(members, balls, contacts, count, step)
    sixth = step / 6.0
    for row in range(balls):
        for k in range(VECTOR):
            members[row, MEMBER_NOW + k] += sixth * (
                members[row, MEMBER_SUM + k] + members[row, MEMBER_RATE + k]
            )
    for c in range(count):
        contacts[c, CONTACT_NOW] += sixth * (contacts[c, CONTACT_SUM] + contacts[c, CONTACT_RATE])


@kernel
def _sum_and_stage(members, balls, contacts, count, weight, ahead, first):
    """Add the rates to the sum, and set the next stage that far ahead."""
    for row in range(balls):
        for k in range(VECTOR):
            rate = members[row, MEMBER_RATE + k]
            before = 0.0 if first else members[row, MEMBER_SUM + k]
            members[row, MEMBER_SUM + k] = before + weight * rate
            members[row, MEMBER_STAGE + k] = members[row, MEMBER_NOW + k] + ahead * rate
    for c in range(count):
        rate = contacts[c, CONTACT_RATE]
        before = 0.0 if first else contacts[c, CONTACT_SUM]
        contacts[c, CONTACT_SUM] = before + weight * rate
        contacts[c, CONTACT_STAGE] = contacts[c, CONTACT_NOW] + ahead * rate


@inlined_kernel
def _end(work, members, balls, contacts, count):
    """Copy the motions back if more than two balls were pressed; how many contacts were."""
    loaded = 0
    for c in range(count):
        if contacts[c, CONTACT_LOADED] > 0.0:
            loaded += 1
            members[int(contacts[c, CONTACT_A]), MEMBER_TOUCHED] = 1.0
            members[int(contacts[c, CONTACT_B]), MEMBER_TOUCHED] = 1.0
    if loaded > 1:
        for row in range(balls):
            if members[row, MEMBER_TOUCHED] > 0.0:
                i = int(members[row, MEMBER_BALL])
                radius = work[i, RADIUS]
                work[i, VX] = members[row, MEMBER_NOW]
                work[i, VY] = members[row, MEMBER_NOW + 1]
                work[i, WX] = members[row, MEMBER_SPIN] / radius
                work[i, WY] = members[row, MEMBER_SPIN + 1] / radius
                work[i, WZ] = members[row, MEMBER_SPIN + 2] / radius
    return loaded
