"""A rolling ball at a nose as high as its centre of percussion: the impact in closed form.

A push at 7R/5 above the bed makes a ball roll, so what the nose does along the cushion then
leaves the slip at the cloth alone (``ALONG_COUPLING`` is zero). The cloth under a ball that comes
in rolling then slips straight away from the cushion until the end, and the slip at the nose alone
turns, under constant forces::

    du₁/dP = −k û₁        du₂/dP = A − K û₂        û₁ = sech η, û₂ = tanh η, u₂ = u₁ sinh η

With η instead of the impulse P everything is smooth, however near the slip passes by zero::

    dη/dP = (A − δ tanh η)/ρ        δ = K − k, ρ = u₁ cosh η
    ln u₁ = −k/(A² − δ²) · (A η + δ ln D) + constant        D = A cosh η − δ sinh η
    P = ∫ u₁ cosh²η/D dη        Q = ∫ u₂ dP

Approach speed and work follow from P, u₂ and Q without another integral. The two integrals are
taken by Gauss and Legendre's rule over stretches that lead straight to the end of compression and
then to the end of recovery.

Source: own derivation from the law in ``cushion``; that a push at 7R/5 makes a sphere roll is
Coriolis's (1835).
"""

import math

from stunline.mechanics.compiling import kernel
from stunline.mechanics.cushion_modes import (
    ALONG_COUPLING,
    APPROACH_SCALE,
    CLOTH_FRICTION,
    COSINE,
    INTO_COUPLING,
    NOSE_FRICTION,
    OWN_RESPONSE,
    RISE_RESPONSE,
    SINE,
)
from stunline.mechanics.cushion_slips import DEAD_SLIP

# Coupling that is rounding of h/R. [-] It would turn the slip at the cloth by as little.
NO_COUPLING = 1e-12
# A slip at the nose, over that up its plane, below which the ball goes straight in. [-] The slip
# then dies and sets off again, which the general method does better.
STRAIGHT = 1e-9
# Stretches of η. Poles lie π/2 beside the real line, at η ≈ 0, so that ten points over 2 leave some
# 1e-11 of the integral, and four over a quarter the same; farther from there they may be longer.
LONG_STRETCH, SHORT_STRETCH = 2.0, 0.25
# A last step in η this short is taken without an integral; its error is its third power.
LAST_STEP = 2e-4
# An approach speed this small, over the slip at the nose, has ended. [-] The work's error is its
# third power.
TURN_CLOSENESS = 2e-4
MOST_STRETCHES = 60  # at most; five or six suffice

# Positive abscissas and weights of Gauss and Legendre's rules of four and ten points.
FOUR = (
    (0.33998104358485626, 0.6521451548625461),
    (0.8611363115940526, 0.34785484513745385),
)
TEN = (
    (0.14887433898163122, 0.29552422471475287),
    (0.4333953941292472, 0.26926671930999635),
    (0.6794095682990244, 0.21908636251598204),
    (0.8650633666889845, 0.1494513491505806),
    (0.9739065285171717, 0.06667134430868814),
)

# Where each number of the motion stands.
PULL, ALONG_DRAG, DIFFERENCE = 0, 1, 2  # A, k, δ
POWER = 3  # k/(A² − δ²)
TURN_AT_ZERO, TURN_BY_RISE = 4, 5  # dv_y/dP at û₂ = 0, and its change with û₂
BY_IMPULSE, BY_SLIP = 6, 7  # v_y = v_y(0) + this P − this (u₂ − u₂(0))


@kernel
def forces_of(contact):
    """The numbers of the motion while the cloth slips straight away from the cushion."""
    sine, cosine = contact[SINE], contact[COSINE]
    nose, cloth = contact[NOSE_FRICTION], contact[CLOTH_FRICTION]
    into, scale = contact[INTO_COUPLING], contact[APPROACH_SCALE]
    pull = sine * cosine + into * cloth * sine
    drag = nose * (contact[RISE_RESPONSE] - into * cloth * cosine)
    along = OWN_RESPONSE * nose
    difference = drag - along
    # dw₂/dP = B + C û₂
    cloth_pull = OWN_RESPONSE * cloth * sine - cosine
    cloth_drag = nose * (OWN_RESPONSE * cloth * cosine - into)
    share = (cloth_drag + drag) / drag
    return (
        pull,
        along,
        difference,
        along / (pull * pull - difference * difference),
        (cloth_pull - pull) * scale,
        (cloth_drag + drag) * scale,
        (cloth_pull - pull + share * pull) * scale,
        share * scale,
    )


