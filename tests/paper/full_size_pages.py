"""Full-size pages of shots and ladders, made and read back, for the tests that measure them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from paper.pdf_reading import Page, Point, Round, read_pdf
from paper.pdf_reading import Path as Painted
from stunline.drawing.marks import Role
from stunline.drawing.page import PIXELS_PER_MM
from stunline.drawing.theme import PAPER
from stunline.paper.full_size import FullSize, Wishes, full_size
from stunline.paper.full_size_frame import Heading
from stunline.paper.full_size_subject import Subject, of_shot
from stunline.paper.full_size_tiles import Tile
from stunline.shot.play import play
from stunline.shot.position import DirectAim, Position, Strike, StrikePlan
from stunline.tasks.print_full_size import print_full_size
from stunline.tasks.read_position import read_position

POSITIONS = Path(__file__).resolve().parents[2] / "src/stunline/shot/position_file/positions"
SHIPPED = sorted(path.stem for path in POSITIONS.glob("*.toml"))
HEADING = Heading("A title", "Snooker, 12 ft, match cloth")


@dataclass(frozen=True)
class TilePage:
    """A tile as it was read from the PDF, in the table's millimetres.

    Attributes:
        tile: its name and field
        page: as read
        corner: the sheet's bottom left corner on the table [mm]
    """

    tile: Tile
    page: Page
    corner: Point

    def at(self, point: Point) -> Point:
        """A point of the page on the table."""
        return point[0] + self.corner[0], point[1] + self.corner[1]

    def rounds(self) -> Iterator[tuple[Round, Painted]]:
        """Circles, their centres on the table."""
        for one, path in self.page.circles:
            yield Round(self.at(one.centre), one.radius), path

    def lines(self, *roles: Role) -> Iterator[tuple[Point, Point]]:
        """Straight lines drawn as one of these roles, their ends on the table."""
        for start, end, path in self.page.lines:
            if any(drawn_as(path, role) for role in roles):
                yield self.at(start), self.at(end)


@dataclass(frozen=True)
class Made:
    """Pages and what is read from them."""

    full: FullSize
    pages: tuple[Page, ...]

    @property
    def tiles(self) -> list[TilePage]:
        """The tiles among the pages."""
        sheet = self.full.scene.tiling.sheet
        found = []
        for tile, page in zip(self.full.scene.tiling.tiles, self.pages[1:], strict=False):
            view = sheet.view(tile.field)
            found.append(TilePage(tile, page, (view.left, view.bottom)))
        return found

    @property
    def strips(self) -> tuple[Page, ...]:
        """The pages after the tiles."""
        return self.pages[1 + len(self.full.scene.tiling.tiles) :]


def drawn_as(path: Painted, role: Role) -> bool:
    """Whether the path has the dash and the width of that role."""
    style = PAPER.styles[role]
    dash = tuple(part / PIXELS_PER_MM for part in style.dash)
    return (
        len(path.dash) == len(dash)
        and all(abs(one - two) < 0.02 for one, two in zip(path.dash, dash, strict=True))
        and abs(path.width - style.width / PIXELS_PER_MM) < 0.01
    )


@cache
def of_file(name: str, paper: str = "a4", around: str | None = None) -> Made:
    """A shipped position's pages."""
    full = print_full_size(read_position(name), paper, around).pages  # type: ignore[arg-type]
    return Made(full, tuple(read_pdf(full.pdf)))


def of_strike(
    position: Position, strike: Strike, wishes: Wishes, heading: Heading = HEADING
) -> Made:
    """The pages of a position that is struck so."""
    full = full_size(subject_of(position, strike), wishes, heading)
    return Made(full, tuple(read_pdf(full.pdf)))


def subject_of(position: Position, strike: Strike) -> Subject:
    """A shot that asks for no more than its own direction."""
    plan = StrikePlan(DirectAim(strike.aim), strike.pace, strike.height, strike.side)
    return of_shot(play(position, strike), plan)
