"""The table in force as it may really be: coefficients drawn from their doubt, for batch play."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.coefficient_scales import KINDS, to_scale, value_of
from stunline.equipment.doubt import Doubt, doubt_of
from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.batch_input import coefficient_rows
from stunline.shot.kernel_input import coefficient_vector
from stunline.shot.position import Position

Floats = NDArray[np.float64]

# Coefficients that stand in one column of the kernels' rows, as they are.
_COLUMNS = {
    "sliding_friction": layout.SLIDING_FRICTION,
    "rolling_resistance": layout.ROLLING_RESISTANCE,
    "spin_deceleration": layout.SPIN_DECELERATION,
    "ball_restitution": layout.BALL_RESTITUTION,
    "cushion_restitution": layout.CUSHION_RESTITUTION,
    "cushion_friction": layout.CUSHION_FRICTION,
}
# Restitutions between which damping is taken to be a straight line: well within 1e-4 of it.
_DAMPING_STEPS = 128


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


def rows_off(position: Position, doubt: Doubt, off: Floats) -> Floats:
    """(N, COEFFICIENT_COUNT) rows when those in doubt are off by (N, k) on their scales.

    As ``doubt.at`` through ``coefficient_rows``, for thousands at once.
    """
    rows: Floats = np.tile(coefficient_vector(doubt.coefficients, position.table), (len(off), 1))
    scales = {kind.name: kind.scale for kind in KINDS}
    for name, moved in zip(doubt.names, off.T, strict=True):
        centre = value_of(doubt.coefficients, name)
        scaled = to_scale(centre, scales[name]) + moved
        values = _from_scale(scaled, scales[name])
        if name in _COLUMNS:
            rows[:, _COLUMNS[name]] = values
            continue
        share = values / centre  # ball friction keeps its fall with slip
        rows[:, layout.BALL_FRICTION_FLOOR] *= share
        rows[:, layout.BALL_FRICTION_SPAN] *= share
    if "ball_restitution" in doubt.names:
        rows[:, layout.BALL_DAMPING] = _dampings(rows[:, layout.BALL_RESTITUTION])
    return rows


def _from_scale(scaled: Floats, scale: str) -> Floats:
    if scale == "log":
        return np.exp(scaled)
    return 1.0 / (1.0 + np.exp(-scaled)) if scale == "logit" else scaled


def _dampings(restitutions: Floats) -> Floats:
    """(N,) of law 6, between those of restitutions as far apart as the rows' own."""
    low, high = float(restitutions.min()), float(restitutions.max())
    known = np.linspace(low, high, _DAMPING_STEPS if high > low else 1)
    found = [compiled.damping_of(float(one)) for one in known]
    dampings: Floats = np.interp(restitutions, known, found)
    return dampings
