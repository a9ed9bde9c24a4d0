"""One strike on tables that differ in their coefficients: what the white does on each.

Plays end where the white has met a second ball, so that opened packs cost nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.model import Coefficients
from stunline.mechanics import layout
from stunline.shot.bend import Bend, bend_after
from stunline.shot.contact import first_contact
from stunline.shot.outcome import Outcome
from stunline.shot.outcome_of_rows import outcome_of_tally
from stunline.shot.play import Prepared, coefficient_vector
from stunline.shot.position import PotAim, Strike, StrikePlan
from stunline.shot.shot import Record, Shot, StopReason

Floats = NDArray[np.float64]
Leg = tuple[int, int]

_WHITE = 0
# What ends a leg of the white's way.
_ENDS = (*layout.MEETINGS, layout.EVENT_CUSHION, layout.EVENT_JAW, layout.EVENT_POCKET)
AT_REST: Leg = (layout.EVENT_STOP, -1)
# Points on a sliding stretch; the parabola is then within a tenth of a millimetre of its chords
# for all but the wildest bends.
_ON_A_CURVE = np.linspace(0.0, 1.0, 13)[1:]
_TIME_EPSILON = 1e-9  # phases and events share their times; this only absorbs rounding [s]


@dataclass(frozen=True, slots=True)
class DrawnWay:
    """The white on one table.

    Attributes:
        outcome: what it came to
        reads: (READ_COLUMNS,) as ``read_shot`` fills it; what stands behind the second ball is
            left out
        bend: after contact; None when no ball was met
        legs: from the first contact on, or from the strike when no ball was met, to the next
            ball met or to rest: (m, 2) centres between one event and the next [m]
        ends: what ended each leg: kind of event and index of ball, nose, jaw or pocket
        second_ball: whether a ball besides the first one was met
    """

    outcome: Outcome
    reads: Floats
    bend: Bend | None
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
    with_bend: bool = True,
) -> list[DrawnWay]:
    """The strike on each of these tables.

    Args:
        plan: what was asked for, so that a pot made or missed is told
        with_bend: whether the bend is measured, which takes longer than the plays
    """
    position = prepared.position
    watched = -1
    if plan is not None and isinstance(plan.aim, PotAim):
        watched = position.names.index(plan.aim.ball)
    found = []
    for table in tables:
        on_table = prepared.on_table(coefficient_vector(table, position.table))
        tally, reads, rows = on_table.read(strike, layout.RUN_TO_SECOND_BALL, watched)
        legs, ends = _legs(rows, reads, position.balls[position.names[_WHITE]])
        bend = None
        if with_bend and tally.first_ball >= 0:
            shot = Shot(
                replace(position, coefficients=table), strike, StopReason.RULE_MET, _kept(rows)
            )
            contact = first_contact(shot)
            bend = bend_after(shot, contact) if contact else None
        found.append(
            DrawnWay(
                outcome_of_tally(position, tally, plan),
                reads.copy(),
                bend,
                legs,
                ends,
                ends[-1][0] in layout.MEETINGS,
            )
        )
    return found


def _kept(rows: Record) -> Record:
    return Record(
        rows.event_floats.copy(),
        rows.event_ints.copy(),
        rows.phase_floats.copy(),
        rows.phase_ints.copy(),
        rows.places.copy(),
        rows.motions.copy(),
    )


def _legs(
    rows: Record, reads: Floats, start: tuple[float, float]
) -> tuple[tuple[Floats, ...], tuple[Leg, ...]]:
    """The white's way cut at what it met."""
    since = reads[layout.READ_CONTACT_TIME]
    since = 0.0 if np.isnan(since) else float(since)
    events = _white_events(rows, since)
    times = np.array([time for time, _ in events])
    own = (rows.phase_ints[:, layout.PHASE_BALL] == _WHITE) & (
        rows.phase_ints[:, layout.PHASE_MOTION] != layout.SPINNING
    )
    own &= rows.phase_floats[:, layout.PHASE_START] >= since - _TIME_EPSILON
    phases = rows.phase_floats[own]
    sliding = rows.phase_ints[own, layout.PHASE_MOTION] == layout.SLIDING
    legs: list[list[Floats]] = [[] for _ in range(len(events) + 1)]
    starts = phases[:, layout.PHASE_START] + _TIME_EPSILON
    for phase, curved, leg in zip(
        phases, sliding.tolist(), np.searchsorted(times, starts).tolist(), strict=True
    ):
        if not legs[leg]:
            legs[leg].append(phase[None, layout.PHASE_X : layout.PHASE_Y + 1])
        legs[leg].append(_points(phase, _ON_A_CURVE if curved else _ON_A_CURVE[-1:]))
    ends = [end for _, end in events]
    if legs[-1] or not events:
        ends.append(AT_REST)
    else:
        legs.pop()
    ways: list[Floats] = []
    at: Floats = phases[:1, layout.PHASE_X : layout.PHASE_Y + 1]
    if not len(at):
        at = np.array([start if since == 0.0 else reads[layout.READ_CONTACT_X :][:2]])
    for points in legs:
        way = np.concatenate(points) if points else np.concatenate([at, at])
        ways.append(way)
        at = way[-1:]
    return tuple(ways), tuple(ends)


def _points(phase: Floats, shares: Floats) -> Floats:
    """Centres at these shares of the phase's time. [m]"""
    t = ((phase[layout.PHASE_END] - phase[layout.PHASE_START]) * shares)[:, None]
    place = phase[layout.PHASE_X : layout.PHASE_Y + 1]
    velocity = phase[layout.PHASE_VX : layout.PHASE_VY + 1]
    acceleration = phase[layout.PHASE_AX : layout.PHASE_AY + 1]
    found: Floats = place + t * (velocity + 0.5 * t * acceleration)
    return found


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
