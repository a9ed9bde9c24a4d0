"""One root of a function that is known only by playing shots.

The general library's root finders are as good, but importing them takes half a second,
which is most of what a whole ``stunline shot`` may take.
"""

from __future__ import annotations

from collections.abc import Callable

Function = Callable[[float], float]
Ended = tuple[float, float]  # an argument and the function's value there

# Halving alone reaches neighbouring floats in about 60 steps; Illinois needs 5 to 15.
_MOST_STEPS = 80
# A bracket that has not halved in this many steps is halved by force, so that a jump or a
# flat stretch cannot stall the search.
_PATIENCE = 3
# How much further each try goes while a bracket is looked for.
_WIDENING = 4.0


def root_between(function: Function, low: float, high: float, tolerance: float) -> float | None:
    """A root of ``function`` in [low, high], or None when both ends have the same sign.

    The Illinois form of regula falsi, halved where it stalls; jumps are fine, and are
    closed in on.

    Args:
        function: any function of one number, continuous or not.
        low, high: the bracket.
        tolerance: width of the final bracket, in the argument's unit.
    Source: Dowell & Jarratt, BIT 11 (1971).
    """
    first, second = (low, function(low)), (high, function(high))
    if first[1] == 0.0:
        return low
    if second[1] == 0.0:
        return high
    if (first[1] > 0.0) == (second[1] > 0.0):
        return None
    return _close_in(function, first, second, tolerance)


def root_near(
    function: Function, guess: float, step: float, bounds: tuple[float, float], tolerance: float
) -> float | None:
    """A root of a rising or falling function, looked for outwards from a good guess.

    Args:
        guess, step: where to start, and how far the first try on either side goes.
        bounds: never left.
        tolerance: as for ``root_between``.
    """
    low, high = bounds
    middle = min(max(guess, low), high)
    here = (middle, function(middle))
    if here[1] == 0.0:
        return middle
    left = right = here
    while left[0] > low or right[0] < high:
        for side in (-1.0, 1.0):
            edge = left if side < 0.0 else right
            reach = min(max(middle + side * step, low), high)
            there = (reach, function(reach))
            if (there[1] > 0.0) != (edge[1] > 0.0):
                return _close_in(function, edge, there, tolerance)
            left, right = (there, right) if side < 0.0 else (left, there)
        step *= _WIDENING
    return None


def _close_in(function: Function, first: Ended, second: Ended, tolerance: float) -> float:
    (a, at_a), (b, at_b) = first, second
    width, waited = abs(b - a), 0
    for _ in range(_MOST_STEPS):
        if abs(b - a) <= tolerance:
            break
        if abs(b - a) <= 0.5 * width:
            width, waited = abs(b - a), 0
        stalled = waited >= _PATIENCE
        x = 0.5 * (a + b) if stalled else b - at_b * (b - a) / (at_b - at_a)
        # A step of nothing: the root is there, to rounding; look just beyond it.
        if abs(x - b) < 0.5 * tolerance:
            x = b + 0.5 * tolerance * (1.0 if a > b else -1.0)
        waited = 0 if stalled else waited + 1
        at_x = function(x)
        if at_x == 0.0:
            return x
        if (at_x > 0.0) != (at_b > 0.0):
            a, at_a = b, at_b
        else:
            at_a *= 0.5
        b, at_b = x, at_x
    return b


def last_true(
    test: Callable[[float], bool], true_at: float, false_at: float, tolerance: float
) -> float:
    """Between a value where ``test`` holds and one where it does not: the last where it holds."""
    while abs(false_at - true_at) > tolerance:
        middle = 0.5 * (true_at + false_at)
        if middle in (true_at, false_at):
            break
        if test(middle):
            true_at = middle
        else:
            false_at = middle
    return true_at
