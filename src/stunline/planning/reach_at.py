"""The strike that brings the white to a place that was pointed at, or how near one comes."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.model import Point
from stunline.planning.demand import demands_of
from stunline.planning.reach import Ends, Reach, Search, made_of, slopes_at
from stunline.planning.reach_lattice import lattice, points_of
from stunline.planning.strike_space import strike_of
from stunline.shot.batch import play_many
from stunline.shot.position import Strike

Floats = NDArray[np.float64]

NEAR = 0.003  # rests this near to the place are there [m]
_STARTS = 16  # cells from which the place is tried
# One turn for each: first along the way that the white answers to best, then all the way.
_LEAST = (0.2, 0.05, 0.05, 0.01, 0.01, 1e-3, 1e-3)
_EXACT_TURNS = 4  # with the aim solved properly
_LONGEST_STEP = 0.25  # of what varies, over its span, in one turn [-]


@dataclass(frozen=True, slots=True)
class Pointed:
    """What was found for a place.

    Attributes:
        place: pointed at [m]
        strike: that brings the white there, or to the nearest place found; None when nothing
            was made at all
        rest: where that strike, played, leaves the white [m]
        away: of that from the place [m]
        follow_ratio: on its arrival [-]
        demand: what it asks [-]
        meets: the ball besides the first that it meets on its way, or ""
        over: a strike whose way passes over the place's cell, where none rests there
    """

    place: Point
    strike: Strike | None
    rest: Point | None
    away: float
    follow_ratio: float
    demand: float
    meets: str
    over: Strike | None

    @property
    def is_there(self) -> bool:
        """Whether the white rests at the place."""
        return self.away <= NEAR


def point_at(reach: Reach, place: Point) -> Pointed:
    """Refine the strikes of the cells round the place until one rests there.

    Of those that do, the least demanding is taken, its aim solved properly; when none does, the
    one that comes nearest.
    """
    asked = reach.request
    grid = lattice(asked.position, asked.ranges, reach.field, 1)
    search = Search(asked, grid, reach.raster, lambda *_: None, lambda: False)
    starts = _starts(reach, place)
    over = _passing(reach, place)
    if not len(starts):
        return Pointed(place, None, None, np.inf, np.nan, np.inf, "", over)
    points, ends = _refined(search, points_of(reach.rows[starts]), np.array(place))
    away = np.where(ends.made, np.hypot(*(ends.rests - place).T), np.inf)
    demands = demands_of(asked.position, grid.rows(points), ends.follow, ends.meets)
    there = away <= NEAR
    # The least demanding that rests there; one whose exact aim leads elsewhere gives way.
    order = np.argsort(np.where(there, demands, 1e6 + away), kind="stable")
    best: Pointed | None = None
    for number in order[: max(1, min(4, int(there.sum())))]:
        found = _exactly(search, reach, points[number], np.array(place), over)
        if best is None or found.away < best.away:
            best = found
        if found.is_there:
            break
    assert best is not None
    if not best.is_there:
        # Where the white's end hangs on the last of the aim, the aim as found between the knots
        # may still lead there; typed back in degrees it is the same shot.
        row = grid.rows(points[order[:1]])
        best = min(best, _played(reach, row, np.array(place), over), key=lambda one: one.away)
    return best if not best.is_there else replace(best, over=None)


def _starts(reach: Reach, place: Point) -> NDArray[np.int64]:
    """Cells that the white reaches, the nearest first."""
    cells = np.flatnonzero(reach.reached)
    away = np.hypot(*(reach.rests[cells] - place).T)
    return cells[np.argsort(away, kind="stable")[:_STARTS]]


def _passing(reach: Reach, place: Point) -> Strike | None:
    cell = int(reach.raster.cells_at(np.array([place]))[0])
    if cell < 0 or not reach.passed[cell]:
        return None
    return strike_of(reach.passing[cell])


def _refined(search: Search, points: Floats, place: Floats) -> tuple[Floats, Ends]:
    """Each start moved by its slope towards the place, its best turn kept."""
    points = points.copy()
    best, ends = points.copy(), search.play(points, "")
    kept = ends
    least = np.where(ends.made, np.hypot(*(ends.rests - place).T), np.inf)
    for share in _LEAST:
        slopes = slopes_at(search, points, ends.rests, share)
        points = _moved(search, points, slopes, place - ends.rests)
        ends = search.play(points, "")
        away = np.where(ends.made, np.hypot(*(ends.rests - place).T), np.inf)
        nearer = away < least
        best[nearer], least[nearer] = points[nearer], away[nearer]
        kept = Ends(
            np.where(nearer, ends.made, kept.made),
            np.where(nearer[:, None], ends.rests, kept.rests),
            np.where(nearer, ends.follow, kept.follow),
            np.where(nearer, ends.met, kept.met),
            np.where(nearer, ends.meets, kept.meets),
        )
        # One that no longer does what is aimed for goes on from where it last did.
        points = np.where(ends.made[:, None], points, best)
        ends = Ends(
            np.where(ends.made, ends.made, kept.made),
            np.where(ends.made[:, None], ends.rests, kept.rests),
            ends.follow,
            ends.met,
            ends.meets,
        )
    return best, kept


def _moved(search: Search, points: Floats, slopes: Floats, off: Floats) -> Floats:
    spans = search.grid.spans
    step = np.einsum("kij,kj->ki", slopes, np.nan_to_num(off))
    longest = _LONGEST_STEP * (spans[:, 1] - spans[:, 0])
    step = np.clip(step, -longest, longest)
    moved: Floats = np.clip(points + step, spans[:, 0], spans[:, 1])
    return moved


def _exactly(
    search: Search, reach: Reach, point: Floats, place: Floats, over: Strike | None
) -> Pointed:
    """The strike with its aim solved properly, moved until it rests there again."""
    points = point[None]
    best: Pointed | None = None
    slope = slopes_at(search, points, search.play(points, "").rests)
    for _ in range(_EXACT_TURNS):
        strike = reach.field.exact(strike_of(search.grid.rows(points)[0]))
        row = np.array([[strike.aim, strike.pace, strike.height, strike.side, strike.elevation]])
        found = _played(reach, row, place, over)
        if best is None or found.away < best.away:
            best = found
        if found.rest is None or best.away <= 0.1 * NEAR:
            break
        points = _moved(search, points, slope, (place - np.array(found.rest))[None])
    assert best is not None
    return best


def _played(reach: Reach, row: Floats, place: Floats, over: Strike | None) -> Pointed:
    """One strike (1, 5) played, and how far from the place it leaves the white."""
    asked = reach.request
    batch = play_many(asked.position, row, readouts=("follow_ratio",), threads=1)
    follow, meets = batch.readouts["follow_ratio"][:1], batch.second_balls[:1] >= 0
    made = bool(made_of(asked, batch)[0])
    x, y = batch.rests[0, 0].tolist()
    second = int(batch.second_balls[0])
    return Pointed(
        (float(place[0]), float(place[1])),
        strike_of(row[0]),
        (x, y) if made else None,
        math.hypot(x - place[0], y - place[1]) if made else math.inf,
        float(follow[0]),
        float(demands_of(asked.position, row, follow, meets)[0]),
        asked.position.names[second] if second >= 0 else "",
        over,
    )
