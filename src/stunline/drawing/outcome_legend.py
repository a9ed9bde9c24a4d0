"""What stands beside and above a map of outcomes: its heading, and each kind with its hatching."""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from math import cos, sin, tau

from stunline.drawing.cell_map import BARE, BLANK, MOST_KINDS, CellMap, map_marks
from stunline.drawing.legend import sheet_line, sheet_text
from stunline.drawing.marks import Layer, Line, Mark, Point, Polygon, Polyline, Role, Size
from stunline.drawing.page import Page
from stunline.drawing.typeface import text_width

GAP = 34.0  # between the map and its legend [px]
ROW = 32.0  # [px]
SAMPLE_COLUMNS, SAMPLE_ROWS = 9, 5  # cells of a sample
SAMPLE_CELL = 4.6  # [px]
WORDS_GAP = 10.0  # between a sample and its words [px]
WIDEST = 250.0  # of a row's words [px]
LINE = 15.0  # between two lines of a row [px]
HEADING = (54.0, 30.0, 10.0)  # above the map, to the middle of each line [px]
CROSS_ARM = 7.0  # of the strike's cross [px]
ELLIPSE_POINTS = 72
# Of a normal scatter in two numbers: within k deviations lie 1 − exp(−k²/2) of the strokes.
DEVIATIONS = (1.0, 2.0)
WITHIN = ("39 %", "86 %")
OTHERS = "anything else"


@dataclass(frozen=True, slots=True)
class MapWords:
    """What is said round a map.

    Attributes:
        title: of the position
        heading: what the map shows
        held: what is the same in every cell
        kinds: words of every kind of outcome by its number, the goal met first
        notes: rows of how often each kind came, by the same number, or ""
        strike, scatter: what the cross and the rings are
    """

    title: str
    heading: str
    held: str
    kinds: Sequence[str]
    notes: Sequence[str]
    strike: str
    scatter: str


def ordered(
    codes: Sequence[Sequence[int]], words: Sequence[str]
) -> tuple[list[list[int]], list[int]]:
    """The kinds renumbered, the largest on the map first, and the old number of each new one.

    Kinds past the last hatching are one, whose old number is ``BLANK``.
    """
    counts = [0] * len(words)
    for row in codes:
        for code in row:
            if code != BLANK:
                counts[code] += 1
    found = sorted((k for k in range(1, len(words)) if counts[k]), key=lambda k: -counts[k])
    kept = found if len(found) <= MOST_KINDS else found[: MOST_KINDS - 1]
    order = [BARE, *kept]
    new = {code: number for number, code in enumerate(order)}
    if len(kept) < len(found):
        order.append(BLANK)
        new.update((code, MOST_KINDS) for code in found[len(kept) :])
    new[BLANK] = BLANK
    return [[new[code] for code in row] for row in codes], order


def heading_marks(page: Page, words: MapWords) -> Iterator[Mark]:
    """Three lines above the map."""
    top = page.window.height * page.scale
    lines = ((words.title, Role.TITLE, True), (words.heading, Role.SHEET_TEXT, False))
    for number, (line, role, bold) in enumerate(lines):
        size = Size.BODY if bold else Size.SMALL
        at = (0.0, -top - HEADING[number])
        yield sheet_text(page, f"heading-{number}", role, at, line, size, bold=bold)
    at = (0.0, -top - HEADING[2])
    yield sheet_text(page, "heading-2", Role.SHEET_NOTE, at, words.held)


def legend_marks(
    page: Page,
    words: MapWords,
    order: Sequence[int],
    with_scatter: bool,
    corner: Point | None = None,
) -> Iterator[Mark]:
    """Every kind that is on the map, the cross, the rings.

    Args:
        corner: where it begins, to the right of the map's lower left corner and below it;
            None: to the right of the map [px]
    """
    left, down = corner or (page.width + GAP, -page.window.height * page.scale)
    down += ROW / 2
    for number, code in enumerate(order):
        told = words.kinds[code] if code >= 0 else OTHERS
        note = words.notes[code] if 0 <= code < len(words.notes) else ""
        yield from _sample(page, number, left, down)
        down = yield from _row(
            page, f"kind-{number}", left, down, [told, *([note] if note else [])]
        )
    width = SAMPLE_COLUMNS * SAMPLE_CELL
    yield from cross(page, page.below(left + width / 2, down), "legend-strike", Layer.TITLE)
    down = yield from _row(page, "strike", left, down, [words.strike])
    if with_scatter:
        ends = (left, down), (left + width, down)
        yield sheet_line(page, "legend-scatter", Role.SCATTER, *ends)
        yield from _row(page, "scatter", left, down, wrapped_words(words.scatter))


def _row(
    page: Page, name: str, left: float, down: float, lines: Sequence[str]
) -> Generator[Mark, None, float]:
    """A row's words; the middle of the next row [px]."""
    across = left + SAMPLE_COLUMNS * SAMPLE_CELL + WORDS_GAP
    lines = [part for line in lines for part in wrapped_words(line)]
    first = down - (len(lines) - 1) * LINE / 2
    for number, line in enumerate(lines):
        role = Role.SHEET_TEXT if number == 0 else Role.SHEET_NOTE
        at = (across, first + number * LINE)
        yield sheet_text(page, f"legend-{name}-{number}", role, at, line)
    return down + max(ROW, len(lines) * LINE + 8.0)


def wrapped_words(words: str) -> list[str]:
    """In lines of a legend's width."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, Size.SMALL.value) <= WIDEST:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _sample(page: Page, code: int, left: float, down: float) -> Iterator[Mark]:
    cell = page.mm(SAMPLE_CELL)
    corner = page.below(left, down + SAMPLE_ROWS * SAMPLE_CELL / 2)
    codes = [[code] * SAMPLE_COLUMNS for _ in range(SAMPLE_ROWS)]
    cells = CellMap(corner[0], corner[1], cell, cell, codes, f"sample-{code}")
    ends = [cells.at(x, y) for x, y in ((0, 0), (SAMPLE_COLUMNS, 0))]
    ends += [cells.at(x, y) for x, y in ((SAMPLE_COLUMNS, SAMPLE_ROWS), (0, SAMPLE_ROWS))]
    yield Polygon(f"sample-{code}-ground", Layer.TABLE, Role.MAP_GROUND, tuple(ends))
    yield from map_marks(cells)
    yield Polygon(f"sample-{code}-rim", Layer.PATHS, Role.MAP_EDGE, tuple(ends))


def cross(page: Page, at: Point, name: str, layer: Layer) -> Iterator[Mark]:
    """The strike that was meant."""
    (x, y), arm = at, page.mm(CROSS_ARM)
    yield Line(f"{name}-level", layer, Role.STRIKE_POINT, (x - arm, y), (x + arm, y))
    yield Line(f"{name}-upright", layer, Role.STRIKE_POINT, (x, y - arm), (x, y + arm))


def rings(at: Point, deviations: tuple[float, float]) -> Iterator[Mark]:
    """Where a player's strokes fall: one and two deviations. [mm]"""
    for size in DEVIATIONS:
        points = tuple(
            (at[0] + size * deviations[0] * cos(turn), at[1] + size * deviations[1] * sin(turn))
            for turn in (tau * k / ELLIPSE_POINTS for k in range(ELLIPSE_POINTS + 1))
        )
        yield Polyline(f"scatter-{size:g}", Layer.CONTACTS, Role.SCATTER, points)
