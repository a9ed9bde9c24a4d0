"""Papers for full-size pages, and where things stand on a sheet of one."""

from __future__ import annotations

from dataclasses import dataclass

from stunline.drawing.marks import Box

MARGIN = 8.0  # a home printer can't print nearer to the edge than about 6 mm; kept free [mm]
SIDE = 12.0  # the column at the right with the upright check bar [mm]
FOOT = 30.0  # the row at the bottom with the level check bar, the tile's name, the map [mm]
OVERLAP = 12.0  # neighbours show the same this far; less would leave no room for crosses [mm]


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright. [mm]"""

    name: str
    title: str
    width: float
    height: float


# [X] ISO 216's A4 and A3; Letter is 8.5 × 11 inches.
PAPERS = {
    paper.name: paper
    for paper in (
        Paper("a4", "A4", 210.0, 297.0),
        Paper("a3", "A3", 297.0, 420.0),
        Paper("letter", "Letter", 215.9, 279.4),
    )
}


@dataclass(frozen=True, slots=True)
class Sheet:
    """A paper as it is turned, with the field for the table on it.

    Attributes:
        paper: its size
        landscape: whether it lies on its long side
    """

    paper: Paper
    landscape: bool = False

    @property
    def width(self) -> float:
        """[mm]"""
        return self.paper.height if self.landscape else self.paper.width

    @property
    def height(self) -> float:
        """[mm]"""
        return self.paper.width if self.landscape else self.paper.height

    @property
    def field_width(self) -> float:
        """Of the table's part that fits on it. [mm]"""
        return self.width - 2 * MARGIN - SIDE

    @property
    def field_height(self) -> float:
        """[mm]"""
        return self.height - 2 * MARGIN - FOOT

    def view(self, field: Box) -> Box:
        """The whole sheet round a field, at full size, so in table millimetres."""
        left, bottom = field.left - MARGIN, field.bottom - MARGIN - FOOT
        return Box(left, bottom, left + self.width, bottom + self.height)


def both_ways(paper: Paper) -> tuple[Sheet, Sheet]:
    """Upright and on its side."""
    return Sheet(paper, False), Sheet(paper, True)
