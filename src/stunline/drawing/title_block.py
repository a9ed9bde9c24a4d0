"""The title block: title, table and profile, doubt, scale, date."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stunline.drawing.legend import TOP, sheet_line, sheet_text
from stunline.drawing.marks import Anchor, Mark, Role, Size
from stunline.drawing.page import Page
from stunline.drawing.typeface import text_width

BLOCK_WIDTH = 344.0  # of the title block [px]
ROW = 22.0  # [px]
CELL_MARGIN = 10.0  # left of the words in a row [px]
TITLE_ROW, TITLE_BASE = 36.0, 18.0  # a one-line title's row, and its middle in it [px]
TITLE_GAP = 5.0  # between two lines of a title [px]
UNIT_AT = 0.34  # of the width: where the lengths' unit stands
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


def title_block_marks(page: Page, block: TitleBlock) -> Iterator[Mark]:
    """The block at the window's right edge, below it."""
    left, right = page.width - BLOCK_WIDTH, page.width
    height = _title_height(block)
    rows = [TOP, TOP + height, TOP + height + ROW, TOP + height + 2 * ROW, TOP + height + 3 * ROW]
    for number, down in enumerate(rows):
        role = Role.FRAME if number in (0, len(rows) - 1) else Role.RULE
        yield sheet_line(page, f"title-rule-{number}", role, (left, down), (right, down))
    first = left + CELL_MARGIN
    size = _title_size(block)
    for number, words in enumerate(_title_lines(block)):
        line = TOP + TITLE_BASE + number * (size.value + TITLE_GAP)
        yield sheet_text(page, f"title-{number}", Role.TITLE, (first, line), words, size, bold=True)
    table, doubt, last = (down + ROW / 2 for down in rows[1:4])
    yield sheet_text(page, "title-table", Role.SHEET_TEXT, (first, table), block.table)
    yield sheet_text(page, "title-doubt", Role.SHEET_NOTE, (first, doubt), block.doubt)
    scale = f"scale {page.scale_words}"
    yield sheet_text(page, "title-scale", Role.SHEET_TEXT, (first, last), scale)
    yield sheet_text(
        page, "title-unit", Role.SHEET_NOTE, (first + BLOCK_WIDTH * UNIT_AT, last), "lengths in mm"
    )
    if block.date:
        yield sheet_text(
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


def title_block_height(block: TitleBlock) -> float:
    """[px]"""
    return _title_height(block) + 3 * ROW


def _title_height(block: TitleBlock) -> float:
    return TITLE_ROW + (len(_title_lines(block)) - 1) * (_title_size(block).value + TITLE_GAP)
