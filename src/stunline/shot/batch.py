"""Many shots in one call: arrays in, arrays out, over all cores.

``play_many`` plays N strikes on one position, one strike on N positions, or N of both, each
perhaps with coefficients of its own. A shot is a row; what it comes to depends on nothing but
its row, so the numbers are the same to the last bit whatever the number of threads.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.batch_input import (
    checked_coefficients,
    checked_places,
    checked_strikes,
    rows_of,
    strike_rows,
)
from stunline.shot.batch_readouts import BATCH_READOUTS, columns_of, in_their_units
from stunline.shot.batch_watch import Watch
from stunline.shot.cores import cores, over_cores
from stunline.shot.kernel_input import coefficient_vector
from stunline.shot.meeting import Tally
from stunline.shot.play import FIRST_EVENTS, MOST_EVENTS, Prepared
from stunline.shot.position import Position, Strike

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Progress = Callable[[int, int], None]

# A thread asks for this many shots at a time, and comes back after this many events: some
# milliseconds of plain shots, some tens of opened packs, so that stopping is prompt.
_SHOTS_A_TURN = 256
_EVENTS_A_TURN = 1_500
# How often progress is told while threads play. [s]
_TOLD_EVERY = 0.05
WATCH_NOTHING = Watch()


@dataclass(frozen=True, slots=True)
class Batch:
    """What N shots came to. Rows that were not played, after a cancel, are blank.

    Attributes:
        names: the n balls, the white first
        played: (N,) whether the shot was played
        rests: (N, n, 2) last centres, NaN for a ball that was potted [m]
        potted: (N, n) index of the pocket in ``table.pockets``, −1 for a ball on the table
        first_contacts: (N,) index of the ball that the white met first, −1 for none
        firsts_of_group: (N,) index of the ball of the group that the white met first, −1 for none
        next_kinds, next_others: (N,) what the white met after it: a kind of event as in
            ``mechanics.layout`` and the index of the ball, nose or jaw; −1 for nothing
        second_balls: (N,) index of the ball that the white met next, but for the first one
        touched: (N, n) whether the white met each ball
        nearest: (N, M + P) least distance of the white's centre, from its first contact on, from
            the places of the balls watched, and from the strike on from the points watched [m]
        rooms: (N, G) room to spare in the gaps watched, negative without a clear passage [m]
        ways: (N, C) cells of the raster watched that the white's centre passed from its first
            contact to its next meeting with a ball, then −1; C is 0 without a raster
        cushions: (N,) cushions that the white met
        stop_codes: (N,) why each run ended, ``STOP_`` in ``mechanics.layout``
        events: (N,) rows of events of each run
        readouts: name → (N,), those asked for; NaN where one does not apply
    """

    names: tuple[str, ...]
    played: NDArray[np.bool_]
    rests: Floats
    potted: NDArray[np.int8]
    first_contacts: Ints
    firsts_of_group: Ints
    next_kinds: Ints
    next_others: Ints
    second_balls: Ints
    touched: NDArray[np.bool_]
    nearest: Floats
    rooms: Floats
    ways: NDArray[np.int32]
    cushions: Ints
    stop_codes: Ints
    events: Ints
    readouts: dict[str, Floats]

    @property
    def all_played(self) -> bool:
        """Whether nothing was left out."""
        return bool(self.played.all())


def play_many(
    position: Position,
    strikes: Sequence[Strike] | Floats,
    *,
    places: Floats | None = None,
    coefficients: Floats | None = None,
    readouts: Sequence[str] = (),
    group: Collection[str] = (),
    watch: Watch = WATCH_NOTHING,
    until_second_ball: str | None = None,
    threads: int | None = None,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Batch:
    """Play every row until everything rests.

    Args:
        position: the table, its balls, and the places and coefficients where none are given.
        strikes: N, or one for all; as an array (N, 5) with columns ``STRIKE_`` of
            ``mechanics.layout``.
        places: (N, n, 2), in the order of the position's balls [m].
        coefficients: (N, COEFFICIENT_COUNT), from ``batch_input.coefficient_rows``.
        readouts: names from ``BATCH_READOUTS``, in the units of their names.
        group: balls of which ``firsts_of_group`` tells.
        watch: what ``nearest``, ``rooms`` and ``ways`` tell of.
        until_second_ball: a ball's name, or ""; each run ends once the white has reached a ball
            besides its first one, and this ball is down or at rest. That second meeting is not
            resolved: what it does to others, resting places among it, is not told.
        threads: as many as there are cores when None.
        progress: told shots played and N, some twenty times a second.
        cancelled: asked as often; once true, what was played until then is returned.

    Raises:
        InputError: for arrays of other shapes, numbers that are not finite or not allowed,
            overlapping balls, unknown read-outs; naming the row.
    """
    prepared = Prepared(position)
    work = _Work(
        prepared,
        checked_strikes(strikes, position),
        checked_places(places, prepared),
        checked_coefficients(coefficients, prepared),
        columns_of(readouts),
        np.array([name in group for name in position.names], dtype=np.int64),
        watch.arrays(position),
        watch.raster.most if watch.raster else 0,
        _rule(position, until_second_ball),
    )
    _over_threads(work, threads or cores(), progress, cancelled)
    return work.as_batch(readouts)


def _rule(position: Position, until_second_ball: str | None) -> tuple[int, int]:
    """When runs end, and the ball watched, −1 for none, in the kernels' numbers."""
    if until_second_ball is None:
        return layout.RUN_TO_REST, -1
    watched = position.names.index(until_second_ball) if until_second_ball else -1
    return layout.RUN_TO_SECOND_BALL, watched


