"""One strike on tables that differ in their coefficients: what the white does on each.

Plays end where the white has met a second ball, so that opened packs cost nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.model import Coefficients
from stunline.mechanics import layout
from stunline.shot.bend import Bend, bend_along
from stunline.shot.kernel_input import coefficient_vector
from stunline.shot.outcome import Outcome
from stunline.shot.outcome_of_rows import outcome_of_tally
from stunline.shot.play import Prepared
from stunline.shot.position import PotAim, Strike, StrikePlan
from stunline.shot.shot import Phase, Record

Floats = NDArray[np.float64]
Leg = tuple[int, int]

_WHITE = 0
# What ends a leg of the white's way.
_ENDS = (*layout.MEETINGS, layout.EVENT_CUSHION, layout.EVENT_JAW, layout.EVENT_POCKET)
NO_BEND = Bend(None, None, None, None, 0.0)
AT_REST: Leg = (layout.EVENT_STOP, -1)
# Places on a phase, by its time; a sliding one, a parabola, is then within a tenth of a millimetre
# of its chords for all but the wildest bends.
_ALONG = np.linspace(0.0, 1.0, 13)
_TIME_EPSILON = 1e-9  # phases and events share their times; this only absorbs rounding [s]


@dataclass(frozen=True, slots=True)
class DrawnWay:
    """The white on one table.

    Attributes:
        outcome: what it came to
        reads: (READ_COLUMNS,) as ``read_shot`` fills it; what stands behind the second ball is
            left out
        bend: after contact; its total is left to ``reads``
        legs: from the first contact on, or from the strike when no ball was met, to the next
            ball met or to rest: (m, 2) centres between one event and the next [m]
        ends: what ended each leg: kind of event and index of ball, nose, jaw or pocket
        second_ball: whether a ball besides the first one was met
    """

    outcome: Outcome
    reads: Floats
    bend: Bend
    legs: tuple[Floats, ...]
    ends: tuple[Leg, ...]
    second_ball: bool

    @property
    def rests(self) -> bool:
        """Whether the white came to rest without meeting a second ball."""
        return not self.second_ball and not self.outcome.in_off

    @property
    def end(self) -> Floats:
        """(2,) where the way ends. [m]"""
        last: Floats = self.legs[-1][-1]
        return last

    @property
    def run(self) -> float:
        """How far the way is. [m]"""
        return sum(float(np.hypot(*np.diff(leg, axis=0).T).sum()) for leg in self.legs)


def ways_on(
    prepared: Prepared,
    strike: Strike,
    tables: Sequence[Coefficients],
    plan: StrikePlan | None = None,
) -> list[DrawnWay]:
    """The strike on each of these tables.

    Args:
        plan: what was asked for, so that a pot made or missed is told
    """
    position = prepared.position
    watched = -1
    if plan is not None and isinstance(plan.aim, PotAim):
        watched = position.names.index(plan.aim.ball)
    found = []
    for table in tables:
        on_table = prepared.on_table(coefficient_vector(table, position.table))
        tally, reads, rows = on_table.read(strike, layout.RUN_TO_SECOND_BALL, watched)
        white = _White(rows, reads, position.balls[position.names[_WHITE]])
        found.append(
            DrawnWay(
                outcome_of_tally(position, tally, plan),
                reads.copy(),
                white.bend() if tally.first_ball >= 0 else NO_BEND,
                white.legs(),
                white.ends,
                white.ends[-1][0] in layout.MEETINGS,
            )
        )
    return found


class _White:
    """The white's rows after its first contact, or after the strike when it meets no ball."""

    def __init__(self, rows: Record, reads: Floats, start: tuple[float, float]) -> None:
        contact = float(reads[layout.READ_CONTACT_TIME])
        since = 0.0 if math.isnan(contact) else contact
        self._start: Floats = np.array([start])
        if since > 0.0:
            self._start = reads[layout.READ_CONTACT_X : layout.READ_CONTACT_Y + 1][None].copy()
        motions = rows.phase_ints[:, layout.PHASE_MOTION]
        own = (rows.phase_ints[:, layout.PHASE_BALL] == _WHITE) & (motions != layout.SPINNING)
        own &= rows.phase_floats[:, layout.PHASE_START] >= since - _TIME_EPSILON
        self._phases = rows.phase_floats[own]
        self._slides = motions[own] == layout.SLIDING
        events = _white_events(rows, since)
        times = [time for time, _ in events]
        starts = self._phases[:, layout.PHASE_START] + _TIME_EPSILON
        self._leg = np.searchsorted(np.array(times), starts)
        ends = [end for _, end in events]
        if not events or (self._leg == len(events)).any():
            ends.append(AT_REST)
        self.ends: tuple[Leg, ...] = tuple(ends)

    def legs(self) -> tuple[Floats, ...]:
        """Its way cut at what it met: (m, 2) each, with as many places on every phase. [m]"""
        phases = self._phases
        lasted = phases[:, layout.PHASE_END] - phases[:, layout.PHASE_START]
        t = (lasted[:, None] * _ALONG)[:, :, None]
        place = phases[:, None, layout.PHASE_X : layout.PHASE_Y + 1]
        velocity = phases[:, None, layout.PHASE_VX : layout.PHASE_VY + 1]
        acceleration = phases[:, None, layout.PHASE_AX : layout.PHASE_AY + 1]
        places = place + t * (velocity + 0.5 * t * acceleration)
        at, found = self._start, []
        for leg in range(len(self.ends)):
            points = places[self._leg == leg].reshape(-1, 2)
            found.append(points if len(points) else np.concatenate([at, at]))
            at = found[-1][-1:]
        return tuple(found)

    def bend(self) -> Bend:
        """As ``bend_after`` has it, without making a ``Shot`` of it; the total is a read-out."""
        number = int(np.count_nonzero(self._leg == 0))
        if not number:
            return NO_BEND
        rows = self._phases[:number].tolist()
        phases = [
            _phase(row, slides) for row, slides in zip(rows, self._slides.tolist(), strict=False)
        ]
        return bend_along(phases, (float(self._start[0, 0]), float(self._start[0, 1])))


def _phase(row: list[float], slides: bool) -> Phase:
    """The white's, without its spin."""
    return Phase(
        "", "sliding" if slides else "rolling",
        row[layout.PHASE_START], row[layout.PHASE_END],
        (row[layout.PHASE_X], row[layout.PHASE_Y]),
        (row[layout.PHASE_VX], row[layout.PHASE_VY]),
        (row[layout.PHASE_AX], row[layout.PHASE_AY]),
        (0.0, 0.0, 0.0), (0.0, 0.0), 0.0,
    )  # fmt: skip


def _white_events(rows: Record, since: float) -> list[tuple[float, Leg]]:
    """What the white meets after that time, until it is down or meets a second ball."""
    found: list[tuple[float, Leg]] = []
    first = -1
    times = rows.event_floats[:, layout.EVENT_TIME].tolist()
    for time, (kind, a, other) in zip(times, rows.event_ints.tolist(), strict=True):
        if kind not in _ENDS or _WHITE not in ((a, other) if kind in layout.MEETINGS else (a,)):
            continue
        met = (a if other == _WHITE else other) if kind in layout.MEETINGS else other
        if kind in layout.MEETINGS and first < 0:
            first = met
        if time <= since + _TIME_EPSILON and (kind not in layout.MEETINGS or met == first):
            continue
        kept = layout.EVENT_BALL if kind in layout.MEETINGS else kind
        found.append((time, (kept, met)))
        if kind == layout.EVENT_POCKET or (kind in layout.MEETINGS and met != first):
            break
    return found
