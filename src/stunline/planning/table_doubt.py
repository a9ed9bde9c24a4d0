"""How often a strike does what is asked on the tables that this one may be.

Two things make a strike fail: the player's scatter, and a table that is not as it was thought to
be. They are told apart by playing the strike without error on many tables drawn from the doubt,
and the player's strokes on each of some tables. Aim and strike stay as they are: they were found
on the table as it is thought to be.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.doubt import Doubt, spread_normals
from stunline.equipment.player import Player
from stunline.planning.judge import Judge, runs_long
from stunline.planning.scatter import Chance, met_of, normal_draws, play_struck, scattered
from stunline.planning.strike_space import struck
from stunline.shot.batch_input import coefficient_rows

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

_PROBED = 8  # tables on which it is seen whether runs are long
_LEVEL = 0.9  # of the interval over tables


@dataclass(frozen=True, slots=True)
class TableEffort:
    """How many plays a look at the table's doubt takes.

    Attributes:
        alone: tables that the strike is played on without error
        tables: tables that the player's strokes are played on
        strokes: of the player on each of them; a power of two
        each: values of each coefficient alone; 0 to leave that out
    """

    alone: int = 256
    tables: int = 64
    strokes: int = 256
    each: int = 32

    @classmethod
    def small(cls) -> TableEffort:
        """To rank several strikes by."""
        return cls(64, 32, 64, 0)

    def of_long_runs(self) -> TableEffort:
        """Where a play is much work."""
        return TableEffort(self.alone // 4, self.tables // 4, self.strokes // 4, self.each // 4)


@dataclass(frozen=True, slots=True)
class TableChance:
    """A strike on the tables that this one may be.

    Attributes:
        doubt: that the tables were drawn from
        alone: of the tables, on how many the strike meets its goal when struck without error
        both: of the player's strokes on all of the tables
        low, high: 90 % of the tables have a chance for the player between these [-]
        tables: how many the strokes were played on
        causes: coefficient → on which share of its likely values the strike without error still
            meets its goal, all other coefficients being as thought; the most harmful first
    """

    doubt: Doubt
    alone: Chance
    both: Chance
    low: float
    high: float
    tables: int
    causes: tuple[tuple[str, float], ...]


def chance_on_tables(
    judge: Judge,
    row: Floats,
    player: Player,
    doubt: Doubt,
    seed: int,
    effort: TableEffort | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> TableChance | None:
    """Play one strike (1, 5) on tables drawn from the doubt.

    Returns:
        None where nothing is in doubt, or when it was stopped.
    """
    if not doubt.names:
        return None
    asked = effort or TableEffort()
    long = _runs_long(judge, row, doubt)
    if long:
        asked = asked.of_long_runs()
    errorless = _errorless(row, _tables(judge, doubt, asked.alone))
    alone, _ = met_of(judge, *errorless, cancelled=cancelled)
    tables = _tables(judge, doubt, asked.tables)
    strokes = scattered(row, player, normal_draws(asked.strokes, seed))
    met = _met(
        judge,
        np.tile(strokes, (len(tables), 1)),
        np.repeat(tables, len(strokes), axis=0),
        long,
        cancelled,
    )
    causes = _causes(judge, row, doubt, asked.each, cancelled) if asked.each else ()
    if cancelled is not None and cancelled():
        return None
    shares = np.sort(met.reshape(len(tables), -1).mean(axis=1))
    low, high = np.quantile(shares, [0.5 - 0.5 * _LEVEL, 0.5 + 0.5 * _LEVEL]).tolist()
    return TableChance(
        doubt,
        Chance(int(alone.sum()), len(alone)),
        Chance(int(met.sum()), len(met)),
        low, high, len(tables), causes,
    )  # fmt: skip


def _runs_long(judge: Judge, row: Floats, doubt: Doubt) -> bool:
    tables = _tables(judge, doubt, _PROBED)
    _, batch, _ = play_struck(judge, *_errorless(row, tables))
    return runs_long(batch)


def _tables(judge: Judge, doubt: Doubt, count: int) -> Floats:
    return coefficient_rows(judge.position, doubt.draw(count))


def _errorless(row: Floats, tables: Floats) -> tuple[Floats, Floats]:
    """The same strike (1, 5) on each of these tables."""
    return np.repeat(row, len(tables), axis=0), tables


def _met(
    judge: Judge,
    rows: Floats,
    tables: Floats,
    long: bool,
    cancelled: Callable[[], bool] | None,
) -> Flags:
    """Which rows meet the goal, each on its own table; miscues never do."""
    if not (long and judge.early_demands):
        return met_of(judge, rows, tables, cancelled=cancelled)[0]
    # Most strokes that fail have done so before the white meets its second ball.
    met: Flags = np.zeros(len(rows), dtype=bool)
    left = np.flatnonzero(struck(judge.position, rows))
    batch = judge.play_early(rows[left], cancelled, tables[left])
    left = left[batch.played & ~judge.fails_early(batch)]
    if len(left):
        met[left] = met_of(judge, rows[left], tables[left], cancelled=cancelled)[0]
    return met


def _causes(
    judge: Judge, row: Floats, doubt: Doubt, each: int, cancelled: Callable[[], bool] | None
) -> tuple[tuple[str, float], ...]:
    """What each coefficient's doubt does by itself."""
    standard = np.sort(spread_normals(each, 1).ravel())
    off = np.zeros((len(doubt.names), each, len(doubt.names)))
    for k, deviation in enumerate(doubt.deviations()):
        off[k, :, k] = deviation * standard
    tables = coefficient_rows(judge.position, doubt.at(off.reshape(-1, len(doubt.names))))
    met, _ = met_of(judge, *_errorless(row, tables), cancelled=cancelled)
    shares = met.reshape(len(doubt.names), each).mean(axis=1).tolist()
    found = zip(doubt.names, shares, strict=True)
    return tuple(sorted(found, key=lambda one: one[1]))
