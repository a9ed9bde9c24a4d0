"""Where the white may stand so that a plain follow meets the goal, and forgives this much.

The place to leave it on the shot before. Every place is played at every pace worth trying; where
the goal is met, again with the aim and the pace off by the margins, both ways.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.contact_distances import ball_contact_distance
from stunline.errors import Fault, UnsolvableShotError
from stunline.mechanics import layout
from stunline.planning.clearance import least_elevation
from stunline.planning.demand import PLAIN_HEIGHT, demands_of
from stunline.planning.follow_aims import FollowAims
from stunline.planning.judge import Judge
from stunline.planning.reach import made_of, places_for_white, raster_of
from stunline.planning.request import Request
from stunline.shot.batch_watch import Raster
from stunline.shot.position import DirectAim, Position

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Report = Callable[[str, int, int], None]

CELL = 0.05  # [m]
_CHUNK = 6_000
# Paces tried for each stretch of them that the margin spans, so that none is stepped over. [-]
_TO_A_MARGIN = 2
_LEAST_MARGIN = 0.03  # of the pace, for how closely paces are tried [-]
_THINNEST = np.radians(84.0)  # steeper cuts are not tried [rad]


@dataclass(frozen=True, slots=True)
class WhitePlaces:
    """Where the white may stand. Cells as the raster numbers them.

    Attributes:
        request: what was asked
        raster: of the table
        aim_off, pace_off: margins that had to hold [rad], share of the pace
        tried: (cells,) whether the white can stand in the middle of the cell with a way to the ball
        met: (cells,) whether some plain follow from there meets the goal without error
        safe: (cells,) whether one meets it with the margins as well
        rows: (cells, 5) the least demanding such strike, one without margins where none has them
        plays: that were played
        complete: whether the search was left to end
    """

    request: Request
    raster: Raster
    aim_off: float
    pace_off: float
    tried: Flags
    met: Flags
    safe: Flags
    rows: Floats
    plays: int
    complete: bool


def white_places(
    asked: Request,
    aim_off: float,
    pace_off: float,
    cell: float = CELL,
    report: Report = lambda *_: None,
    cancelled: Callable[[], bool] = lambda: False,
) -> WhitePlaces:
    """Try the white all over the table, the other balls as they are.

    Args:
        aim_off: by which the aim may be off to both sides [rad]
        pace_off: by which the pace may be off, as a share of itself
        cell: side of a cell of the raster [m]
        report: told what is being done, and how much of it
        cancelled: asked often; once true, what was found until then is returned

    Raises:
        UnsolvableShotError: the file aims in a fixed direction, which means nothing from elsewhere.
    """
    if isinstance(asked.aim, DirectAim):
        raise _no_ball_to_aim_at()
    trial = _Trial(asked, raster_of(asked.position, cell), report, cancelled)
    paces = _paces(asked.ranges.pace, pace_off)
    report("aiming from everywhere", 0, 1)
    aims = FollowAims(asked, trial.places, paces)
    number, step = (part.ravel() for part in np.meshgrid(
        np.arange(len(trial.places)), np.arange(len(paces)), indexing="ij"
    ))  # fmt: skip
    rows = trial.rows(number, aims.at(number, paces[step]), paces[step])
    # In an order that covers the table early, so that a stop leaves something of it all.
    order = np.random.default_rng(0).permutation(len(rows))
    met = np.zeros(len(rows), dtype=bool)
    met[order] = trial.meets(rows[order], number[order], "playing from everywhere")
    number, rows = _with_middles(trial, aims, number, rows, met, paces)
    safe = _forgiven(trial, rows, number, aim_off, pace_off)
    return trial.result(number, rows, safe, aim_off, pace_off)


class _Trial:
    """The places of one search, and plays from them."""

    def __init__(
        self, asked: Request, raster: Raster, report: Report, cancelled: Callable[[], bool]
    ) -> None:
        self.asked, self.raster = asked, raster
        self._report, self._cancelled = report, cancelled
        self._judge = Judge(asked.position, asked.goal)
        self.cells = np.flatnonzero(_free(asked.position, raster) & _aimable(asked, raster))
        self.places = raster.middles()[self.cells]
        self._balls = np.array(list(asked.position.balls.values()))
        self._height = PLAIN_HEIGHT * asked.position.radius(asked.position.names[0])
        self._raised = self._elevations()
        self.plays = 0

    def rows(self, number: Ints, aims: Floats, paces: Floats) -> Floats:
        """(N, 5) plain follows from these places."""
        rows: Floats = np.zeros((len(number), layout.STRIKE_COLUMNS))
        rows[:, layout.STRIKE_AIM] = aims
        rows[:, layout.STRIKE_PACE] = paces
        rows[:, layout.STRIKE_HEIGHT] = self._height
        rows[:, layout.STRIKE_ELEVATION] = self._raised[number]
        return rows

    def meets(self, rows: Floats, number: Ints, doing: str) -> Flags:
        """(N,) whether each strike, from its place, meets the goal."""
        met = np.zeros(len(rows), dtype=bool)
        for first in range(0, len(rows), _CHUNK):
            self._report(doing, first, len(rows))
            if self._cancelled():
                break
            part = slice(first, first + _CHUNK)
            places = np.repeat(self._balls[None], len(rows[part]), axis=0)
            places[:, 0] = self.places[number[part]]
            batch = self._judge.play(rows[part], places=places, cancelled=self._cancelled)
            self.plays += int(batch.played.sum())
            # Whatever the goal, what is aimed for is to be made, and a white that goes in is not.
            met[part] = self._judge.judge(batch).met & made_of(self.asked, batch)
        return met

    def result(
        self, number: Ints, rows: Floats, safe: Flags, aim_off: float, pace_off: float
    ) -> WhitePlaces:
        """The best strike of each place."""
        count = self.raster.cells
        tried, met, sure = (np.zeros(count, dtype=bool) for _ in range(3))
        best: Floats = np.full((count, layout.STRIKE_COLUMNS), np.nan)
        tried[self.cells] = True
        cells = self.cells[number]
        met[cells] = True
        sure[cells[safe]] = True
        none = np.zeros(len(rows), dtype=bool)
        plain = demands_of(self.asked.position, rows, np.ones(len(rows)), none)
        # Of those written to one cell the last stays: with margins, and the least demanding.
        order = np.lexsort((-plain, safe))
        best[cells[order]] = rows[order]
        return WhitePlaces(
            self.asked, self.raster, aim_off, pace_off, tried, met, sure, best, self.plays,
            not self._cancelled(),
        )  # fmt: skip

    def _elevations(self) -> Floats:
        """(P,) the least that clears a cushion or ball behind the white. [rad]"""
        position, base = self.asked.position, self.asked.base
        white = position.names[0]
        others = {name: place for name, place in position.balls.items() if name != white}
        assert not isinstance(self.asked.aim, DirectAim)
        ball: Floats = np.array(position.balls[self.asked.aim.ball])
        ways = np.arctan2(*(ball - self.places).T[::-1])
        raised: Floats = np.empty(len(self.places))
        for k, (place, way) in enumerate(zip(self.places, ways, strict=True)):
            moved = Position(
                position.table, position.cloth, position.coefficients,
                {white: (float(place[0]), float(place[1])), **others},
            )  # fmt: skip
            raised[k] = least_elevation(moved, float(way), self._height, base.elevation)
        return raised


def _paces(span: tuple[float, float], margin: float) -> Floats:
    """Paces so close that none with that margin lies between two. [m s⁻¹]"""
    low, high = span
    if high <= low:
        return np.array([low])
    margin = max(margin, _LEAST_MARGIN)
    step = np.log((1.0 + margin) / (1.0 - margin)) / _TO_A_MARGIN
    paces: Floats = np.geomspace(low, high, 2 + int(np.log(high / low) / step))
    return paces


def _with_middles(
    trial: _Trial, aims: FollowAims, number: Ints, rows: Floats, met: Flags, paces: Floats
) -> tuple[Ints, Floats]:
    """The strikes that meet the goal, and the middle of each run of them along the pace.

    A run as narrow as its margins forgives only in its middle.
    """
    grid = met.reshape(len(trial.places), len(paces))
    edges = np.diff(np.pad(grid, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    place, first = np.nonzero(edges == 1)
    _, after = np.nonzero(edges == -1)
    middles = np.sqrt(paces[first] * paces[after - 1])
    more = trial.rows(place, aims.at(place, middles), middles)
    also = trial.meets(more, place, "playing from everywhere")
    return np.append(number[met], place[also]), np.concatenate([rows[met], more[also]])


def _forgiven(trial: _Trial, rows: Floats, number: Ints, aim_off: float, pace_off: float) -> Flags:
    """(N,) whether each still meets the goal with aim or pace off by the margin, both ways."""
    safe = np.ones(len(rows), dtype=bool)
    for column, off, share in (
        (layout.STRIKE_AIM, aim_off, 0.0),
        (layout.STRIKE_PACE, 0.0, pace_off),
    ):
        for sign in (-1.0, 1.0):
            left = np.flatnonzero(safe)
            moved = rows[left].copy()
            moved[:, column] = moved[:, column] * (1.0 + sign * share) + sign * off
            safe[left] = trial.meets(moved, number[left], "trying the margins")
    return safe


def _free(position: Position, raster: Raster) -> Flags:
    """(cells,) whether the white can stand in the middle, clear of cushions and balls."""
    middles = raster.middles()
    white = position.names[0]
    free = places_for_white(position, raster)
    for name in position.names[1:]:
        apart = ball_contact_distance(position.radius(white), position.radius(name))
        free &= np.hypot(*(middles - position.balls[name]).T) > apart
    return free


def _aimable(asked: Request, raster: Raster) -> Flags:
    """(cells,) whether the ball can be cut as asked from there, in plane geometry."""
    from stunline.shot.aiming.pot_aim import pot_direction
    from stunline.shot.position import PotAim

    middles = raster.middles()
    if not isinstance(asked.aim, PotAim):
        return np.ones(len(middles), dtype=bool)
    position = asked.position
    apart = ball_contact_distance(
        position.radius(position.names[0]), position.radius(asked.aim.ball)
    )
    target = np.array(pot_direction(position, asked.aim))
    way = np.array(position.balls[asked.aim.ball]) - apart * target - middles
    along = way @ target
    return np.asarray(along > np.cos(_THINNEST) * np.hypot(*way.T))


def _no_ball_to_aim_at() -> UnsolvableShotError:
    return UnsolvableShotError(
        "no-ball",
        Fault(
            "a fixed aim says nothing of where else the white may stand",
            given="aim in [strike]",
            allowed="a pot or a contact",
            remedy='pot = { ball = "black", pocket = "top right" }',
            key="strike.aim",
        ),
    )
