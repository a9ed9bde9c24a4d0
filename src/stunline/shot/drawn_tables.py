"""The table in force as it may really be: coefficients drawn from their doubt, for batch play."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.doubt import Doubt, doubt_of
from stunline.shot.batch_input import coefficient_rows
from stunline.shot.position import Position

Floats = NDArray[np.float64]


def doubt_of_position(position: Position) -> Doubt:
    """How far the position's coefficients may be off; those that it states itself are exact."""
    cloth = position.table.cloths.get(position.cloth)
    if cloth is None:
        return Doubt(position.coefficients, (), (), None)
    return doubt_of(cloth, position.coefficients)


def drawn_rows(position: Position, count: int) -> Floats:
    """(count, COEFFICIENT_COUNT) rows for ``play_many``: the same tables every time.

    Where nothing is in doubt all rows are the position's own.
    """
    return coefficient_rows(position, doubt_of_position(position).draw(count))
