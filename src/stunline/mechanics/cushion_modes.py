"""What acts on a ball while it is pressed against a cushion's nose, mode by mode.

The ball touches two things, the nose and the cloth, and at each it slips or sticks. Here
are the rates of change in each mode, and the questions asked when a slip has died:
does that contact stick, and if not, which way does it slip?

Everything is per unit of normal impulse at the nose and per unit of ball mass, lengths
in ball radii. State (a tuple): slip at the nose along the cushion and up its tangent
plane, slip at the cloth along and into the cushion, work taken by the nose.

    nose slip      u₁ = v_x + s Rω_y − c Rω_z      u₂ = Rω_x − s v_y
    cloth slip     w₁ = v_x − Rω_y                 w₂ = v_y + Rω_x
    hence          v_y = (w₂ − u₂)/(1 + s)

    du₁ = (7/2) f₁ + (1 − 5s/2) g₁                 dw₁ = (1 − 5s/2) f₁ + (7/2) g₁
    du₂ = (5/2 + s²) f₂ + (5/2 − s) g₂ + s c       dw₂ = (5/2 − s) f₂ + (7/2) g₂ − c

with s, c the sine and cosine of the nose's angle above the ball's centre, f the friction
at the nose, g that at the cloth, λ = max(0, s − c f₂) the cloth's load. A slipping contact
has f = −μ_w û, g = −μ_s λ ŵ; a sticking one has the friction that keeps its slip at zero.
"""

import math

from stunline.mechanics.compiling import kernel

SLIPPING = 0  # at both contacts
NOSE_STICKS = 1
CLOTH_STICKS = 2
JAMMED = 3  # both stick: then v_y = 0 as well, and nothing moves any more

# Response of a contact's slip to its own friction: 1 + mR²/I for a solid sphere. [-]
OWN_RESPONSE = 3.5
INERTIA_RATIO = 2.5  # mR²/I of a solid sphere [-]

# Where each number stands in the tuple that describes the contact.
SINE, COSINE, NOSE_FRICTION, CLOTH_FRICTION = 0, 1, 2, 3
RISE_RESPONSE = 4  # 5/2 + s²: nose slip up the tangent plane to its own friction
ALONG_COUPLING = 5  # 1 − 5s/2: between the contacts, along the cushion
INTO_COUPLING = 6  # 5/2 − s: between the contacts, across the cushion
APPROACH_SCALE = 7  # 1/(1 + s)

# Fixed-point steps for the direction in which the nose starts to slip. Each shrinks the
# error four times or more, so that this many reach 1e-12.
DIRECTION_STEPS = 24


@kernel
def contact_of(sine, nose_friction, cloth_friction):
    """The numbers of one contact that stay the same through the impact, as a tuple."""
    return (
        sine,
        math.sqrt(1.0 - sine * sine),
        nose_friction,
        cloth_friction,
        INERTIA_RATIO + sine * sine,
        1.0 - INERTIA_RATIO * sine,
        INERTIA_RATIO - sine,
        1.0 / (1.0 + sine),
    )


@kernel
def unit(first, second):
    """Unit vector along (first, second), zero for a zero vector, and the length."""
    length = math.sqrt(first * first + second * second)
    if length > 0.0:
        inverse = 1.0 / length
        return first * inverse, second * inverse, length
    return 0.0, 0.0, 0.0


@kernel
def approach_of(contact, state):
    """Speed of the centre into the cushion, v_y. [approach speed]"""
    return (state[3] - state[1]) * contact[APPROACH_SCALE]


@kernel
def nose_holding_friction(contact, along, into):
    """Friction at the nose that keeps its slip at zero, and the cloth's load.

    ``along, into`` is the unit slip at the cloth. The load depends on the friction's
    vertical part and the friction on the load: one linear equation where the cloth is
    loaded, none where it is not.
    """
    sine, cosine = contact[SINE], contact[COSINE]
    drag = contact[INTO_COUPLING] * contact[CLOTH_FRICTION] * into
    stiffness = contact[RISE_RESPONSE] + drag * cosine
    rise = (drag * sine - sine * cosine) / stiffness
    load = sine - cosine * rise
    if not (stiffness > 0.0 and load > 0.0):
        rise = -sine * cosine / contact[RISE_RESPONSE]
        load = 0.0
    sideways = contact[ALONG_COUPLING] * contact[CLOTH_FRICTION] * load * along / OWN_RESPONSE
    return sideways, rise, load


@kernel
def cloth_holding_friction(contact, along, rise):
    """Friction at the cloth that keeps its slip at zero, given that at the nose."""
    return (
        -contact[ALONG_COUPLING] * along / OWN_RESPONSE,
        (contact[COSINE] - contact[INTO_COUPLING] * rise) / OWN_RESPONSE,
    )


