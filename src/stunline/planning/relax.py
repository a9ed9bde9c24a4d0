"""What would help when no strike meets a goal: the least that one demand or range must give."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stunline.errors import UnsolvableShotError
from stunline.planning.aim_field import AimField
from stunline.planning.judge import Judge
from stunline.planning.request import Request, widened
from stunline.planning.scan import Scan
from stunline.planning.strike_space import StrikeSpace, strike_of, strike_space
from stunline.shot.position import Strike

_RANGES = ("pace", "height", "side")


@dataclass(frozen=True, slots=True)
class Relaxation:
    """One demand or range that gives way, the others held.

    Attributes:
        what: a demand of the goal, or "pace", "height", "side" for a range
        by: the least that it must give: m, but rad for "pot" and "next", a count for
            "cushions", 1 for "in_off", m/s for "pace"
        strike: with which the goal is then met
        to: the new end of a range; None for a demand
    """

    what: str
    by: float
    strike: Strike
    to: float | None = None


def relaxations(
    asked: Request, judge: Judge, space: StrikeSpace, scan: Scan, strikes: int
) -> tuple[Relaxation, ...]:
    """Every single demand and range that helps when it gives way, demands first."""
    found = []
    for demand in judge.demands:
        others = scan.all_but(demand)
        missing = np.where(others, scan.shortfalls[demand], np.inf)
        least = int(np.argmin(missing))
        if np.isfinite(missing[least]):
            found.append(Relaxation(demand, float(missing[least]), strike_of(space.rows[least])))
    for name in _RANGES:
        wider = _wider_range(asked, judge, name, strikes)
        if wider is not None:
            found.append(wider)
    return tuple(found)


def _wider_range(asked: Request, judge: Judge, name: str, strikes: int) -> Relaxation | None:
    """The strike outside of one range, and nearest to it, that meets the goal."""
    ranges = widened(asked.ranges, asked.position, name)
    low, high = getattr(asked.ranges, name)
    try:
        aims = AimField(asked, ranges)
    except UnsolvableShotError:
        return None
    space = strike_space(asked.position, ranges, aims, strikes)
    rows = space.rows[space.struck]
    met = judge.judge(judge.play(rows)).met
    if not met.any():
        return None
    values = rows[:, 1 + _RANGES.index(name)]
    outside = np.where(met, np.maximum(np.maximum(low - values, values - high), 0.0), np.inf)
    nearest = int(np.argmin(outside))
    return Relaxation(
        name, float(outside[nearest]), strike_of(rows[nearest]), float(values[nearest])
    )
