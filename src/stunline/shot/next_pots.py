"""What the kernels that look for the next pot take of a position, in their arguments' order."""

from __future__ import annotations

from collections.abc import Collection

import numpy as np
from numpy.typing import NDArray

from stunline.shot import compiled
from stunline.shot.play import Prepared

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def ways_to_pockets(
    prepared: Prepared, balls: Collection[str]
) -> tuple[Floats, Floats, Ints, Floats, Floats, float, float]:
    """Radii and reaches (n,), which balls are asked about (n,), mouths (P, 2), jaws, width, length.

    Args:
        balls: any of which may be potted next.
    """
    position = prepared.position
    table = position.table
    bodies, _, _, _, jaws, _ = prepared.bodies_and_boundary()
    radii, _, reaches = (bodies[:, column].copy() for column in compiled.BODY_COLUMNS)
    group = np.array([name in balls for name in position.names], dtype=np.int64)
    pockets = table.pockets if position.coefficients.pockets else ()
    mouths = np.array([pocket.mouth_middle for pocket in pockets]).reshape(-1, 2)
    return radii, reaches, group, mouths, jaws, table.width, table.length
