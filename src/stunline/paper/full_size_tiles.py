"""The tiles: fields of one size that overlap, as few as will hold what must be shown. [mm]"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

from stunline.drawing.marks import Box
from stunline.paper.full_size_lying import Held, Lie, held, ways_to_lie
from stunline.paper.full_size_sheets import OVERLAP, Paper, Sheet, both_ways

MISSED = 0.03  # pages that a liked piece of a line is worth, so that none is printed for them
SPLIT = 2.0  # pages that it is worth to have the contact on one page
# A page that alone shows no ball and no more pieces of line than these is left out, where the
# others still hang together without it.
NEARLY_EMPTY = 10
LINE_PIECE = 30.0  # a piece that is smaller both ways is one of a line, not a ball [mm]
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


Place = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the pages are for.

    Attributes:
        needed: everything that must be shown
        liked: what had better be shown, where it costs no page
        together: what had better stand on one page: a ball with the white at contact
    """

    needed: Sequence[Box]
    liked: Sequence[Box] = ()
    together: Sequence[Box] = ()


def tilings(pieces: Wanted, bed: Box, paper: Paper) -> Tiling:
    """The fewest pages, with nose lines to set them by where these are near enough.

    Args:
        pieces: what they are for
        bed: between the nose lines
        paper: its size
    """
    needed, together = pieces.needed, pieces.together
    boxes = [*needed, *together, *pieces.liked]
    across = [(box.left, box.right) for box in boxes]
    up = [(box.bottom, box.top) for box in boxes]
    is_line = [max(box.width, box.height) < LINE_PIECE for box in needed]
    count, last = len(needed), len(needed) + len(together)
    ends_x = min(low for low, _ in across[:last]), max(high for _, high in across[:last])
    ends_y = min(low for low, _ in up[:last]), max(high for _, high in up[:last])
    best: tuple[float, Sheet, Lie, Lie, set[Place]] | None = None
    for sheet in both_ways(paper):
        ways_x = ways_to_lie(ends_x, bed.right, sheet.field_width)
        ways_y = ways_to_lie(ends_y, bed.top, sheet.field_height)
        held_x = [held(x, sheet.field_width, across) for x in ways_x]
        held_y = [held(y, sheet.field_height, up) for y in ways_y]
        for (x, xs), (y, ys) in product(
            zip(ways_x, held_x, strict=True), zip(ways_y, held_y, strict=True)
        ):
            if best is not None and 1 + x.cost + y.cost >= best[0]:  # a page at least
                continue
            shown = list(zip(xs[:count], ys[:count], strict=True))
            wanted = _sparing(_wanted(x, y, shown), (x, y), shown, is_line)
            pairs = zip(xs[count:last], ys[count:last], strict=True)
            split = any(not (one.whole and two.whole) for one, two in pairs)
            cost = len(wanted) + x.cost + y.cost + SPLIT * split
            if best is not None and cost >= best[0]:
                continue
            missed = _missed(y, wanted, list(zip(xs[last:], ys[last:], strict=True)))
            cost += MISSED * missed
            if best is None or cost < best[0]:
                best = cost, sheet, x, y, wanted
    assert best is not None  # every axis has at least one way
    return _tiling(*best[1:])


def _sparing(
    wanted: set[Place],
    lies: tuple[Lie, Lie],
    pieces: Sequence[tuple[Held, Held]],
    is_line: Sequence[bool],
) -> set[Place]:
    """Without the pages that show next to nothing of their own."""
    (x, y), kept = lies, set(wanted)
    top = y.count - 1
    holders = [
        {(top - row, column) for row in up.touched for column in across.touched}
        for across, up in pieces
    ]
    for place in sorted(wanted):
        alone = [
            line
            for of_piece, line in zip(holders, is_line, strict=True)
            if place in of_piece and (not line or not of_piece & (kept - {place}))
        ]
        rest = kept - {place}
        few = all(alone) and len(alone) <= NEARLY_EMPTY
        if few and _hang_together(rest) and _at_noses(kept, x, y) == _at_noses(rest, x, y):
            kept = rest
    return kept


def _at_noses(places: set[Place], x: Lie, y: Lie) -> tuple[bool, bool]:
    """Whether a page reaches the nose line that the fields lie by, across and up."""
    return (
        any(column == x.at_nose for _, column in places),
        any(y.count - 1 - row == y.at_nose for row, _ in places),
    )


def _hang_together(places: set[Place]) -> bool:
    """Whether each page is reached from each other over shared edges."""
    if not places:
        return False
    found, new = set(), {min(places)}
    while new:
        found |= new
        beside = {
            (row + down, column + right)
            for row, column in new
            for down, right in ((0, 1), (1, 0), (0, -1), (-1, 0))
        }
        new = (beside & places) - found
    return found == places


def _missed(y: Lie, wanted: set[Place], pieces: Sequence[tuple[Held, Held]]) -> int:
    """How many pieces are on none of the pages."""
    top = y.count - 1
    return sum(
        not any((top - row, column) in wanted for row in up.whole for column in across.whole)
        for across, up in pieces
    )


def _tiling(sheet: Sheet, x: Lie, y: Lie, wanted: set[Place]) -> Tiling:
    """The tiles at these places, named from the first row and column that is printed."""
    width, height = sheet.field_width, sheet.field_height
    step_x, step_y = width - OVERLAP, height - OVERLAP
    highest = y.start + y.count * step_y + OVERLAP
    first_row, first_column = (min(place[axis] for place in wanted) for axis in (0, 1))
    tiles = []
    for row, column in sorted(wanted):
        left, top = x.start + column * step_x, highest - row * step_y
        field = Box(left, top - height, left + width, top)
        name = f"{_letter(row - first_row)}{column - first_column + 1}"
        tiles.append(Tile(name, row - first_row, column - first_column, field))
    whole = Box(
        min(tile.field.left for tile in tiles),
        min(tile.field.bottom for tile in tiles),
        max(tile.field.right for tile in tiles),
        max(tile.field.top for tile in tiles),
    )
    rows = 1 + max(tile.row for tile in tiles)
    columns = 1 + max(tile.column for tile in tiles)
    return Tiling(sheet, tuple(tiles), rows, columns, whole)


def _wanted(x: Lie, y: Lie, pieces: Sequence[tuple[Held, Held]]) -> set[Place]:
    """The places that are printed: a piece that lies wholly on one asks for no other.

    Rows are counted from the top, the axis from the bottom.
    """
    wanted: set[Place] = set()
    choices: list[list[Place]] = []
    top = y.count - 1
    for across, up in pieces:
        holding = [(top - row, column) for row in up.whole for column in across.whole]
        if len(holding) > 1:
            choices.append(holding)
        elif holding:
            wanted.add(holding[0])
        else:
            wanted.update((top - row, column) for row in up.touched for column in across.touched)
    for places in choices:
        if not wanted.intersection(places):
            wanted.add(min(places))
    if x.at_nose is not None:
        wanted |= _out_to(wanted, x.at_nose, 1)
    if y.at_nose is not None:
        wanted |= _out_to(wanted, top - y.at_nose, 0)
    return wanted | _corners_joined(wanted)


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
