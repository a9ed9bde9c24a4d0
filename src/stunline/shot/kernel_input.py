"""Balls, coefficients and tables as the arrays that the kernels take."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.model import Coefficients, SpeedDependentFriction, Table
from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.position import Position

Floats = NDArray[np.float64]


def ball_rows(position: Position) -> Floats:
    """(n, WORK_COLUMNS), the balls at rest where they stand."""
    rows = np.zeros((len(position.balls), compiled.WORK_COLUMNS))
    height = position.table.nose_height
    for row, (name, (x, y)) in zip(rows, position.balls.items(), strict=True):
        ball = position.table.balls[name]
        row[layout.PHASE_X] = x
        row[layout.PHASE_Y] = y
        reach = compiled.nose_reach(ball.radius, height)
        row[layout.BALL_RADIUS : layout.BALL_REACH + 1] = ball.radius, ball.mass, reach
    return rows


def coefficient_vector(coefficients: Coefficients, table: Table) -> Floats:
    """The coefficients as the kernels take them, columns as in ``mechanics.layout``."""
    friction = coefficients.ball_friction
    if not isinstance(friction, SpeedDependentFriction):
        friction = SpeedDependentFriction(float(friction), 0.0, 0.0)
    vector = np.zeros(layout.COEFFICIENT_COUNT)
    vector[layout.SLIDING_FRICTION] = coefficients.sliding_friction
    vector[layout.ROLLING_RESISTANCE] = coefficients.rolling_resistance
    vector[layout.SPIN_DECELERATION] = coefficients.spin_deceleration
    vector[layout.GRAVITY] = coefficients.gravity
    vector[layout.BALL_RESTITUTION] = coefficients.ball_restitution
    vector[layout.BALL_FRICTION_FLOOR] = friction.floor
    vector[layout.BALL_FRICTION_SPAN] = friction.span
    vector[layout.BALL_FRICTION_DECAY] = friction.decay
    vector[layout.CUSHION_RESTITUTION] = coefficients.cushion_restitution
    vector[layout.CUSHION_FRICTION] = coefficients.cushion_friction
    vector[layout.NOSE_HEIGHT] = table.nose_height
    vector[layout.BALL_DAMPING] = compiled.damping_of(coefficients.ball_restitution)
    return vector


_boundaries: dict[tuple[int, bool], tuple[Table, tuple[Floats, ...]]] = {}


def boundary(table: Table, pockets: bool) -> tuple[Floats, ...]:
    """Interior, noses, jaws and drops as arrays; kept, since a table is played on many times."""
    key = (id(table), pockets)
    if key not in _boundaries:
        # The table is kept with its arrays, so that its id is not given to another.
        _boundaries[key] = (table, _boundary_arrays(table, pockets))
    return _boundaries[key][1]


def _boundary_arrays(table: Table, pockets: bool) -> tuple[Floats, ...]:
    pieces = table.noses if pockets else table.plain_noses
    noses = np.zeros((len(pieces), layout.NOSE_COLUMNS))
    for row, nose in zip(noses, pieces, strict=True):
        along = np.subtract(nose.end, nose.start)
        length = math.hypot(*along)
        along = along / length
        row[:] = *nose.start, *along, -along[1], along[0], length
    jaws = np.zeros((len(table.jaws) if pockets else 0, layout.JAW_COLUMNS))
    names = [pocket.name for pocket in table.pockets]
    for row, jaw in zip(jaws, table.jaws, strict=False):
        middle = math.cos(jaw.middle), math.sin(jaw.middle)
        row[:] = *jaw.centre, jaw.radius, *middle, math.cos(jaw.half_angle), names.index(jaw.pocket)
    drops = np.zeros((len(table.pockets) if pockets else 0, layout.DROP_COLUMNS))
    for row, pocket in zip(drops, table.pockets, strict=False):
        row[:] = *pocket.drop_centre, pocket.drop_radius
    return _interior(table, drops), noses, jaws, drops


def _interior(table: Table, drops: Floats) -> Floats:
    """The playing area, less what a drop circle takes of it beyond a ball's reach.

    Jaws bend away from the nose lines, so only drops can stand out.
    """
    radii = {ball.radius for ball in table.balls.values()}
    reach = min(compiled.nose_reach(radius, table.nose_height) for radius in radii)
    inset = 0.0
    for x, y, radius in drops:
        dx = max(reach - x, 0.0, x - (table.width - reach))
        dy = max(reach - y, 0.0, y - (table.length - reach))
        inset = max(inset, radius - math.hypot(dx, dy))
    return np.array([inset, table.width - inset, inset, table.length - inset])
