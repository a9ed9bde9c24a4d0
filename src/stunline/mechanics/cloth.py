"""Law 2: a ball on the cloth. Sliding, rolling, spinning on the spot.

While a ball slides, the direction of its slip ``u = (v_x − Rω_y, v_y + Rω_x)`` does not
change, so friction is a constant vector, the path an exact parabola, and the end of
sliding a closed form: ``t = 2u/(7μ_s g)``. Rolling decelerates by μ_r g along the path. The
spin about the vertical decays at a constant rate, on its own.
"""

import math

from stunline.mechanics.compiling import inlined_kernel
from stunline.mechanics.layout import RESTING, ROLLING, SLIDING, SPINNING

# Below this slip a ball rolls, below this speed it rests. [m s⁻¹] Far under anything seen
# (a ball at 1 nm/s), far above rounding (1e-16): larger would move rests, smaller would let
# rounding start phases that last no time.
SMALLEST_SPEED = 1e-9


@inlined_kernel
def slip(vx, vy, wx, wy, radius):
    """Velocity of the ball's lowest point over the cloth. [m s⁻¹]"""
    return vx - radius * wy, vy + radius * wx


@inlined_kernel
def motion_of(vx, vy, wx, wy, wz, radius, spin_deceleration):
    """Which motion a ball with this velocity and spin is in."""
    ux, uy = slip(vx, vy, wx, wy, radius)
    if ux * ux + uy * uy > SMALLEST_SPEED * SMALLEST_SPEED:
        return SLIDING
    if vx * vx + vy * vy > SMALLEST_SPEED * SMALLEST_SPEED:
        return ROLLING
    # A spin that never decays would never end the run; it moves nothing.
    if abs(wz) > 0.0 and spin_deceleration > 0.0:
        return SPINNING
    return RESTING


@inlined_kernel
def sliding(vx, vy, wx, wy, radius, friction, gravity):
    """Acceleration [m s⁻²] and how long sliding lasts [s]."""
    ux, uy = slip(vx, vy, wx, wy, radius)
    speed = math.sqrt(ux * ux + uy * uy)
    strength = friction * gravity
    return -strength * ux / speed, -strength * uy / speed, 2.0 * speed / (7.0 * strength)


@inlined_kernel
def rolling(vx, vy, resistance, gravity):
    """Acceleration [m s⁻²] and how long rolling lasts [s]."""
    speed = math.sqrt(vx * vx + vy * vy)
    strength = resistance * gravity
    return -strength * vx / speed, -strength * vy / speed, speed / strength


@inlined_kernel
def spin_after(wz, duration, spin_deceleration):
    """Spin about the vertical after that time. [rad s⁻¹]"""
    left = abs(wz) - spin_deceleration * duration
    return math.copysign(left, wz) if left > 0.0 else 0.0
