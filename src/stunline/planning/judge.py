"""Holds many plays against a goal: which demands they meet, and how far they are from the others.

Every demand has a shortfall: 0 where it holds, and else how much is missing, in a unit that a
coach can picture. So a goal that no strike meets can be relaxed by the least that helps.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.contact_distances import ball_contact_distance
from stunline.shot import compiled, plane
from stunline.shot.aiming.pot_aim import pot_direction
from stunline.shot.batch import Batch, Watch, play_many
from stunline.shot.goal import CircleArea, Goal, NamedArea, PolygonArea
from stunline.shot.next_pots import ways_to_pockets
from stunline.shot.play import Prepared
from stunline.shot.position import Position

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

READOUTS = ("second_sine", "object_direction_deg", "follow_ratio")
# Of a demand that holds or not, with nothing between: to meet it is one step. [-]
_ONE_STEP = 1.0


# Runs with more events than this on average are long: an opened pack has some hundreds, and
# costs a hundred times a plain shot. [-]
LONG_RUN = 30.0


def runs_long(batch: Batch) -> bool:
    """Whether the runs of a batch, of which some must have been played, are much work."""
    return float(batch.events[batch.played].mean()) > LONG_RUN


@dataclass(frozen=True, slots=True)
class Judgement:
    """How N plays stand against a goal.

    Attributes:
        met: (N,) whether every demand holds
        holds: demand → (N,)
        shortfalls: demand → (N,), 0 where it holds; metres, but radians for "pot" and "next",
            a count for "cushions", 1 for "in_off"; infinite where it can't be told
    """

    met: Flags
    holds: dict[str, Flags]
    shortfalls: dict[str, Floats]

    def all_but(self, demand: str) -> Flags:
        """(N,) whether every other demand holds."""
        others = [held for name, held in self.holds.items() if name != demand]
        return np.logical_and.reduce(others) if others else np.ones(len(self.met), dtype=bool)


class Judge:
    """A goal on a position, to be asked about many plays."""

    def __init__(self, position: Position, goal: Goal) -> None:
        self.position = position
        self.goal = goal
        self._prepared = Prepared(position)
        demands: dict[str, Callable[[Batch], tuple[Flags, Floats]]] = {
            "pot": self._pot,
            "meet": self._meet,
            "through": self._through,
            "rest": self._rest,
            "next": self._next,
            "touch": self._touch,
            "miss": self._miss,
            "cushions": self._cushions,
            "in_off": self._in_off,
        }
        self._demands = {name: asked for name, asked in demands.items() if self._asks(name)}
        meet = (goal.meet.ball,) if goal.meet else ()
        self._near = tuple(dict.fromkeys((*meet, *goal.touch, *goal.miss)))
        # Runs may end early when the goal asks of nothing that comes later.
        self._until = goal.pot.ball if goal.pot else ""
        self._early = set(self._demands) <= {"pot", "meet"} and goal.meet is not None
        self.watch = Watch(self._near, (goal.through,) if goal.through else ())

    @property
    def decided_early(self) -> bool:
        """Whether a play may end before all is at rest."""
        return self._early

    @property
    def demands(self) -> tuple[str, ...]:
        """Those that the goal makes, as in its file."""
        return tuple(self._demands)

    def _asks(self, name: str) -> bool:
        value = getattr(self.goal, name)
        return value is not None and value != () and (name != "in_off" or value is False)

    def play(
        self,
        strikes: Floats,
        places: Floats | None = None,
        cancelled: Callable[[], bool] | None = None,
        threads: int | None = None,
        readouts: tuple[str, ...] = (),
        coefficients: Floats | None = None,
        whole: bool = False,
    ) -> Batch:
        """Play these strikes, (N, 5) as in ``mechanics.layout``, measuring what the goal needs.

        Args:
            whole: until rest; if not, a run may end as soon as the goal is decided.
            Others: as in ``play_many``.
        """
        wanted = tuple(dict.fromkeys((*READOUTS, *readouts)))
        return play_many(
            self.position,
            strikes,
            places=places,
            coefficients=coefficients,
            readouts=wanted,
            watch=self.watch,
            until_second_ball=self._until if self._early and not whole else None,
            threads=threads,
            cancelled=cancelled,
        )

    @property
    def early_demands(self) -> tuple[str, ...]:
        """Those that are decided before the others: the pot, and the ball that the white meets."""
        pot = self.goal.pot
        if self._early or pot is None or pot.ball == self.position.names[0]:
            return ()
        return tuple(name for name in ("pot", "meet") if name in self._demands)

    def play_early(
        self,
        strikes: Floats,
        cancelled: Callable[[], bool] | None = None,
        coefficients: Floats | None = None,
    ) -> Batch:
        """Play until the early demands are decided, whatever else the goal asks."""
        return play_many(
            self.position,
            strikes,
            coefficients=coefficients,
            readouts=READOUTS,
            watch=self.watch,
            until_second_ball=self._until,
            cancelled=cancelled,
        )

    def fails_early(self, batch: Batch) -> Flags:
        """(N,) which of these plays, played early, fail whatever comes later."""
        holds = self.judge(batch).holds
        held = np.logical_and.reduce([holds[name] for name in self.early_demands])
        failed: Flags = batch.played & ~held
        return failed

    def judge(self, batch: Batch) -> Judgement:
        """How the plays stand; those that were not played meet nothing."""
        holds, shortfalls = {}, {}
        for name, asked in self._demands.items():
            held, missing = asked(batch)
            held = held & batch.played
            holds[name] = held
            shortfalls[name] = np.where(held, 0.0, missing)
        met = np.logical_and.reduce([batch.played, *holds.values()])
        return Judgement(met, holds, shortfalls)

    def _index(self, ball: str) -> int:
        return self.position.names.index(ball)

    def _apart(self, ball: str) -> float:
        """Distance at which the white touches that ball. [m]"""
        white = self.position.radius(self.position.names[0])
        return ball_contact_distance(white, self.position.radius(ball))

    def _gap_to(self, batch: Batch, ball: str) -> Floats:
        """How far the white stays from that ball's place at its nearest. [m]"""
        away = batch.nearest[:, self._near.index(ball)] - self._apart(ball)
        return np.maximum(away, 0.0)

    def _pot(self, batch: Batch) -> tuple[Flags, Floats]:
        pot = self.goal.pot
        assert pot is not None
        pockets = [pocket.name for pocket in self.position.table.pockets]
        held = batch.potted[:, self._index(pot.ball)] == pockets.index(pot.pocket)
        wanted = plane.angle(pot_direction(self.position, pot))
        turned = np.radians(batch.readouts["object_direction_deg"]) - wanted
        missing = np.abs(np.remainder(turned + math.pi, 2.0 * math.pi) - math.pi)
        met_it = batch.first_contacts == self._index(pot.ball)
        return held, np.where(met_it & np.isfinite(missing), missing, np.inf)

    def _meet(self, batch: Batch) -> tuple[Flags, Floats]:
        meet = self.goal.meet
        assert meet is not None
        sine = batch.readouts["second_sine"]
        is_next = batch.second_balls == self._index(meet.ball)
        low, high = _sines(meet.thickness, meet.on)
        outside = np.minimum.reduce(
            [np.maximum(np.maximum(least - sine, sine - most), 0.0) for least, most in (low, high)]
        )
        held = is_next & (outside == 0.0)
        # A ball that is met, but after another one, is a ball's width from being met next.
        touched = batch.touched[:, self._index(meet.ball)]
        away = np.where(touched, self._apart(meet.ball), self._gap_to(batch, meet.ball))
        return held, np.where(is_next, outside * self._apart(meet.ball), away)

    def _through(self, batch: Batch) -> tuple[Flags, Floats]:
        room = batch.rooms[:, 0]
        return room > 0.0, np.maximum(-room, 0.0)

    def _rest(self, batch: Batch) -> tuple[Flags, Floats]:
        away = distance_to_area(self.position, self.goal.rest, batch.rests[:, 0])
        return away == 0.0, np.where(np.isnan(away), np.inf, away)

    def _next(self, batch: Batch) -> tuple[Flags, Floats]:
        asked = self.goal.next
        assert asked is not None
        outside = outside_of_cuts(self._prepared, asked.balls, asked.cut, batch)
        return outside == 0.0, outside

    def _touch(self, batch: Batch) -> tuple[Flags, Floats]:
        held = np.ones(len(batch.played), dtype=bool)
        missing: Floats = np.zeros(len(held))
        for ball in self.goal.touch:
            touched = batch.touched[:, self._index(ball)]
            held &= touched
            missing = np.maximum(missing, np.where(touched, 0.0, self._gap_to(batch, ball)))
        return held, missing

    def _miss(self, batch: Batch) -> tuple[Flags, Floats]:
        """Of a ball that was met: how thick, as the distance by which the white must go wide."""
        held = np.ones(len(batch.played), dtype=bool)
        missing: Floats = np.zeros(len(held))
        for ball in self.goal.miss:
            row = self._index(ball)
            touched = batch.touched[:, row]
            sine = np.abs(batch.readouts["second_sine"])
            deep = np.where(batch.second_balls == row, (1.0 - sine) * self._apart(ball), np.inf)
            held &= ~touched
            missing = np.maximum(missing, np.where(touched, deep, 0.0))
        return held, missing

    def _cushions(self, batch: Batch) -> tuple[Flags, Floats]:
        span = self.goal.cushions
        assert span is not None
        few, many = span[0] - batch.cushions, batch.cushions - span[1]
        missing = np.maximum(np.maximum(few, many), 0).astype(np.float64)
        return missing == 0.0, missing

    def _in_off(self, batch: Batch) -> tuple[Flags, Floats]:
        fell = batch.potted[:, 0] >= 0
        return ~fell, np.where(fell, _ONE_STEP, 0.0)


