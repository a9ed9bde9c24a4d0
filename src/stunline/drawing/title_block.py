"""The title block: title, table and profile, doubt, scale, date."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stunline.drawing.legend import TOP, sheet_line, sheet_text
from stunline.drawing.marks import Anchor, Mark, Role, Size
from stunline.drawing.page import Page
from stunline.drawing.typeface import text_width
from stunline.shot.words import UNMEASURED

BLOCK_WIDTH = 344.0  # of the title block [px]
ROW = 22.0  # [px]
CELL_MARGIN = 10.0  # left of the words in a row [px]
TITLE_ROW, TITLE_BASE = 36.0, 18.0  # a one-line title's row, and its middle in it [px]
LINE_GAP = 5.0  # between two lines of a row [px]
UNIT_AT = 0.34  # of the width: where the lengths' unit stands
ROOM = BLOCK_WIDTH - 2 * CELL_MARGIN  # for words [px]


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
    doubt: str = UNMEASURED
    date: str = ""


@dataclass(frozen=True, slots=True)
class _Cell:
    """A row of the block: its name, its lines, and how they are set."""

    name: str
    role: Role
    lines: tuple[str, ...]
    size: Size
    bold: bool = False

    @property
    def height(self) -> float:
        """[px]"""
        first = TITLE_ROW if self.bold else ROW
        return first + (len(self.lines) - 1) * (self.size.value + LINE_GAP)

    @property
    def first(self) -> float:
        """From the row's top to the middle of its first line. [px]"""
        return TITLE_BASE if self.bold else ROW / 2


def title_block_height(block: TitleBlock) -> float:
    """[px]"""
    return sum(cell.height for cell in _cells(block)) + ROW


def title_block_marks(page: Page, block: TitleBlock) -> Iterator[Mark]:
    """The block at the window's right edge, below it."""
    left, right, down = page.width - BLOCK_WIDTH, page.width, TOP
    first = left + CELL_MARGIN
    yield sheet_line(page, "title-rule-0", Role.FRAME, (left, down), (right, down))
    for row, cell in enumerate(_cells(block), 1):
        for number, words in enumerate(cell.lines):
            name = f"{cell.name}-{number}" if cell.bold or number else cell.name
            line = (first, down + cell.first + number * (cell.size.value + LINE_GAP))
            yield sheet_text(page, name, cell.role, line, words, cell.size, bold=cell.bold)
        down += cell.height
        yield sheet_line(page, f"title-rule-{row}", Role.RULE, (left, down), (right, down))
    yield from _last_row(page, block, down + ROW / 2)
    yield sheet_line(page, "title-rule-4", Role.FRAME, (left, down + ROW), (right, down + ROW))


def _last_row(page: Page, block: TitleBlock, middle: float) -> Iterator[Mark]:
    """Scale, unit and date."""
    left, right = page.width - BLOCK_WIDTH + CELL_MARGIN, page.width - CELL_MARGIN
    scale, unit = f"scale {page.scale_words}", (left + BLOCK_WIDTH * UNIT_AT, middle)
    yield sheet_text(page, "title-scale", Role.SHEET_TEXT, (left, middle), scale)
    yield sheet_text(page, "title-unit", Role.SHEET_NOTE, unit, f"lengths in {page.unit_word}")
    if block.date:
        how = (block.date, Size.SMALL, Anchor.END)
        yield sheet_text(page, "title-date", Role.SHEET_TEXT, (right, middle), *how)


def _cells(block: TitleBlock) -> tuple[_Cell, ...]:
    """Title, table, doubt."""
    fits = text_width(block.title, Size.TITLE.value, bold=True) <= ROOM
    size = Size.TITLE if fits else Size.BODY
    return (
        _Cell("title", Role.TITLE, _lines(block.title, size, bold=True), size, bold=True),
        _Cell("title-table", Role.SHEET_TEXT, _lines(block.table, Size.SMALL), Size.SMALL),
        _Cell("title-doubt", Role.SHEET_NOTE, _lines(block.doubt, Size.SMALL), Size.SMALL),
    )


def _lines(words: str, size: Size, bold: bool = False) -> tuple[str, ...]:
    """The words broken so that every line fits: between words, or in one that is too long."""
    lines = [""]
    for word in words.split():
        for piece in _pieces(word, size, bold):
            longer = f"{lines[-1]} {piece}".strip()
            if lines[-1] and text_width(longer, size.value, bold) > ROOM:
                lines.append(piece)
            else:
                lines[-1] = longer
    return tuple(lines)


def _pieces(word: str, size: Size, bold: bool) -> Iterator[str]:
    piece = ""
    for letter in word:
        if piece and text_width(piece + letter, size.value, bold) > ROOM:
            yield piece
            piece = ""
        piece += letter
    yield piece
