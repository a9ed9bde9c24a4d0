"""The paper of a sheet and the sizes on it. Millimetres and points."""

from __future__ import annotations

from dataclasses import dataclass

from stunline.drawing.marks import Size
from stunline.drawing.page import PIXELS_PER_MM, Furniture, Medium
from stunline.paper.full_size_sheets import PAPERS, Paper

FRAME = 2.0  # the frame's lines on both sides of a drawing [px]


@dataclass(frozen=True, slots=True)
class Format:
    """How large things are on a sheet.

    Attributes:
        paper: its size
        is_large: large print
        pixel: size of a drawing's pixel [1/96 inch]
        small, body, heading, title: sizes of letters [pt]
        box: side of a box for a result [mm]
        gutter: between columns [mm]
        width: of the page within its margins [mm]
        in_inches: whether lengths stand on drawings in inches
    """

    paper: Paper
    is_large: bool
    pixel: float
    small: float
    body: float
    heading: float
    title: float
    box: float
    gutter: float = 5.0
    width: float = 180.0
    in_inches: bool = False

    def medium(self, width: float, height: float) -> Medium:
        """For drawings on this paper, a plan's window being so large with its frame. [mm]"""
        size = tuple(mm * PIXELS_PER_MM / self.pixel - FRAME for mm in (width, height))
        return Medium(
            ((size[0], size[1]),), self.pixel, Size.SMALL, Furniture.COMPACT, True, self.in_inches
        )

    def values(self) -> dict[str, object]:
        """For the template."""
        return {
            "width": self.paper.width,
            "height": self.paper.height,
            "margin": (self.paper.width - self.width) / 2,
            "large": self.is_large,
            "small": self.small,
            "body": self.body,
            "heading": self.heading,
            "title": self.title,
            "box": self.box,
            "gutter": self.gutter,
        }


def format_of(paper: str, large_print: bool) -> Format:
    """The format: 9 pt and more, or in large print 14 pt and more.

    A drawing's smallest letters have 12 pixels, which are 9 pt at 1/96 inch.
    """
    if large_print:
        return Format(PAPERS[paper], True, 1.56, 14.0, 14.5, 17.0, 24.0, 8.0)
    return Format(PAPERS[paper], False, 1.0, 9.0, 9.5, 12.0, 17.0, 5.0)
