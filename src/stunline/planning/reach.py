"""Everywhere that the white can come to rest, or pass over, while a pot goes in.

Steps: a lattice of strikes is played; each cell of a raster of the table takes the least
demanding strike that lies between neighbouring nodes and should end there; that strike is
played, and corrected by the slope there until the white rests in the cell; cells beside those
reached are tried from their neighbours. Nothing is told that was not played.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.contact_distances import nose_contact_distance
from stunline.mechanics import layout
from stunline.planning.aim_field import AimField
from stunline.planning.demand import OF_ANOTHER_BALL, demands_of, kinds_of
from stunline.planning.reach_fill import Candidates, Played, candidates, least_of_each
from stunline.planning.reach_lattice import Lattice, lattice, points_of
from stunline.planning.request import Request
from stunline.shot.batch import Batch, Watch, play_many
from stunline.shot.batch_watch import Raster
from stunline.shot.position import ContactAim, Position, PotAim

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Report = Callable[[str, int, int], None]

STRIKES = 8_000
CELL = 0.025  # [m]
_CHUNK = 4_000  # strikes played between two looks at whether to stop
_RANKS = 3  # ways to a cell that are tried
_TURNS = 3  # plays of one strike, each corrected by the last
_SPREADS = 8  # rounds from reached cells to their neighbours
_JUMP = 0.2  # in what neighbouring cells ask; a larger one is looked into [-]
_NEARLY = 0.02  # a strike that asks less by no more is not looked for [-]
_LEAST = 0.01  # see ``slopes_at`` [-]
# Steps that tell the slope: of the squared pace, height and side. [m² s⁻², m, m]
_STEPS = np.array([2e-3, 2e-5, 2e-5])


@dataclass(frozen=True, slots=True)
class Reach:
    """Where the white can go. Cells as the raster numbers them.

    Attributes:
        request: what was asked
        raster: of the table
        field: aims over the allowed strikes
        rows: (cells, 5) the least demanding strike found that rests there, NaN where none does
        rests: (cells, 2) where it rests [m]
        follow: (cells,) its ratio on arrival [-]
        meets: (cells,) whether the white meets a ball besides its first on the way there
        demands: (cells,) what it asks, infinite where none rests
        passing: (cells, 5) the least demanding strike found that passes over the cell on its way
            from the contact to the next ball, or rests there
        passing_demands: (cells,)
        tried, made: strikes played, and those that did what was aimed for
        complete: whether the search was left to end
    """

    request: Request
    raster: Raster
    field: AimField
    rows: Floats
    rests: Floats
    follow: Floats
    meets: Flags
    demands: Floats
    passing: Floats
    passing_demands: Floats
    tried: int
    made: int
    complete: bool

    @property
    def reached(self) -> Flags:
        """(cells,) where the white can rest."""
        return np.asarray(np.isfinite(self.demands))

    @property
    def passed(self) -> Flags:
        """(cells,) where it can pass over or rest."""
        return np.asarray(np.isfinite(self.passing_demands))

    @property
    def kinds(self) -> Ints:
        """(cells,) indices into ``regions.KINDS``, −1 where the white can't rest."""
        kinds = kinds_of(self.follow, self.rows[:, layout.STRIKE_SIDE])
        return np.where(self.reached, kinds, -1)


def raster_of(position: Position, cell: float = CELL) -> Raster:
    """Cells over the whole bed; the last of a row or column may stand over the cushion."""
    table = position.table
    columns, rows = (int(np.ceil(side / cell - 1e-9)) for side in (table.width, table.length))
    return Raster(cell, columns, rows)


def places_for_white(position: Position, raster: Raster) -> Flags:
    """(cells,) whether the white can be in the middle of the cell, clear of the cushions."""
    table = position.table
    radius = position.radius(position.names[0])
    reach = nose_contact_distance(radius, table.nose_height)
    middles = raster.middles()
    bounds = np.array([table.width, table.length]) - reach
    return np.asarray(((middles >= reach) & (middles <= bounds)).all(axis=1))


