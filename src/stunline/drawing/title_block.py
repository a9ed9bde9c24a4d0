"""Below the plan: a key of the whole table, the kinds of line, the scale bar, the title block."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stunline.drawing.marks import (
    Anchor,
    Box,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Role,
    Size,
    Text,
)
from stunline.drawing.page import Page
from stunline.drawing.typeface import CAPITAL_HEIGHT, text_width

BLOCK_WIDTH = 344.0  # of the title block [px]
ROW = 22.0  # [px]
CELL_MARGIN = 10.0  # left of the words in a row [px]
TOP = 14.0  # between the window and what stands below it [px]
KEY_HEIGHT = 92.0  # of the whole table in the key [px]
KEY_GAP = 26.0  # right of the key [px]
SAMPLE = 36.0  # length of a line's sample in the legend [px]
TICK_SAMPLE = 8.0  # length of the tick's [px]
SAMPLE_GAP = 8.0  # [px]
LEGEND_ROW = 17.0  # [px]
LEGEND_ROWS = 4
LEGEND_COLUMN = 146.0  # [px]
SCALE_BAR_TICK = 4.0  # half a tick [px]
SCALE_BAR_MOST = 190.0  # longest scale bar [px]
ROUND_LENGTHS = (50, 100, 200, 250, 500, 1000, 2000)  # of a scale bar [mm]
SCALE_BAR_PARTS = 5

LEGEND_WORDS = {
    Role.SLIDING: "white, sliding",
    Role.ROLLING: "white, rolling",
    Role.LATER: "white, later on",
    Role.OBJECT_WAY: "object ball",
    Role.TANGENT: "tangent line",
    Role.AIM: "line of aim",
    Role.TICK: "every",  # and the interval
}
UNSAID_DOUBT = "profile assumed, no band yet"


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What the title block says besides the scale.

    Attributes:
        title: of the shot
        table: the table and its cloth profile
        doubt: how far the numbers may be trusted
        date: as it is to stand there, or "" for none; given, so that a picture can be repeated
    """

    title: str
    table: str
    doubt: str = UNSAID_DOUBT
    date: str = ""


def block_height(block: TitleBlock) -> float:
    """How much room the foot of the page needs below the window. [px]"""
    return TOP + max(KEY_HEIGHT, _title_height(block) + 3 * ROW)


def foot(
    page: Page, table: Box, block: TitleBlock, kinds: Sequence[Role], tick: float
) -> Iterator[Mark]:
    """Everything below the plan.

    Args:
        page: the page
        table: the playing area [mm]
        block: the title block's words
        kinds: the kinds of line in the plan, for the legend, in its order
        tick: time between the ticks on the white's way [s]
    """
    yield Polygon("frame", Layer.FRAME, Role.FRAME, page.window.corners)
    yield from _key(page, table)
    key_width = KEY_HEIGHT * table.width / table.height
    yield from _legend(page, key_width + KEY_GAP, kinds, tick)
    yield from _scale_bar(page, key_width + KEY_GAP)
    yield from _title_block(page, block)


def _title_block(page: Page, block: TitleBlock) -> Iterator[Mark]:
    left, right = page.width - BLOCK_WIDTH, page.width
    height = _title_height(block)
    rows = [TOP, TOP + height, TOP + height + ROW, TOP + height + 2 * ROW, TOP + height + 3 * ROW]
    for number, down in enumerate(rows):
        role = Role.FRAME if number in (0, len(rows) - 1) else Role.RULE
        yield _line(page, f"title-rule-{number}", role, (left, down), (right, down))
    first = left + CELL_MARGIN
    size = _title_size(block)
    for number, words in enumerate(_title_lines(block)):
        line = TOP + 18.0 + number * (size.value + 5.0)
        yield _text(page, f"title-{number}", Role.TITLE, (first, line), words, size, bold=True)
    table, doubt, last = (down + ROW / 2 for down in rows[1:4])
    yield _text(page, "title-table", Role.SHEET_TEXT, (first, table), block.table)
    yield _text(page, "title-doubt", Role.SHEET_NOTE, (first, doubt), block.doubt)
    scale = f"scale {page.scale_words}"
    yield _text(page, "title-scale", Role.SHEET_TEXT, (first, last), scale)
    yield _text(
        page, "title-unit", Role.SHEET_NOTE, (first + BLOCK_WIDTH * 0.34, last), "lengths in mm"
    )
    if block.date:
        yield _text(
            page,
            "title-date",
            Role.SHEET_TEXT,
            (right - CELL_MARGIN, last),
            block.date,
            anchor=Anchor.END,
        )


