"""How far the rungs of a ladder, and the changes between them, are in doubt.

All rungs are played on the same drawn tables, so that what a table does to all of them alike does
not blur the change from one to the next.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.model import Point
from stunline.shot.band import TABLES, Interval, ShotBand, band_of_shot, interval_of
from stunline.shot.central_part import central_hull
from stunline.shot.drawn_ways import DrawnWay
from stunline.shot.ladder import Ladder
from stunline.shot.rung import Rung

Floats = NDArray[np.float64]

_MM = 1000.0
_RESTS_SHARE = 0.98  # as for a shot's resting places
_FEWEST = 0.5  # a step is told when so large a share of the tables has it


@dataclass(frozen=True, slots=True)
class Step:
    """From one rung to the next.

    Attributes:
        moved_mm: between the white's two ends on the table in force: where it meets its next ball,
            or rests; None when it goes down at one of them
        moved: the same on the tables drawn [mm]; None when most have none
        run_mm, run: how much further it runs from contact to there [mm]
    """

    moved_mm: float | None
    moved: Interval | None
    run_mm: float | None
    run: Interval | None


@dataclass(frozen=True, slots=True)
class LadderBand:
    """A ladder on tables drawn from the doubt.

    Attributes:
        rungs: each one's band
        steps: from each rung to the next; none between tables or cloths, which differ in more than
            their doubt
    """

    rungs: tuple[ShotBand, ...]
    steps: tuple[Step, ...]


def band_of_ladder(ladder: Ladder, tables: int = TABLES) -> LadderBand:
    """Every rung on the same drawn tables."""
    bands = tuple(
        band_of_shot(rung.shot.position, rung.shot.strike, ladder.plan, tables)
        for rung in ladder.rungs
    )
    if ladder.vary in ("table", "cloth"):
        return LadderBand(bands, ())
    steps = tuple(step_between(*two) for two in pairwise(zip(ladder.rungs, bands, strict=True)))
    return LadderBand(bands, steps)


def step_between(before: tuple[Rung, ShotBand], after: tuple[Rung, ShotBand]) -> Step:
    """What changes from one rung to the next, table by table."""
    own = [one.own for _, one in (before, after)]
    drawn = list(zip(before[1].ways, after[1].ways, strict=True))
    moved = np.array([_moved(*two) for two in drawn])
    run = np.array([_further(*two) for two in drawn])
    return Step(_number(_moved(*own)), _told(moved), _number(_further(*own)), _told(run))


def _told(values: Floats) -> Interval | None:
    found = interval_of(values)
    return found if found and found.tables >= _FEWEST * len(values) else None


def _number(value: float) -> float | None:
    return None if np.isnan(value) else value


def _moved(before: DrawnWay, after: DrawnWay) -> float:
    """Between the two ends [mm]; NaN when the white goes down."""
    if before.outcome.in_off or after.outcome.in_off:
        return float("nan")
    return float(_MM * np.hypot(*(after.end - before.end)))


def _further(before: DrawnWay, after: DrawnWay) -> float:
    if before.outcome.in_off or after.outcome.in_off:
        return float("nan")
    return _MM * (after.run - before.run)


def end_region(band: ShotBand) -> tuple[Point, ...]:
    """A convex polygon round 90 % of the places where the white rests or meets its next ball. [m]

    On tables where that is the same as on the table in force; none where few are like that.
    """
    alike = [
        way.end
        for way in band.ways
        if way.second_ball == band.own.second_ball
        and not way.outcome.in_off
        and (not way.second_ball or way.ends[-1] == band.own.ends[-1])
    ]
    if len(alike) < _FEWEST * len(band.ways):
        return ()
    return tuple((x, y) for x, y in central_hull(np.array(alike), _RESTS_SHARE).tolist())
