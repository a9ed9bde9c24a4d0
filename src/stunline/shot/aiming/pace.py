"""Pace in lengths, and the pace at which a ball just drops."""

from __future__ import annotations

import math
from functools import lru_cache
from threading import Lock

from stunline.equipment.model import Coefficients, Point, Table
from stunline.errors import Fault, UnsolvableShotError
from stunline.shot import plane
from stunline.shot.aiming.root_search import root_between
from stunline.shot.play import Prepared
from stunline.shot.position import Position, Strike

SLOWEST, FASTEST = 0.02, 15.0  # that a position file may ask for [m s⁻¹]
_TOLERANCE = 1e-9  # [m s⁻¹]


def lengths_of(position: Position, pace: float) -> float:
    """How many lengths that pace is worth on this table and cloth. [-]

    A length: a centre-ball stroke from the table's own spot for it (the brown spot, the head
    spot) straight up the table, the whole run over the playing length, cushions included.
    Common practice, no source.
    """
    return _Up.the_table(position).run(pace)


def pace_of_lengths(position: Position, lengths: float) -> float:
    """The pace that is worth that many lengths. [m s⁻¹]

    Raises:
        UnsolvableShotError: "no-pace", when no allowed pace does it.
    """
    up = _Up.the_table(position)
    pace = root_between(lambda one: up.run(one) - lengths, SLOWEST, FASTEST, _TOLERANCE)
    if pace is None:
        raise UnsolvableShotError(
            "no-pace",
            Fault(
                "no pace gives that many lengths on this table",
                given=f"{lengths:g} lengths",
                allowed=f"{up.run(SLOWEST):.2g} to {up.run(FASTEST):.3g} lengths",
                remedy="a number of lengths between those, or a pace in m/s",
                key="strike.pace",
            ),
        )
    return pace


class _Up:
    """The white alone, played straight up the table."""

    def __init__(self, position: Position) -> None:
        self._prepared = Prepared(position)
        self._white = position.names[0]
        self._length = position.table.length
        self._known: dict[float, float] = {}
        # One set of arrays for all who ask: plays of the page run in several threads.
        self._playing = Lock()

    @classmethod
    def the_table(cls, position: Position) -> _Up:
        """The one for this position's table, cloth and coefficients, kept for the next time."""
        return _kept(_Key(position.table, position.coefficients))

    def run(self, pace: float) -> float:
        known = self._known.get(pace)
        if known is not None:
            return known
        with self._playing:
            if len(self._known) > 4096:  # a long-running page must not grow without end
                self._known.clear()
            length = self._known[pace] = self._run(pace)
        return length

    def _run(self, pace: float) -> float:
        shot = self._prepared.play(Strike(aim=0.5 * math.pi, pace=pace))
        # The white keeps to one straight line, so each phase is as long as its ends are apart.
        return (
            sum(
                plane.length(plane.between(phase.place, phase.place_at(phase.end)))
                for phase in shot.phases(self._white)
                if phase.motion != "spinning"
            )
            / self._length
        )


class _Key:
    """A table and coefficients, equal when they are the same table and equal numbers."""

    def __init__(self, table: Table, coefficients: Coefficients) -> None:
        self.table = table
        self.coefficients = coefficients

    def __hash__(self) -> int:
        return hash((id(self.table), self.coefficients))

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, _Key)
            and self.table is other.table
            and self.coefficients == other.coefficients
        )


@lru_cache(maxsize=32)
def _kept(key: _Key) -> _Up:
    start = _start_of_a_length(key.table)
    position = Position(key.table, "", key.coefficients, {key.table.cue_ball: start})
    return _Up(position)


def _start_of_a_length(table: Table) -> Point:
    """The spot that the table names; without one, the middle of the line a fifth up the table."""
    return table.spots.get(table.length_from, (0.5 * table.width, 0.2 * table.length))
