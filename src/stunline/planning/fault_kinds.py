"""Plays sorted by what becomes of them: the goal met, or the first thing that goes wrong."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from stunline.planning.faults import fault_of
from stunline.planning.judge import Judge, Judgement, runs_long
from stunline.planning.strike_space import struck
from stunline.shot.batch import Batch
from stunline.shot.words import with_article

Floats = NDArray[np.float64]
Codes = NDArray[np.int64]

MET = "meets the goal"
SLIPS = "the tip slips off"
NOT_PLAYED = -1
MET_CODE = 0

_PROBED = 64  # strokes played to see whether they are
_FEW, _MANY = 1_024, 4_096  # strokes of a chunk: some 0.1 s in the open, 1 s into a pack


class FaultKinds:
    """Kinds of outcome by number; the number of a kind never changes as more are found.

    Where runs are long, such as into a pack, most of the work lies behind strokes that have failed
    already. There a stroke is first played until the ball to be potted is down or at rest, and the
    white has met its second ball, and only further when it has not failed by then.
    """

    def __init__(self, judge: Judge) -> None:
        self._judge = judge
        self._numbers = {MET: MET_CODE}
        self._long: bool | None = None  # whether runs are, once some were played

    @property
    def words(self) -> tuple[str, ...]:
        """Of every kind found so far, by its number; the first is the goal met."""
        return tuple(self._numbers)

    @property
    def chunk(self) -> int:
        """Strokes to play between two looks at how far it has come. [-]"""
        return _FEW if self._long is not False else _MANY

    def play(
        self, rows: Floats, cancelled: Callable[[], bool] | None = None, whole: bool = False
    ) -> tuple[Codes, Floats]:
        """Play strikes (N, 5).

        Args:
            whole: until everything rests, and not only until the goal is decided

        Returns:
            (N,) kinds, ``NOT_PLAYED`` where it was stopped before; (N, 2) where the white ends
            [m], NaN where it is off the table or was not struck, and not told unless ``whole``
        """
        codes: Codes = np.full(len(rows), NOT_PLAYED, dtype=np.int64)
        rests: Floats = np.full((len(rows), 2), np.nan)
        fine = struck(self._judge.position, rows)
        if not fine.all():
            codes[~fine] = self._number(SLIPS)
        left = np.flatnonzero(fine)
        if self._long is None:
            left = self._played(rows, left[:_PROBED], codes, rests, cancelled, whole, left)
        if self._long and not whole:
            left = self._failing_early(rows, left, codes, cancelled)
        self._played(rows, left, codes, rests, cancelled, whole, left)
        return codes, rests

    def _played(
        self,
        rows: Floats,
        some: Codes,
        codes: Codes,
        rests: Floats,
        cancelled: Callable[[], bool] | None,
        whole: bool,
        left: Codes,
    ) -> Codes:
        """Play some of the rows for good; those that are left after them."""
        if len(some):
            batch = self._judge.play(rows[some], cancelled=cancelled, whole=whole)
            codes[some] = self._sorted(batch, self._judge.judge(batch))
            rests[some] = batch.rests[:, 0]
            if self._long is None and batch.played.any():
                self._long = runs_long(batch)
        return left[len(some) :]

    def _failing_early(
        self, rows: Floats, left: Codes, codes: Codes, cancelled: Callable[[], bool] | None
    ) -> Codes:
        """Sort out those that fail before the white's second ball is moved; the others."""
        if not len(left) or not self._judge.early_demands:
            return left
        batch = self._judge.play_early(rows[left], cancelled)
        failed = self._judge.fails_early(batch)
        sorted_out = self._sorted(batch, self._judge.judge(batch))
        codes[left[failed]] = sorted_out[failed]
        others: Codes = left[batch.played & ~failed]
        return others

    def _sorted(self, batch: Batch, judgement: Judgement) -> Codes:
        """The kind of each play. Those that are alike in all that words tell share theirs."""
        codes: Codes = np.where(batch.played & judgement.met, MET_CODE, NOT_PLAYED)
        failed = np.flatnonzero(batch.played & ~judgement.met)
        if len(failed):
            signs = _signs(self._judge, batch, judgement)[failed]
            _, firsts, groups = np.unique(signs, axis=0, return_index=True, return_inverse=True)
            numbers = np.array([self._kind(batch, judgement, int(failed[k])) for k in firsts])
            codes[failed] = numbers[groups.ravel()]
        return codes

    def _kind(self, batch: Batch, judgement: Judgement, row: int) -> int:
        return self._number(kind_words(self._judge, batch, judgement, row))

    def _number(self, words: str) -> int:
        return self._numbers.setdefault(words, len(self._numbers))


def decided(codes: Codes) -> int:
    """How many stand before the first that was not played.

    Those after it must not be counted: strokes that fail are often decided sooner than others.
    """
    open_ones = np.flatnonzero(codes == NOT_PLAYED)
    return int(open_ones[0]) if len(open_ones) else len(codes)


def kind_words(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    """As ``fault_of``, without the numbers in which two faults of a kind differ."""
    demand = next((name for name in judge.demands if not judgement.holds[name][row]), "")
    in_off = batch.potted[row, 0] >= 0
    if demand == "through":
        known = np.isfinite(judgement.shortfalls["through"][row])
        return "misses the gap" if known else "never comes to the gap"
    if demand == "rest" and not in_off:
        return "rests outside the area"
    if demand == "next" and not in_off and np.isfinite(judgement.shortfalls["next"][row]):
        balls = judge.goal.next.balls if judge.goal.next else ()
        return f"the cut on {with_article(balls[0]) if len(balls) == 1 else 'a next ball'} is out"
    return fault_of(judge, batch, judgement, row)


def _signs(judge: Judge, batch: Batch, judgement: Judgement) -> Codes:
    """(N, columns) of all that the words of a fault are chosen by."""
    sines = batch.readouts["second_sine"]
    meet = judge.goal.meet
    thin = 1.0 - np.abs(sines) < meet.thickness[0] if meet else np.zeros(len(sines), dtype=bool)
    columns = [
        *(judgement.holds[name] for name in judge.demands),
        *(np.isfinite(judgement.shortfalls[name]) for name in judge.demands),
        *(batch.touched.T[judge.position.names.index(name)] for name in judge.goal.touch),
        *(batch.touched.T[judge.position.names.index(name)] for name in judge.goal.miss),
        batch.first_contacts,
        batch.second_balls,
        np.nan_to_num(np.sign(sines)),
        thin,
        batch.potted[:, 0],
        batch.cushions if judge.goal.cushions else np.zeros(len(sines)),
    ]
    return np.stack([np.asarray(one, dtype=np.int64) for one in columns], axis=1)
