"""From names to array rows and back: play a strike on a position."""

from __future__ import annotations

import math
from copy import copy
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.kernel_input import ball_rows, boundary, coefficient_vector
from stunline.shot.kernel_scratch import Rows, Scratch, scratch_arrays
from stunline.shot.meeting import Meeting, Tally
from stunline.shot.position import Position, Strike
from stunline.shot.shot import Motion, Record, Shot, StopReason

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# Rows of the first try; a run that needs more is played again with more, up to the most.
# Too few costs a second run, too many memory that is never touched.
FIRST_EVENTS = 512
MOST_EVENTS = 32_768

# What a ball meets on its way.
_MET = (*layout.MEETINGS, layout.EVENT_CUSHION, layout.EVENT_JAW, layout.EVENT_POCKET)

_STOP_REASONS = {
    layout.STOP_AT_REST: StopReason.AT_REST,
    layout.STOP_RECORD_FULL: StopReason.EVENT_LIMIT,
    layout.STOP_RULE_MET: StopReason.RULE_MET,
}


def play(position: Position, strike: Strike) -> Shot:
    """Play a strike until everything rests.

    Args:
        position: where the balls stand, on which table, with which coefficients.
        strike: all in numbers; for what a coach asks for, see ``solve.solve``.

    Returns:
        The shot, with a named stop reason. The same input gives the same bits.
    """
    return Prepared(position).play(strike)