class _Work:
    """Inputs and results of one call, shared by its threads."""

    def __init__(
        self,
        prepared: Prepared,
        strikes: Floats,
        places: Floats,
        coefficients: Floats,
        wanted: Ints,
        group: Ints,
        watched: tuple[Ints, Floats, Ints, Floats, Floats],
        cells_of_a_way: int,
        rule: tuple[int, int] = (layout.RUN_TO_REST, -1),
    ) -> None:
        self.prepared = prepared
        self.count = rows_of(strikes, places, coefficients)
        self.inputs = (places, strikes, coefficients)
        self.wanted, self.group, self.watched, self.rule = wanted, group, watched, rule
        balls = len(prepared.position.balls)
        self.rests: Floats = np.full((self.count, balls, 2), np.nan)
        self.potted = np.full((self.count, balls), -1, dtype=np.int8)
        self.tallies: Ints = np.zeros((self.count, layout.TALLY_COLUMNS), dtype=np.int64)
        self.reads: Floats = np.full((self.count, len(wanted)), np.nan)
        self.nearest: Floats = np.full((self.count, len(watched[0]) + len(watched[1])), np.nan)
        self.rooms: Floats = np.full((self.count, len(watched[2])), np.nan)
        self.ways = np.full((self.count, cells_of_a_way), -1, dtype=np.int32)
        self._lock = threading.Lock()
        self._next = 0
        self.done = 0
        self.stopped = False

    def turn(self, threads: int) -> tuple[int, int]:
        """The next shots to play, first and last; none left when they are equal."""
        size = max(1, min(_SHOTS_A_TURN, self.count // (4 * threads)))
        with self._lock:
            first = self._next
            self._next = min(first + size, self.count)
            return first, self._next

    def note(self, played: int) -> None:
        """Count shots that are done."""
        with self._lock:
            self.done += played

    def tally(self, row: int) -> Tally:
        """One shot's, for ``READ_NEXT_SINE`` alone as read-out."""
        numbers, pockets = self.tallies[row].tolist(), self.potted[row].tolist()
        return Tally(
            numbers[layout.TALLY_FIRST_BALL],
            numbers[layout.TALLY_NEXT_KIND],
            numbers[layout.TALLY_NEXT_OTHER],
            float(self.reads[row, 0]),
            numbers[layout.TALLY_CUSHIONS],
            {ball: pocket for ball, pocket in enumerate(pockets) if pocket >= 0},
        )

    def as_batch(self, readouts: Sequence[str]) -> Batch:
        """The results by name."""
        tallies = self.tallies
        played = tallies[:, layout.TALLY_EVENTS] > 0
        tallies[~played, layout.TALLY_FIRST_BALL : layout.TALLY_NEXT_OTHER + 1] = -1
        tallies[~played, layout.TALLY_SECOND_BALL] = -1
        touched = tallies[:, layout.TALLY_TOUCHED, None] >> np.arange(self.rests.shape[1]) & 1
        return Batch(
            self.prepared.position.names,
            played,
            self.rests,
            self.potted,
            tallies[:, layout.TALLY_FIRST_BALL].copy(),
            np.where(played, tallies[:, layout.TALLY_OF_GROUP], -1),
            tallies[:, layout.TALLY_NEXT_KIND].copy(),
            tallies[:, layout.TALLY_NEXT_OTHER].copy(),
            tallies[:, layout.TALLY_SECOND_BALL].copy(),
            touched.astype(bool),
            self.nearest,
            self.rooms,
            self.ways,
            tallies[:, layout.TALLY_CUSHIONS].copy(),
            tallies[:, layout.TALLY_STOP].copy(),
            tallies[:, layout.TALLY_EVENTS].copy(),
            in_their_units(readouts, self.reads),
        )


class _Player:
    """One thread's scratch arrays."""

    def __init__(self, work: _Work) -> None:
        self._work = work
        self._scratch = work.prepared.scratch()
        self._tally: Ints = np.zeros(layout.TALLY_COLUMNS, dtype=np.int64)
        self._read: Floats = np.zeros(layout.READ_COLUMNS)
        self._rows = FIRST_EVENTS

    def play(self, first: int, last: int) -> int:
        """Play from the first on, for one turn at most; the next one to play."""
        work, scratch = self._work, self._scratch
        final = self._rows >= MOST_EVENTS
        reached: int = compiled.play_many(
            first, last, _EVENTS_A_TURN, final, *work.rule,
            *work.inputs, *work.prepared.bodies_and_boundary(),
            *scratch.state, self._tally, self._read, *scratch.rows,
            work.wanted, work.group, *work.watched,
            work.rests, work.potted, work.tallies, work.reads, work.nearest, work.rooms,
            work.ways,
        )  # fmt: skip
        if reached == first:
            # That shot needs more rows; most never do.
            self._rows *= 8
            self._scratch = work.prepared.scratch(self._rows)
        return reached


def _over_threads(
    work: _Work,
    threads: int,
    progress: Progress | None,
    cancelled: Callable[[], bool] | None,
) -> None:
    """Share the shots among that many threads; this one tells progress and asks for a stop."""
    failures: list[BaseException] = []

    def run() -> None:
        try:
            _play_turns(work, threads)
        except BaseException as error:
            failures.append(error)
            work.stopped = True

    workers = [threading.Thread(target=run, daemon=True) for _ in range(threads)]
    try:
        for worker in workers:
            worker.start()
        for worker in workers:
            while worker.is_alive():
                worker.join(_TOLD_EVERY)
                if cancelled is not None and cancelled():
                    work.stopped = True
                if progress is not None:
                    progress(work.done, work.count)
    finally:
        # Also when interrupted here: no thread goes on without its caller.
        work.stopped = True
        for worker in workers:
            if worker.ident is not None:
                worker.join()
    if failures:
        raise failures[0]


def _play_turns(work: _Work, threads: int) -> None:
    player = _Player(work)
    first, last = work.turn(threads)
    while first < last:
        while first < last and not work.stopped:
            reached = player.play(first, last)
            work.note(reached - first)
            first = reached
        if work.stopped:
            return
        first, last = work.turn(threads)


class Tallies:
    """Plays strikes on one position again and again, and tells what the white met in each.

    As ``Prepared.tally`` of each strike, on all cores.
    """

    def __init__(self, prepared: Prepared) -> None:
        position = prepared.position
        self._prepared = prepared
        self._places = prepared.places()[None]
        self._coefficients = coefficient_vector(position.coefficients, position.table)[None]
        self._wanted: Ints = np.array([layout.READ_NEXT_SINE], dtype=np.int64)
        self._group: Ints = np.zeros(len(position.balls), dtype=np.int64)
        self._watched = WATCH_NOTHING.arrays(position)

    def play(self, strikes: Sequence[Strike]) -> list[Tally]:
        """In the order of the strikes, which are taken as they are, unchecked."""
        work = _Work(
            self._prepared, strike_rows(strikes), self._places, self._coefficients,
            self._wanted, self._group, self._watched, 0,
        )  # fmt: skip
        players = [_Player(work) for _ in range(min(cores(), len(strikes)))]

        def piece(thread: int, first: int, last: int) -> None:
            while first < last:
                first = players[thread].play(first, last)

        over_cores(len(strikes), piece)
        return [work.tally(row) for row in range(len(strikes))]


__all__ = ["BATCH_READOUTS", "Batch", "Tallies", "Watch", "play_many"]
