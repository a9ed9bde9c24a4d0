"""How well plays agree with what was seen."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.shot.batch import Batch, Watch, play_many
from stunline.shot.happened import Happened
from stunline.shot.position import Position
from stunline.shot.reading_error import PLACE

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]
Kinds = NDArray[np.uint64]

_CUSHION = ("cushion_nose", "cushion_x_mm", "cushion_y_mm")
_TIME = "duration_s"
_MM = 1000.0
WHITE = 0
# Odd, its bits well mixed (the golden ratio's, as in Fibonacci hashing): two ways of a shot get the
# same number about once in 2⁶⁴ pairs, and then are told as one.
_MIX = np.uint64(0x9E3779B97F4A7C15)


class Seen:
    """What was seen after one stroke, to hold plays against.

    Args:
        position: where the balls stood
        happened: what was seen
        object_ball: that ``happened.object_rest`` is of; "" when it tells of none
    """

    def __init__(self, position: Position, happened: Happened, object_ball: str = "") -> None:
        self.position = position
        self.happened = happened
        self._object = position.names.index(object_ball) if object_ball else -1
        passed = happened.white_passed
        self._watch = Watch(points=(passed,) if passed is not None else ())
        wanted = _CUSHION if happened.cushion is not None else ()
        self._readouts = (*wanted, _TIME) if happened.time is not None else wanted
        table, coefficients = position.table, position.coefficients
        noses = table.noses if coefficients.pockets else table.plain_noses
        names = table.words.cushions
        self._cushions = np.array([names.index(nose.name) for nose in noses])

    @property
    def readings(self) -> int:
        """How many numbers were read."""
        one = self.happened
        at = one.cushion is not None and one.cushion.at is not None
        places = (one.white_rest is not None) + (one.object_rest is not None)
        return 2 * places + (one.white_passed is not None) + at + (one.time is not None)

    def play(self, strikes: Floats, coefficients: Floats) -> Batch:
        """Plays with what is needed to hold them against it."""
        return play_many(
            self.position,
            strikes,
            coefficients=coefficients,
            readouts=self._readouts,
            watch=self._watch,
        )

    def broken(self, batch: Batch) -> Ints:
        """(N,) how many of the plain facts are otherwise in each play."""
        one, names = self.happened, self.position.names
        rests, fell = batch.rests, batch.potted >= 0
        wrong: Ints = np.zeros(len(rests), dtype=np.int64)
        for wanted, balls, did in (
            (True, one.met, batch.touched),
            (False, one.missed, batch.touched),
            (True, one.potted, fell),
            (False, one.not_potted, fell),
        ):
            for ball in balls:
                wrong += did[:, names.index(ball)] != wanted
        if one.in_off is not None or one.white_rest is not None:
            wrong += fell[:, WHITE] != bool(one.in_off)
        if one.object_rest is not None:
            wrong += fell[:, self._object]
        if one.cushion is not None:
            wrong += self._cushion_met(batch) != one.cushion.number
        return wrong

    def misses(self, batch: Batch) -> Floats:
        """(N, readings) how far off each reading is from the play, in its errors of reading.

        NaN where the play has no such thing: then a plain fact is broken as well.
        """
        one, columns = self.happened, []
        for place, ball in ((one.white_rest, WHITE), (one.object_rest, self._object)):
            if place is not None:
                columns += list(((batch.rests[:, ball] - np.array(place)) / PLACE).T)
        if one.white_passed is not None:
            columns.append(batch.nearest[:, 0] / PLACE)
        if one.cushion is not None and one.cushion.at is not None:
            along = "cushion_y_mm" if one.cushion.number % 2 else "cushion_x_mm"
            columns.append((batch.readouts[along] / _MM - one.cushion.at) / PLACE)
        if one.time is not None:
            columns.append((batch.readouts[_TIME] - one.time) / one.time_error)
        missed: Floats = np.array(columns).reshape(len(columns), len(batch.rests)).T
        return missed

    def log_likelihood(self, batch: Batch) -> Floats:
        """(N,) but for a constant; −∞ where a plain fact is otherwise."""
        squares = (self.misses(batch) ** 2).sum(axis=1)
        told: Floats = np.where(self.broken(batch) == 0, -0.5 * squares, -np.inf)
        return np.where(np.isnan(told), -np.inf, told)

    def _cushion_met(self, batch: Batch) -> Ints:
        """(N,) number of the cushion that the white met first after its first ball; −1 none."""
        nose = batch.readouts["cushion_nose"]
        met = ~np.isnan(nose)
        found: Ints = np.where(met, self._cushions[np.where(met, nose, 0.0).astype(np.int64)], -1)
        return found


def kinds_of(batch: Batch) -> Kinds:
    """(N,) a number for each way of a shot: what the white met, its cushions, what fell.

    Within one kind where balls end changes smoothly with the stroke, or nearly so. The same way
    has the same number in every batch of one position.
    """
    bits = 1 << np.arange(len(batch.names))
    columns = (
        batch.first_contacts,
        batch.second_balls,
        batch.cushions,
        batch.next_kinds == layout.EVENT_CUSHION,
        batch.touched @ bits,
        *batch.potted.T,
    )
    kinds: Kinds = np.zeros(len(batch.rests), dtype=np.uint64)
    for column in columns:
        kinds = kinds * _MIX + (column.astype(np.int64) + 2).astype(np.uint64)
    return kinds
