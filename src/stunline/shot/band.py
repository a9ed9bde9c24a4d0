"""How far a shot may come out otherwise because the table's coefficients are in doubt.

The stroke is fixed, as it was solved for the coefficients in force; the table is what differs.
It is played on tables drawn from the doubt, the same ones every time.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.doubt import Doubt
from stunline.equipment.model import Coefficients
from stunline.mechanics import layout
from stunline.shot.batch import play_many
from stunline.shot.batch_input import coefficient_rows
from stunline.shot.batch_readouts import BATCH_READOUTS, columns_of, in_their_units
from stunline.shot.central_part import central_hull, ribbon
from stunline.shot.drawn_tables import doubt_of_position
from stunline.shot.drawn_ways import DrawnWay, ways_on
from stunline.shot.outcome import Outcome
from stunline.shot.play import Prepared
from stunline.shot.position import Position, Strike, StrikePlan

Floats = NDArray[np.float64]

TABLES = 100  # drawn: "on 7 of 100 tables like this"
SHARE = 0.9  # of the tables, that an interval, a region and the ribbon hold
# The hull of a sample's middle holds fewer of the next ones than of the sample itself: this share
# of the sample's ways makes one that holds about 90 % of fresh ones, as the tests try.
_WAYS_SHARE, _RESTS_SHARE = 0.97, 0.98
# Rows of events that all whole plays together may take, some tenths of a second for opened packs,
# and the fewest tables that say anything.
PATIENCE = 10_000
_FEWEST = 16
# Each ball of a cluster of touching ones takes as long as so many rows.
_A_BALL_OF_A_CLUSTER = 20
_MM = 1000.0
# A way that turns by less is told as straight. [rad]
_NO_TURN = math.radians(0.05)
# A white that runs no further is said to stop: about two widths of a ball. [m]
_STOPS_WITHIN = 0.1
_MOST_SHARE = 0.5  # a read-out is told when so many tables have it
# Read-outs of the contact with the first ball, and of what was met after it.
_AFTER = tuple(name for name in BATCH_READOUTS if name.startswith("next_met"))
_LEFT_OUT = ("second_sine", "duration_s")


@dataclass(frozen=True, slots=True)
class Interval:
    """The middle 90 % of the tables.

    Attributes:
        low, high: in the read-out's unit
        tables: that have a value at all
    """

    low: float
    high: float
    tables: int

    @property
    def width(self) -> float:
        """Between its ends."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class WholePlays:
    """Plays until everything rests: where the white comes to rest, and when.

    Attributes:
        rests: (M, 2) of the white on the tables where it stays on the table and does what it
            does on the table in force [m]
        durations: (M,) of these [s]
        plays: how many were played
        in_off: on how many of these the white goes down
    """

    rests: Floats
    durations: Floats
    plays: int
    in_off: int


@dataclass(frozen=True)
class ShotBand:
    """One strike on tables drawn from the doubt.

    Attributes:
        doubt: whose
        ways: on each table
        own: on the table in force
        whole: played until rest; None where that would take too long
    """

    doubt: Doubt
    ways: Sequence[DrawnWay]
    own: DrawnWay
    whole: WholePlays | None

    @property
    def usual(self) -> Outcome:
        """What it comes to on the table in force."""
        return self.own.outcome

    @property
    def tables(self) -> int:
        """How many were drawn."""
        return len(self.ways)

    @cached_property
    def same(self) -> int:
        """On how many of them it comes to the same."""
        return sum(way.outcome == self.usual for way in self.ways)

    @cached_property
    def others(self) -> tuple[tuple[Outcome, int], ...]:
        """What else it comes to, and on how many tables, the most frequent first."""
        counted = Counter(way.outcome for way in self.ways if way.outcome != self.usual)
        return tuple(counted.most_common())

    @cached_property
    def readouts(self) -> dict[str, Interval]:
        """Name → interval, of those that most tables have.

        Those of what is met next are of tables on which that is the same.
        """
        reads = np.array([way.reads for way in self.ways])
        numbers = in_their_units(BATCH_READOUTS, reads[:, columns_of(BATCH_READOUTS)])
        first = np.array([way.outcome.object_ball == self.usual.object_ball for way in self.ways])
        after = np.array([_same_after(way.outcome, self.usual) for way in self.ways])
        columns = {
            name: np.where(after if name in _AFTER else first, values, np.nan)
            for name, values in numbers.items()
            if name not in _LEFT_OUT
        }
        columns |= {name: np.where(first, values, np.nan) for name, values in self._bends().items()}
        if self.whole is not None and len(self.whole.durations):
            columns["duration_s"] = self.whole.durations
        found = {name: interval_of(values) for name, values in columns.items()}
        return {
            name: one
            for name, one in found.items()
            if one is not None and one.tables >= _MOST_SHARE * len(columns[name])
        }

    def _bends(self) -> dict[str, Floats]:
        """Lengths of the bend by the names of their read-outs. [mm]"""
        bends = [way.bend for way in self.ways]
        names = {
            "run_to_5mm_off_mm": [one.run_to_5mm_off for one in bends],
            "run_to_5deg_off_mm": [one.run_to_5deg_off for one in bends],
            "sliding_ended_after_mm": [one.sliding_run for one in bends],
        }
        return {
            name: _MM * np.array([np.nan if one is None else one for one in values])
            for name, values in names.items()
        }

    @cached_property
    def bent(self) -> tuple[int, int]:
        """On how many tables the white's way turns back after contact, and on how many forward.

        Of those on which the ball met first is that of the table in force, and the white then
        runs as far as a coach would say that it goes anywhere.
        """
        totals = [
            way.reads[layout.READ_TOTAL_BEND]
            for way in self.ways
            if way.outcome.object_ball == self.usual.object_ball and way.run > _STOPS_WITHIN
        ]
        return sum(one < -_NO_TURN for one in totals), sum(one > _NO_TURN for one in totals)

    @cached_property
    def rest_from_cushions(self) -> dict[str, Interval]:
        """The white's rest from the left and the near cushion, by "x" and "y". [mm]"""
        if self.whole is None or len(self.whole.rests) < self.whole.plays * _MOST_SHARE:
            return {}
        found = {
            axis: interval_of(_MM * values)
            for axis, values in zip("xy", self.whole.rests.T, strict=True)
        }
        return {axis: one for axis, one in found.items() if one is not None}

    @cached_property
    def rest_region(self) -> Floats | None:
        """(k, 2) a convex polygon that holds 90 % of the white's resting places. [m]"""
        if not self.rest_from_cushions or self.whole is None:
            return None
        return central_hull(self.whole.rests, _RESTS_SHARE)

    @cached_property
    def ribbon(self) -> tuple[Floats, ...]:
        """Convex polygons that together hold 90 % of the white's ways, each from its contact to
        the next ball it meets or to rest. [m]"""
        return ribbon([way.legs for way in self.ways], [way.ends for way in self.ways], _WAYS_SHARE)


