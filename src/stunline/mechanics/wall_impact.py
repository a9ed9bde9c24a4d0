"""Law 4 applied where a ball touches: the straight nose's normal, or the jaw's."""

import math

from stunline.mechanics.compiling import inlined_kernel, kernel
from stunline.mechanics.cushion import cushion_impact
from stunline.mechanics.layout import (
    CUSHION_FRICTION,
    CUSHION_RESTITUTION,
    EVENT_CUSHION,
    JAW_X,
    JAW_Y,
    NOSE_HEIGHT,
    NOSE_INWARD_X,
    NOSE_INWARD_Y,
    SLIDING_FRICTION,
)
from stunline.mechanics.moving_ball import VX, VY, X, Y


@inlined_kernel
def _inward(x, y, kind, index, noses, jaws):
    """Unit normal of the wall where a ball at (x, y) touches it, into the playing area."""
    if kind == EVENT_CUSHION:
        return noses[index, NOSE_INWARD_X], noses[index, NOSE_INWARD_Y]
    inx = x - jaws[index, JAW_X]
    iny = y - jaws[index, JAW_Y]
    distance = math.sqrt(inx * inx + iny * iny)
    return inx / distance, iny / distance


@inlined_kernel
def wall_closing(work, i, kind, index, noses, jaws):
    """Speed at which a ball closes with the wall that it touches. [m s⁻¹]"""
    inx, iny = _inward(work[i, X], work[i, Y], kind, index, noses, jaws)
    return -(work[i, VX] * inx + work[i, VY] * iny)


@kernel
def wall_impact(x, y, vx, vy, wx, wy, wz, radius, kind, index, coefficients, noses, jaws):
    """Velocity and spin after a nose or jaw.

    The cushion's own frame has its y axis into the cushion and its x axis along it, such
    that x × y is up. All in SI units, in the table's frame.
    """
    inx, iny = _inward(x, y, kind, index, noses, jaws)
    along = vy * inx - vx * iny
    into = -(vx * inx + vy * iny)
    roll_along = wy * inx - wx * iny
    roll_into = -(wx * inx + wy * iny)
    if into > 0.0:
        along, into, roll_along, roll_into, wz, _ = cushion_impact(
            along, into, roll_along, roll_into, wz, radius, coefficients[NOSE_HEIGHT],
            coefficients[CUSHION_RESTITUTION], coefficients[CUSHION_FRICTION],
            coefficients[SLIDING_FRICTION],
        )  # fmt: skip
    return (
        -along * iny - into * inx,
        along * inx - into * iny,
        -roll_along * iny - roll_into * inx,
        roll_along * inx - roll_into * iny,
        wz,
    )
