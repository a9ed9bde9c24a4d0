"""What was measured: plays of gauging shots with what was read, SI units."""

from __future__ import annotations

from dataclasses import dataclass, field

from stunline.calibration.menu import GaugingShot
from stunline.calibration.tools import Ramp
from stunline.equipment.model import Point, Table
from stunline.shot import reading_error

# Errors of measurement, one standard deviation; common practice, no source.
PLACING = 0.004  # of a ball set with a tape, along each axis [m]
READING = reading_error.PLACE  # of a resting place read with a tape, along each axis [m]
HAND_TIME, FRAME_TIME = reading_error.HAND_TIME, reading_error.FRAME_TIME  # [s]
TURN_COUNT = 0.25  # of turns counted on a film [-]


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing read.

    Attributes:
        kind: its key in the record file
        values: one number or a place [m] or [s]
        error: standard deviation of each number
        cushion: for a touch of a cushion, the number of the cushion: near, right, far, left
    """

    kind: str
    values: tuple[float, ...]
    error: float
    cushion: int = -1

    @property
    def unit(self) -> str:
        """Of its residual as told."""
        return "s" if self.kind == "time" else "mm"


@dataclass(frozen=True, slots=True)
class Play:
    """One play of a gauging shot.

    Attributes:
        name: for people, unique in its record
        shot: of the menu
        white, object: where they were set [m]
        aim: [rad]
        drop: of the ball's centre on the ramp [m]
        readings: what was read
        turns: counted, of a twirl
        number: of its ``[[measured]]`` in the file, from 0
    """

    name: str
    shot: GaugingShot
    white: Point
    object: Point | None
    aim: float
    drop: float
    readings: tuple[Reading, ...]
    turns: float = 0.0
    number: int = 0


@dataclass(frozen=True, slots=True)
class Record:
    """A record of gauging shots.

    Attributes:
        table: that was played on
        cloth: name of the profile that the fit starts from
        plays: those with at least one reading
        title, date: as written
        ramp: the chute
        unplayed: those that hold no reading yet
        faulty: those whose every reading is a mistake
        table_name: as written, a shipped table or a file
    """

    table: Table
    cloth: str
    plays: tuple[Play, ...]
    title: str = ""
    date: str = ""
    ramp: Ramp = field(default_factory=Ramp)
    unplayed: tuple[Play, ...] = ()
    faulty: tuple[Play, ...] = ()
    table_name: str = ""

    @property
    def readings(self) -> int:
        """How many things were read."""
        return sum(len(play.readings) for play in self.plays)


def set_up_places(
    shot: GaugingShot, table: Table, white: Point | None = None
) -> tuple[Point, Point | None]:
    """Where the menu sets white and object ball on that table. [m]"""
    if white is None:
        white = (shot.white[0] * table.width, shot.white[1] * table.length)
    if shot.object is None:
        return white, None
    radius = table.balls[object_ball(table)].radius
    across = shot.object[0] * table.width - shot.overlap * radius
    return white, (across, shot.object[1] * table.length)


def object_ball(table: Table) -> str:
    """The ball that stands for the object ball: the first of the set that is not struck."""
    return next(name for name in table.balls if name != table.cue_ball)
