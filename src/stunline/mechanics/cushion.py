"""Law 4: a ball meets a cushion's nose.

In words:

1. The nose touches the ball above its centre while the cloth carries it below. From the
   velocities follow the slips at the two contacts, in units of the approach speed.
2. Everything then changes with the normal impulse P at the nose, which only grows. Each
   contact slips, with Coulomb friction against its slip, or sticks, with the friction
   that keeps its slip at zero (``cushion_modes``).
3. Steps over P of controlled error (``cushion_steps``) are cut where a slip dies or a
   stick breaks (``cushion_slips``).
4. Compression lasts until the ball no longer approaches; recovery until the nose has
   given back e² of the work that it took (``cushion_balance``).
5. From the slips at the end follow velocity and spin.

A ball that rolls into a nose at 7R/5, the usual one in snooker, takes none of these steps: see
``cushion_closed_form``.
"""

from stunline.mechanics.compiling import kernel
from stunline.mechanics.cushion_balance import (
    end_of_recovery,
    rebound_without_friction,
    work_at_turn,
)
from stunline.mechanics.cushion_closed_form import closed_form_impact, is_closed_form
from stunline.mechanics.cushion_modes import (
    ALONG_COUPLING,
    CLOTH_FRICTION,
    CLOTH_STICKS,
    COSINE,
    INERTIA_RATIO,
    JAMMED,
    NOSE_FRICTION,
    NOSE_STICKS,
    OWN_RESPONSE,
    SINE,
    SLIPPING,
    approach_of,
    contact_of,
    overload,
    rates,
)
from stunline.mechanics.cushion_slips import (
    end_slip,
    ending_slip,
    release,
    settle,
    step_to_break,
)
from stunline.mechanics.cushion_steps import least_slip, take_step

# Impulses are in units of mass times approach speed, slips in units of approach speed.
# None of these changes a result by more than the tolerance of a step.
FIRST_STEP = 0.2  # a whole impact is about 2
LONGEST_STEP = 2.0
STEP_AFTER_BREAK = 1e-4  # at least
# Of a slip that grows from nothing, as a rolling ball's at the cloth. The error estimate
# is blind to how its direction turns in the first step: 0.2 errs by 4e-6, 0.02 by 5e-8.
STEP_AT_BIRTH, YOUNG_SLIP = 0.02, 1e-3
# Steps tried before the closing rule ends the impact. A usual impact needs 10 to 20; only
# frictions near those that would hold the ball for good need hundreds.
MOST_STEPS = 1000
# Control of the step: safety below the predicted one, least and most change at once.
SAFETY, LEAST_FACTOR, MOST_FACTOR = 0.9, 0.1, 6.0
STEP_POWER = -0.2  # the estimate is of order five
LEAST_ERROR = 1e-12  # keeps the power finite
# A step covers at most this part of the way on which a slip would die at its present rate.
TOWARDS_ZERO = 0.9
# The stiff method takes over where a slip below CREEP_SLIP changes slower than CREEP_RATE,
# and gives way to the explicit one when its steps are no longer than STIFF_RATIO times the
# slip: then the explicit one is stable.
CREEP_SLIP, CREEP_RATE = 1e-4, 0.1
STIFF_RATIO = 2.0
# The ball always leaves, be it with restitution 0. [approach speed]
LEAST_DEPARTURE = 1e-12


@kernel
def cushion_impact(
    vx, vy, wx, wy, wz, radius, nose_height, restitution, cushion_friction, sliding_friction
):
    """Velocity and spin of a ball just after it meets a cushion's nose.

    The cushion's own frame: x along the cushion, y horizontally into it, z up,
    right-handed. The ball approaches with vy > 0 and leaves with vy < 0; with vy ≤ 0
    nothing happens. Per unit of normal impulse P and of mass, lengths in R::

        dv/dP = −r + f + g, vertical part held at zero     r = (0, c, s), s = h/R − 1
        R dω/dP = (5/2) (r × f + k × g)                    k = (0, 0, −1)
        |f| ≤ μ_w, against the slip at r                   nose, in its tangent plane
        |g| ≤ μ_s λ, against the slip at k                 cloth, λ = max(0, s − f_z)
        ∫ c v_y dP over the whole impact = (1 − e²) ∫ c v_y dP over the compression

    Args:
        vx, vy: velocity [m s⁻¹]
        wx, wy, wz: spin [rad s⁻¹]
        radius: R [m]
        nose_height: h of the nose above the bed, 0 < h < 2R [m]
        restitution: energetic, 0 < e ≤ 1 [-]
        cushion_friction, sliding_friction: μ_w ≥ 0, μ_s ≥ 0 [-]
    Returns: vx, vy [m s⁻¹], ωx, ωy, ωz [rad s⁻¹], and the steps tried, a count that is
        the same on every machine.

    Validity: a rigid cushion, good to about 2.5 m/s of normal speed; faster, a real one
    gives way, and its nose with it. The law is scale-free: speeds all multiplied by a
    number come out multiplied by it; mass and, at a given h/R, size drop out. Error in
    units of the approach speed, against the law integrated with smoothed friction by an
    implicit method: 1e-9 in the median, below 1e-7 in ninety-nine random impacts of a
    hundred and 1e-6 in all. Where friction holds the ball for
    good at the turn (both coefficients at least c/(1 + s), 0.65 in snooker), or the steps
    allowed are used up, the rest of the impact is taken without friction: the balance of
    work holds, energy does not rise, and the ball leaves.

    Source: S. Mathavan, M. R. Jackson, R. M. Parkin, "A theoretical analysis of billiard
    ball dynamics under cushion impacts", Proc. IMechE Part C 224 (2010); the explicit
    sticking modes are our own addition.
    """
    if not vy > 0.0:
        return vx, vy, wx, wy, wz, 0
    contact = contact_of(nose_height / radius - 1.0, cushion_friction, sliding_friction)
    sine, cosine = contact[SINE], contact[COSINE]
    scale, spin_scale = 1.0 / vy, radius / vy
    start = (
        vx * scale + (sine * wy - cosine * wz) * spin_scale,
        wx * spin_scale - sine,
        vx * scale - wy * spin_scale,
        1.0 + wx * spin_scale,
        0.0,
    )
    end, steps, found = start, 0, False
    if is_closed_form(contact, start):
        end, steps, found = closed_form_impact(contact, restitution, start)
    if not found:
        end, steps = _through_impact(contact, restitution, start)
    departure = min(approach_of(contact, end), -LEAST_DEPARTURE)
    nose_impulse, cloth_impulse = _impulses_along(contact, end[0] - start[0], end[2] - start[2])
    spin = INERTIA_RATIO / spin_scale
    return (
        vx + vy * (nose_impulse + cloth_impulse),
        vy * departure,
        (end[1] + sine * departure) / spin_scale,
        wy + spin * (sine * nose_impulse - cloth_impulse),
        wz - spin * cosine * nose_impulse,
        steps,
    )