@kernel
def is_closed_form(contact, state):
    """Whether this impact is of that kind, from its start to its end."""
    sine, cosine = contact[SINE], contact[COSINE]
    nose, cloth = contact[NOSE_FRICTION], contact[CLOTH_FRICTION]
    if abs(contact[ALONG_COUPLING]) > NO_COUPLING or nose <= 0.0:
        return False
    if abs(state[2]) > DEAD_SLIP or state[3] > DEAD_SLIP:
        return False
    if abs(state[0]) <= STRAIGHT * abs(state[1]) or abs(state[0]) < DEAD_SLIP:
        return False
    pull = sine * cosine + contact[INTO_COUPLING] * cloth * sine
    drag = nose * (contact[RISE_RESPONSE] - contact[INTO_COUPLING] * cloth * cosine)
    # The cloth stays loaded and goes on slipping that way whatever the nose's friction does.
    most = OWN_RESPONSE * cloth * sine - cosine
    change = abs(nose * (OWN_RESPONSE * cloth * cosine - contact[INTO_COUPLING]))
    goes_on = sine > cosine * nose and most + change < 0.0
    # The nose cannot hold the ball, and the ball is turned back throughout.
    slips = drag > 0.0 and pull > drag and pull > abs(drag - OWN_RESPONSE * nose)
    turned = most - pull + change + drag
    return goes_on and slips and turned < 0.0


@kernel
def _at(forces, start, eta):
    """Slip along u₁, the same up u₂, dP/dη and û₂, where the slip's direction is η.

    Args: ``start``: η, ln D and u₁ at a place on the way.
    """
    grown = math.exp(eta)
    fallen = 1.0 / grown
    even = 0.5 * (grown + fallen)
    odd = 0.5 * (grown - fallen)
    width = forces[PULL] * even - forces[DIFFERENCE] * odd
    along = start[2] * math.exp(
        -forces[POWER]
        * (forces[PULL] * (eta - start[0]) + forces[DIFFERENCE] * (math.log(width) - start[1]))
    )
    return along, along * odd, along * even * even / width, odd / even


@kernel
def _integrate(forces, start, eta, stretch, points):
    """P and Q gained over a stretch of η that begins there."""
    middle, half = eta + 0.5 * stretch, 0.5 * stretch
    impulse, moment = 0.0, 0.0
    for k in range(len(points)):
        node, weight = points[k]
        _, slip, density, _ = _at(forces, start, middle - half * node)
        _, other_slip, other_density, _ = _at(forces, start, middle + half * node)
        impulse += weight * (density + other_density)
        moment += weight * (density * slip + other_density * other_slip)
    return half * impulse, half * moment


@kernel
def _stretch_for(forces, eta, density, rise, impulse):
    """How far η goes during that impulse, were dP/dη an exponential; bounded."""
    pull, difference = forces[PULL], forces[DIFFERENCE]
    turn = pull - difference * rise
    growth = 2.0 * rise - (forces[ALONG_DRAG] + pull * rise - difference) / turn
    grows = growth * impulse / density
    longest = max(LONG_STRETCH, 0.7 * (LONG_STRETCH + eta), 0.25 * (LONG_STRETCH - eta))
    if grows <= -0.99:
        return longest if impulse > 0.0 else -LONG_STRETCH
    stretch = impulse / density
    if abs(grows) > 1e-9:
        stretch *= math.log1p(grows) / grows
    return min(max(stretch, -LONG_STRETCH), longest)


@kernel
def closed_form_impact(contact, restitution, state):
    """The state at the end of such an impact, the stretches taken, and whether they sufficed."""
    forces = forces_of(contact)
    cosine = contact[COSINE]
    first_rise = state[1]
    first_along = abs(state[0])
    first_approach = (state[3] - first_rise) * contact[APPROACH_SCALE]
    eta = math.asinh(first_rise / first_along)
    width = forces[PULL] * math.cosh(eta) - forces[DIFFERENCE] * math.sinh(eta)
    start = (eta, math.log(width), first_along)
    impulse, moment, work_left = 0.0, 0.0, -1.0
    for count in range(1, MOST_STRETCHES + 1):
        along, slip, density, rise = _at(forces, start, eta)
        approach = (
            first_approach + forces[BY_IMPULSE] * impulse - forces[BY_SLIP] * (slip - first_rise)
        )
        rate = forces[TURN_AT_ZERO] + forces[TURN_BY_RISE] * rise
        work = impulse * (first_approach + 0.5 * forces[BY_IMPULSE] * impulse)
        work = cosine * (work - forces[BY_SLIP] * (moment - first_rise * impulse))
        if work_left < 0.0 and abs(approach) < TURN_CLOSENESS * min(1.0, along):
            work_taken = work - 0.5 * cosine * approach * approach / rate
            work_left = (1.0 - restitution * restitution) * work_taken
        if work_left < 0.0:
            missing = -approach / rate
        else:
            excess = (work_left - work) / cosine
            under_root = approach * approach + 2.0 * rate * excess
            missing = 2.0 * excess / (approach - math.sqrt(max(0.0, under_root)))
        stretch = _stretch_for(forces, eta, density, rise, missing)
        if work_left >= 0.0 and abs(stretch) < LAST_STEP:
            along, new_slip, _, _ = _at(forces, start, eta + stretch)
            approach += forces[BY_IMPULSE] * missing - forces[BY_SLIP] * (new_slip - slip)
            into = approach / contact[APPROACH_SCALE] + new_slip
            along = math.copysign(along, state[0])
            return (along, new_slip, 0.0, into, work_left), count, True
        if abs(stretch) < SHORT_STRETCH:
            gained, turned = _integrate(forces, start, eta, stretch, FOUR)
        else:
            gained, turned = _integrate(forces, start, eta, stretch, TEN)
        impulse += gained
        moment += turned
        eta += stretch
    return state, MOST_STRETCHES, False
