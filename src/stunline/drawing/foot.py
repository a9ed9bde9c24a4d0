"""What stands below the plan's window, as much of it as the medium asks for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stunline.drawing.legend import (
    TOP,
    entry_width,
    key,
    legend_entry,
    legend_words,
    scale_bar,
    scale_bar_length,
    scale_bar_width,
)
from stunline.drawing.marks import Box, Layer, Mark, Polygon, Role
from stunline.drawing.page import Furniture, Page
from stunline.drawing.title_block import TitleBlock, title_block_height, title_block_marks

KEY_HEIGHT = 92.0  # of the whole table in the key [px]
KEY_GAP = 26.0  # right of the key [px]
LEGEND_ROW = 17.0  # [px]
LEGEND_ROWS = 4
LEGEND_COLUMN = 146.0  # [px]
SCALE_BAR_MOST = 190.0  # longest scale bar [px]
SCALE_BAR_UP = 4.0  # from the key's bottom to the scale bar [px]
BELOW_DOUBT = 9.0  # that it stands lower under a fifth row [px]
FIRST_ROW = 7.0  # from the top to the middle of the first row [px]

LOW_KEY_HEIGHT = 56.0  # of the key in the low row [px]
LOW_KEY_GAP = 16.0  # right of it [px]
LOW_SCALE_BAR_MOST = 110.0  # [px]
ENTRY_GAP = 18.0  # between entries in a row [px]


@dataclass(frozen=True, slots=True)
class Foot:
    """What the foot says.

    Attributes:
        table: the playing area [mm]
        block: the title block's words
        kinds: the kinds of line in the plan, for the legend, in its order
        tick: time between the ticks on the white's way [s]
        white: what the game calls the ball that is struck
        doubt: whose doubt is drawn
    """

    table: Box
    block: TitleBlock
    kinds: Sequence[Role]
    tick: float
    white: str = "white"
    doubt: str = ""

    def words(self, role: Role) -> str:
        """What the legend says of that kind of line."""
        return legend_words(role, self.tick, self.white, self.doubt)


def foot_height(page: Page, foot: Foot) -> float:
    """How much room it needs below the window. [px]"""
    if page.medium.furniture is Furniture.NONE:
        return 0.0
    if page.medium.furniture is Furniture.COMPACT:
        rows = max(row for _, _, row in _flow(page, foot)) + 1
        return TOP + max(LOW_KEY_HEIGHT, rows * LEGEND_ROW)
    return TOP + max(KEY_HEIGHT, title_block_height(foot.block))


def foot_marks(page: Page, foot: Foot) -> Iterator[Mark]:
    """The window's frame and everything below it."""
    yield Polygon("frame", Layer.FRAME, Role.FRAME, page.window.corners)
    if page.medium.furniture is Furniture.FULL:
        yield from _full(page, foot)
    elif page.medium.furniture is Furniture.COMPACT:
        yield from _low_row(page, foot)


def _full(page: Page, foot: Foot) -> Iterator[Mark]:
    yield from key(page, foot.table, KEY_HEIGHT, KEY_GAP)
    left = KEY_HEIGHT * foot.table.width / foot.table.height + KEY_GAP
    kinds = [role for role in foot.kinds if role is not Role.DOUBT]
    for number, role in enumerate(kinds):
        column, row = divmod(number, LEGEND_ROWS)
        across, down = left + column * LEGEND_COLUMN, TOP + FIRST_ROW + row * LEGEND_ROW
        yield from legend_entry(page, role, foot.words(role), across, down)
    up = SCALE_BAR_UP
    if Role.DOUBT in foot.kinds:  # its words are longer than a column, so it has a row of its own
        down = TOP + FIRST_ROW + LEGEND_ROWS * LEGEND_ROW
        yield from legend_entry(page, Role.DOUBT, foot.words(Role.DOUBT), left, down)
        up -= BELOW_DOUBT
    length = scale_bar_length(page, SCALE_BAR_MOST)
    yield from scale_bar(page, length, left, TOP + KEY_HEIGHT - up)
    yield from title_block_marks(page, foot.block)


def _low_row(page: Page, foot: Foot) -> Iterator[Mark]:
    """Key, then scale bar and kinds of line one after the other, in as many rows as needed."""
    yield from key(page, foot.table, LOW_KEY_HEIGHT, LOW_KEY_GAP)
    for role, across, row in _flow(page, foot):
        down = TOP + FIRST_ROW + row * LEGEND_ROW
        if role is Role.SCALE_BAR:
            yield from scale_bar(page, _low_scale_bar_length(page, across), across, down)
        else:
            yield from legend_entry(page, role, foot.words(role), across, down)


def _flow(page: Page, foot: Foot) -> list[tuple[Role, float, int]]:
    """Each entry of the low row, its left end and its row. [px]"""
    left = LOW_KEY_HEIGHT * foot.table.width / foot.table.height + LOW_KEY_GAP
    across, row, placed = left, 0, []
    for role in (Role.SCALE_BAR, *foot.kinds):
        if role is Role.SCALE_BAR:
            width = scale_bar_width(page, _low_scale_bar_length(page, left))
        else:
            width = entry_width(foot.words(role))
        if across > left and across + width > page.width:
            across, row = left, row + 1
        placed.append((role, across, row))
        across += width + ENTRY_GAP
    return placed


def _low_scale_bar_length(page: Page, left: float) -> int:
    """Of the low row's scale bar, which begins there, in the page's unit. [left: px]"""
    return scale_bar_length(page, LOW_SCALE_BAR_MOST, page.width - left)