def reach(
    asked: Request,
    strikes: int = STRIKES,
    cell: float = CELL,
    report: Report = lambda *_: None,
    cancelled: Callable[[], bool] = lambda: False,
    grow: Callable[[Reach], None] = lambda _: None,
) -> Reach:
    """Search the strikes that the request allows.

    Args:
        strikes: about so many make the lattice
        cell: side of a cell of the raster [m]
        report: told what is being done, and how much of it
        cancelled: asked often; once true, what was found until then is returned
        grow: given what there is after every few strikes; its arrays go on changing

    Raises:
        UnsolvableShotError: nothing in the ranges can be aimed so.
    """
    field = AimField(asked, asked.ranges)
    grid = lattice(asked.position, asked.ranges, field, strikes)
    search = Search(asked, grid, raster_of(asked.position, cell), report, cancelled, grow)
    played = search.play_lattice()
    if len(grid.free) > 0:
        search.fill(candidates(played, search.raster))
        search.spread()
    return search.result()


@dataclass(frozen=True, slots=True)
class Ends:
    """What K strikes came to.

    Attributes:
        made: (K,) whether it did what was aimed for, the white still on the table
        rests: (K, 2) [m], follow: (K,) [-]
        met: (K,) a number for what the run met
        meets: (K,) whether the white met a ball besides its first
    """

    made: Flags
    rests: Floats
    follow: Floats
    met: Ints
    meets: Flags


