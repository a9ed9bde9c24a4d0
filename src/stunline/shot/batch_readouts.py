"""The read-outs that a batch can tell of each of its shots, and their units.

Names, units and meanings are those of ``readouts.Readouts``; besides these "second_sine", the
sine of the cut at ``Batch.second_balls``, positive where the white meets its right side; and
"cushion_nose" with "cushion_x_mm" and "cushion_y_mm", the piece of nose that the white first met
after its first ball (of all, where it met no ball), and its centre there.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stunline.errors import Fault, InputError
from stunline.mechanics import layout

_MM = 1000.0
_DEGREES = 180.0 / math.pi

# name → column that the kernel fills, and its unit in SI
_COLUMNS = {
    "squirt_deg": (layout.READ_SQUIRT, _DEGREES),
    "contact_time_s": (layout.READ_CONTACT_TIME, 1.0),
    "contact_x_mm": (layout.READ_CONTACT_X, _MM),
    "contact_y_mm": (layout.READ_CONTACT_Y, _MM),
    "cut_angle_deg": (layout.READ_CUT_ANGLE, _DEGREES),
    "thickness": (layout.READ_THICKNESS, 1.0),
    "arrival_speed_m_s": (layout.READ_ARRIVAL_SPEED, 1.0),
    "follow_ratio": (layout.READ_FOLLOW_RATIO, 1.0),
    "tangent_direction_deg": (layout.READ_TANGENT_DIRECTION, _DEGREES),
    "first_direction_deg": (layout.READ_FIRST_DIRECTION, _DEGREES),
    "off_tangent_deg": (layout.READ_OFF_TANGENT, _DEGREES),
    "object_direction_deg": (layout.READ_OBJECT_DIRECTION, _DEGREES),
    "throw_deg": (layout.READ_THROW, _DEGREES),
    "white_speed_after_m_s": (layout.READ_WHITE_SPEED_AFTER, 1.0),
    "object_speed_after_m_s": (layout.READ_OBJECT_SPEED_AFTER, 1.0),
    "energy_kept": (layout.READ_ENERGY_KEPT, 1.0),
    "total_bend_deg": (layout.READ_TOTAL_BEND, _DEGREES),
    "next_met_time_s": (layout.READ_NEXT_TIME, 1.0),
    "next_met_x_mm": (layout.READ_NEXT_X, _MM),
    "next_met_y_mm": (layout.READ_NEXT_Y, _MM),
    "next_met_speed_m_s": (layout.READ_NEXT_SPEED, 1.0),
    "next_met_thickness": (layout.READ_NEXT_THICKNESS, 1.0),
    "duration_s": (layout.READ_DURATION, 1.0),
    "second_sine": (layout.READ_SECOND_SINE, 1.0),
    "cushion_nose": (layout.READ_CUSHION_NOSE, 1.0),
    "cushion_x_mm": (layout.READ_CUSHION_X, _MM),
    "cushion_y_mm": (layout.READ_CUSHION_Y, _MM),
}
BATCH_READOUTS = tuple(_COLUMNS)


def columns_of(names: Sequence[str]) -> NDArray[np.int64]:
    """The kernel's columns of these read-outs.

    Raises:
        InputError: for a name that is not among ``BATCH_READOUTS``.
    """
    unknown = [name for name in names if name not in _COLUMNS]
    if unknown:
        raise InputError(
            [
                Fault(
                    "this read-out is not told of a batch",
                    given=f'"{name}"',
                    allowed=", ".join(BATCH_READOUTS),
                    remedy="play the shot by itself: its Readouts hold all of them",
                )
                for name in unknown
            ]
        )
    return np.array([_COLUMNS[name][0] for name in names], dtype=np.int64)


def in_their_units(
    names: Sequence[str], reads: NDArray[np.float64]
) -> dict[str, NDArray[np.float64]]:
    """Name → (N,), from the kernel's SI numbers (N, K)."""
    return {name: reads[:, k] * _COLUMNS[name][1] for k, name in enumerate(names)}