@kernel
def _impulses_along(contact, nose_change, cloth_change):
    """Impulses along the cushion at nose and cloth, from what they did to the slips."""
    coupling = contact[ALONG_COUPLING]
    inverse = 1.0 / (OWN_RESPONSE * OWN_RESPONSE - coupling * coupling)
    return (
        (OWN_RESPONSE * nose_change - coupling * cloth_change) * inverse,
        (OWN_RESPONSE * cloth_change - coupling * nose_change) * inverse,
    )


@kernel
def _through_impact(contact, restitution, state):
    """The state at the end of the impact, and the steps tried."""
    work_left = -1.0  # not known until compression has ended
    mode, state = settle(contact, state)
    slope = rates(contact, mode, state)
    stiff = _creeps(mode, state, slope)
    step = STEP_AT_BIRTH if least_slip(mode, state) < YOUNG_SLIP else FIRST_STEP
    for count in range(1, MOST_STEPS + 1):
        if mode == JAMMED:
            return rebound_without_friction(contact, state, restitution, work_left), count
        tried = min(step, _step_towards_zero(contact, mode, state, slope))
        new, new_slope, error = take_step(contact, mode, stiff, state, slope, tried)
        if not error <= 1.0:
            step = tried * max(LEAST_FACTOR, SAFETY * error**STEP_POWER)
            continue
        step = tried * min(MOST_FACTOR, SAFETY * max(error, LEAST_ERROR) ** STEP_POWER)
        breaks = mode != SLIPPING and overload(contact, mode, new) > 0.0
        if breaks:
            tried, new, new_slope = step_to_break(contact, mode, state, slope, tried)
        if work_left < 0.0 and approach_of(contact, new) <= 0.0:
            work_taken = work_at_turn(
                contact, mode, stiff, state, slope, tried, new, new_slope
            )  # fmt: skip
            work_left = (1.0 - restitution * restitution) * work_taken
        if work_left >= 0.0 and new[4] <= work_left:
            end = end_of_recovery(
                contact, mode, stiff, state, slope, tried, new, new_slope, work_left
            )
            return end, count
        step *= min(1.0, least_slip(mode, new) / least_slip(mode, state))
        mode, stiff, state, slope, step = _go_on(
            contact, mode, stiff, breaks, tried, new, new_slope, step
        )
    return rebound_without_friction(contact, state, restitution, work_left), MOST_STEPS


@kernel
def _go_on(contact, mode, stiff, breaks, tried, state, slope, step):
    """Mode, method, state, rates and step length with which the impact goes on."""
    if breaks:
        state = release(contact, mode, state)
        slope = rates(contact, SLIPPING, state)
        return SLIPPING, True, state, slope, max(step, STEP_AFTER_BREAK)
    ending = ending_slip(contact, mode, state, slope)
    if ending != SLIPPING:
        mode, state = settle(contact, end_slip(ending, state, slope))
        slope = rates(contact, mode, state)
        return mode, _creeps(mode, state, slope), state, slope, max(step, STEP_AT_BIRTH)
    if stiff:
        stiff = tried > STIFF_RATIO * least_slip(mode, state)
    else:
        stiff = _creeps(mode, state, slope)
    return mode, stiff, state, slope, step


@kernel
def _creeps(mode, state, slope):
    """Whether both contacts slip, and one so little and so evenly that it is stiff."""
    return mode == SLIPPING and (
        _creep(state[0], state[1], slope[0], slope[1])
        or _creep(state[2], state[3], slope[2], slope[3])
    )


@kernel
def _creep(first, second, first_rate, second_rate):
    square = first * first + second * second
    growth = first * first_rate + second * second_rate
    return square < CREEP_SLIP * CREEP_SLIP and growth * growth < CREEP_RATE * CREEP_RATE * square


@kernel
def _step_towards_zero(contact, mode, state, slope):
    """The longest step that keeps well short of a slip's death at its present rate."""
    longest = LONGEST_STEP
    if mode != NOSE_STICKS and contact[NOSE_FRICTION] > 0.0:
        square = state[0] * state[0] + state[1] * state[1]
        closing = -(state[0] * slope[0] + state[1] * slope[1])
        if closing > 0.0:
            longest = min(longest, TOWARDS_ZERO * square / closing)
    if mode != CLOTH_STICKS and contact[CLOTH_FRICTION] > 0.0:
        square = state[2] * state[2] + state[3] * state[3]
        closing = -(state[2] * slope[2] + state[3] * slope[3])
        if closing > 0.0:
            longest = min(longest, TOWARDS_ZERO * square / closing)
    return longest
