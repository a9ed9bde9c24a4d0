"""Law 6: one impulse on a cluster of balls that touch.

While it lasts nothing moves: the lines of centres are frozen and the cloth has no time to
act. What changes are the velocities, the spins and the compression of every contact, which is
integrated from the normal velocities (a gap is a negative one). Contacts press by ``hertz``'s
law; friction is Coulomb's, ``−μ(u) F u/√(u² + ε²)``. Balls are free vertically during the
impulse and their vertical velocity is dropped after, as in law 3.
"""

import math

from stunline.mechanics.cluster_forces import choose_live, rates
from stunline.mechanics.cluster_members import (
    CONTACT_A,
    CONTACT_B,
    CONTACT_FORCE,
    CONTACT_LIST,
    CONTACT_LOADED,
    CONTACT_NOW,
    CONTACT_NX,
    CONTACT_NY,
    CONTACT_RATE,
    CONTACT_STAGE,
    MEMBER_BALL,
    MEMBER_NOW,
    MEMBER_PER_MASS,
    MEMBER_TOUCHED,
)
from stunline.mechanics.cluster_steps import carry_idle, classical_step, stages_for, sticking_step
from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.hertz import CONTACT_TIME_FACTOR, contact_time
from stunline.mechanics.moving_ball import MASS, RADIUS, VX, VY, WX, WY, WZ

# Steps in the contact time of two balls at the striking speed. [-] 100 of order four leave 1e-5
# of that speed; 250 of order two leave 6e-5, 100 would leave 4e-4.
STEPS_A_CONTACT = 100
STICKING_STEPS_A_CONTACT = 250
# Where surfaces rub, what the steps of order two leave outweighs that of order four: these may then
# be longer, as long as no contact sets in or ends and friction changes no slip by more than GENTLE
# of it in a step.
RUBBING_STEPS_A_CONTACT = 50
GENTLE = 0.25
# Friction stiffer than this over a step of order four needs the others. [-] That method is
# stable up to 2.78.
STICKS = 2.0
# ε of the friction, over the striking speed. [-] Larger lets stuck surfaces creep, smaller
# needs more stages.
SMOOTHING = 1e-3
# A contact that closes more slowly than this, over the striking speed, is not waited for: it
# is an impact of its own, at its own speed, right after. [-]
SLOWEST = 1e-6
# Nor does one count that is no deeper than this, over the peak compression of two balls. [-] What
# it holds is worth a speed of ``SLOWEST``: the speed goes with δ^{5/4}.
SHALLOWEST = SLOWEST**0.8
# Nor is one that takes more than so many contact times to close: by then the balls have moved.
LONGEST_WAIT = 10.0
# A wave through 22 balls takes about a thousand steps. A bound, so that no input stalls.
MOST_STEPS = 200_000


@kernel
def cluster_impact(work, members, balls, contacts, count, floor, span, decay):
    """Change the velocities and spins of the members in ``work``; how many contacts loaded.

    Steps: copy the motions; then integrate, in steps of a fiftieth of a contact time or less,
    until no contact is loaded to speak of and none is about to close, going at once over the
    time in which nothing is; copy the motions back, without the vertical velocity, unless only the
    first contact was ever loaded: two balls alone are law 3.

    Args: ``balls`` and ``count`` rows of members and contacts; friction as in ``slip_left``.
    """
    _begin(work, members, balls, contacts, count)
    speed, step = _scales(work, members, contacts, count)
    lasts = step * STEPS_A_CONTACT
    longest = step
    if floor + span > 0.0:
        longest = lasts / RUBBING_STEPS_A_CONTACT
    short = lasts / STICKING_STEPS_A_CONTACT
    smoothing = SMOOTHING * speed
    slowest = SLOWEST * speed
    shallowest = SHALLOWEST * lasts * speed / CONTACT_TIME_FACTOR
    for _ in range(MOST_STEPS):
        live, moving, changes = choose_live(members, balls, contacts, count, longest, speed)
        loaded, grip = rates(members, moving, contacts, live, smoothing, floor, span, decay)
        if not loaded or not _presses(contacts, live, shallowest, slowest):
            wait = _next_closing(contacts, count, slowest)
            if wait > LONGEST_WAIT * lasts:
                break
            for c in range(count):
                contacts[c, CONTACT_NOW] += wait * contacts[c, CONTACT_RATE]
            live, moving, changes = choose_live(members, balls, contacts, count, longest, speed)
            loaded, grip = rates(members, moving, contacts, live, smoothing, floor, span, decay)
        if grip * step <= STICKS:
            ahead = step
            if grip > 0.0 and not changes:
                ahead = min(max(step, GENTLE / grip), longest)
            classical_step(
                members, moving, contacts, live, ahead, smoothing, floor, span, decay
            )  # fmt: skip
            carry_idle(members, balls, contacts, count, ahead)
        else:
            stages = stages_for(grip, short)
            sticking_step(
                members, moving, contacts, live, stages, short, smoothing, floor, span, decay
            )  # fmt: skip
            carry_idle(members, balls, contacts, count, short)
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
        members[row, MEMBER_NOW + 3] = radius * work[i, WX]
        members[row, MEMBER_NOW + 4] = radius * work[i, WY]
        members[row, MEMBER_NOW + 5] = radius * work[i, WZ]
        members[row, MEMBER_TOUCHED] = 0.0


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
def _presses(contacts, live, shallowest, slowest):
    """Whether a contact is loaded with more than what rounding leaves in it."""
    presses = False
    for listed in range(live):
        c = int(contacts[listed, CONTACT_LIST])
        deep = contacts[c, CONTACT_STAGE] > shallowest or contacts[c, CONTACT_RATE] > slowest
        presses = presses or (deep and contacts[c, CONTACT_FORCE] > 0.0)
    return presses


@inlined_kernel
def _next_closing(contacts, count, slowest):
    """Time until the first gap closes, nothing being loaded. [s]"""
    wait = math.inf
    for c in range(count):
        rate = contacts[c, CONTACT_RATE]
        if rate > slowest:
            wait = min(wait, max(-contacts[c, CONTACT_NOW], 0.0) / rate)
    return wait


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
                work[i, WX] = members[row, MEMBER_NOW + 3] / radius
                work[i, WY] = members[row, MEMBER_NOW + 4] / radius
                work[i, WZ] = members[row, MEMBER_NOW + 5] / radius
    return loaded