class Search:
    """The cells and the best of each so far. Whatever is played is counted for every cell."""

    def __init__(
        self,
        asked: Request,
        grid: Lattice,
        raster: Raster,
        report: Report,
        cancelled: Callable[[], bool],
        grow: Callable[[Reach], None] = lambda _: None,
    ) -> None:
        self.asked, self.grid, self.raster = asked, grid, raster
        self._report, self._cancelled, self._grow = report, cancelled, grow
        count = raster.cells
        self._rows: Floats = np.full((count, layout.STRIKE_COLUMNS), np.nan)
        self._rests: Floats = np.full((count, 2), np.nan)
        self._follow: Floats = np.full(count, np.nan)
        self._meets: Flags = np.zeros(count, dtype=bool)
        self.demands: Floats = np.full(count, np.inf)
        self._passing: Floats = np.full((count, layout.STRIKE_COLUMNS), np.nan)
        self._passing_demands: Floats = np.full(count, np.inf)
        self._middles = raster.middles()
        self._allowed = places_for_white(asked.position, raster)
        self._tried = self._made = 0

    def result(self) -> Reach:
        """What there is."""
        return Reach(
            self.asked, self.raster, self.grid.field, self._rows, self._rests, self._follow,
            self._meets, self.demands, self._passing, self._passing_demands,
            self._tried, self._made, not self._cancelled(),
        )  # fmt: skip

    def play_lattice(self) -> Played:
        """Every node that can be struck."""
        points = self.grid.nodes.reshape(-1, 3)
        # In an order that covers all early, so that a stop leaves something of it all.
        order = np.random.default_rng(0).permutation(len(points))
        ends = self.play(points[order], "playing strikes")
        back = np.argsort(order)
        shape = self.grid.nodes.shape[:3]
        rests = np.where(ends.made[:, None], ends.rests, np.nan)[back]
        return Played(
            self.grid.nodes,
            rests.reshape(*shape, 2),
            ends.follow[back].reshape(shape),
            ends.met[back].reshape(shape),
            ends.meets[back].reshape(shape),
        )

    def fill(self, found: Candidates) -> None:
        """Play the least demanding candidate of each cell, and the next where that fails."""
        rows = self.grid.rows(found.points)
        demands = demands_of(self.asked.position, rows, found.follow, found.meets)
        useful = self._allowed[found.cells] & self.grid.fine(rows)
        numbers = np.flatnonzero(useful)
        for chosen in least_of_each(found.cells[numbers], demands[numbers], _RANKS):
            picked = numbers[chosen]
            better = demands[picked] < self.demands[found.cells[picked]] - _NEARLY
            self._towards(found.at(picked[better]), "filling the table")

    def spread(self) -> None:
        """From cells to those beside them that ask much more or are not reached, in rounds."""
        tried: Floats = np.full(self.raster.cells, np.inf)
        for _ in range(_SPREADS):
            cells, neighbours = self._frontier(tried)
            if not len(cells) or self._cancelled():
                return
            tried[cells] = self.demands[neighbours]
            self._towards(self._from_neighbours(cells, neighbours), "looking at the edges")

    def play(self, points: Floats, doing: str) -> Ends:
        """Play strikes, (K, 3) as in the lattice; what is not played does nothing."""
        rows = self.grid.rows(points)
        fine = np.flatnonzero(self.grid.fine(rows))
        made, met = np.zeros(len(rows), dtype=bool), np.full(len(rows), -1, dtype=np.int64)
        rests, follow = np.full((len(rows), 2), np.nan), np.full(len(rows), np.nan)
        meets = np.zeros(len(rows), dtype=bool)
        for first in range(0, len(fine), _CHUNK):
            self._report(doing, first, len(fine))
            if self._cancelled():
                break
            chunk = fine[first : first + _CHUNK]
            batch = play_many(
                self.asked.position,
                rows[chunk],
                readouts=("follow_ratio",),
                watch=Watch(raster=self.raster),
                cancelled=self._cancelled,
            )
            made[chunk] = made_of(self.asked, batch)
            rests[chunk] = batch.rests[:, 0]
            follow[chunk] = batch.readouts["follow_ratio"]
            met[chunk] = batch.cushions + 64 * (batch.touched @ (1 << np.arange(len(batch.names))))
            meets[chunk] = batch.second_balls >= 0
            self._tried += int(batch.played.sum())
            self._keep(rows[chunk], made[chunk], batch)
            self._grow(self.result())
        return Ends(made, rests, follow, met, meets)

    def _keep(self, rows: Floats, made: Flags, batch: Batch) -> None:
        """Note for each cell the least demanding of its own strike and these."""
        self._made += int(made.sum())
        kept = np.flatnonzero(made)
        follow = batch.readouts["follow_ratio"][kept]
        meets = batch.second_balls[kept] >= 0
        demands = demands_of(self.asked.position, rows[kept], follow, meets)
        cells = self.raster.cells_at(batch.rests[kept, 0])
        # Of two that are written to one cell the later stays: the less demanding.
        order = np.argsort(-demands, kind="stable")
        order = order[(cells[order] >= 0) & (demands[order] < self.demands[cells[order]])]
        at, which = cells[order], kept[order]
        self.demands[at] = demands[order]
        self._rows[at], self._rests[at] = rows[which], batch.rests[which, 0]
        self._follow[at], self._meets[at] = follow[order], meets[order]
        # Its way is followed to the next ball only: that it meets one later asks nothing of it.
        until = demands - OF_ANOTHER_BALL * meets
        self._keep_ways(rows[kept], until, batch.ways[kept])

    def _keep_ways(self, rows: Floats, demands: Floats, ways: NDArray[np.int32]) -> None:
        order = np.argsort(-demands, kind="stable")
        passed = ways[order]
        number, _ = np.nonzero(passed >= 0)
        cells = passed[passed >= 0]
        which = order[number]
        less = demands[which] < self._passing_demands[cells]
        cells, which = cells[less], which[less]
        self._passing_demands[cells] = demands[which]
        self._passing[cells] = rows[which]

    def _towards(self, found: Candidates, doing: str) -> None:
        """Play candidates, correcting each by its slope until the white rests in its cell."""
        for _ in range(_TURNS):
            if not len(found.cells) or self._cancelled():
                return
            ends = self.play(found.points, doing)
            off = self._middles[found.cells] - ends.rests
            missed = ends.made & (np.abs(off).max(axis=1) > 0.5 * self.raster.cell)
            left = np.flatnonzero(missed)
            found = found.at(left)
            moved = found.points + np.einsum("kij,kj->ki", found.slopes, off[left])
            spans = self.grid.spans
            found = found.moved_to(np.clip(moved, spans[:, 0], spans[:, 1]))

    def _frontier(self, tried: Floats) -> tuple[Ints, Ints]:
        """Cells beside others that ask much less, or alone are reached; and the least of those.

        Args:
            tried: (cells,) the demand of the neighbour from which the cell was tried last
        """
        shape = (self.raster.rows, self.raster.columns)
        demands = np.pad(self.demands.reshape(shape), 1, constant_values=np.inf)
        numbers = np.pad(np.arange(self.raster.cells).reshape(shape), 1, constant_values=-1)
        best: Floats = np.full(shape, np.inf)
        which = np.full(shape, -1)
        rows, columns = shape
        for up in range(3):
            for across in range(3):
                window = np.s_[up : up + rows, across : across + columns]
                less = demands[window] < best
                best = np.where(less, demands[window], best)
                which = np.where(less, numbers[window], which)
        known = np.minimum(self.demands, tried)
        asked = self._allowed & np.isfinite(best).ravel() & (best.ravel() < known - _JUMP)
        cells = np.flatnonzero(asked)
        return cells, which.ravel()[cells]

    def _from_neighbours(self, cells: Ints, neighbours: Ints) -> Candidates:
        """Strikes of neighbours, moved by the slope there."""
        points = points_of(self._rows[neighbours])
        slopes = slopes_at(self, points, self._rests[neighbours])
        off = self._middles[cells] - self._rests[neighbours]
        moved = points + np.einsum("kij,kj->ki", slopes, off)
        spans = self.grid.spans
        points = np.clip(moved, spans[:, 0], spans[:, 1])
        return Candidates(cells, points, self._follow[neighbours], self._meets[neighbours], slopes)


