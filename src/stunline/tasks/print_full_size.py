"""Print a position file's shot, or its ladder, at full size, to lay on the cloth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import stunline
from stunline.errors import Fault, InputError
from stunline.paper.full_size import FullSize, Wishes, full_size
from stunline.paper.full_size_frame import Heading
from stunline.paper.full_size_region import Around
from stunline.paper.full_size_sheets import OVERLAP
from stunline.paper.full_size_strips import OPTION as STRIP_OPTION
from stunline.paper.full_size_subject import Subject, of_ladder, of_shot
from stunline.shot.ladder import Ladder
from stunline.shot.rung import RungPlayer
from stunline.tasks.play_shot import play_shot
from stunline.tasks.read_position import ReadPosition
from stunline.tasks.shapes import Shape
from stunline.tasks.titles import title_block
from stunline.tasks.write_whole import check_ending, check_folder, write_whole

OPTION = "-o"
ENDING = ".pdf"
WARNING = (
    "Print at 100 %, never “fit”; then measure both 100 mm bars on every page. "
    "Mark, then lift: never play on paper."
)


@dataclass(frozen=True, slots=True)
class FullSizeResult:
    """Full-size pages, as they were made.

    Attributes:
        read: the position file
        pages: the pages and what is on them
        paper: name of the paper
    """

    read: ReadPosition
    pages: FullSize
    paper: str

    def write(self, path: str) -> None:
        """Write the PDF, the whole of it or nothing.

        Raises:
            InputError: the file can't be written.
        """
        write_whole(self.pages.pdf, path, OPTION)

    def lines(self, path: str) -> list[str]:
        """What a terminal is told."""
        full = self.pages
        tiles = [tile.name for tile in full.scene.tiling.tiles]
        count = f"{full.pages} pages: a guide, {', '.join(tiles)}"
        strips = full.pages - 1 - len(tiles)
        count += f", marking strips{f' on {strips} pages' if strips > 1 else ''}" if strips else ""
        return [f"{path} written, {count}.", WARNING]

    def shape(self, path: str) -> Shape:
        """The JSON."""
        position = self.read.file.position
        return {
            "written": path,
            "paper": self.paper,
            "orientation": "landscape" if self.pages.scene.tiling.sheet.landscape else "portrait",
            "around": self.pages.around,
            "overlap": OVERLAP,
            "pages": _pages_shape(self.pages),
            "registration": _registration_shape(self.pages),
            "balls": _balls_shape(self.pages),
            "strips": [
                {
                    "balls": [pair.first.name, pair.second.name],
                    "distance": pair.distance,
                    "gap": pair.gap,
                }
                for pair in self.pages.strips
            ],
            "table": position.table.name,
            "cloth": position.cloth,
            "title": position.title,
            "engine": stunline.__version__,
        }


def own_path(file: str, output: str | None) -> str:
    """Where the PDF goes: as asked, or beside nothing, in the current folder.

    Raises:
        InputError: another ending than .pdf, or a folder that isn't there.
    """
    path = output if output is not None else f"{Path(file).stem or 'shot'}-full-size{ENDING}"
    what = "full-size pages are written as PDF only"
    check_ending(path, (ENDING,), what, f"full{ENDING}", OPTION)
    check_folder(path, OPTION)
    return path


def strip_pairs(asked: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """ "red7,red11" as two names, for each that was asked for.

    Raises:
        InputError: not two names with a comma between them.
    """
    pairs = []
    for words in asked:
        names = [name.strip() for name in words.split(",")]
        if len(names) != 2 or not all(names):
            fault = Fault(
                "a strip is for two balls",
                given=f'"{words}"',
                allowed="two names of balls with a comma between them",
                remedy=f"{STRIP_OPTION} red7,red11",
                key=STRIP_OPTION,
            )
            raise InputError([fault])
        pairs.append((names[0], names[1]))
    return tuple(pairs)


def print_full_size(
    read: ReadPosition,
    paper: str = "a4",
    around: Around | None = None,
    strips: Sequence[str] = (),
) -> FullSizeResult:
    """Play the shot, or the ladder's rungs where the file has one, and set the pages.

    Args:
        read: the position file
        paper: "a4", "a3", "letter"
        around: what is printed; None: the contact, and the white's start where that is few pages
        strips: pairs of balls, "red7,red11"

    Raises:
        InputError: a strip that can't be made.
        UnsolvableShotError: no strike does what the file asks for; with its line.
    """
    wishes = Wishes(paper, around, strip_pairs(strips))
    in_inches = read.file.units == "in"
    subject = replace(_subject(read), in_inches=in_inches)
    block = title_block(read.file.position)
    pages = full_size(subject, wishes, Heading(block.title, block.table, in_inches))
    return FullSizeResult(read, pages, paper)


def _subject(read: ReadPosition) -> Subject:
    file = read.file
    if file.ladder is None:
        return of_shot(play_shot(read).shot, file.plan)
    with read.located():
        # The rungs alone: what lies between them is for the ladder's strip, not for the cloth.
        player = RungPlayer(file.position, file.plan, file.ladder)
        rungs = player.rungs()
    held = player.aim_held
    ladder = Ladder(file.position, file.plan, file.ladder.vary, rungs, (), (), held)
    return of_ladder(ladder, file.units == "in")


def _pages_shape(full: FullSize) -> list[Shape]:
    pages: list[Shape] = [{"kind": "guide", "name": "guide", "shows": None}]
    tiles = full.scene.tiling.tiles
    for tile in tiles:
        field = tile.field
        shows = [field.left, field.bottom, field.right, field.top]
        pages.append({"kind": "tile", "name": tile.name, "shows": shows})
    for drawing in full.drawings[len(tiles) :]:
        pages.append({"kind": "strips", "name": drawing.name, "shows": None})
    return pages


def _registration_shape(full: FullSize) -> Shape:
    found = full.scene.registration
    return {
        "noses": list(found.noses),
        "spots": [{"spot": name, "at": list(at)} for name, at in found.spots],
        "tape": [{"name": point.name, "at": list(point.at)} for point in found.tape],
    }


def _balls_shape(full: FullSize) -> list[Shape]:
    return [
        {
            "ball": ball.ball,
            "is": "start" if ball.there_at_start else "contact",
            "at": list(ball.at),
            "radius": ball.radius,
        }
        for ball in full.scene.balls
    ]
