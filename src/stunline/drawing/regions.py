"""Regions of the table given as cells: their hatching as lines, and their edges.

Hatch lines run through the middles of cells, level, upright or along a diagonal, so the same
lines serve every writer of pictures; how many of them are drawn tells how much a place asks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from stunline.drawing.marks import Layer, Line, Mark, Point, Polygon, Role

# Which way a role's lines run: the step to the next cell along one, in columns and rows.
WAYS = {
    Role.HATCH_FOLLOW: (1, 1),
    Role.HATCH_STUN: (1, 0),
    Role.HATCH_SCREW: (1, -1),
    Role.HATCH_SIDE: (0, 1),
}
_SHORTEST_EDGE = 12  # sides of cells round a patch; a smaller one has hatching and no edge
_NEIGHBOURS = ((1, 0), (0, 1), (-1, 0), (0, -1))


@dataclass(frozen=True, slots=True)
class Cells:
    """Square cells over the table from its origin on.

    Attributes:
        side: of one [mm]
        columns, rows: how many
    """

    side: float
    columns: int
    rows: int

    def middle(self, column: int, row: int) -> Point:
        """[mm]"""
        return (column + 0.5) * self.side, (row + 0.5) * self.side


@dataclass(frozen=True, slots=True)
class Region:
    """Cells that are hatched alike.

    Attributes:
        role: of its hatch lines
        every: (row · columns + column) → each so-manieth line passes there; 0 outside
    """

    role: Role
    every: Sequence[int]


def hatch_lines(cells: Cells, region: Region) -> Iterator[Line]:
    """The lines, each as long as the cells along it are all within."""
    step = WAYS[region.role]
    number = 0
    for column, row in _starts(cells, step):
        begin: Point | None = None
        last = (column, row)
        while 0 <= column < cells.columns and 0 <= row < cells.rows:
            every = region.every[row * cells.columns + column]
            drawn = every > 0 and _line_number(step, column, row) % every == 0
            if drawn and begin is None:
                begin = _edge(cells, column, row, step, -0.5)
            if not drawn and begin is not None:
                end = _edge(cells, *last, step, 0.5)
                yield _line(region.role, number, begin, end)
                begin, number = None, number + 1
            last = (column, row)
            column, row = column + step[0], row + step[1]
        if begin is not None:
            yield _line(region.role, number, begin, _edge(cells, *last, step, 0.5))
            number += 1


def _line(role: Role, number: int, begin: Point, end: Point) -> Line:
    return Line(f"{role.value}-{number}", Layer.DIMENSIONS, role, begin, end)


def _starts(cells: Cells, step: tuple[int, int]) -> Iterator[tuple[int, int]]:
    """The first cell of every line that runs that way."""
    for column in range(cells.columns):
        for row in range(cells.rows):
            before = column - step[0], row - step[1]
            if not (0 <= before[0] < cells.columns and 0 <= before[1] < cells.rows):
                yield column, row


def _line_number(step: tuple[int, int], column: int, row: int) -> int:
    """The same for all cells of one line."""
    return column * step[1] - row * step[0]


def _edge(cells: Cells, column: int, row: int, step: tuple[int, int], part: float) -> Point:
    """The end of a line in that cell. [mm]"""
    x, y = cells.middle(column, row)
    return x + part * step[0] * cells.side, y + part * step[1] * cells.side


def edges(
    cells: Cells, inside: Callable[[int, int], bool], role: Role, name: str
) -> Iterator[Mark]:
    """The edges of a region, corners cut: a polygon through the middles of the cells' sides."""
    following: dict[Point, list[Point]] = {}
    for row in range(cells.rows):
        for column in range(cells.columns):
            if inside(column, row):
                for start, end in _open_sides(cells, inside, column, row):
                    following.setdefault(start, []).append(end)
    number = 0
    while following:
        loop = _loop(following)
        if len(loop) >= _SHORTEST_EDGE:
            yield Polygon(f"{name}-{number}", Layer.DIMENSIONS, role, _smooth(cells, loop))
            number += 1


def _open_sides(
    cells: Cells, inside: Callable[[int, int], bool], column: int, row: int
) -> Iterator[tuple[Point, Point]]:
    """Sides of a cell with nothing of the region beyond, the region on their left."""
    corners = ((column + 1, row), (column + 1, row + 1), (column, row + 1), (column, row))
    for side, (across, up) in enumerate(_NEIGHBOURS):
        beside = column + across, row + up
        within = 0 <= beside[0] < cells.columns and 0 <= beside[1] < cells.rows
        if not (within and inside(*beside)):
            yield corners[side], corners[(side + 1) % len(corners)]


def _loop(following: dict[Point, list[Point]]) -> list[Point]:
    """Corners along one edge, taken out of what is left."""
    start = next(iter(following))
    loop, at = [start], start
    while True:
        ends = following[at]
        at = ends.pop()
        if not ends:
            del following[loop[-1]]
        if at == start:
            return loop
        loop.append(at)


def _smooth(cells: Cells, loop: list[Point]) -> tuple[Point, ...]:
    """Through the middles of the sides, what lies on one line left out. [mm]"""
    middles = [
        (0.5 * (a[0] + b[0]) * cells.side, 0.5 * (a[1] + b[1]) * cells.side)
        for a, b in zip(loop, [*loop[1:], loop[0]], strict=True)
    ]
    around = zip([middles[-1], *middles[:-1]], middles, [*middles[1:], middles[0]], strict=True)
    kept = [
        here
        for before, here, after in around
        if (here[0] - before[0]) * (after[1] - here[1])
        != (here[1] - before[1]) * (after[0] - here[0])
    ]
    return tuple(kept)