def band_of_shot(
    position: Position,
    strike: Strike,
    plan: StrikePlan | None = None,
    tables: int = TABLES,
    patience: int = PATIENCE,
    prepared: Prepared | None = None,
) -> ShotBand:
    """The strike on so many tables drawn from the position's doubt.

    Args:
        plan: what was asked for, so that a pot made or missed is told
        patience: rows of events that all whole plays together may take: of packs fewer tables
            are played until rest, or none
        prepared: the position as arrays, if there is one; it is played with

    Returns:
        With nothing in doubt, the strike on the table in force alone.
    """
    doubt = doubt_of_position(position)
    drawn = doubt.draw(tables) if doubt.names else [position.coefficients]
    prepared = prepared or Prepared(position)
    own = ways_on(prepared, strike, [position.coefficients], plan)[0]
    ways = ways_on(prepared, strike, drawn, plan)
    whole = _whole_plays(prepared, strike, drawn, ways, own.outcome, patience)
    return ShotBand(doubt, ways, own, whole)


def _whole_plays(
    prepared: Prepared,
    strike: Strike,
    drawn: Sequence[Coefficients],
    ways: Sequence[DrawnWay],
    usual: Outcome,
    patience: int,
) -> WholePlays | None:
    if not any(way.second_ball for way in ways):
        return _of_ways(ways, usual)
    kinds = prepared.rows(strike).event_ints[:, layout.EVENT_KIND]
    cost = len(kinds) + _A_BALL_OF_A_CLUSTER * int(np.count_nonzero(kinds == layout.EVENT_MEMBER))
    count = min(len(drawn), patience // max(cost, 1))
    if count < min(_FEWEST, len(drawn)):
        return None
    position = prepared.position
    batch = play_many(
        position,
        [strike],
        coefficients=coefficient_rows(position, drawn[:count]),
        readouts=("duration_s",),
    )
    same = np.array([_same_after(way.outcome, usual) for way in ways[:count]])
    stays = batch.potted[:, 0] < 0
    return WholePlays(
        batch.rests[same & stays, 0],
        batch.readouts["duration_s"][same & stays],
        count,
        int(np.count_nonzero(~stays)),
    )


def _of_ways(ways: Sequence[DrawnWay], usual: Outcome) -> WholePlays:
    """Where nothing but the object ball is met, the ways tell all."""
    stay = [way for way in ways if _same_after(way.outcome, usual) and way.rests]
    return WholePlays(
        np.array([way.end for way in stay]).reshape(-1, 2),
        np.array([way.reads[layout.READ_DURATION] for way in stay]),
        len(ways),
        sum(bool(way.outcome.in_off) for way in ways),
    )


def _same_after(one: Outcome, other: Outcome) -> bool:
    """Whether the white meets the same two: ball, and ball or cushion after it."""
    return (one.object_ball, one.meets) == (other.object_ball, other.meets)


def interval_of(values: Floats) -> Interval | None:
    """The middle 90 % of the numbers among the values, None when there are none."""
    numbers = values[~np.isnan(values)]
    if not len(numbers):
        return None
    tail = 0.5 * (1.0 - SHARE)
    low, high = np.quantile(numbers, (tail, 1.0 - tail), method="hazen").tolist()
    return Interval(low, high, len(numbers))
