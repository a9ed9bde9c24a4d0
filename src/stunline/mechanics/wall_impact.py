"""Law 4 applied where a ball touches: the straight nose's normal, or the jaw's."""

import math

from stunline.mechanics.ball_impact import SEPARATING_FLOOR
from stunline.mechanics.compiling import kernel
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


@kernel
def wall_impact(x, y, vx, vy, wx, wy, wz, radius, kind, index, coefficients, noses, jaws):
    """Velocity and spin after a nose or jaw, and whether the separating floor was used.

    The cushion's own frame has its y axis into the cushion and its x axis along it, such
    that x × y is up. All in SI units, in the table's frame.
    """
    if kind == EVENT_CUSHION:
        inx = noses[index, NOSE_INWARD_X]
        iny = noses[index, NOSE_INWARD_Y]
    else:
        inx = x - jaws[index, JAW_X]
        iny = y - jaws[index, JAW_Y]
        distance = math.sqrt(inx * inx + iny * iny)
        inx /= distance
        iny /= distance
    along = vy * inx - vx * iny
    into = -(vx * inx + vy * iny)
    roll_along = wy * inx - wx * iny
    roll_into = -(wx * inx + wy * iny)
    floored = 0
    if into > 0.0:
        along, into, roll_along, roll_into, wz, _ = cushion_impact(
            along, into, roll_along, roll_into, wz, radius, coefficients[NOSE_HEIGHT],
            coefficients[CUSHION_RESTITUTION], coefficients[CUSHION_FRICTION],
            coefficients[SLIDING_FRICTION],
        )  # fmt: skip
    if into > -SEPARATING_FLOOR:
        into = -SEPARATING_FLOOR
        floored = 1
    return (
        -along * iny - into * inx,
        along * inx - into * iny,
        -roll_along * iny - roll_into * inx,
        roll_along * inx - roll_into * iny,
        wz,
        floored,
    )
