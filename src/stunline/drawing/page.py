"""Where the plan stands on the sheet and at which scale.

A drawing office uses round scales: the plan's window has a fixed size on the sheet, the scale
is the largest round one at which the action fits, and the crop follows from both.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from stunline.drawing.marks import Box, Point, Size
from stunline.units import MILLIMETRES_PER_INCH

PIXELS_PER_MM = 96 / 25.4  # CSS's pixel on paper [px mm⁻¹]
# 1 : n. Finer steps than a drawing office's, or half the window would often stay empty.
ROUND_SCALES = (2, 2.5, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 18, 20, 22, 25, 30, 35, 40,
                45, 50, 60, 75, 100)  # fmt: skip
LANDSCAPE = (960.0, 600.0)  # [px]
PORTRAIT = (760.0, 900.0)  # [px]
FULL_WIDTH = 740.0  # of a window under which key, kinds of line and title block fit [px]
SHEET_MARGIN = 16.0  # round everything, where the drawing is a sheet of its own [px]
FRAME_MARGIN = 1.0  # round a drawing that stands in a page, for its frame's line [px]
ACTION_MARGIN = 36.0  # kept free round the action, for labels [px]
MOST_MARGIN = 1 / 12  # and at most so much of the window's side


class Furniture(Enum):
    """What stands below the plan's window.

    FULL: key of the whole table, kinds of line, scale bar, title block.
    COMPACT: key, kinds of line and scale bar in a low row, for a page that has its own title.
    NONE: nothing.
    """

    FULL = "full"
    COMPACT = "compact"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Medium:
    """What a plan is drawn for.

    Attributes:
        sizes: width and height of the windows that the plan may take [px]
        pixel: size of a pixel of the drawing [1/96 inch]; above 1 for large print
        smallest: the least letter in the drawing
        furniture: what stands below the window
        measures_object: whether the object ball carries dimensions as the white does
        in_inches: whether lengths stand on it in inches, for a file that says so
    """

    sizes: tuple[tuple[float, float], ...]
    pixel: float = 1.0
    smallest: Size = Size.SIGN
    furniture: Furniture = Furniture.FULL
    measures_object: bool = False
    in_inches: bool = False

    def __post_init__(self) -> None:
        narrowest = min(width for width, _ in self.sizes)
        if self.furniture is Furniture.FULL and narrowest < FULL_WIDTH:
            raise ValueError(
                f"full furniture needs windows at least {FULL_WIDTH:g} px wide, and one is "
                f"{narrowest:g} px: make it wider, or take Furniture.COMPACT"
            )


SCREEN = Medium((LANDSCAPE, PORTRAIT))


@dataclass(frozen=True, slots=True)
class Page:
    """The plan's window on the table, and lengths of the sheet in its millimetres.

    Attributes:
        window: the crop of the table [mm]
        denominator: n of the scale 1 : n, as it is on paper, the pixel's size counted
        medium: what the plan is drawn for
        in_inches: whether figures stand on it in inches, for a file that says so
        scale: pixels of the drawing to a millimetre of the table [px mm⁻¹]
    """

    window: Box
    denominator: float
    medium: Medium = SCREEN
    in_inches: bool = False
    scale: float = field(init=False)

    def __post_init__(self) -> None:
        scale = PIXELS_PER_MM / (self.denominator * self.medium.pixel)
        object.__setattr__(self, "scale", scale)

    def at_least(self, size: Size) -> Size:
        """The size, or the medium's smallest where that is larger."""
        return max(size, self.medium.smallest, key=lambda one: one.value)

    def mm(self, pixels: float) -> float:
        """That many pixels of the sheet in millimetres of the table."""
        return pixels / self.scale

    def figure(self, length: float) -> str:
        """A length as it stands on the plan, its unit left out: whole mm, hundredths of an inch.

        Args:
            length: [mm]
        """
        return f"{length / MILLIMETRES_PER_INCH:.2f}" if self.in_inches else f"{length:.0f}"

    @property
    def unit(self) -> str:
        """Of the lengths that stand on it."""
        return "in" if self.in_inches else "mm"

    @property
    def unit_word(self) -> str:
        """The same where it stands alone."""
        return "inches" if self.in_inches else "mm"

    def below(self, across: float, down: float) -> Point:
        """A point below the window, in pixels from its bottom left corner. [mm]"""
        return self.window.left + self.mm(across), self.window.bottom - self.mm(down)

    @property
    def width(self) -> float:
        """Of the window. [px]"""
        return self.window.width * self.scale

    def view(self, height_below: float, height_above: float = 0.0) -> Box:
        """The window with what stands below it and the sheet's margin. [mm]"""
        margin = self.mm(sheet_margin(self.medium))
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


def sheet_margin(medium: Medium) -> float:
    """Kept free round everything. [px]"""
    return SHEET_MARGIN if medium.furniture is Furniture.FULL else FRAME_MARGIN


def page_for(action: Box, table: Box, medium: Medium = SCREEN) -> Page:
    """The page on which the action is largest.

    Args:
        action: what must be seen [mm]
        table: the table with its cushions; the window leaves it only when it is larger [mm]
        medium: what the plan is drawn for; of windows that do equally well the first is taken
    """
    fits = [(_denominator(action, size, medium.pixel), size) for size in medium.sizes]
    denominator, size = min(fits, key=lambda fit: fit[0])
    millimetre = PIXELS_PER_MM / (denominator * medium.pixel)
    width, height = (pixels / millimetre for pixels in size)
    left = _slid(action.centre[0] - width / 2, width, table.left, table.right)
    bottom = _slid(action.centre[1] - height / 2, height, table.bottom, table.top)
    window = Box(left, bottom, left + width, bottom + height)
    return Page(window, denominator, medium, medium.in_inches)


def _denominator(action: Box, size: tuple[float, float], pixel: float) -> float:
    """The smallest round n at which the action with its margin fits."""
    free = [
        (pixels - 2 * min(ACTION_MARGIN, pixels * MOST_MARGIN)) * pixel / PIXELS_PER_MM
        for pixels in size
    ]
    needed = max(action.width / free[0], action.height / free[1])
    return next((n for n in ROUND_SCALES if n >= needed), ROUND_SCALES[-1])


def _slid(start: float, length: float, low: float, high: float) -> float:
    """The start moved so that the stretch shows no more beyond the ends than it must."""
    if length >= high - low:
        return (low + high - length) / 2
    return min(max(start, low), high - length)
