"""How a contact comes to stick, holds, and lets go, while a ball is on a cushion's nose.

A slip that dies either sticks or, where friction can't hold it, sets off at once in
another direction. A contact that sticks is watched: when the friction it needs passes
the Coulomb bound, the place where it does is found and the slip is born there, along the
direction in which it then grows.
"""

import math

from stunline.mechanics.compiling import kernel
from stunline.mechanics.cushion_modes import (
    APPROACH_SCALE,
    CLOTH_FRICTION,
    CLOTH_STICKS,
    COSINE,
    JAMMED,
    NOSE_FRICTION,
    NOSE_STICKS,
    SLIPPING,
    cloth_departure,
    nose_departure,
    overload,
    rates,
)
from stunline.mechanics.cushion_steps import explicit_step, plus

# All slips below are in units of the approach speed.

# A slip that friction can hold is taken as stopped below this. It must lie above the
# tolerance of a step, or steps hover about zero without end; the error is its own size.
CAPTURE_SLIP = 3e-7
# A slip that friction can't hold is taken through zero below this, if it is heading there.
DEAD_SLIP = 1e-8
# Slip given to a contact that starts to slip, so that it has a direction.
BORN_SLIP = 1e-10
# A dying slip is followed to zero at its last rate, unless that is slower than this.
LEAST_CLOSING_RATE = 0.05
# Friction beyond the bound at which a stick is taken to break: just past it, so that the
# slip grows. The error is its square.
BREAK_OVERLOAD = 1e-9
BREAK_STEPS = 40  # at most; four or five suffice
NARROWEST_CUT = 0.02  # a secant step keeps this part of the bracket away from its ends


@kernel
def settle(contact, state):
    """Mode in which the impact goes on from this state, and the state made exact for it."""
    nose_dead = math.hypot(state[0], state[1]) < DEAD_SLIP
    cloth_dead = math.hypot(state[2], state[3]) < DEAD_SLIP
    if nose_dead and cloth_dead:
        return _settle_both(contact, state[4])
    if nose_dead:
        state = (0.0, 0.0, state[2], state[3], state[4])
        if overload(contact, NOSE_STICKS, state) <= 0.0:
            return NOSE_STICKS, state
        return SLIPPING, release(contact, NOSE_STICKS, state)
    if cloth_dead:
        state = (state[0], state[1], 0.0, 0.0, state[4])
        if overload(contact, CLOTH_STICKS, state) <= 0.0:
            return CLOTH_STICKS, state
        return SLIPPING, release(contact, CLOTH_STICKS, state)
    return SLIPPING, state


@kernel
def _can_jam(contact):
    """Whether friction can hold both contacts at once: c/(1 + s) at each, cloth load 1."""
    needed = contact[COSINE] * contact[APPROACH_SCALE]
    return needed <= contact[NOSE_FRICTION] and needed <= contact[CLOTH_FRICTION]


@kernel
def _settle_both(contact, work):
    """Mode and state when both slips die together, as they do head-on at the turn.

    Then v_y = 0. Where friction can't hold both, what follows is a slip across the cushion
    at one contact or both: the first choice that agrees with its own rates.
    """
    if _can_jam(contact):
        return JAMMED, (0.0, 0.0, 0.0, 0.0, work)
    trial = (0.0, 0.0, 0.0, -BORN_SLIP, work)
    if overload(contact, NOSE_STICKS, trial) <= 0.0 and rates(contact, NOSE_STICKS, trial)[3] < 0.0:
        return NOSE_STICKS, trial
    trial = (0.0, BORN_SLIP, 0.0, 0.0, work)
    if (
        overload(contact, CLOTH_STICKS, trial) <= 0.0
        and rates(contact, CLOTH_STICKS, trial)[1] > 0.0
    ):
        return CLOTH_STICKS, trial
    for rise, into in ((1.0, -1.0), (-1.0, -1.0), (1.0, 1.0)):
        trial = (0.0, rise * BORN_SLIP, 0.0, into * BORN_SLIP, work)
        slope = rates(contact, SLIPPING, trial)
        if slope[1] * rise > 0.0 and slope[3] * into > 0.0:
            return SLIPPING, trial
    return JAMMED, (0.0, 0.0, 0.0, 0.0, work)


@kernel
def release(contact, mode, state):
    """The state with a slip just born at the contact that stuck in this mode."""
    if mode == NOSE_STICKS:
        along, rise = nose_departure(contact, state)
        return BORN_SLIP * along, BORN_SLIP * rise, state[2], state[3], state[4]
    along, into = cloth_departure(contact, state)
    return state[0], state[1], BORN_SLIP * along, BORN_SLIP * into, state[4]


@kernel
def ending_slip(contact, mode, state, slope):
    """The contact whose slip has come to its end, as the mode in which it would stick.

    SLIPPING when there is none.
    """
    if mode != NOSE_STICKS and _ends(
        contact, mode, NOSE_STICKS, state, state[0], state[1], slope[0], slope[1]
    ):
        return NOSE_STICKS
    if mode != CLOTH_STICKS and _ends(
        contact, mode, CLOTH_STICKS, state, state[2], state[3], slope[2], slope[3]
    ):
        return CLOTH_STICKS
    return SLIPPING


@kernel
def _ends(contact, mode, sticking, state, first, second, first_rate, second_rate):
    slip = math.hypot(first, second)
    if slip > CAPTURE_SLIP:
        return False
    if slip < DEAD_SLIP and first * first_rate + second * second_rate < 0.0:
        return True
    if mode != SLIPPING:  # the other contact sticks already
        return _can_jam(contact)
    return overload(contact, sticking, state) < 0.0


@kernel
def end_slip(ending, state, slope):
    """The state with that contact's slip run down to exactly zero."""
    if ending == NOSE_STICKS:
        state = _run_down(state, slope, state[0], state[1], slope[0], slope[1])
        return 0.0, 0.0, state[2], state[3], state[4]
    state = _run_down(state, slope, state[2], state[3], slope[2], slope[3])
    return state[0], state[1], 0.0, 0.0, state[4]


@kernel
def _run_down(state, slope, first, second, first_rate, second_rate):
    slip = math.hypot(first, second)
    closing = -(first * first_rate + second * second_rate)
    if closing > LEAST_CLOSING_RATE * slip:
        return plus(state, slope, slip * slip / closing)
    return state


@kernel
def step_to_break(contact, mode, state, slope, step):
    """Step length, state and rates just past the place where a stick breaks.

    The stick holds at the start and is overloaded after ``step``; found by false
    position, with the weight of an end that stays put halved (Illinois).
    """
    low, high = 0.0, step
    low_overload = overload(contact, mode, state)
    new, new_slope, _ = explicit_step(contact, mode, state, slope, high)
    high_overload = overload(contact, mode, new)
    for _ in range(BREAK_STEPS):
        if high_overload <= BREAK_OVERLOAD:
            break
        cut = low_overload / (low_overload - high_overload)
        cut = max(NARROWEST_CUT, min(1.0 - NARROWEST_CUT, cut))
        middle = low + (high - low) * cut
        trial, trial_slope, _ = explicit_step(contact, mode, state, slope, middle)
        trial_overload = overload(contact, mode, trial)
        if trial_overload > 0.0:
            high, high_overload, new, new_slope = middle, trial_overload, trial, trial_slope
            low_overload *= 0.5
        else:
            low, low_overload = middle, trial_overload
            high_overload = max(0.5 * high_overload, 2.0 * BREAK_OVERLOAD)
    return high, new, new_slope
