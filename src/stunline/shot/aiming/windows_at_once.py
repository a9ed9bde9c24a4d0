"""Searches for windows of aim, several in one call of the engine."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.aiming.strike_limits import safe_height
from stunline.shot.batch_input import strike_rows
from stunline.shot.cores import over_cores
from stunline.shot.play import Prepared
from stunline.shot.position import PotAim, Strike

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# Contact two fifths of the radius above centre rolls at once on every cloth [X].
_ROLLS_AT_ONCE = 0.4


def pots_made(prepared: Prepared, pot: PotAim, strike: Strike, aims: Sequence[float]) -> list[bool]:
    """Whether the ball goes in directly, for each aim of the same strike."""
    rows = np.repeat(strike_rows([strike]), len(aims), axis=0)
    rows[:, layout.STRIKE_AIM] = aims
    pockets = _search(compiled.POCKETS, prepared, pot, rows, np.empty((len(aims), 3)))
    watched, wanted = _indices(prepared, pot)
    made = pockets == wanted
    for row in np.flatnonzero(pockets == compiled.TOO_FEW_ROWS).tolist():
        # It needs longer arrays than are kept for searches, and has them by itself.
        made[row] = prepared.falls_into(Strike(*rows[row].tolist()), watched) == pot.pocket
    return [bool(one) for one in made]


def last_aims(
    prepared: Prepared,
    pot: PotAim,
    strike: Strike,
    brackets: Sequence[tuple[float, float]],
    tolerance: float,
) -> list[float]:
    """Between aims that pot and aims that do not: the last that do. [rad]"""
    rows = np.repeat(strike_rows([strike]), len(brackets), axis=0)
    windows = np.array([(*bracket, 0.0) for bracket in brackets])
    _search(compiled.LAST_AIMS, prepared, pot, rows, windows, tolerance)
    return [float(one) for one in windows[:, 0]]


def close_in_windows(
    prepared: Prepared,
    pot: PotAim,
    strikes: Floats,
    windows: Floats,
    tolerance: float,
    follow_ratio: float | None,
) -> Ints:
    """Close windows in, each near where it is guessed, with the heights where they are solved.

    Args:
        strikes: (N, STRIKE_COLUMNS) of ``mechanics.layout``; aims, and heights if solved, are
            put in.
        windows: (N, 3): edges as guessed and a first step [rad]; the edges found are put in.
        follow_ratio: that heights are solved for; None where they are given.

    Returns:
        (N,) FOUND or why not, of ``mechanics.aim_windows``.
    """
    ratio = math.nan if follow_ratio is None else follow_ratio
    return _search(compiled.WINDOWS, prepared, pot, strikes, windows, tolerance, ratio)


def _search(
    what: int,
    prepared: Prepared,
    pot: PotAim,
    strikes: Floats,
    windows: Floats,
    tolerance: float = 0.0,
    follow_ratio: float = math.nan,
) -> Ints:
    """``search_aims`` for all rows, over all cores."""
    position = prepared.position
    limit = safe_height(position, float(strikes[0, layout.STRIKE_SIDE]))
    at_once = _ROLLS_AT_ONCE * position.radius(position.names[0])
    watched, wanted = _indices(prepared, pot)
    found: Ints = np.zeros(len(strikes), dtype=np.int64)

    def work(thread: int, first: int, last: int) -> None:
        table, scratch = prepared.for_searches(thread)
        compiled.search_aims(
            what, first, last, strikes, watched, wanted, tolerance, follow_ratio, limit, at_once,
            table, scratch, windows, found,
        )  # fmt: skip

    over_cores(len(strikes), work)
    return found


def _indices(prepared: Prepared, pot: PotAim) -> tuple[int, int]:
    """Of the ball among the balls, and of the pocket among the pockets."""
    pockets = [pocket.name for pocket in prepared.position.table.pockets]
    return prepared.position.names.index(pot.ball), pockets.index(pot.pocket)
