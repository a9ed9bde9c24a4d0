"""When a distance first reaches zero: the smallest root, found with hard bounds.

Between events every distance of interest is a polynomial of time: a quadratic for a
straight nose line, a quartic ``|Δp|² − D²`` for two balls, a jaw or a drop circle. What
is wanted is the first moment at which it passes from positive to zero or below: an
entry. Leaving is never an event.
"""

import math

from stunline.mechanics.compiling import kernel

NEVER = math.inf

# Newton's method inside a bracket converges in 4 to 8 steps; the bracket is halved when a
# step leaves it, so 80 always reaches neighbouring floats. Fewer could stop short.
MOST_REFINEMENTS = 80


@kernel
def entry_of_quadratic(c0, c1, c2, limit):
    """First t in [0, limit] at which ``c0 + c1·t + c2·t²`` enters zero from above.

    A quadratic has at most one such crossing. A start at or below zero counts as an entry
    at t = 0 only when the value is falling there; the caller decides whether a start far
    below zero is possible at all.
    """
    if c0 <= 0.0 and (c1 < 0.0 or (c1 == 0.0 and c2 < 0.0)):
        return 0.0
    if c1 >= 0.0 and c2 >= 0.0:
        return NEVER
    discriminant = c1 * c1 - 4.0 * c2 * c0
    if discriminant < 0.0:
        return NEVER
    # The falling root is (−c1 − √D)/(2 c2), written so that nothing cancels.
    root = math.sqrt(discriminant)
    if c1 < 0.0:
        time = 2.0 * c0 / (root - c1)
    else:
        time = -(c1 + root) / (2.0 * c2)
    return time if 0.0 <= time <= limit else NEVER


@kernel
def _value(c0, c1, c2, c3, c4, t):
    return c0 + t * (c1 + t * (c2 + t * (c3 + t * c4)))


@kernel
def _slope(c1, c2, c3, c4, t):
    return c1 + t * (2.0 * c2 + t * (3.0 * c3 + t * 4.0 * c4))


@kernel
def _refine(c0, c1, c2, c3, c4, low, high):
    """The one root in (low, high], where the value is positive at low and not at high."""
    value_low = _value(c0, c1, c2, c3, c4, low)
    value_high = _value(c0, c1, c2, c3, c4, high)
    t = low + (high - low) * value_low / (value_low - value_high)
    for _ in range(MOST_REFINEMENTS):
        value = _value(c0, c1, c2, c3, c4, t)
        if value == 0.0:
            break
        if value > 0.0:
            low = t
        else:
            high = t
        slope = _slope(c1, c2, c3, c4, t)
        step = t - value / slope if slope != 0.0 else low
        if not low < step < high:
            step = 0.5 * (low + high)
            if not low < step < high:
                break
        if abs(step - t) <= 2e-16 * step:
            t = step
            break
        t = step
    return t


@kernel
def entry_of_quartic(c0, c1, c2, c3, c4, limit):
    """First t in [0, limit] at which the quartic enters zero from above, else ``NEVER``.

    Steps: a touching start that is falling is an entry now, and one that is rising has its
    root at 0 divided out. The roots of the second derivative, a quadratic, cut [0, limit]
    into at most three pieces on which the slope is monotone. On each piece, in order: a
    positive start and a non-positive end hold exactly one crossing; a positive end can hide
    a pair of crossings only around an interior lowest point, whose sign decides. A grazing
    double root is thus a contact when the lowest value is not positive.
    """
    if c0 <= 0.0:
        if c1 < 0.0 or (c1 == 0.0 and c2 < 0.0):
            return 0.0
        c0, c1, c2, c3, c4 = c1, c2, c3, c4, 0.0
        if c0 == 0.0:  # stands exactly on the contact, neither closing nor leaving yet
            c0, c1, c2, c3 = c1, c2, c3, 0.0
        if c0 <= 0.0:
            return NEVER
    first, second = _bends(c2, c3, c4, limit)
    start = 0.0
    slope_start = c1
    for piece in range(3):
        end = first if piece == 0 else (second if piece == 1 else limit)
        if end <= start:
            continue
        slope_end = _slope(c1, c2, c3, c4, end)
        if _value(c0, c1, c2, c3, c4, end) <= 0.0:
            return _refine(c0, c1, c2, c3, c4, start, end)
        if slope_start < 0.0 and slope_end > 0.0:
            # The slope rises through zero there, so its negative falls through it.
            lowest = _refine(-c1, -2.0 * c2, -3.0 * c3, -4.0 * c4, 0.0, start, end)
            if _value(c0, c1, c2, c3, c4, lowest) <= 0.0:
                return _refine(c0, c1, c2, c3, c4, start, lowest)
        start = end
        slope_start = slope_end
    return NEVER


@kernel
def _bends(c2, c3, c4, limit):
    """Roots of half the second derivative, c2 + 3c3·t + 6c4·t², in order, within [0, limit]."""
    a = 6.0 * c4
    b = 3.0 * c3
    first = 0.0
    second = 0.0
    if a == 0.0:
        if b != 0.0:
            first = -c2 / b
    else:
        discriminant = b * b - 4.0 * a * c2
        if discriminant > 0.0:
            # Adding numbers of one sign first, so that neither root cancels.
            q = -0.5 * (b + math.copysign(math.sqrt(discriminant), b))
            first = q / a
            second = c2 / q if q != 0.0 else first
    low = min(first, second)
    high = max(first, second)
    return min(max(low, 0.0), limit), min(max(high, 0.0), limit)
