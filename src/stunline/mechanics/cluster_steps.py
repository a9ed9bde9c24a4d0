"""Law 6, the steps: two explicit methods, one of which stays stable where surfaces stick.

Surfaces inside a pack mostly stick, and smoothed friction is then ten to a hundred times
stiffer than the contacts. The method of Runge, Kutta and Chebyshev has as many stages s as
that needs: its reach grows with s², its order is two. Where nothing sticks, the classical
method of order four takes longer steps. Source: B. P. Sommeijer, L. F. Shampine
and J. G. Verwer, RKC: an explicit solver for parabolic PDEs, 1998 [M]; the formulas follow
from Chebyshev polynomials and are held to their order by tests.
"""

import numpy as np

from stunline.mechanics.cluster_forces import rates
from stunline.mechanics.cluster_members import (
    CONTACT_A,
    CONTACT_B,
    CONTACT_FIRST,
    CONTACT_LAST,
    CONTACT_LIST,
    CONTACT_LIVE,
    CONTACT_NOW,
    CONTACT_NX,
    CONTACT_NY,
    CONTACT_NZ,
    CONTACT_RATE,
    CONTACT_STAGE,
    MEMBER_FIRST,
    MEMBER_LAST,
    MEMBER_LIST,
    MEMBER_LIVE,
    MEMBER_MOVED,
    MEMBER_NOW,
    MEMBER_RATE,
    MEMBER_STAGE,
    SPACE,
    VECTOR,
)
from stunline.mechanics.compiling import inlined_kernel, kernel

FEWEST_STAGES = 2
# Enough for a friction coefficient of 1 between fully stuck surfaces.
MOST_STAGES = 24
# Of the damping that keeps the reach from pinching off between stages. [-]
CHEBYSHEV_DAMPING = 2.0 / 13.0
# Columns of a stage's weights: of the start, the last stage, the one before it, the rate at the
# last stage and the rate at the start.
OF_START, OF_LAST, OF_BEFORE, OF_RATE, OF_FIRST = 0, 1, 2, 3, 4
WEIGHTS = 5


def _chebyshev_weights(stages):
    """Weights of stages 1 to ``stages``, and how far along the negative axis they are stable."""
    w0 = 1.0 + CHEBYSHEV_DAMPING / stages**2
    value = [1.0, w0]
    slope = [0.0, 1.0]
    bend = [0.0, 0.0]
    for j in range(2, stages + 1):
        value.append(2.0 * w0 * value[j - 1] - value[j - 2])
        slope.append(2.0 * value[j - 1] + 2.0 * w0 * slope[j - 1] - slope[j - 2])
        bend.append(4.0 * slope[j - 1] + 2.0 * w0 * bend[j - 1] - bend[j - 2])
    w1 = slope[stages] / bend[stages]
    b = [0.0, 0.0] + [bend[j] / slope[j] ** 2 for j in range(2, stages + 1)]
    b[0] = b[1] = b[2]
    table = np.zeros((MOST_STAGES + 1, WEIGHTS))
    table[1] = 1.0, 0.0, 0.0, 0.0, b[1] * w1
    for j in range(2, stages + 1):
        last = 2.0 * b[j] * w0 / b[j - 1]
        before = -b[j] / b[j - 2]
        rate = 2.0 * b[j] * w1 / b[j - 1]
        first = -(1.0 - b[j - 1] * value[j - 1]) * rate
        table[j] = 1.0 - last - before, last, before, rate, first
    return table, (w0 + 1.0) * bend[stages] / slope[stages]


_TABLES = [_chebyshev_weights(stages) for stages in range(FEWEST_STAGES, MOST_STAGES + 1)]
STAGE_WEIGHTS = np.array([table for table, _ in _TABLES])
REACH_OF_STAGES = np.array([reach for _, reach in _TABLES])


@inlined_kernel
def stages_for(grip, step):
    """The fewest stages that are stable for that stiffness."""
    stages = FEWEST_STAGES
    while stages < MOST_STAGES and REACH_OF_STAGES[stages - FEWEST_STAGES] < grip * step:
        stages += 1
    return stages


@kernel
def classical_step(
    members, moving, contacts, live, step, smoothing, floor, span, decay
):  # fmt: skip
    """One step of order four from NOW to NOW, the rates at its start being known."""
    _gather(members, moving, contacts, live, 1.0, 0.5 * step, True)
    rates(members, moving, contacts, live, smoothing, floor, span, decay)
    _gather(members, moving, contacts, live, 2.0, 0.5 * step, False)
    rates(members, moving, contacts, live, smoothing, floor, span, decay)
    _gather(members, moving, contacts, live, 2.0, step, False)
    rates(members, moving, contacts, live, smoothing, floor, span, decay)
    sixth = step / 6.0
    for listed in range(moving):
        i = int(members[listed, MEMBER_LIST])
        for k in range(SPACE):
            total = members[i, MEMBER_MOVED + k]
            members[i, MEMBER_MOVED + k] = step * (members[i, MEMBER_NOW + k] + sixth * total)
        for k in range(VECTOR):
            total = members[i, MEMBER_FIRST + k] + members[i, MEMBER_RATE + k]
            members[i, MEMBER_NOW + k] += sixth * total
    for listed in range(live):
        c = int(contacts[listed, CONTACT_LIST])
        contacts[c, CONTACT_NOW] += sixth * (contacts[c, CONTACT_FIRST] + contacts[c, CONTACT_RATE])


