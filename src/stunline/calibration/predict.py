"""What a record should hold, played with the engine from coefficients and each shot's unknowns.

Unknowns are standard numbers: 0 is the most likely, 1 one standard deviation of the prior. The
shared ones come first (``priors``), then each play's own: how it was released or struck, and how
far off the places it was set. All variants of all plays go through the engine in two calls.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stunline.calibration.menu import CUSHION, OBJECT_CUSHION, OBJECT_REST, WHITE_REST
from stunline.calibration.priors import LEAN_ACROSS, LEAN_ALONG, RAMP, Prior, priors
from stunline.calibration.record import PLACING, TURN_COUNT, Play, Reading, Record, object_ball
from stunline.calibration.tools import height_for_spin, ramp_speed, surface_speed, twirl_time
from stunline.calibration.touches import Touches
from stunline.equipment.coefficient_scales import COEFFICIENTS, with_values
from stunline.equipment.model import Coefficients, Point, SpeedDependentFriction, Table
from stunline.mechanics import layout
from stunline.shot.batch import Batch, play_many
from stunline.shot.kernel_input import coefficient_vector
from stunline.shot.play import play as play_shot
from stunline.shot.position import Position, Strike
from stunline.shot.shot import Shot

Floats = NDArray[np.float64]

# A play's own unknowns and their standard deviations [A].
RELEASE = 0.008  # of a ramp's speed from one release to the next, over the speed [-]
RAMP_TURN = 0.004  # of the ramp's direction [rad]
STROKE_PACE = 0.5  # of a stroke's pace, on the logarithm: nearly nothing is assumed [-]
STROKE_HEIGHT, STROKE_SIDE = 0.004, 0.0015  # of the tip's contact point [m]
STROKE_TURN = 0.006  # of the cue's direction [rad]
_WHITE_OFF = ("white across", "white along")  # off the place asked for
_OBJECT_OFF = ("object across", "object along")
_OWN = {
    "ramp": ("release", "turn", *_WHITE_OFF),
    "cue": ("pace", "height", "side", "turn", *_WHITE_OFF),
    "fingers": (),
}
_WORTH_THREADS = 64  # plays; fewer are over before a second thread has started
_READOUTS = ("duration_s", "next_met_x_mm", "next_met_y_mm", "object_direction_deg")


@dataclass(frozen=True, slots=True)
class Job:
    """One variant of one play.

    Attributes:
        play: its number in the record
        shared: standard unknowns shared by all plays
        own: that play's own
    """

    play: int
    shared: Floats
    own: Floats


class Predictor:
    """Plays a record's shots for any unknowns."""

    def __init__(self, record: Record) -> None:
        self.record = record
        self.priors: tuple[Prior, ...] = priors(record.table.cloths[record.cloth].coefficients)
        self._row = {prior.name: row for row, prior in enumerate(self.priors)}
        self._table = _gauging_table(record.table)
        self._profile = replace(record.table.cloths[record.cloth].coefficients, pockets=False)
        self._radius = record.table.balls[record.table.cue_ball].radius
        self._touches = Touches.of(record.table, object_ball(record.table))
        self._vector = coefficient_vector(self._profile, self._table)

    def own_names(self, play: Play) -> tuple[str, ...]:
        """Names of a play's own unknowns."""
        names = _OWN[play.shot.tool]
        return names if play.object is None else (*names, *_OBJECT_OFF)

    def shared_of(self, play: Play) -> tuple[int, ...]:
        """Numbers of the shared unknowns that a play may depend on."""
        wanted = {"sliding_friction", "rolling_resistance"}
        if play.shot.tool == "fingers":
            wanted = {"spin_deceleration"}
        elif not play.shot.one_heading:
            wanted |= {"cushion_restitution", "cushion_friction", "spin_deceleration"}
        if play.object is not None:
            wanted |= {"ball_restitution", "ball_friction"}
        if play.shot.tool == "ramp":
            wanted.add(RAMP)
        if play.shot.one_heading:
            # It may reach the far cushion and come back.
            wanted.add(LEAN_ALONG if abs(math.sin(play.aim)) > math.sqrt(0.5) else LEAN_ACROSS)
            wanted |= {"cushion_restitution", "cushion_friction"}
        return tuple(row for name, row in self._row.items() if name in wanted)

    def coefficients(self, shared: Floats) -> Floats:
        """Values of the coefficients, in the order of ``COEFFICIENTS``."""
        return np.array([self.priors[k].value(shared[k]) for k in range(len(COEFFICIENTS))])

    def value(self, name: str, shared: Floats) -> float:
        """The value of a shared unknown."""
        row = self._row[name]
        return self.priors[row].value(float(shared[row]))

    def predict(self, jobs: Sequence[Job]) -> list[Floats]:
        """For each job the numbers of its play's readings, in their order."""
        found: list[Floats] = [np.empty(0)] * len(jobs)
        for pair in (False, True):
            rows = [
                k for k, job in enumerate(jobs)
                if self._play(job).shot.tool != "fingers"
                and (self._play(job).object is not None) == pair
            ]  # fmt: skip
            if rows:
                batch = self._batch([jobs[k] for k in rows], pair)
                for row, k in enumerate(rows):
                    found[k] = self._read(batch, row, self._play(jobs[k]), self._own(jobs[k]))
        for k, job in enumerate(jobs):
            if self._play(job).shot.tool == "fingers":
                alpha = self.value("spin_deceleration", job.shared)
                found[k] = np.array([twirl_time(self._play(job).turns, alpha)])
        return found

    def expected(self, play: Play) -> Shot:
        """The play with every unknown as is most likely: about where it will go.

        Pockets are plain cushions, as in all of gauging.
        """
        own = dict.fromkeys(self.own_names(play), 0.0)
        strike = self._strike(play, own, np.zeros(len(self.priors)))
        balls = {self.record.table.cue_ball: play.white}
        if play.object is not None:
            balls[object_ball(self.record.table)] = play.object
        position = Position(self._table, self.record.cloth, self._profile, balls)
        return play_shot(position, Strike(*strike.tolist()))

    def error(self, play: Play, reading: Reading) -> float:
        """Standard deviation of a reading's numbers, the count of a twirl's turns included."""
        if play.shot.tool == "fingers":
            counted = 0.5 * TURN_COUNT / play.turns * reading.values[0]
            return math.hypot(reading.error, counted)
        return reading.error

    def _play(self, job: Job) -> Play:
        return self.record.plays[job.play]

    def _batch(self, jobs: Sequence[Job], pair: bool) -> Batch:
        strikes, places, rows = [], [], []
        known: dict[bytes, Floats] = {}
        for job in jobs:
            play, own = self._play(job), self._own(job)
            strikes.append(self._strike(play, own, job.shared))
            places.append(_places(play, own))
            key = job.shared.tobytes()
            if key not in known:
                known[key] = self._coefficient_row(job.shared)
            rows.append(self._leaning(known[key], play, job.shared))
        first = {self.record.table.cue_ball: places[0][0]}
        if pair:
            first[object_ball(self.record.table)] = places[0][1]
        position = Position(self._table, self.record.cloth, self._profile, first)
        return play_many(
            position,
            np.array(strikes),
            places=np.array(places),
            coefficients=np.array(rows),
            readouts=_READOUTS,
            threads=1 if len(jobs) < _WORTH_THREADS else None,
        )

    def _own(self, job: Job) -> dict[str, float]:
        return dict(zip(self.own_names(self._play(job)), job.own.tolist(), strict=True))

    def _strike(self, play: Play, own: dict[str, float], shared: Floats) -> Floats:
        """Direction, pace, height and side of what sets the white going."""
        row = np.zeros(layout.STRIKE_COLUMNS)
        if play.shot.tool == "ramp":
            foot = self.value(RAMP, shared) * math.exp(RELEASE * own["release"])
            tool = (play.drop, self._radius, self.record.ramp, self._profile.gravity)
            pace = foot * ramp_speed(*tool)
            ratio = surface_speed(*tool) / pace
            row[layout.STRIKE_HEIGHT] = height_for_spin(ratio, self._radius)
            turn = RAMP_TURN
        else:
            pace = play.shot.pace * math.exp(STROKE_PACE * own["pace"])
            planned = play.shot.height * self._radius
            row[layout.STRIKE_HEIGHT] = planned + STROKE_HEIGHT * own["height"]
            row[layout.STRIKE_SIDE] = STROKE_SIDE * own["side"]
            turn = STROKE_TURN
        row[layout.STRIKE_AIM] = play.aim + turn * own["turn"]
        row[layout.STRIKE_PACE] = pace
        return _within_ball(row, self._radius)

    def _coefficient_row(self, shared: Floats) -> Floats:
        numbers = with_values(self._profile, self.coefficients(shared))
        return _coefficient_vector(numbers, self._vector)

    def _leaning(self, vector: Floats, play: Play, shared: Floats) -> Floats:
        """The row of a play: one that rolls along one heading has that heading's rolling."""
        if not play.shot.one_heading:
            return vector
        along, across = math.sin(play.aim), math.cos(play.aim)
        lean = self.value(LEAN_ALONG, shared) * along + self.value(LEAN_ACROSS, shared) * across
        leaning = vector.copy()
        leaning[layout.ROLLING_RESISTANCE] *= max(1.0 + lean, 0.05)
        return leaning

    def _read(self, batch: Batch, row: int, play: Play, own: dict[str, float]) -> Floats:
        """The numbers of a play's readings out of a batch."""
        numbers: list[float] = []
        for reading in play.readings:
            if reading.kind in (WHITE_REST, OBJECT_REST):
                numbers.extend(batch.rests[row, int(reading.kind == OBJECT_REST)].tolist())
            elif reading.kind == CUSHION:
                along = "next_met_x_mm" if reading.cushion in (0, 2) else "next_met_y_mm"
                touched = 1e-3 * float(batch.readouts[along][row])
                rest = float(batch.rests[row, 0, int(reading.cushion in (1, 3))])
                numbers.append(touched if math.isfinite(touched) else rest)
            elif reading.kind == OBJECT_CUSHION:
                numbers.append(self._object_touch(batch, row, play, own, reading.cushion))
            else:
                numbers.append(float(batch.readouts["duration_s"][row]))
        return np.array(numbers)

    def _object_touch(
        self, batch: Batch, row: int, play: Play, own: dict[str, float], cushion: int
    ) -> float:
        """Where along a cushion the object ball comes to it, in a straight line. [m]

        The slip of a ball that was struck by another lies along its way but for some per cent, so
        the way bends by less than a thousandth of a radian before it rolls.
        """
        start = _places(play, own)[1]
        direction = math.radians(float(batch.readouts["object_direction_deg"][row]))
        along = self._touches.along(start, direction, cushion)
        if along is None:
            return float(batch.rests[row, 1, int(cushion in (1, 3))])
        return along

    def cushions_met(self, job: Job) -> dict[str, int]:
        """Numbers of the cushions that white and object ball come to first after they met."""
        play = self._play(job)
        batch = self._batch([job], True)
        told = {name: float(batch.readouts[name][0]) for name in _READOUTS}
        start = _places(play, self._own(job))[1]
        direction = math.radians(told["object_direction_deg"])
        white = (1e-3 * told["next_met_x_mm"], 1e-3 * told["next_met_y_mm"])
        met = {
            CUSHION: self._touches.at(white),
            OBJECT_CUSHION: self._touches.first(start, direction),
        }
        return {kind: cushion for kind, cushion in met.items() if cushion is not None}