def slopes_at(search: Search, points: Floats, rests: Floats, least: float = _LEAST) -> Floats:
    """(K, 3, 2) change of each point for a change of its resting place, by small steps.

    Of two numbers that vary, or along the line when one does.

    Args:
        least: where both move the white nearly the same way, the share of the larger movement
            below which the smaller is left alone; both counted over their spans [-]
    """
    count = len(points)
    slopes: Floats = np.zeros((count, 3, 2))
    ways = []
    for axis in search.grid.free:
        step = np.zeros(3)
        step[axis] = _STEPS[axis]
        # Inwards from the end of the span.
        sign = np.where(points[:, axis] + step[axis] > search.grid.spans[axis, 1], -1.0, 1.0)
        ends = search.play(points + sign[:, None] * step, "looking at the edges")
        way = (ends.rests - rests) / (sign * _STEPS[axis])[:, None] * search.grid.width(axis)
        ways.append(np.where(ends.made[:, None], way, 0.0))
    matrix = np.stack(ways, axis=2)
    inverse = np.linalg.pinv(np.nan_to_num(matrix), rcond=least)
    for k, axis in enumerate(search.grid.free):
        slopes[:, axis] = inverse[:, k] * search.grid.width(axis)
    return slopes


def made_of(asked: Request, batch: Batch) -> Flags:
    """(N,) whether each play did what was aimed for, the white still on the table."""
    names = asked.position.names
    stays = batch.played & (batch.potted[:, 0] < 0)
    if isinstance(asked.aim, PotAim):
        pockets = [pocket.name for pocket in asked.position.table.pockets]
        down = batch.potted[:, names.index(asked.aim.ball)]
        return np.asarray(stays & (down == pockets.index(asked.aim.pocket)))
    if isinstance(asked.aim, ContactAim):
        return np.asarray(stays & (batch.first_contacts == names.index(asked.aim.ball)))
    return np.asarray(stays)
