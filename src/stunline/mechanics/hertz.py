"""How two balls press into each other while they touch: Hertz's law with viscous damping.

``F = k δ^{3/2} + α √(m* k) δ^{1/4} δ̇``, never below zero, with ``k = (4/3) E* √R*``,
``m* = m₁m₂/(m₁+m₂)``, ``R* = R₁R₂/(R₁+R₂)``, ``E* = E/(2(1−ν²))`` for balls of one material.
"""

import math

from stunline.mechanics.compiling import inlined_kernel, kernel

# Phenolic resin. [R] Stiffness sets how long a contact lasts and how small a gap counts as
# touching; what touching balls leave with does not depend on it.
YOUNGS_MODULUS = 5.84e9  # [Pa]
POISSONS_RATIO = 0.34  # [-]
EFFECTIVE_MODULUS = 0.5 * YOUNGS_MODULUS / (1.0 - POISSONS_RATIO * POISSONS_RATIO)  # E* [Pa]

# Contact time over peak compression divided by speed: 2·∫₀¹ dx/√(1 − x^{5/2}). [X]
CONTACT_TIME_FACTOR = 0.8 * math.gamma(0.4) * math.gamma(0.5) / math.gamma(0.9)

# The bisection halves until neighbouring floats; 1100 covers the smallest of them.
MOST_HALVINGS = 1100


@inlined_kernel
def stiffness(radius_a, radius_b):
    """k of two balls. [N m^{−3/2}]"""
    return 4.0 / 3.0 * EFFECTIVE_MODULUS * math.sqrt(radius_a * radius_b / (radius_a + radius_b))


@inlined_kernel
def peak_compression(speed, reduced_mass, contact_stiffness):
    """Deepest δ of two balls that meet elastically with that normal speed. [m]

    From ½ m* v² = (2/5) k δ^{5/2}.
    """
    return (1.25 * reduced_mass * speed * speed / contact_stiffness) ** 0.4


@kernel
def contact_time(speed, radius_a, mass_a, radius_b, mass_b):
    """How long two balls that meet elastically with that normal speed touch. [s]"""
    reduced = mass_a * mass_b / (mass_a + mass_b)
    return CONTACT_TIME_FACTOR * (
        peak_compression(speed, reduced, stiffness(radius_a, radius_b)) / speed
    )


@kernel
def damping_of(restitution):
    """The damping α with which two balls alone part at that restitution. [-]

    With y = δ^{5/4} as depth the law is that of a damped linear spring,
    ``v dv/dy ∝ −(y + αv)``, so an impact from touching to F = 0 is solved exactly:
    ``e = exp(−2ψ/tan ψ)`` with α = √5 cos ψ, and where more damping is needed,
    ``e = exp(−2η/tanh η)`` with α = √5 cosh η. The first reaches down to e = exp(−2).
    """
    loss = -0.5 * math.log(restitution)
    if loss <= 0.0:
        return 0.0
    low = 0.0
    high = 0.5 * math.pi if loss < 1.0 else loss + 1.0
    for _ in range(MOST_HALVINGS):
        middle = 0.5 * (low + high)
        if not low < middle < high:
            break
        if loss < 1.0:
            beyond = middle / math.tan(middle) < loss
        else:
            beyond = middle / math.tanh(middle) > loss
        if beyond:
            high = middle
        else:
            low = middle
    return math.sqrt(5.0) * (math.cos(low) if loss < 1.0 else math.cosh(low))
