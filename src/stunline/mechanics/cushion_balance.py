"""The nose's work on a ball: the end of compression, and the end of the impact.

Work is per unit of ball mass and of the square of the approach speed: what the nose has
taken so far, less what it has given back. Both ends lie inside a step; the step is made
again up to them, so that they are as accurate as any other step.
"""

import math

from stunline.mechanics.compiling import kernel
from stunline.mechanics.cushion_modes import APPROACH_SCALE, COSINE, SINE, approach_of
from stunline.mechanics.cushion_steps import plus, take_step

# Closeness at which a quadratic finishes the job. [approach speed, and normal impulse]
# Its error is of the third order: 1e-12 and less.
TURN_CLOSENESS = 1e-4
BALANCE_CLOSENESS = 1e-5
TURN_TRIES, BALANCE_TRIES = 3, 8  # at most; one or two suffice


@kernel
def _approach_rate(contact, slope):
    return (slope[3] - slope[1]) * contact[APPROACH_SCALE]


@kernel
def work_at_turn(contact, mode, stiff, state, slope, step, new, new_slope):
    """Work taken by the nose where the approach speed is zero, within this step."""
    before, after = approach_of(contact, state), approach_of(contact, new)
    if before > 0.0:
        part = step * before / (before - after)
        for _ in range(TURN_TRIES):
            new, new_slope, _ = take_step(contact, mode, stiff, state, slope, part)
            after = approach_of(contact, new)
            if abs(after) < TURN_CLOSENESS:
                break
            part -= after / _approach_rate(contact, new_slope)
    return new[4] - 0.5 * contact[COSINE] * after * after / _approach_rate(contact, new_slope)


@kernel
def end_of_recovery(contact, mode, stiff, state, slope, step, new, new_slope, work_left):
    """The state where the nose's work has come down to ``work_left``, within this step.

    work + c (v_y δ + v_y' δ²/2) = work_left, for the impulse δ still missing.
    """
    missing = 0.0
    for _ in range(BALANCE_TRIES):
        approach = approach_of(contact, new)
        excess = (work_left - new[4]) / contact[COSINE]
        under_root = approach * approach + 2.0 * _approach_rate(contact, new_slope) * excess
        missing = 2.0 * excess / (approach - math.sqrt(max(0.0, under_root)))
        if abs(missing) < BALANCE_CLOSENESS:
            break
        step = max(0.0, step + missing)
        new, new_slope, _ = take_step(contact, mode, stiff, state, slope, step)
    return plus(new, new_slope, missing)


@kernel
def rebound_without_friction(contact, state, restitution, work_left):
    """The state at the end if from here on only the nose's normal force acts.

    The law's way out where friction would hold the ball for good (``JAMMED``), or where
    the steps allowed are used up. The balance of work is kept, energy does not rise and
    the ball leaves. ``work_left`` is negative when compression has not ended yet.
    """
    approach = approach_of(contact, state)
    if work_left < 0.0:
        work_left = (1.0 - restitution * restitution) * (state[4] + 0.5 * approach * approach)
    departure = -math.sqrt(max(0.0, approach * approach + 2.0 * (state[4] - work_left)))
    impulse = (approach - departure) / contact[COSINE]
    push = (0.0, contact[SINE] * contact[COSINE], 0.0, -contact[COSINE], 0.0)
    return plus(state, push, impulse)
