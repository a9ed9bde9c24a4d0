"""A map of cells, each of one kind of outcome: edges between kinds, a hatching for each.

Kind 0 is left bare on the lightest ground; every other kind has a weave of its own, drawn
along the cells themselves, so that no kind is told by an ink alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import groupby, pairwise

from stunline.drawing.marks import Circle, Layer, Line, Mark, Point, Polygon, Role

BLANK = -1  # a cell that is not on the map, or not known
BARE = 0


class MapWeave(Enum):
    """How a kind is hatched, the most easily told apart first."""

    FALLING = "falling"
    DOTTED = "dotted"
    UPRIGHT = "upright"
    LEVEL = "level"
    RISING = "rising"
    CROSSED = "crossed"
    BROKEN = "broken"


WEAVES = tuple(MapWeave)
MOST_KINDS = len(WEAVES)  # that are hatched; further ones share the last weave
_SPACING = 2  # cells between hatch lines
_SLANTED = 3  # between those on the diagonals
_DOT = 0.28  # radius of a dot, in parts of a cell
_OVER = 0.08  # how far bare stretches reach into each other, so that no seam shows [cells]


@dataclass(frozen=True, slots=True)
class CellMap:
    """Cells of one size.

    Attributes:
        left, bottom: of the first cell of the first row [mm]
        across, up: size of a cell [mm]
        codes: rows from the bottom, each of as many kinds; ``BLANK`` is left out
        name: goes before the marks' ids
    """

    left: float
    bottom: float
    across: float
    up: float
    codes: Sequence[Sequence[int]]
    name: str = "map"

    def at(self, column: float, row: float) -> Point:
        """A place in cells from the bottom left corner. [mm]"""
        return self.left + column * self.across, self.bottom + row * self.up


def weave_of(code: int) -> MapWeave:
    """Of every kind but the bare one."""
    return WEAVES[min(code, MOST_KINDS) - 1]


def map_marks(cells: CellMap) -> Iterator[Mark]:
    """Ground, hatchings, then the edges between kinds."""
    yield from _bare(cells)
    for code in sorted({code for row in cells.codes for code in row} - {BLANK, BARE}):
        yield from _hatched(cells, code)
    yield from _edges(cells)


def _bare(cells: CellMap) -> Iterator[Mark]:
    for row, codes in enumerate(cells.codes):
        for first, last in _runs(codes, BARE):
            above = _OVER if row + 1 < len(cells.codes) else 0.0
            corners = ((first, row), (last, row), (last, row + 1 + above), (first, row + 1 + above))
            name = f"{cells.name}-bare-{row}-{first}"
            yield Polygon(name, Layer.TABLE, Role.MAP_MET, tuple(cells.at(*one) for one in corners))


def _hatched(cells: CellMap, code: int) -> Iterator[Mark]:
    weave = weave_of(code)
    if weave is MapWeave.DOTTED:
        yield from _dots(cells, code)
    if weave in (MapWeave.LEVEL, MapWeave.CROSSED):
        yield from _straight(cells, code, upright=False)
    if weave in (MapWeave.UPRIGHT, MapWeave.CROSSED, MapWeave.BROKEN):
        yield from _straight(cells, code, upright=True, broken=weave is MapWeave.BROKEN)
    if weave in (MapWeave.FALLING, MapWeave.RISING):
        yield from _slanting(cells, code, rising=weave is MapWeave.RISING)


def _dots(cells: CellMap, code: int) -> Iterator[Mark]:
    radius = _DOT * min(cells.across, cells.up)
    for row, codes in enumerate(cells.codes):
        for column, one in enumerate(codes):
            # Every other row shifted, so that the dots do not line up as lines.
            shift = row // _SPACING % 2
            if one == code and row % _SPACING == 1 and (column + shift) % _SPACING == 1:
                at = cells.at(column + 0.5, row + 0.5)
                name = f"{cells.name}-{code}-dot-{row}-{column}"
                yield Circle(name, Layer.TABLE, Role.MAP_DOT, at, radius)


def _straight(cells: CellMap, code: int, upright: bool, broken: bool = False) -> Iterator[Mark]:
    lines = list(zip(*cells.codes, strict=True)) if upright else list(cells.codes)
    for number, codes in enumerate(lines):
        if number % _SPACING != 1:
            continue
        if broken:
            codes = [BLANK if k % _SLANTED == 0 else one for k, one in enumerate(codes)]
        for first, last in _runs(codes, code):
            ends = (first, number + 0.5), (last, number + 0.5)
            start, end = ((place[::-1] if upright else place) for place in ends)
            way = "upright" if upright else "level"
            name = f"{cells.name}-{code}-{way}-{number}-{first}"
            yield _hatch(cells, name, start, end)


def _slanting(cells: CellMap, code: int, rising: bool) -> Iterator[Mark]:
    """Along the cells' diagonals, from corner to corner."""
    rows, columns = len(cells.codes), len(cells.codes[0])
    for offset in range(-rows, columns + 1):
        if offset % _SLANTED:
            continue
        first_row = max(0, -offset)
        count = min(rows - first_row, columns - (offset + first_row))
        if count <= 0:
            continue
        places = [(offset + first_row + k, first_row + k) for k in range(count)]
        if not rising:
            places = [(columns - 1 - column, row) for column, row in places]
        codes = [cells.codes[row][column] for column, row in places]
        for first, last in _runs(codes, code):
            (x, y), (x_end, y_end) = places[first], places[last - 1]
            start = (x, y) if rising else (x + 1, y)
            end = (x_end + 1, y_end + 1) if rising else (x_end, y_end + 1)
            name = f"{cells.name}-{code}-slanting-{offset + rows}-{first}"
            yield _hatch(cells, name, start, end)


def _hatch(cells: CellMap, name: str, start: Point, end: Point) -> Line:
    return Line(name, Layer.TABLE, Role.MAP_HATCH, cells.at(*start), cells.at(*end))


def _edges(cells: CellMap) -> Iterator[Mark]:
    """Between cells of different kinds; the map's own rim is not drawn."""
    for upright in (False, True):
        lines = list(zip(*cells.codes, strict=True)) if upright else list(cells.codes)
        for number, (below, above) in enumerate(pairwise(lines), 1):
            differs = [
                int(one != two and BLANK not in (one, two))
                for one, two in zip(below, above, strict=True)
            ]
            for first, last in _runs(differs, 1):
                ends = (first, number), (last, number)
                start, end = ((place[::-1] if upright else place) for place in ends)
                way = "upright" if upright else "level"
                name = f"{cells.name}-edge-{way}-{number}-{first}"
                yield Line(name, Layer.PATHS, Role.MAP_EDGE, cells.at(*start), cells.at(*end))


def _runs(codes: Sequence[int], wanted: int) -> Iterator[tuple[int, int]]:
    """Stretches of cells of one kind, first and past the last."""
    place = 0
    for code, cells in groupby(codes):
        length = len(list(cells))
        if code == wanted:
            yield place, place + length
        place += length