def _sines(thickness: tuple[float, float], on: str | None) -> tuple[tuple[float, float], ...]:
    """Ranges of the signed sine of the cut, right side positive, that a meeting may have."""
    least, most = 1.0 - thickness[1], 1.0 - thickness[0]
    right, left = (least, most), (-most, -least)
    if on is None:
        return right, left
    return (right, right) if on == "right" else (left, left)


def outside_of_cuts(
    prepared: Prepared, balls: tuple[str, ...], cut: tuple[float, float], batch: Batch
) -> Floats:
    """By how much the best cut at one of these balls, from where all rest, misses a range. [rad]

    Infinite where none has a clear way to a pocket and from the white.
    """
    outside: Floats = np.full(len(batch.rests), np.inf)
    compiled.outside_of_cuts(
        batch.rests, batch.potted, *ways_to_pockets(prepared, balls), cut[0], cut[1], outside
    )
    return outside


def distance_to_area(
    position: Position, area: CircleArea | PolygonArea | NamedArea | None, places: Floats
) -> Floats:
    """How far each place (N, 2) is outside of an area, 0 within; NaN for NaN. [m]"""
    table = position.table
    if isinstance(area, CircleArea):
        outside: Floats = np.hypot(*(places - area.centre).T) - area.radius
        return np.maximum(outside, 0.0)
    if isinstance(area, PolygonArea):
        return _distance_to_polygon(np.array(area.corners), places)
    assert area is not None
    assert table.baulk_line is not None
    line = table.baulk_line
    behind = np.maximum(places[:, 1] - line, 0.0)
    if area.name != "D":
        return behind
    assert table.d_radius is not None
    across = places[:, 0] - 0.5 * table.width
    away = np.hypot(across, places[:, 1] - line)
    # Above the line the nearest place of the half disc lies on its straight edge.
    edge = np.hypot(np.maximum(np.abs(across) - table.d_radius, 0.0), behind)
    return np.where(places[:, 1] > line, edge, np.maximum(away - table.d_radius, 0.0))


def _distance_to_polygon(corners: Floats, places: Floats) -> Floats:
    """0 within, by counting crossings of a ray; else to the nearest edge. [m]"""
    x, y = places.T
    inside = np.zeros(len(places), dtype=bool)
    best: Floats = np.full(len(places), np.inf)
    for (ax, ay), (bx, by) in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        spans = (ay > y) != (by > y)
        if ay != by:
            inside ^= spans & (x < ax + (y - ay) / (by - ay) * (bx - ax))
        square = (bx - ax) ** 2 + (by - ay) ** 2
        share = 0.0 if square == 0.0 else ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / square
        share = np.clip(share, 0.0, 1.0)
        away = np.hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay))
        best = np.minimum(best, away)
    return np.where(np.isnan(x), np.nan, np.where(inside, 0.0, best))
