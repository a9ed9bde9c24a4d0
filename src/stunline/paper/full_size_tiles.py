"""The tiles: fields of one size that overlap, as few as will hold what must be shown. [mm]"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, floor

from stunline.drawing.marks import Box
from stunline.paper.full_size_region import UNDER_NOSE
from stunline.paper.full_size_sheets import OVERLAP, Paper, Sheet, both_ways

NOSE_REACH = 300.0  # a nose line this near is worth a page more [mm]
SPLIT = 1.2  # pages that it is worth to have the contact on one page
STARTS = 4  # places of the fields that are tried where nothing holds them
WORTH = 1.5  # pages that a nose line to set the paper by is worth
LETTERS = 26  # rows are named by letters; after Z comes AA


@dataclass(frozen=True, slots=True)
class Tile:
    """One page's field.

    Attributes:
        name: row's letter and column's number: "A1" at the top left
        row, column: from the top and from the left, 0 the first
        field: what it shows of the table
    """

    name: str
    row: int
    column: int
    field: Box


@dataclass(frozen=True, slots=True)
class Tiling:
    """The pages that are printed.

    Attributes:
        sheet: the paper and how it is turned
        tiles: in reading order; places of the grid where there is nothing are left out
        rows, columns: of the grid
        whole: what the grid covers
    """

    sheet: Sheet
    tiles: tuple[Tile, ...]
    rows: int
    columns: int
    whole: Box

    def at(self, row: int, column: int) -> Tile | None:
        """The tile at that place of the grid, when it is printed."""
        places = ((tile.row, tile.column) for tile in self.tiles)
        return next(
            (t for t, place in zip(self.tiles, places, strict=True) if place == (row, column)), None
        )

    def shows(self, box: Box, steps: int = 6) -> bool:
        """Whether all of a rectangle is on the pages, perhaps in parts."""
        fields = [tile.field for tile in self.tiles if tile.field.overlap(box) > 0]
        if any(field.contains(box) for field in fields):
            return True
        return all(
            any(field.holds(point) for field in fields) for point in _grid_points(box, steps)
        )


def _grid_points(box: Box, steps: int) -> Iterable[tuple[float, float]]:
    return (
        (box.left + box.width * i / steps, box.bottom + box.height * j / steps)
        for i, j in product(range(steps + 1), range(steps + 1))
    )


def tilings(needed: Sequence[Box], bed: Box, paper: Paper, together: Sequence[Box] = ()) -> Tiling:
    """The fewest pages, with nose lines to set them by where these are near enough.

    Args:
        needed: everything that must be shown
        bed: between the nose lines
        paper: its size
        together: what had better stand on one page: a ball with the white at contact
    """
    area = Box(
        min(box.left for box in needed),
        min(box.bottom for box in needed),
        max(box.right for box in needed),
        max(box.top for box in needed),
    )
    found = []
    for sheet in both_ways(paper):
        across = _ways_to_lie(area.left, area.right, bed.right, sheet.field_width)
        up = _ways_to_lie(area.bottom, area.top, bed.top, sheet.field_height)
        for x, y in product(across, up):
            tiling = _tiling(sheet, x, y, needed)
            split = sum(not any(t.field.contains(b) for t in tiling.tiles) for b in together)
            cost = len(tiling.tiles) + x.cost + y.cost + SPLIT * min(split, 1)
            found.append((cost, tiling))
    return min(found, key=lambda one: one[0])[1]


@dataclass(frozen=True, slots=True)
class _Lie:
    """How the fields lie along one axis, counted in its direction.

    Attributes:
        count: number of fields
        start: where the first begins [mm]
        cost: of having no nose line, in pages
        at_nose: the field that a nose line crosses, or None
    """

    count: int
    start: float
    cost: float = 0.0
    at_nose: int | None = None


def _ways_to_lie(low: float, high: float, length: float, field: float) -> list[_Lie]:
    """Along one axis; nose lines at 0 and at the bed's length.

    Args:
        low, high: what must be covered
        length: of the bed
        field: a tile's length
    """
    fewest = max(1, ceil((high - low - OVERLAP) / (field - OVERLAP) - 1e-9))
    near = min(low, length - high) < NOSE_REACH
    ways = []
    for count in (fewest, fewest + 1, fewest + 2):
        whole = count * (field - OVERLAP) + OVERLAP
        if whole - UNDER_NOSE >= high:
            ways.append(_Lie(count, -UNDER_NOSE, at_nose=0))
        if length + UNDER_NOSE - whole <= low:
            ways.append(_Lie(count, round(length + UNDER_NOSE - whole, 2), at_nose=count - 1))
        if count == fewest:
            slack = max(whole - (high - low), 0.0)
            for part in range(STARTS + 1):
                start = low - slack * part / STARTS
                on_bed = min(max(start, 0.0), max(0.0, length - whole))
                start = on_bed if on_bed <= low and on_bed + whole >= high else start
                # The middle is liked best where nothing else speaks.
                taste = 0.01 * abs(part - STARTS / 2)
                ways.append(_Lie(count, round(start, 2), (WORTH if near else 0.0) + taste))
    return ways


def _tiling(sheet: Sheet, x: _Lie, y: _Lie, needed: Sequence[Box]) -> Tiling:
    width, height = sheet.field_width, sheet.field_height
    step_x, step_y = width - OVERLAP, height - OVERLAP
    whole = Box(
        x.start,
        y.start,
        x.start + x.count * step_x + OVERLAP,
        y.start + y.count * step_y + OVERLAP,
    )
    grid = {}
    for row, column in product(range(y.count), range(x.count)):
        left, top = whole.left + column * step_x, whole.top - row * step_y
        field = Box(left, top - height, left + width, top)
        grid[row, column] = Tile(f"{_letter(row)}{column + 1}", row, column, field)
    wanted = _wanted(x, y, sheet, needed)
    if x.at_nose is not None:
        wanted |= _out_to(wanted, x.at_nose, 1)
    if y.at_nose is not None:  # rows are counted from the top, the axis from the bottom
        wanted |= _out_to(wanted, y.count - 1 - y.at_nose, 0)
    wanted |= _corners_joined(wanted)
    kept = tuple(tile for place, tile in grid.items() if place in wanted)
    return Tiling(sheet, kept, y.count, x.count, whole)


Place = tuple[int, int]


def _out_to(wanted: set[Place], line: int, axis: int) -> set[Place]:
    """The places from the nearest wanted one straight out to that row or column."""
    nearest = min(wanted, key=lambda place: (abs(place[axis] - line), place))
    steps = range(min(line, nearest[axis]), max(line, nearest[axis]) + 1)
    return {(step, nearest[1]) if axis == 0 else (nearest[0], step) for step in steps}


def _corners_joined(wanted: set[Place]) -> set[Place]:
    """Places that join two which only share a corner, too little to lay them together by."""
    joints = set()
    for row, column in wanted:
        for other in ((row + 1, column + 1), (row + 1, column - 1)):
            between = {(row, other[1]), (other[0], column)}
            if other in wanted and not between & wanted:
                joints.add((row, other[1]))
    return joints


def _letter(row: int) -> str:
    letter = chr(ord("A") + row % LETTERS)
    return letter if row < LETTERS else _letter(row // LETTERS - 1) + letter


def _wanted(x: _Lie, y: _Lie, sheet: Sheet, needed: Sequence[Box]) -> set[Place]:
    """The places that are needed: a piece that lies wholly on one asks for no other."""
    wanted: set[Place] = set()
    choices: list[list[Place]] = []
    for piece in needed:
        columns, whole_columns = _fields(x, sheet.field_width, piece.left, piece.right)
        rows, whole_rows = _fields(y, sheet.field_height, piece.bottom, piece.top)
        holding = [(y.count - 1 - r, c) for r, c in product(whole_rows, whole_columns)]
        if len(holding) > 1:
            choices.append(holding)
        else:
            touched = [(y.count - 1 - r, c) for r, c in product(rows, columns)]
            wanted.update(holding or touched)
    for places in choices:
        if not wanted.intersection(places):
            wanted.add(min(places))
    return wanted


def _fields(lie: _Lie, field: float, low: float, high: float) -> tuple[list[int], list[int]]:
    """Along one axis: the fields that a stretch touches, and those that hold all of it."""
    step = field - OVERLAP
    first = max(0, floor((low - lie.start - field) / step) + 1)
    last = min(lie.count - 1, ceil((high - lie.start) / step) - 1)
    touched = list(range(first, last + 1))
    starts = ((number, lie.start + number * step) for number in touched)
    return touched, [n for n, start in starts if start <= low and start + field >= high]