class Prepared:
    """A position turned into arrays once, to be struck many times.

    Holds scratch arrays, so one object serves one thread.
    """

    def __init__(self, position: Position) -> None:
        self.position = position
        self._start = ball_rows(position)
        self._work = self._start.copy()
        count = len(position.balls)
        self._motion: Ints = np.zeros(count, dtype=np.int64)
        self._pair_times, self._members, self._contacts, self._holds = scratch_arrays(count)
        self._coefficients = coefficient_vector(position.coefficients, position.table)
        self._boundary = boundary(position.table, position.coefficients.pockets)
        self._rows = Rows.of(FIRST_EVENTS)
        self._tally: Ints = np.zeros(layout.TALLY_COLUMNS, dtype=np.int64)
        self._read: Floats = np.zeros(layout.READ_COLUMNS)
        self._parts: dict[tuple[str, ...], Prepared] = {}
        self._further: list[Scratch] = []  # of further threads
        cue_ball = position.table.balls[position.names[0]]
        self._radius = cue_ball.radius
        squirt = position.coefficients.squirt
        self._ball_to_end_mass = position.table.cue.ball_to_end_mass if squirt else math.inf

    def play(self, strike: Strike, rule: int = layout.RUN_TO_REST, watched: int = -1) -> Shot:
        """Play until rest, or until one of ``layout``'s early rules is met."""
        stop, events, phases = self._run_whole(strike, rule, watched)
        rows = self._rows
        record = Record(
            rows.event_floats[:events].copy(),
            rows.event_ints[:events].copy(),
            rows.phase_floats[:phases].copy(),
            rows.phase_ints[:phases].copy(),
            self._work[:, layout.PHASE_X : layout.PHASE_Y + 1].copy(),
            self._motion.copy(),
        )
        return Shot(self.position, strike, _STOP_REASONS[stop], record)

    def rows(self, strike: Strike) -> Record:
        """Play until rest; views of the engine's own rows, good until the next play."""
        _, events, phases = self._run_whole(strike, layout.RUN_TO_REST, -1)
        return self._views(events, phases)

    def tally(self, strike: Strike) -> Tally:
        """Play until rest and read what the white met, without making a ``Shot`` of it."""
        return self.read(strike)[0]

    def read(
        self, strike: Strike, rule: int = layout.RUN_TO_REST, watched: int = -1
    ) -> tuple[Tally, Floats, Record]:
        """Play, and read it without making a ``Shot`` of it.

        Returns:
            What the white met; (READ_COLUMNS,), as ``read_shot`` fills it; and the engine's own
            rows. The last two are good until the next play.
        """
        _, events, phases = self._run_whole(strike, rule, watched)
        rows = self._rows
        compiled.read_shot(
            self._start, strike.aim, self._coefficients, rows.event_floats, rows.event_ints,
            events, rows.phase_floats, rows.phase_ints, phases, self._tally, self._read,
        )  # fmt: skip
        numbers = self._tally.tolist()
        tally = Tally(
            numbers[layout.TALLY_FIRST_BALL],
            numbers[layout.TALLY_NEXT_KIND],
            numbers[layout.TALLY_NEXT_OTHER],
            float(self._read[layout.READ_NEXT_SINE]),
            numbers[layout.TALLY_CUSHIONS],
            {
                ball: pocket
                for kind, ball, pocket in rows.event_ints[:events].tolist()
                if kind == layout.EVENT_POCKET
            },
        )
        return tally, self._read, self._views(events, phases)

    def _views(self, events: int, phases: int) -> Record:
        rows = self._rows
        return Record(
            rows.event_floats[:events],
            rows.event_ints[:events],
            rows.phase_floats[:phases],
            rows.phase_ints[:phases],
            self._work[:, layout.PHASE_X : layout.PHASE_Y + 1],
            self._motion,
        )

    def _run_whole(self, strike: Strike, rule: int, watched: int) -> tuple[int, int, int]:
        """Run, again with more rows where they were too few."""
        while True:
            result = self._run(strike, rule, watched)
            rows = len(self._rows.event_ints)
            if result[0] != layout.STOP_RECORD_FULL or rows >= MOST_EVENTS:
                return result
            self._rows = Rows.of(rows * 8)

    def falls_into(self, strike: Strike, watched: int) -> str:
        """The pocket that this ball goes into directly, off jaws at most, or "".

        What ``layout.RUN_WATCHED`` plays, without making a ``Shot`` of it.
        """
        _, events, _ = self._run_whole(strike, layout.RUN_WATCHED, watched)
        for kind, ball, pocket in self._rows.event_ints[:events].tolist():
            if kind == layout.EVENT_POCKET and ball == watched:
                return self.position.table.pockets[int(pocket)].name
        return ""

    def stops_short(self, strike: Strike) -> bool:
        """Whether the white comes to rest without having met anything at all."""
        _, events, _ = self._run_whole(strike, layout.RUN_TO_ARRIVAL, -1)
        kinds = self._rows.event_ints[:events, layout.EVENT_KIND].tolist()
        return layout.EVENT_STOP in kinds and not any(kind in _MET for kind in kinds)

    def first_meeting(self, strike: Strike, rule: int) -> Meeting | None:
        """The white and the first ball that it meets, without making a ``Shot`` of it.

        Args:
            rule: ``layout.RUN_TO_ARRIVAL``, before the impact is resolved, or
                ``layout.RUN_TO_FIRST_CONTACT``, after it.
        """
        _, events, _ = self._run_whole(strike, rule, -1)
        kinds = self._rows.event_ints[:events, layout.EVENT_KIND].tolist()
        # Until then only the white moves, and of the two that meet it has the lower number.
        meeting = next((i for i, kind in enumerate(kinds) if kind in layout.MEETINGS), None)
        if meeting is None:
            return None
        other = int(self._rows.event_ints[meeting, layout.EVENT_OTHER])
        row = self._rows.event_floats[meeting].tolist()
        white, ball = layout.EVENT_A_AFTER, layout.EVENT_B_AFTER
        return Meeting(
            self.position.names[other],
            (row[layout.EVENT_X], row[layout.EVENT_Y]),
            tuple(self._start[other, layout.PHASE_X : layout.PHASE_Y + 1].tolist()),
            Motion((row[white], row[white + 1]), tuple(row[white + 2 : white + 5])),
            Motion((row[ball], row[ball + 1]), tuple(row[ball + 2 : ball + 5])),
            layout.EVENT_CUSHION in kinds or layout.EVENT_JAW in kinds,
            self._radius,
        )

    def only(self, names: tuple[str, ...]) -> Prepared:
        """The same position with only these balls; itself when that is all of them."""
        if len(names) == len(self.position.balls):
            return self
        if names not in self._parts:
            balls = {name: self.position.balls[name] for name in names}
            self._parts[names] = Prepared(replace(self.position, balls=balls))
        return self._parts[names]

    def on_table(self, coefficients: Floats) -> Prepared:
        """The same position with other coefficients, sharing all arrays but those.

        Args:
            coefficients: (COEFFICIENT_COUNT,), from ``coefficient_vector``.
        """
        changed = copy(self)
        changed._coefficients = coefficients
        changed._parts = {}
        return changed

    def with_balls_at(self, places: Floats) -> Prepared:
        """The same balls at other places on the same table, sharing all arrays but those.

        Args:
            places: (n, 2), in the order of the balls [m].
        """
        moved = copy(self)
        balls = dict(zip(self.position.names, map(tuple, places.tolist()), strict=True))
        moved.position = replace(self.position, balls=balls)
        moved._start = self._start.copy()
        moved._start[:, layout.PHASE_X : layout.PHASE_Y + 1] = places
        rows = {name: row for row, name in enumerate(self.position.names)}
        moved._parts = {
            names: part.with_balls_at(places[[rows[name] for name in names]])
            for names, part in self._parts.items()
        }
        return moved

    def places(self) -> Floats:
        """(n, 2), where the balls stand [m]"""
        return self._start[:, layout.PHASE_X : layout.PHASE_Y + 1].copy()

    def bodies_and_boundary(self) -> tuple[Floats, float, Floats, Floats, Floats, Floats]:
        """Rows of the balls, the white's mass over the cue's end mass, and the boundary."""
        interior, noses, jaws, drops = self._boundary
        return self._start, self._ball_to_end_mass, interior, noses, jaws, drops

    def for_searches(self, thread: int = 0) -> tuple[tuple[object, ...], tuple[object, ...]]:
        """``table`` and ``scratch`` as ``mechanics.aim_windows`` takes them.

        Args:
            thread: 0 for this object's own; others have their own scratch, kept for next time.
        """
        table = (self._start, self._ball_to_end_mass, *self._boundary, self._coefficients)
        if thread == 0:
            rows = self._rows
            return table, (
                self._work, self._motion, self._pair_times,
                self._members, self._contacts, self._holds,
                rows.event_floats, rows.event_ints, rows.phase_floats, rows.phase_ints,
            )  # fmt: skip
        while len(self._further) < thread:
            self._further.append(self.scratch())
        further = self._further[thread - 1]
        return table, (*further.state[1:-1], *further.rows)

    def scratch(self, events: int = FIRST_EVENTS) -> Scratch:
        """New arrays for another thread to play in, with rows for that many events."""
        count = len(self._start)
        state = (
            np.empty_like(self._start),
            np.empty_like(self._start),
            np.zeros(count, dtype=np.int64),
            *scratch_arrays(count),
            np.empty(layout.COEFFICIENT_COUNT),
        )
        rows = Rows.of(events)
        return Scratch(
            state, (rows.event_floats, rows.event_ints, rows.phase_floats, rows.phase_ints)
        )

    def _run(self, strike: Strike, rule: int, watched: int) -> tuple[int, int, int]:
        work, motion, rows = self._work, self._motion, self._rows
        work[:] = self._start
        motion[:] = layout.RESTING
        vx, vy, wx, wy, wz = compiled.strike(
            strike.aim,
            strike.pace,
            strike.height,
            strike.side,
            strike.elevation,
            self._radius,
            self._ball_to_end_mass,
        )
        work[0, layout.PHASE_VX : layout.PHASE_VY + 1] = vx, vy
        work[0, layout.PHASE_WX : layout.PHASE_WZ + 1] = wx, wy, wz
        result: tuple[int, int, int] = compiled.run_events(
            work,
            motion,
            self._pair_times,
            self._members,
            self._contacts,
            self._holds,
            self._coefficients,
            *self._boundary,
            rule,
            watched,
            rows.event_floats,
            rows.event_ints,
            rows.phase_floats,
            rows.phase_ints,
        )
        return result
