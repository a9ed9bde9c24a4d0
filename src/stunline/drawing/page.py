"""Where the plan stands on the sheet and at which scale.

A drawing office uses round scales: the plan's window has a fixed size on the sheet, the scale
is the largest round one at which the action fits, and the crop follows from both.
"""

from __future__ import annotations

from dataclasses import dataclass

from stunline.drawing.marks import Box, Point

PIXELS_PER_MM = 96 / 25.4  # CSS's pixel on paper [px mm⁻¹]
# 1 : n. Finer steps than a drawing office's, or half the window would often stay empty.
ROUND_SCALES = (2, 2.5, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 25, 30, 40, 50)
LANDSCAPE = (960.0, 600.0)  # [px]
PORTRAIT = (760.0, 900.0)  # [px]
SHEET_MARGIN = 16.0  # round everything [px]
ACTION_MARGIN = 36.0  # kept free round the action, for labels [px]


@dataclass(frozen=True, slots=True)
class Page:
    """The plan's window on the table, and lengths of the sheet in its millimetres.

    Attributes:
        window: the crop of the table [mm]
        denominator: n of the scale 1 : n
    """

    window: Box
    denominator: float

    @property
    def scale(self) -> float:
        """[px mm⁻¹]"""
        return PIXELS_PER_MM / self.denominator

    def mm(self, pixels: float) -> float:
        """That many pixels of the sheet in millimetres of the table."""
        return pixels / self.scale

    def below(self, across: float, down: float) -> Point:
        """A point below the window, in pixels from its bottom left corner. [mm]"""
        return self.window.left + self.mm(across), self.window.bottom - self.mm(down)

    @property
    def width(self) -> float:
        """Of the window. [px]"""
        return self.window.width * self.scale

    def view(self, height_below: float, height_above: float = 0.0) -> Box:
        """The window with what stands below it and the sheet's margin. [mm]"""
        margin = self.mm(SHEET_MARGIN)
        return Box(
            self.window.left - margin,
            self.window.bottom - self.mm(height_below) - margin,
            self.window.right + margin,
            self.window.top + self.mm(height_above) + margin,
        )

    @property
    def scale_words(self) -> str:
        """The scale as it is written in the title block."""
        return f"1 : {self.denominator:g}"


def page_for(action: Box, table: Box) -> Page:
    """The page on which the action is largest.

    Args:
        action: what must be seen [mm]
        table: the table with its cushions; the window leaves it only when it is larger [mm]
    """
    landscape = _denominator(action, LANDSCAPE)
    portrait = _denominator(action, PORTRAIT)
    size, denominator = (LANDSCAPE, landscape) if landscape <= portrait else (PORTRAIT, portrait)
    width, height = (pixels * denominator / PIXELS_PER_MM for pixels in size)
    left = _slid(action.centre[0] - width / 2, width, table.left, table.right)
    bottom = _slid(action.centre[1] - height / 2, height, table.bottom, table.top)
    return Page(Box(left, bottom, left + width, bottom + height), denominator)


def _denominator(action: Box, size: tuple[float, float]) -> float:
    """The smallest round n at which the action with its margin fits."""
    free = [(pixels - 2 * ACTION_MARGIN) / PIXELS_PER_MM for pixels in size]
    needed = max(action.width / free[0], action.height / free[1])
    return next((n for n in ROUND_SCALES if n >= needed), ROUND_SCALES[-1])


def _slid(start: float, length: float, low: float, high: float) -> float:
    """The start moved so that the stretch shows no more beyond the ends than it must."""
    if length >= high - low:
        return (low + high - length) / 2
    return min(max(start, low), high - length)