def _coefficient_vector(numbers: Coefficients, like: Floats) -> Floats:
    """The engine's row for these coefficients; what no gauging shot plays stays as it is."""
    vector = like.copy()
    for name, column in _COLUMNS.items():
        vector[column] = getattr(numbers, name)
    law = numbers.ball_friction
    if not isinstance(law, SpeedDependentFriction):
        law = SpeedDependentFriction(law, 0.0, 0.0)
    vector[layout.BALL_FRICTION_FLOOR], vector[layout.BALL_FRICTION_SPAN] = law.floor, law.span
    return vector


_COLUMNS = {
    "sliding_friction": layout.SLIDING_FRICTION,
    "rolling_resistance": layout.ROLLING_RESISTANCE,
    "spin_deceleration": layout.SPIN_DECELERATION,
    "ball_restitution": layout.BALL_RESTITUTION,
    "cushion_restitution": layout.CUSHION_RESTITUTION,
    "cushion_friction": layout.CUSHION_FRICTION,
}


def _places(play: Play, own: dict[str, float]) -> list[Point]:
    """Where the balls really stood, set off across the white's line and along it. [m]"""
    places = [_set_off(play, play.white, own, _WHITE_OFF)]
    if play.object is not None:
        places.append(_set_off(play, play.object, own, _OBJECT_OFF))
    return places


def _set_off(play: Play, place: Point, own: dict[str, float], off: tuple[str, str]) -> Point:
    ahead, left = math.cos(play.aim), math.sin(play.aim)  # of the line, along x and y
    across, along = PLACING * own[off[0]], PLACING * own[off[1]]
    return place[0] + along * ahead - across * left, place[1] + along * left + across * ahead


def _within_ball(row: Floats, radius: float) -> Floats:
    """The strike with a contact point that is on the ball."""
    reach = 0.95 * radius
    off = math.hypot(row[layout.STRIKE_HEIGHT], row[layout.STRIKE_SIDE])
    if off > reach:
        row[layout.STRIKE_HEIGHT] *= reach / off
        row[layout.STRIKE_SIDE] *= reach / off
    return row


def _gauging_table(table: Table) -> Table:
    """The table with a cue that never slips off: a ramp's spin is given like a strike's."""
    return replace(table, cue=replace(table.cue, miscue_offset=1.0))
