"""What really happened after a stroke, as a coach saw it: frozen plain data in SI units."""

from __future__ import annotations

from dataclasses import dataclass

from stunline.equipment.model import Point
from stunline.shot.reading_error import HAND_TIME


@dataclass(frozen=True, slots=True)
class CushionMet:
    """A cushion that the white met.

    Attributes:
        number: 0 near end, 1 right side, 2 far end, 3 left side
        at: where along it, from its left or its near end; None: not read [m]
    """

    number: int
    at: float | None = None


@dataclass(frozen=True, slots=True)
class Happened:
    """What was seen; None or an empty tuple is not seen.

    Attributes:
        white_rest: where the white's centre came to rest [m]
        white_passed: a place that its centre passed on its way [m]
        object_rest: where the ball that was meant to be met first came to rest [m]
        met, missed: balls that the white touched, and did not
        cushion: its first one after its first ball; of all, where it met no ball
        potted, not_potted: object balls that fell, and did not
        in_off: whether the white fell
        time: from the strike until everything was at rest [s]
        time_error: its standard deviation [s]
    """

    white_rest: Point | None = None
    white_passed: Point | None = None
    object_rest: Point | None = None
    met: tuple[str, ...] = ()
    missed: tuple[str, ...] = ()
    cushion: CushionMet | None = None
    potted: tuple[str, ...] = ()
    not_potted: tuple[str, ...] = ()
    in_off: bool | None = None
    time: float | None = None
    time_error: float = HAND_TIME