def _title_size(block: TitleBlock) -> Size:
    room = BLOCK_WIDTH - 2 * CELL_MARGIN
    fits = text_width(block.title, Size.TITLE.value, bold=True) <= room
    return Size.TITLE if fits else Size.BODY


def _title_lines(block: TitleBlock) -> list[str]:
    """The title broken between words so that every line fits."""
    size, room = _title_size(block).value, BLOCK_WIDTH - 2 * CELL_MARGIN
    lines = [""]
    for word in block.title.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width(longer, size, bold=True) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _title_height(block: TitleBlock) -> float:
    return 36.0 + (len(_title_lines(block)) - 1) * (_title_size(block).value + 5.0)


def _key(page: Page, table: Box) -> Iterator[Mark]:
    """The whole table, small, with the window marked on it."""
    shrink = KEY_HEIGHT / table.height

    def small(point: Point) -> Point:
        across = min(max(point[0], table.left), table.right) - table.left
        up = min(max(point[1], table.bottom), table.top) - table.bottom
        return page.below(across * shrink, TOP + KEY_HEIGHT - up * shrink)

    yield Polygon(
        "key-table", Layer.KEY, Role.KEY_TABLE, tuple(small(point) for point in table.corners)
    )
    yield Polygon(
        "key-crop", Layer.KEY, Role.KEY_CROP, tuple(small(point) for point in page.window.corners)
    )


def _legend(page: Page, left: float, kinds: Sequence[Role], tick: float) -> Iterator[Mark]:
    for number, role in enumerate(kinds):
        column, row = divmod(number, LEGEND_ROWS)
        across = left + column * LEGEND_COLUMN
        down = TOP + 7.0 + row * LEGEND_ROW
        yield _sample(page, role, across, down)
        yield _text(
            page,
            f"legend-{role.value}-words",
            Role.SHEET_NOTE,
            (across + SAMPLE + SAMPLE_GAP, down),
            f"every {tick:g} s" if role is Role.TICK else LEGEND_WORDS[role],
        )


def _sample(page: Page, role: Role, across: float, down: float) -> Mark:
    name = f"legend-{role.value}"
    if role is Role.TICK:
        middle, half = across + SAMPLE / 2, TICK_SAMPLE / 2
        return _line(page, name, role, (middle, down - half), (middle, down + half))
    return _line(page, name, role, (across, down), (across + SAMPLE, down))


def _scale_bar(page: Page, left: float) -> Iterator[Mark]:
    fitting = [length for length in ROUND_LENGTHS if length * page.scale <= SCALE_BAR_MOST]
    length = fitting[-1] if fitting else ROUND_LENGTHS[0]
    down, part = TOP + KEY_HEIGHT - SCALE_BAR_TICK, length * page.scale / SCALE_BAR_PARTS
    right = left + length * page.scale
    yield _line(page, "scale-bar", Role.SCALE_BAR, (left, down), (right, down))
    for number in range(SCALE_BAR_PARTS + 1):
        across = left + number * part
        half = SCALE_BAR_TICK if number in (0, SCALE_BAR_PARTS) else SCALE_BAR_TICK / 2
        yield _line(
            page,
            f"scale-bar-{number}",
            Role.SCALE_BAR,
            (across, down - half),
            (across, down + half),
        )
    yield _text(
        page, "scale-bar-words", Role.SHEET_TEXT, (right + SAMPLE_GAP, down), f"{length} mm"
    )


def _line(page: Page, name: str, role: Role, start: Point, end: Point) -> Line:
    return Line(name, Layer.TITLE, role, page.below(*start), page.below(*end))


def _text(
    page: Page,
    name: str,
    role: Role,
    middle: Point,
    words: str,
    size: Size = Size.SMALL,
    anchor: Anchor = Anchor.START,
    bold: bool = False,
) -> Text:
    """Words whose capitals are centred on that height, in pixels below the window."""
    at = page.below(middle[0], middle[1] + size.value * CAPITAL_HEIGHT / 2)
    return Text(name, Layer.TITLE, role, at, words, size, anchor, bold)
