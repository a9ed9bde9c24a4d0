"""What stands round a tile's field: edges, crosses, neighbours, check bars, name, map. [mm]"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi

from stunline.drawing.marks import (
    Anchor,
    Box,
    Circle,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Role,
    Size,
    Text,
)
from stunline.drawing.page import PIXELS_PER_MM
from stunline.drawing.typeface import CAPITAL_HEIGHT, text_width
from stunline.paper.full_size_marks import cross
from stunline.paper.full_size_sheets import FOOT, OVERLAP, SIDE
from stunline.paper.full_size_tiles import Tile, Tiling
from stunline.units import inches_text, metres

BAR = 100.0  # length of a check bar, so that a reading is a percentage [mm]
BAR_STEP = 10.0  # between its ticks [mm]
BAR_TICK, BAR_END = 1.5, 3.0  # half a tick, half the tick at an end [mm]
BAR_IN = 5.0  # of the upright bar in its column [mm]
BAR_DOWN = 17.0  # of the level bar below the field [mm]
HATCH_GAP = 5.0  # between lines on an edge that goes under its neighbour [mm]
CROSS_IN = 22.0  # of the crosses from the ends of a shared edge [mm]
CROSS_ARM, CROSS_RING = 4.0, 2.0  # [mm]
ARROW = 3.0  # [mm]
MAP_WIDTH = 42.0  # of the small map in the foot [mm]
MAP_TOP = 2.0  # below the field [mm]
NAME_ROW, WORDS_ROW, TABLE_ROW = 5.0, 23.0, 28.0  # middles of rows below the field [mm]
NAME_WIDTH = 13.0  # kept for the tile's name at the left of its row [mm]
ARROW_WIDTH = 14.0  # kept for the lower neighbour's name at the right of that row [mm]

WARNING = "1 : 1. Print at 100 %, never “fit”. Mark, then lift: never play on paper."


@dataclass(frozen=True, slots=True)
class Heading:
    """Words that stand on every page: the position's title; its table and cloth.

    Attributes:
        in_inches: whether lengths are told in inches
    """

    title: str
    table: str
    in_inches: bool = False


def frame_marks(tiling: Tiling, tile: Tile, heading: Heading) -> Iterator[Mark]:
    """Everything round the field, and its edges."""
    yield Polygon("edge", Layer.FRAME, Role.CUT, tile.field.corners)
    yield from _edges(tiling, tile)
    yield from _neighbours(tiling, tile)
    yield from bars(level_bar_start(tile.field), upright_bar_start(tile.field), heading)
    yield from _words(tile, heading)
    yield from map_marks(tiling, _map_place(tile.field), tile)


def free_field(tiling: Tiling, tile: Tile) -> Box:
    """The field without the edges that it shares, where words stand on one page only."""
    left, bottom, right, top = (
        OVERLAP if tiling.at(tile.row + row, tile.column + column) else 1.0
        for row, column in ((0, -1), (1, 0), (0, 1), (-1, 0))
    )
    field = tile.field
    return Box(field.left + left, field.bottom + bottom, field.right - right, field.top - top)


def level_bar_start(field: Box) -> Point:
    """Left end of the level check bar below that field."""
    return field.left, field.bottom - BAR_DOWN


def upright_bar_start(field: Box) -> Point:
    """Lower end of the upright check bar beside that field."""
    return field.right + BAR_IN, field.bottom


def bars(level: Point, upright: Point, heading: Heading) -> Iterator[Mark]:
    """Two check bars of exactly 100 mm, from those points to the right and up."""
    x, y = level
    yield Line("bar-level", Layer.FRAME, Role.SCALE_BAR, level, (x + BAR, y))
    u, v = upright
    yield Line("bar-upright", Layer.FRAME, Role.SCALE_BAR, upright, (u, v + BAR))
    for number in range(round(BAR / BAR_STEP) + 1):
        half = BAR_END if number in (0, round(BAR / BAR_STEP)) else BAR_TICK
        at = number * BAR_STEP
        yield _tick(f"bar-level-{number}", (x + at, y - half), (x + at, y + half))
        yield _tick(f"bar-upright-{number}", (u - half, v + at), (u + half, v + at))
    length = f"{inches_text(metres(BAR))} ({BAR:.1f} mm)" if heading.in_inches else f"{BAR:.1f} mm"
    yield text("bar-level-words", (x + BAR + 3.0, y), f"{length} across?", Anchor.START)
    # Between two ticks and outside them, reading upwards.
    beside = (u + BAR_TICK + 2.2, v + BAR / 2)
    yield text("bar-upright-words", beside, f"{length} up?", Anchor.MIDDLE, angle=pi / 2)


def _tick(name: str, start: Point, end: Point) -> Line:
    return Line(name, Layer.FRAME, Role.RULER, start, end)


def text(
    name: str,
    middle: Point,
    words: str,
    anchor: Anchor = Anchor.MIDDLE,
    *,
    role: Role = Role.SHEET_TEXT,
    size: Size = Size.SMALL,
    bold: bool = False,
    angle: float = 0.0,
    layer: Layer = Layer.FRAME,
) -> Text:
    """Words whose capitals are centred on that height; upright ones on that distance."""
    down = size.value * CAPITAL_HEIGHT / 2 / PIXELS_PER_MM
    at = (middle[0] + down, middle[1]) if angle else (middle[0], middle[1] - down)
    return Text(name, layer, role, at, words, size, anchor, bold, angle)


def width_of(words: str, size: Size = Size.SMALL, bold: bool = False) -> float:
    """[mm]"""
    return text_width(words, size.value, bold) / PIXELS_PER_MM


def shortened(words: str, width: float, size: Size, bold: bool = False) -> str:
    """The words, or so much of them as fits with an ellipsis. width: [mm]"""
    if width_of(words, size, bold) <= width:
        return words
    while words and width_of(words + "…", size, bold) > width:
        words = words[:-1]
    return words.rstrip() + "…"


def _edges(tiling: Tiling, tile: Tile) -> Iterator[Mark]:
    """Shared edges: hatched where this page goes under, a line where the neighbour begins."""
    field = tile.field
    x1, x2 = field.left + OVERLAP, field.right - OVERLAP
    y1, y2 = field.bottom + OVERLAP, field.top - OVERLAP
    if tiling.at(tile.row, tile.column - 1):
        yield from _shared("left", Box(field.left, field.bottom, x1, field.top), hatched=True)
    if tiling.at(tile.row - 1, tile.column):
        yield from _shared("above", Box(field.left, y2, field.right, field.top), hatched=True)
    if tiling.at(tile.row, tile.column + 1):
        yield from _shared("right", Box(x2, field.bottom, field.right, field.top), hatched=False)
    if tiling.at(tile.row + 1, tile.column):
        yield from _shared("below", Box(field.left, field.bottom, field.right, y1), hatched=False)


def _shared(side: str, band: Box, hatched: bool) -> Iterator[Mark]:
    upright = band.height > band.width
    x, y = band.centre
    if upright:
        places = [(x, band.bottom + CROSS_IN), (x, band.top - CROSS_IN)]
    else:
        places = [(band.left + CROSS_IN, y), (band.right - CROSS_IN, y)]
    for number, at in enumerate(places, 1):
        name = f"align-{side}-{number}"
        yield from cross(name, at, CROSS_ARM, Role.RUNG_MARK)
        yield Circle(f"{name}-ring", Layer.CONTACTS, Role.OUTLINE, at, CROSS_RING)
    if hatched:
        yield from _hatching(side, band)
    inner = {
        "left": ((band.right, band.bottom), (band.right, band.top)),
        "right": ((band.left, band.bottom), (band.left, band.top)),
        "above": ((band.left, band.bottom), (band.right, band.bottom)),
        "below": ((band.left, band.top), (band.right, band.top)),
    }[side]
    yield Line(f"shared-{side}", Layer.TABLE, Role.OVERLAP, *inner)


def _hatching(side: str, band: Box) -> Iterator[Line]:
    """Lines at 45° over the band, each ending at its edges."""
    reach = band.width + band.height
    for number in range(1, int(reach / HATCH_GAP) + 1):
        # Along x − left + y − bottom = offset, the band's part of that line.
        offset = number * HATCH_GAP
        first, last = max(0.0, offset - band.height), min(band.width, offset)
        if last - first < 1.0:
            continue
        start = band.left + first, band.bottom + offset - first
        end = band.left + last, band.bottom + offset - last
        yield Line(f"hatch-{side}-{number}", Layer.TABLE, Role.OVERLAP, start, end)


def _neighbours(tiling: Tiling, tile: Tile) -> Iterator[Mark]:
    """An arrow with the name of each neighbour."""
    field = tile.field
    x, y = field.centre
    places = {
        (0, -1): (field.left + OVERLAP / 2, y),
        (-1, 0): (x, field.top - OVERLAP / 2),
        (0, 1): (field.right + SIDE / 2, field.top - CROSS_IN),
        (1, 0): (field.right + SIDE - MAP_WIDTH - ARROW_WIDTH / 2 - 2.0, field.bottom - NAME_ROW),
    }
    for (row, column), at in places.items():
        other = tiling.at(tile.row + row, tile.column + column)
        if other is not None:
            yield from _arrow(other.name, at, (float(column), float(-row)))


def _arrow(name: str, at: Point, way: Point) -> Iterator[Mark]:
    """A small triangle that points there, and the name beside it."""
    whole = ARROW + 1.0 + width_of(name, bold=True)
    left = at[0] - whole / 2
    words_first = way[0] > 0
    middle = (left + whole - ARROW / 2 if words_first else left + ARROW / 2, at[1])
    across = (-way[1], way[0])
    half = ARROW / 2
    tip = middle[0] + way[0] * half, middle[1] + way[1] * half
    corners = [
        (
            middle[0] - way[0] * half + sign * across[0] * half,
            middle[1] - way[1] * half + sign * across[1] * half,
        )
        for sign in (1, -1)
    ]
    yield Polygon(f"to-{name}-head", Layer.FRAME, Role.LEAVES_HEAD, (tip, corners[0], corners[1]))
    start = left if words_first else left + ARROW + 1.0
    yield text(f"to-{name}", (start, at[1]), name, Anchor.START, role=Role.LABEL, bold=True)


def _words(tile: Tile, heading: Heading) -> Iterator[Mark]:
    field = tile.field
    left, right = field.left, field.right + SIDE - MAP_WIDTH - 4.0
    row = field.bottom - NAME_ROW
    yield text(
        "name", (left, row), tile.name, Anchor.START, role=Role.TITLE, size=Size.TITLE, bold=True
    )
    room = right - ARROW_WIDTH - left - NAME_WIDTH
    title = shortened(heading.title, room, Size.BODY, True)
    at = (left + NAME_WIDTH, row)
    yield text("title", at, title, Anchor.START, size=Size.BODY, bold=True)
    yield text("warning", (left, field.bottom - WORDS_ROW), WARNING, Anchor.START)
    table = shortened(heading.table, right - left, Size.SMALL)
    at = (left, field.bottom - TABLE_ROW)
    yield text("table", at, table, Anchor.START, role=Role.SHEET_NOTE)


def _map_place(field: Box) -> Box:
    right, top = field.right + SIDE, field.bottom - MAP_TOP
    return Box(right - MAP_WIDTH, field.bottom - FOOT, right, top)


def map_marks(tiling: Tiling, place: Box, current: Tile | None) -> Iterator[Mark]:
    """All pages, small, at the right of the place; the current one shaded."""
    cell_x = place.width / tiling.columns
    cell_y = place.height / tiling.rows
    ratio = tiling.sheet.field_width / tiling.sheet.field_height
    height = min(cell_y, cell_x / ratio)
    width = height * ratio
    left, top = place.right - tiling.columns * width, place.top
    for tile in tiling.tiles:
        x, y = left + tile.column * width, top - (tile.row + 1) * height
        box = Box(x, y, x + width, y + height)
        role = Role.BAND_SHADED if tile is current else Role.BAND_PLAIN
        yield Polygon(f"map-{tile.name}", Layer.KEY, role, box.corners)
        fits = height > 4.6 and width > width_of(tile.name, bold=True) + 1.0
        if fits:
            yield text(
                f"map-{tile.name}-words",
                box.centre,
                tile.name,
                role=Role.BAND_TEXT,
                bold=tile is current,
                layer=Layer.KEY,
            )
