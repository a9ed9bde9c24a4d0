"""Law 6, who takes part: balls that touch, or nearly touch, a ball that is met.

Two balls nearly touch when the gap between them is below the peak compression of an elastic
impact at the speed that set it off: a wave that has come so far then finds the gap closed
while the first contact is still loaded. Taken transitively.
"""

import math

from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.hertz import peak_compression, stiffness
from stunline.mechanics.layout import POTTED, SPINNING
from stunline.mechanics.moving_ball import AX, AY, MASS, RADIUS, START, VX, VY, X, Y

# Gap below which two balls count as touching, over the peak compression. [-] Half of it
# leaves a step of 0.8 % in the speeds where a ball just joins or just does not.
HAND_OVER = 1.0

VECTOR = 6  # velocity, and R times spin
SPACE = 3  # of these, the velocity

# --- members: one row for each ball of the cluster -----------------------------------
MEMBER_BALL = 0  # its number on the table
MEMBER_PER_MASS = 1  # 1/m [kg⁻¹]
MEMBER_NOW = 2  # vx, vy, vz, Rωx, Rωy, Rωz [m s⁻¹] at the start of a step
MEMBER_STAGE = 8  # the same at a stage within the step
MEMBER_LAST = 14  # at the stage before
MEMBER_RATE = 20  # its rate of change [m s⁻²]
MEMBER_FIRST = 26  # the rate at the start of the step
MEMBER_GRIP = 32  # how fast friction turns it, Σ 7μF/(2m√(u² + ε²)) [s⁻¹]
MEMBER_TOUCHED = 33  # 1 once a contact of it was loaded
MEMBER_MOVED = 34  # its displacement in the step [m]
MEMBER_LIVE = 37  # 1 while a contact of it may be loaded in the step
MEMBER_LIST = 38  # of row k: the row of the k-th live member
MEMBER_COLUMNS = 39

# --- contacts: one row for each pair of members that nearly touch ---------------------
CONTACT_A, CONTACT_B = 0, 1  # rows of the members
CONTACT_NX, CONTACT_NY, CONTACT_NZ = 2, 3, 4  # unit vector from A to B, frozen
CONTACT_STIFFNESS = 5  # k [N m^{−3/2}]
CONTACT_DAMPING = 6  # α√(m* k)
CONTACT_NOW = 7  # compression δ at the start of a step, negative for a gap [m]
CONTACT_STAGE = 8  # at a stage within the step
CONTACT_LAST = 9  # at the stage before
CONTACT_RATE = 10  # δ̇ [m s⁻¹]
CONTACT_FIRST = 11  # at the start of the step
CONTACT_LOADED = 12  # 1 once it was loaded
CONTACT_FORCE = 13  # at the stage [N]
CONTACT_LIVE = 14  # 1 while it may be loaded in the step
CONTACT_LIST = 15  # of row k: the row of the k-th live contact
CONTACT_SLIP = 16  # slip for which the next column was found [m s⁻¹]
CONTACT_FADING = 17  # exp(−decay · slip), how far friction has fallen [-]
CONTACT_COLUMNS = 18

# Neighbours of one size are at most three a ball, counted once; unequal ones a few more.
CONTACTS_PER_BALL = 6


@inlined_kernel
def place_at(work, motion, i, time):
    """Centre of a ball at that time in its present motion. [m]"""
    if motion[i] <= SPINNING or motion[i] == POTTED:
        return work[i, X], work[i, Y]
    t = time - work[i, START]
    return (
        work[i, X] + t * (work[i, VX] + 0.5 * t * work[i, AX]),
        work[i, Y] + t * (work[i, VY] + 0.5 * t * work[i, AY]),
    )


@inlined_kernel
def gap_between(work, motion, i, j, time):
    """Gap of two balls [m] and the unit vector between their centres; negative in overlap."""
    xi, yi = place_at(work, motion, i, time)
    xj, yj = place_at(work, motion, j, time)
    dx = xj - xi
    dy = yj - yi
    dz = work[j, RADIUS] - work[i, RADIUS]  # on one bed the larger ball's centre is higher
    distance = math.sqrt(dx * dx + dy * dy + dz * dz)
    gap = distance - work[i, RADIUS] - work[j, RADIUS]
    return gap, dx / distance, dy / distance, dz / distance


@kernel
def find_members(work, motion, members, a, b, speed, time):
    """Write the numbers of all balls that the impact of a and b reaches; how many.

    Args: ``speed`` normal speed at which a and b close. [m s⁻¹]
    """
    count = work.shape[0]
    mass = work[a, MASS] * work[b, MASS] / (work[a, MASS] + work[b, MASS])
    near = HAND_OVER * peak_compression(speed, mass, stiffness(work[a, RADIUS], work[b, RADIUS]))
    members[0, MEMBER_BALL] = a
    members[1, MEMBER_BALL] = b
    found = 2
    row = 0
    while row < found:
        i = int(members[row, MEMBER_BALL])
        for k in range(count):
            if motion[k] == POTTED or _is_member(members, found, k):
                continue
            gap, _, _, _ = gap_between(work, motion, i, k, time)
            if gap < near:
                members[found, MEMBER_BALL] = k
                found += 1
        row += 1
    return found


@inlined_kernel
def _is_member(members, found, k):
    known = False
    for row in range(found):
        known = known or int(members[row, MEMBER_BALL]) == k
    return known


@kernel
def find_contacts(work, motion, members, found, contacts, speed, damping, time):
    """Write the contacts among the members, the one that set it off first; how many.

    Args: ``damping`` α of ``hertz``; ``speed`` as in ``find_members``.
    """
    first = int(members[0, MEMBER_BALL])
    other = int(members[1, MEMBER_BALL])
    mass = work[first, MASS] * work[other, MASS] / (work[first, MASS] + work[other, MASS])
    near = HAND_OVER * peak_compression(
        speed, mass, stiffness(work[first, RADIUS], work[other, RADIUS])
    )
    count = 0
    for row in range(found):
        for column in range(row + 1, found):
            i = int(members[row, MEMBER_BALL])
            j = int(members[column, MEMBER_BALL])
            gap, nx, ny, nz = gap_between(work, motion, i, j, time)
            if (gap < near or count == 0) and count < contacts.shape[0]:
                reduced = work[i, MASS] * work[j, MASS] / (work[i, MASS] + work[j, MASS])
                hardness = stiffness(work[i, RADIUS], work[j, RADIUS])
                contacts[count, CONTACT_A] = row
                contacts[count, CONTACT_B] = column
                contacts[count, CONTACT_NX] = nx
                contacts[count, CONTACT_NY] = ny
                contacts[count, CONTACT_NZ] = nz
                contacts[count, CONTACT_STIFFNESS] = hardness
                contacts[count, CONTACT_DAMPING] = damping * math.sqrt(reduced * hardness)
                # Rounding leaves two touching balls some 1e-17 m apart or into each other;
                # only a real gap counts.
                contacts[count, CONTACT_NOW] = min(-gap, 0.0)
                contacts[count, CONTACT_LOADED] = 0.0
                contacts[count, CONTACT_SLIP] = 0.0
                contacts[count, CONTACT_FADING] = 1.0
                count += 1
    return count
