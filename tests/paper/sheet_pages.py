"""Practice sheets, made and read back, for the tests that measure them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from paper.pdf_reading import Page, read_pdf
from random_positions import random_shot
from stunline.paper.sheet import sheets_pdf
from stunline.paper.sheet_format import Format, format_of
from stunline.paper.sheet_page import SheetPage, Stamp, sheet_page
from stunline.paper.sheet_subject import Subject, of_shot
from stunline.shot.outcome import outcome
from stunline.shot.play import play
from stunline.shot.position import DirectAim, Position, Strike, StrikePlan
from stunline.shot.position_file import PositionFile, parse_position
from stunline.shot.shot import Shot
from stunline.tasks.print_sheet import stamp_of
from stunline.tasks.print_sheet import subject_of as subject_of_file
from stunline.tasks.read_position import ReadPosition

POSITIONS = Path(__file__).resolve().parents[2] / "src/stunline/shot/position_file/positions"
SHIPPED = sorted(path.stem for path in POSITIONS.glob("*.toml"))
DATE = "25 Nov 2026"


@dataclass(frozen=True)
class Made:
    """A sheet, its PDF, and the pages as read from that."""

    sheet: SheetPage
    pdf: bytes
    pages: tuple[Page, ...]

    @property
    def page(self) -> Page:
        """Its only page."""
        (page,) = self.pages
        return page


def made(sheet: SheetPage, form: Format) -> Made:
    """The sheet printed alone, and read back."""
    pdf = sheets_pdf([sheet], form)
    return Made(sheet, pdf, tuple(read_pdf(pdf)))


def of_file(name: str, paper: str = "a4", large_print: bool = False) -> Made:
    """A shipped position's sheet."""
    return of_text((POSITIONS / f"{name}.toml").read_text(encoding="utf-8"), paper, large_print)


@cache
def of_text(text: str, paper: str = "a4", large_print: bool = False) -> Made:
    """The sheet of a position file's text."""
    file, subject, stamp = _played(text)
    form = format_of(paper, large_print)
    return made(sheet_page(subject, stamp, form, file.units), form)


@cache
def _played(text: str) -> tuple[PositionFile, Subject, Stamp]:
    """What ``sheet_of`` plays for a sheet, once for every paper."""
    read = ReadPosition(parse_position(text), text)
    return read.file, subject_of_file(read), stamp_of(read, DATE)


def stamped(title: str = "A title") -> Stamp:
    """Words of no interest to what is tested."""
    return Stamp(title, "Snooker, 12 ft, match cloth", "assumed", "sliding 0.2", "", "", DATE, "0")


def subject_of(position: Position, strike: Strike) -> Subject:
    """A shot that asks for no more than its own direction."""
    plan = StrikePlan(DirectAim(strike.aim), strike.pace, strike.height, strike.side)
    shot = play(position, strike)
    return of_shot(shot, plan, outcome(shot, plan), None)


@cache
def of_seed(seed: int) -> tuple[Made, Shot]:
    """The sheet of a random position, on a paper that changes with the seed."""
    subject = subject_of(*random_shot(seed))
    form = format_of(("a4", "letter")[seed % 2], False)
    return made(sheet_page(subject, stamped(), form), form), subject.shot


ROW = re.compile(
    r"^(?P<ball>[a-z0-9 -]+?) (?P<side>left|right) (?P<across>[\d.]+) / \S+ "
    r"(?P<end>[a-z]+) (?P<up>[\d.]+) / \S+(?:\s+on the (?P<spot>[a-z ]+) spot)?",
    re.MULTILINE,
)
RACK = re.compile(r"^(?P<group>\w+) (?P<rack>\w+) on its spot, touching", re.MULTILINE)


def typed_back(page: Page, position: Position) -> dict[str, tuple[float, float] | str]:
    """What somebody would type into [balls] who has nothing but the printed list. [mm]

    Distances are from the cushion that the list names, so a place is counted from the far
    cushion's nose where the list does.
    """
    names = position.table.words.cushions
    width, length = (
        round(1000.0 * one, 6) for one in (position.table.width, position.table.length)
    )
    typed: dict[str, tuple[float, float] | str] = {}
    for row in ROW.finditer(page.copied.replace("\r", "")):
        across, up = float(row["across"]), float(row["up"])
        name = _name(row["ball"], position)
        typed[name] = row["spot"] or (
            across if row["side"] == names[3] else round(width - across, 6),
            up if row["end"] == names[0] else round(length - up, 6),
        )
    for rack in RACK.finditer(page.copied.replace("\r", "")):
        typed[rack["group"]] = rack["rack"]
    return typed


def _name(words: str, position: Position) -> str:
    """The file's name of a ball in words: "red 7" → "red7", "9 ball" → "9", "cue ball"."""
    plain = words.replace(" ", "")
    found = [
        name
        for name in position.table.balls
        if name.replace("-", "") == plain or f"{name}ball" == plain
    ]
    assert len(found) == 1, words
    return found[0]