@kernel
def rates(contact, mode, state):
    """Rate of change of the state with normal impulse, in the given mode."""
    nose_along, nose_rise, _ = unit(state[0], state[1])
    cloth_along, cloth_into, _ = unit(state[2], state[3])
    work_rate = contact[COSINE] * approach_of(contact, state)
    if mode == SLIPPING:
        f1 = -contact[NOSE_FRICTION] * nose_along
        f2 = -contact[NOSE_FRICTION] * nose_rise
        load = max(0.0, contact[SINE] - contact[COSINE] * f2)
        g1 = -contact[CLOTH_FRICTION] * load * cloth_along
        g2 = -contact[CLOTH_FRICTION] * load * cloth_into
        du1, du2 = _nose_slip_rate(contact, f1, f2, g1, g2)
        dw1, dw2 = _cloth_slip_rate(contact, f1, f2, g1, g2)
        return du1, du2, dw1, dw2, work_rate
    if mode == NOSE_STICKS:
        f1, f2, load = nose_holding_friction(contact, cloth_along, cloth_into)
        g1 = -contact[CLOTH_FRICTION] * load * cloth_along
        g2 = -contact[CLOTH_FRICTION] * load * cloth_into
        dw1, dw2 = _cloth_slip_rate(contact, f1, f2, g1, g2)
        return 0.0, 0.0, dw1, dw2, work_rate
    f1 = -contact[NOSE_FRICTION] * nose_along
    f2 = -contact[NOSE_FRICTION] * nose_rise
    g1, g2 = cloth_holding_friction(contact, f1, f2)
    du1, du2 = _nose_slip_rate(contact, f1, f2, g1, g2)
    return du1, du2, 0.0, 0.0, work_rate


@kernel
def _nose_slip_rate(contact, f1, f2, g1, g2):
    return (
        OWN_RESPONSE * f1 + contact[ALONG_COUPLING] * g1,
        contact[RISE_RESPONSE] * f2 + contact[INTO_COUPLING] * g2 + contact[SINE] * contact[COSINE],
    )


@kernel
def _cloth_slip_rate(contact, f1, f2, g1, g2):
    return (
        contact[ALONG_COUPLING] * f1 + OWN_RESPONSE * g1,
        contact[INTO_COUPLING] * f2 + OWN_RESPONSE * g2 - contact[COSINE],
    )


@kernel
def overload(contact, mode, state):
    """How far the sticking contact is beyond what friction can hold. [-]

    Negative while it holds: |friction needed| − friction available, the latter μ_w at the
    nose and μ_s λ at the cloth.
    """
    if mode == NOSE_STICKS:
        along, into, _ = unit(state[2], state[3])
        f1, f2, _ = nose_holding_friction(contact, along, into)
        return math.sqrt(f1 * f1 + f2 * f2) - contact[NOSE_FRICTION]
    along, rise, _ = unit(state[0], state[1])
    f1 = -contact[NOSE_FRICTION] * along
    f2 = -contact[NOSE_FRICTION] * rise
    g1, g2 = cloth_holding_friction(contact, f1, f2)
    load = max(0.0, contact[SINE] - contact[COSINE] * f2)
    return math.sqrt(g1 * g1 + g2 * g2) - contact[CLOTH_FRICTION] * load


@kernel
def nose_departure(contact, state):
    """Unit vector along which the nose starts to slip from zero when it can't hold.

    The slip grows along itself: du ∥ û. Solved by û ← du(û) + (7/2) μ_w û, normalised,
    from the direction against the friction that would have held.
    """
    cloth_along, cloth_into, _ = unit(state[2], state[3])
    f1, f2, _ = nose_holding_friction(contact, cloth_along, cloth_into)
    along, rise, _ = unit(-f1, -f2)
    pull = OWN_RESPONSE * contact[NOSE_FRICTION]
    for _ in range(DIRECTION_STEPS):
        trial = (along, rise, state[2], state[3], 0.0)
        slope = rates(contact, SLIPPING, trial)
        along, rise, _ = unit(slope[0] + pull * along, slope[1] + pull * rise)
    return along, rise


@kernel
def cloth_departure(contact, state):
    """Unit vector along which the cloth contact starts to slip from zero.

    The cloth responds alike in all directions: straight against the holding friction.
    """
    along, rise, _ = unit(state[0], state[1])
    g1, g2 = cloth_holding_friction(
        contact, -contact[NOSE_FRICTION] * along, -contact[NOSE_FRICTION] * rise
    )
    along, into, _ = unit(-g1, -g2)
    return along, into