@kernel
def _gather(members, moving, contacts, live, weight, ahead, begins):
    """Add the rates to their weighted sum, kept in FIRST, and set the next stage.

    MOVED takes the plain sum of the accelerations: the displacement follows from it.
    """
    for listed in range(moving):
        i = int(members[listed, MEMBER_LIST])
        for k in range(SPACE):
            before = 0.0 if begins else members[i, MEMBER_MOVED + k]
            members[i, MEMBER_MOVED + k] = before + members[i, MEMBER_RATE + k]
        for k in range(VECTOR):
            rate = members[i, MEMBER_RATE + k]
            before = 0.0 if begins else members[i, MEMBER_FIRST + k]
            members[i, MEMBER_FIRST + k] = before + weight * rate
            members[i, MEMBER_STAGE + k] = members[i, MEMBER_NOW + k] + ahead * rate
    for listed in range(live):
        c = int(contacts[listed, CONTACT_LIST])
        rate = contacts[c, CONTACT_RATE]
        before = 0.0 if begins else contacts[c, CONTACT_FIRST]
        contacts[c, CONTACT_FIRST] = before + weight * rate
        contacts[c, CONTACT_STAGE] = contacts[c, CONTACT_NOW] + ahead * rate


@kernel
def sticking_step(
    members, moving, contacts, live, stages, step, smoothing, floor, span, decay
):  # fmt: skip
    """One step of order two from NOW to NOW, the rates at its start being known."""
    for j in range(1, stages + 1):
        if j > 1:
            rates(members, moving, contacts, live, smoothing, floor, span, decay)
        row = stages - FEWEST_STAGES
        start = STAGE_WEIGHTS[row, j, OF_START]
        last = STAGE_WEIGHTS[row, j, OF_LAST]
        before = STAGE_WEIGHTS[row, j, OF_BEFORE]
        rate = step * STAGE_WEIGHTS[row, j, OF_RATE]
        first = step * STAGE_WEIGHTS[row, j, OF_FIRST]
        for listed in range(moving):
            i = int(members[listed, MEMBER_LIST])
            for k in range(VECTOR):
                if j == 1:
                    members[i, MEMBER_FIRST + k] = members[i, MEMBER_RATE + k]
                    members[i, MEMBER_LAST + k] = members[i, MEMBER_NOW + k]
                now = members[i, MEMBER_STAGE + k]
                members[i, MEMBER_STAGE + k] = (
                    start * members[i, MEMBER_NOW + k]
                    + last * now
                    + before * members[i, MEMBER_LAST + k]
                    + rate * members[i, MEMBER_RATE + k]
                    + first * members[i, MEMBER_FIRST + k]
                )
                members[i, MEMBER_LAST + k] = now
        for listed in range(live):
            c = int(contacts[listed, CONTACT_LIST])
            if j == 1:
                contacts[c, CONTACT_FIRST] = contacts[c, CONTACT_RATE]
                contacts[c, CONTACT_LAST] = contacts[c, CONTACT_NOW]
            now = contacts[c, CONTACT_STAGE]
            contacts[c, CONTACT_STAGE] = (
                start * contacts[c, CONTACT_NOW]
                + last * now
                + before * contacts[c, CONTACT_LAST]
                + rate * contacts[c, CONTACT_RATE]
                + first * contacts[c, CONTACT_FIRST]
            )
            contacts[c, CONTACT_LAST] = now
    for listed in range(moving):
        i = int(members[listed, MEMBER_LIST])
        for k in range(SPACE):
            both = members[i, MEMBER_NOW + k] + members[i, MEMBER_STAGE + k]
            members[i, MEMBER_MOVED + k] = 0.5 * step * both
        for k in range(VECTOR):
            members[i, MEMBER_NOW + k] = members[i, MEMBER_STAGE + k]
    for listed in range(live):
        c = int(contacts[listed, CONTACT_LIST])
        contacts[c, CONTACT_NOW] = contacts[c, CONTACT_STAGE]


@kernel
def carry_idle(members, balls, contacts, count, step):
    """Change the gaps of the contacts that were not live in a step just taken."""
    for row in range(balls):
        if members[row, MEMBER_LIVE] == 0.0:
            for k in range(SPACE):
                members[row, MEMBER_MOVED + k] = step * members[row, MEMBER_NOW + k]
    for c in range(count):
        if contacts[c, CONTACT_LIVE] == 0.0:
            a = int(contacts[c, CONTACT_A])
            b = int(contacts[c, CONTACT_B])
            contacts[c, CONTACT_NOW] += (
                (members[a, MEMBER_MOVED] - members[b, MEMBER_MOVED]) * contacts[c, CONTACT_NX]
                + (members[a, MEMBER_MOVED + 1] - members[b, MEMBER_MOVED + 1])
                * contacts[c, CONTACT_NY]
                + (members[a, MEMBER_MOVED + 2] - members[b, MEMBER_MOVED + 2])
                * contacts[c, CONTACT_NZ]
            )  # fmt: skip
