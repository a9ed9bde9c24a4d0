"""What happened: a played shot, with views by ball, by time and by event.

Everything here is a view of the arrays that the engine filled; nothing is computed
until it is asked for. SI units and radians throughout.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.model import Point
from stunline.mechanics import layout
from stunline.shot.position import Position, Strike

Vector3 = tuple[float, float, float]
MotionName = Literal["sliding", "rolling", "spinning"]


class StopReason(StrEnum):
    """Why a run ended. The value is the stable word of the JSON."""

    AT_REST = "at-rest"
    AT_REST_PAIRWISE = "at-rest-pairwise"
    EVENT_LIMIT = "event-limit"
    RULE_MET = "rule-met"

    @property
    def words(self) -> str:
        """The reason in a sentence."""
        return _STOP_WORDS[self]


_STOP_WORDS = {
    StopReason.AT_REST: "All balls are at rest.",
    # Given by engines before version 0.6; kept so that their records can still be read.
    StopReason.AT_REST_PAIRWISE: (
        "All balls are at rest; touching balls or lasting contacts were treated pair by pair, "
        "which is only roughly right for a pack."
    ),
    StopReason.EVENT_LIMIT: "Stopped at the limit of events before all balls were at rest.",
    StopReason.RULE_MET: "Stopped early, as asked.",
}


class EventKind(StrEnum):
    """Kinds of event. The value is the stable word of the JSON."""

    STRIKE = "strike"
    BALL = "ball"
    CLUSTER = "cluster"
    CUSHION = "cushion"
    JAW = "jaw"
    POCKET = "pocket"
    ROLL = "roll"
    PRESS = "press"
    RELEASE = "release"
    STOP = "stop"
    SPIN_STOP = "spin-stop"


_EVENT_KINDS = {
    layout.EVENT_STRIKE: EventKind.STRIKE,
    layout.EVENT_BALL: EventKind.BALL,
    layout.EVENT_CUSHION: EventKind.CUSHION,
    layout.EVENT_JAW: EventKind.JAW,
    layout.EVENT_POCKET: EventKind.POCKET,
    layout.EVENT_ROLL: EventKind.ROLL,
    layout.EVENT_STOP: EventKind.STOP,
    layout.EVENT_SPIN_STOP: EventKind.SPIN_STOP,
    layout.EVENT_CLUSTER: EventKind.CLUSTER,
    layout.EVENT_PRESS: EventKind.PRESS,
    layout.EVENT_PRESS_CUSHION: EventKind.PRESS,
    layout.EVENT_PRESS_JAW: EventKind.PRESS,
    layout.EVENT_RELEASE: EventKind.RELEASE,
    layout.EVENT_RELEASE_CUSHION: EventKind.RELEASE,
    layout.EVENT_RELEASE_JAW: EventKind.RELEASE,
}
# Kinds in which balls meet; the first two of ``Event.balls`` met first.
MEETINGS = (EventKind.BALL, EventKind.CLUSTER)
# Codes of events between balls, and of those at a straight cushion and at a jaw.
_OF_TWO_BALLS = (layout.EVENT_BALL, layout.EVENT_CLUSTER, layout.EVENT_PRESS, layout.EVENT_RELEASE)
_AT_A_NOSE = (layout.EVENT_CUSHION, layout.EVENT_PRESS_CUSHION, layout.EVENT_RELEASE_CUSHION)
_AT_A_JAW = (layout.EVENT_JAW, layout.EVENT_PRESS_JAW, layout.EVENT_RELEASE_JAW)
_MOTIONS: dict[int, MotionName] = {
    layout.SPINNING: "spinning",
    layout.ROLLING: "rolling",
    layout.SLIDING: "sliding",
}


@dataclass(frozen=True, slots=True)
class Motion:
    """A ball's velocity [m s⁻¹] and spin [rad s⁻¹] at one instant."""

    velocity: Point
    spin: Vector3

    @property
    def speed(self) -> float:
        """[m s⁻¹]"""
        return math.hypot(*self.velocity)


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened to one ball or more.

    Attributes:
        time: since the strike [s]
        kind: what happened
        balls: the ball concerned, or the two that met, for a cluster followed by the rest
        at: where the first ball's centre was [m]
        after: of each ball concerned, just after
        surface: the cushion met or pressed, or the pocket of the jaw or drop, or ""
        at_jaw: whether the surface is a jaw
    """

    time: float
    kind: EventKind
    balls: tuple[str, ...]
    at: Point
    after: Mapping[str, Motion]
    surface: str = ""
    at_jaw: bool = False


@dataclass(frozen=True, slots=True)
class Phase:
    """A stretch of one ball's motion: an exact polynomial of time since ``start``.

    Attributes:
        ball: its name
        motion: sliding (a parabola), rolling (a straight line) or spinning on the spot
        start, end: since the strike [s]
        place, velocity, acceleration: at the start; the acceleration is constant [m, m s⁻¹, m s⁻²]
        spin: at the start [rad s⁻¹]
        spin_change: of ωx and ωy, constant [rad s⁻²]
        spin_deceleration: of ωz, until it is 0 [rad s⁻²]
    """

    ball: str
    motion: MotionName
    start: float
    end: float
    place: Point
    velocity: Point
    acceleration: Point
    spin: Vector3
    spin_change: Point
    spin_deceleration: float

    @property
    def duration(self) -> float:
        """[s]"""
        return self.end - self.start

    def place_at(self, time: float) -> Point:
        """Centre at that time since the strike. [m]"""
        t = time - self.start
        (x, y), (vx, vy), (ax, ay) = self.place, self.velocity, self.acceleration
        return x + t * (vx + 0.5 * t * ax), y + t * (vy + 0.5 * t * ay)

    def motion_at(self, time: float) -> Motion:
        """Velocity and spin at that time since the strike."""
        t = time - self.start
        (vx, vy), (ax, ay) = self.velocity, self.acceleration
        (wx, wy, wz), (dwx, dwy) = self.spin, self.spin_change
        left = max(abs(wz) - self.spin_deceleration * t, 0.0)
        return Motion(
            (vx + t * ax, vy + t * ay), (wx + t * dwx, wy + t * dwy, math.copysign(left, wz))
        )


@dataclass(frozen=True, slots=True)
class Record:
    """What the engine wrote, as arrays; columns as in ``mechanics.layout``.

    Attributes:
        event_floats, event_ints: one row an event, in order of time
        phase_floats, phase_ints: one row a phase, in order of its end
        places: (n, 2) last centres of the balls [m]
        motions: (n,) codes of their last motions
    """

    event_floats: NDArray[np.float64]
    event_ints: NDArray[np.int64]
    phase_floats: NDArray[np.float64]
    phase_ints: NDArray[np.int64]
    places: NDArray[np.float64]
    motions: NDArray[np.int64]


class Shot:
    """A played shot: a position, a strike, and what followed.

    Attributes:
        position: as played
        strike: as played; typed back, it is the same shot
        stop_reason: why the run ended
        record: the engine's arrays
    """

    def __init__(
        self, position: Position, strike: Strike, stop_reason: StopReason, record: Record
    ) -> None:
        self.position = position
        self.strike = strike
        self.stop_reason = stop_reason
        self.record = record

    @cached_property
    def duration(self) -> float:
        """Time from the strike to the last event. [s]"""
        return float(self.record.event_floats[-1, layout.EVENT_TIME])

    @cached_property
    def events(self) -> tuple[Event, ...]:
        """Everything that happened, in order of time."""
        rows = zip(self.record.event_ints.tolist(), self.record.event_floats.tolist(), strict=True)
        found: list[Event] = []
        for ints, floats in rows:
            if ints[layout.EVENT_KIND] == layout.EVENT_MEMBER:
                found[-1] = self._with_member(found[-1], ints, floats)
            else:
                found.append(self._event(ints, floats))
        return tuple(found)

    def _event(self, ints: list[int], floats: list[float]) -> Event:
        code = ints[layout.EVENT_KIND]
        names = self.position.names
        first = names[ints[layout.EVENT_BALL_A]]
        other = ints[layout.EVENT_OTHER]
        after = {first: _motion(floats, layout.EVENT_A_AFTER)}
        balls: tuple[str, ...] = (first,)
        if code in _OF_TWO_BALLS:
            balls = (first, names[other])
            after[names[other]] = _motion(floats, layout.EVENT_B_AFTER)
        return Event(
            time=floats[layout.EVENT_TIME],
            kind=_EVENT_KINDS[code],
            balls=balls,
            at=(floats[layout.EVENT_X], floats[layout.EVENT_Y]),
            after=after,
            surface=self._surface(code, other),
            at_jaw=code in _AT_A_JAW,
        )

    def _with_member(self, event: Event, ints: list[int], floats: list[float]) -> Event:
        name = self.position.names[ints[layout.EVENT_BALL_A]]
        after = {**event.after, name: _motion(floats, layout.EVENT_A_AFTER)}
        return replace(event, balls=(*event.balls, name), after=after)

    def _surface(self, code: int, index: int) -> str:
        table = self.position.table
        if code in _AT_A_NOSE:
            pieces = table.noses if self.position.coefficients.pockets else table.plain_noses
            return pieces[index].name
        if code in _AT_A_JAW:
            return table.jaws[index].pocket
        return table.pockets[index].name if code == layout.EVENT_POCKET else ""

    @cached_property
    def _phases(self) -> Mapping[str, tuple[Phase, ...]]:
        found: dict[str, list[Phase]] = {name: [] for name in self.position.names}
        deceleration = self.position.coefficients.spin_deceleration
        rows = zip(self.record.phase_ints.tolist(), self.record.phase_floats.tolist(), strict=True)
        for (ball, motion), f in rows:
            name = self.position.names[ball]
            found[name].append(
                Phase(
                    name,
                    _MOTIONS[motion],
                    f[layout.PHASE_START],
                    f[layout.PHASE_END],
                    (f[layout.PHASE_X], f[layout.PHASE_Y]),
                    (f[layout.PHASE_VX], f[layout.PHASE_VY]),
                    (f[layout.PHASE_AX], f[layout.PHASE_AY]),
                    (f[layout.PHASE_WX], f[layout.PHASE_WY], f[layout.PHASE_WZ]),
                    (f[layout.PHASE_DWX], f[layout.PHASE_DWY]),
                    deceleration,
                )
            )
        return {name: tuple(phases) for name, phases in found.items()}

    def phases(self, ball: str) -> tuple[Phase, ...]:
        """The ball's motion, stretch by stretch; empty when it never moved."""
        return self._phases[ball]

    def place(self, ball: str, time: float) -> Point:
        """The ball's centre at that time since the strike; where it fell, once potted. [m]"""
        phase = self._phase_at(ball, time)
        if phase is None:
            return self.position.balls[ball]
        return phase.place_at(min(time, phase.end))

    def motion(self, ball: str, time: float) -> Motion:
        """The ball's velocity and spin at that time; just after an event at that very time."""
        phase = self._phase_at(ball, time)
        if phase is None or time >= phase.end:
            return Motion((0.0, 0.0), (0.0, 0.0, 0.0))
        return phase.motion_at(time)

    def _phase_at(self, ball: str, time: float) -> Phase | None:
        """The last phase that has begun by then."""
        phases = self._phases[ball]
        index = bisect.bisect_right([phase.start for phase in phases], time) - 1
        return phases[index] if index >= 0 else None

    def motion_before(self, ball: str, event: Event) -> Motion:
        """The ball's velocity and spin just before that event.

        Of two events at one instant the earlier in order counts first: balls that touch may
        meet at the very moment of the strike, or twice at one instant.
        """
        before = None
        for one in self.events:
            if one is event:
                break
            if one.time == event.time and ball in one.balls:
                before = one.after[ball]
        return before or self._motion_up_to(ball, event.time)

    def _motion_up_to(self, ball: str, time: float) -> Motion:
        for phase in self._phases[ball]:
            if phase.start < time <= phase.end:
                return phase.motion_at(time)
        return Motion((0.0, 0.0), (0.0, 0.0, 0.0))

    def last_place(self, ball: str) -> Point:
        """Where the ball rests, or where it fell. [m]"""
        x, y = self.record.places[self.position.names.index(ball)].tolist()
        return x, y

    def rest(self, ball: str) -> Point | None:
        """Where the ball rests, or None when it was potted. [m]"""
        return None if self.potted(ball) is not None else self.last_place(ball)

    def potted(self, ball: str) -> str | None:
        """The pocket that the ball fell into, or None."""
        return self._potted.get(ball)

    @cached_property
    def _potted(self) -> Mapping[str, str]:
        kinds = self.record.event_ints[:, layout.EVENT_KIND]
        rows = self.record.event_ints[kinds == layout.EVENT_POCKET].tolist()
        pockets = self.position.table.pockets
        return {
            self.position.names[row[layout.EVENT_BALL_A]]: pockets[row[layout.EVENT_OTHER]].name
            for row in rows
        }

    def path(self, ball: str, interval: float) -> list[Point]:
        """The ball's centres every ``interval`` seconds and at every event. [m]"""
        points: list[Point] = [self.position.balls[ball]]
        for phase in self._phases[ball]:
            steps = max(1, math.ceil(phase.duration / interval))
            points += [
                phase.place_at(phase.start + phase.duration * step / steps)
                for step in range(1, steps + 1)
            ]
        return points


def _motion(floats: list[float], column: int) -> Motion:
    vx, vy, wx, wy, wz = floats[column : column + 5]
    return Motion((vx, vy), (wx, wy, wz))
