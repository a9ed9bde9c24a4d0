"""When bodies that touch next concern each other: at once, later, or not at all.

A touching pair is an impact only while it approaches. Where it hardly parts and the
accelerations press it together, it stays in contact: law 7, which begins at once.
"""

from stunline.mechanics.compiling import inlined_kernel
from stunline.mechanics.layout import EVENT_CUSHION, EVENT_JAW
from stunline.mechanics.moving_ball import HELD_1, HELD_2
from stunline.mechanics.roots import NEVER, entry_of_quadratic, entry_of_quartic

# Bodies this near touch. [m], a billionth of a ball's radius: the project's bound on overlap,
# some 1e5 times rounding.
TOUCH = 2.5e-11
# Below this separating speed bodies that are pressed stay together. [m s⁻¹] The hop that is
# left out would be a quarter of a micrometre high.
PRESS_SPEED = 1e-3
# A closing speed that is only rounding. [m s⁻¹] In ten seconds it would not cross ``TOUCH``.
NO_SPEED = 1e-12
# Bodies that close more slowly than this do not bounce, they press. [m s⁻¹] The hop left out would
# be a few hundredths of a nanometre high; in a pack that has nearly come to rest such hops follow
# one another without end.
SLOW_CLOSING = 1e-6
# Depth, over ``TOUCH``, at which bodies found not to press are looked at again. [-]
DEPTH_TO_LOOK_AGAIN = 0.1
# Depth, over that one, of an approach that is passed over where it turns into parting by itself.
# [-] At a few nm/s such approaches follow one another every microsecond.
SHALLOW = 0.1
CODES_A_KIND = 4096  # more than any table has noses or jaws


@inlined_kernel
def contact_entry(c0, c1, c2, c3, c4, limit, distance, released):
    """When the squared distance less ``distance``² enters zero, touching included. [s]

    Args: c0…c4 its polynomial; ``released`` whether the contact was found not to press at
        this very instant: it is then looked at again once it is measurably deep.
    Returns: 0 also where the contact begins to last.
    """
    if c0 <= 2.0 * distance * TOUCH:
        rate = 0.5 * c1 / distance
        ahead = 2.0 * distance * DEPTH_TO_LOOK_AGAIN * TOUCH
        if -NO_SPEED <= rate <= PRESS_SPEED:
            if c2 < 0.0:
                if not released:
                    return 0.0
                c0 = max(c0 + ahead, 0.5 * ahead)
            elif rate < NO_SPEED:
                c0 = 0.0
                c1 = 0.0
        elif rate < 0.0 < c2 and _is_shallow(c0, c1, c2, ahead):
            c0 += ahead
    return entry_of_quartic(c0, c1, c2, c3, c4, limit)


@inlined_kernel
def _is_shallow(c0, c1, c2, ahead):
    """Whether that approach turns before the two have sunk measurably into each other."""
    return c1 * c1 <= 4.0 * c2 * SHALLOW * ahead and c0 > -0.5 * ahead


@inlined_kernel
def plane_entry(gap, rate, half_acceleration, limit, released):
    """The same for the distance from a straight nose, a quadratic. [s]"""
    if gap <= TOUCH and -NO_SPEED <= rate <= PRESS_SPEED:
        if half_acceleration < 0.0:
            if not released:
                return 0.0
            ahead = DEPTH_TO_LOOK_AGAIN * TOUCH
            gap = max(gap + ahead, 0.5 * ahead)
        elif rate < NO_SPEED:
            return NEVER
    return entry_of_quadratic(gap, rate, half_acceleration, limit)


@inlined_kernel
def wall_code(kind, index):
    """One number for a nose or a jaw."""
    return float(CODES_A_KIND * (1 if kind == EVENT_JAW else 0) + index)


@inlined_kernel
def wall_of(code):
    """Kind and index of that number."""
    number = int(code)
    return EVENT_JAW if number >= CODES_A_KIND else EVENT_CUSHION, number % CODES_A_KIND


@inlined_kernel
def held_by(work, i, kind, index):
    """Whether ball i is already pressed to that wall."""
    code = wall_code(kind, index)
    return work[i, HELD_1] == code or work[i, HELD_2] == code
