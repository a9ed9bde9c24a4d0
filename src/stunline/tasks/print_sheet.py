"""Print position files as practice sheets: a page a position, several as one booklet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from os import environ
from pathlib import Path

import stunline
from stunline.errors import (
    Fault,
    InputError,
    SeveralInputErrors,
    StunlineError,
    UnsolvableShotError,
)
from stunline.paper.sheet import page_count, sheets_pdf
from stunline.paper.sheet_format import Format, format_of
from stunline.paper.sheet_page import SheetPage, Stamp, sheet_page
from stunline.paper.sheet_subject import Subject, of_ladder, of_shot
from stunline.shot.aiming.solve import pace_of
from stunline.shot.position import Position
from stunline.shot.setting_error import setting_survival, survival_words
from stunline.tasks.climb_ladder import climb_ladder
from stunline.tasks.play_shot import play_shot
from stunline.tasks.read_position import ReadPosition, read_position
from stunline.tasks.shapes import Shape
from stunline.tasks.titles import title_block
from stunline.tasks.write_whole import check_ending, check_folder, write_whole

OPTION = "-o"
ENDING = ".pdf"
SEVERAL = "sheets.pdf"  # the name of a booklet when none is given
DATE_VARIABLE = "SOURCE_DATE_EPOCH"  # seconds since 1970; builds that repeat set it


@dataclass(frozen=True, slots=True)
class ReadSheets:
    """Files as far as they could be read.

    Attributes:
        names: of the good ones, as they were given
        read: those
        errors: of the others
    """

    names: tuple[str, ...]
    read: tuple[ReadPosition, ...]
    errors: tuple[InputError, ...]


@dataclass(frozen=True, slots=True)
class Choices:
    """How sheets are printed.

    Attributes:
        paper: "a4", "letter"
        large_print: letters of 14 pt and more
        date: as it is to stand on the sheets
        with_doubt: whether they say how far they may be off on this table
    """

    paper: str = "a4"
    large_print: bool = False
    date: str = ""
    with_doubt: bool = True


@dataclass(frozen=True, slots=True)
class SheetsResult:
    """Sheets as they were made.

    Attributes:
        sheets: the position files
        pages: what stands on each sheet
        pdf: everything
        choices: how they were printed
    """

    sheets: ReadSheets
    pages: tuple[SheetPage, ...]
    pdf: bytes
    choices: Choices

    def write(self, path: str) -> None:
        """Write the PDF, the whole of it or nothing.

        Raises:
            InputError: the file can't be written.
        """
        write_whole(self.pdf, path, OPTION)

    def lines(self, path: str) -> list[str]:
        """What a terminal is told."""
        count, pages = len(self.pages), page_count(self.pdf)
        sheets = f"{count} sheet{'s' if count > 1 else ''}"
        return [f"{path} written: {sheets} on {pages} page{'s' if pages > 1 else ''}."]

    def shape(self, path: str) -> Shape:
        """The JSON."""
        return {
            "written": path,
            "pages": page_count(self.pdf),
            "paper": self.choices.paper,
            "large_print": self.choices.large_print,
            "date": self.choices.date,
            "sheets": [
                {
                    "file": name,
                    "title": read.file.position.title,
                    "table": read.file.position.table.name,
                    "cloth": read.file.position.cloth,
                }
                for name, read in zip(self.sheets.names, self.sheets.read, strict=True)
            ],
            "engine": stunline.__version__,
        }


def own_path(files: Sequence[str], output: str | None) -> str:
    """Where the PDF goes: as asked, or into the current folder.

    Raises:
        InputError: another ending than .pdf, or a folder that isn't there.
    """
    named = f"{Path(files[0]).stem or 'position'}-sheet{ENDING}" if len(files) == 1 else SEVERAL
    path = output if output is not None else named
    check_ending(path, (ENDING,), "sheets are written as PDF only", SEVERAL, OPTION)
    check_folder(path, OPTION)
    return path


def today(given: str | None) -> str:
    """The date on the sheets: as given; else of ``SOURCE_DATE_EPOCH``; else today's.

    Raises:
        InputError: that variable is no number of seconds.
    """
    if given is not None:
        return given
    seconds = environ.get(DATE_VARIABLE)
    if seconds is None:
        return in_words(date.today())
    try:
        return in_words(datetime.fromtimestamp(int(seconds), UTC).date())
    except (ValueError, OverflowError, OSError):
        fault = Fault(
            f"{DATE_VARIABLE} is no date",
            given=f'"{seconds}"',
            allowed="a whole number of seconds since 1970",
            remedy='unset it, or --date "25 Nov 2026"',
            key=DATE_VARIABLE,
        )
        raise InputError([fault]) from None


_MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]


def in_words(day: date) -> str:
    """ "25 Nov 2026", in English whatever the machine speaks."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def read_sheets(files: Sequence[str]) -> ReadSheets:
    """Read every file; what is wrong with some is kept until all are tried."""
    read: dict[int, ReadPosition] = {}
    errors = []
    for number, path in enumerate(files):
        try:
            read[number] = read_position(path)
        except InputError as error:
            errors.append(error)
    names = tuple(files[number] for number in read)
    return ReadSheets(names, tuple(read.values()), tuple(errors))


def print_sheets(sheets: ReadSheets, choices: Choices) -> SheetsResult:
    """Play every file's shot, or its ladder, and set the pages.

    Raises:
        InputError, UnsolvableShotError: one file can't be printed.
        SeveralInputErrors: several can't; with the faults of each.
    """
    form = format_of(choices.paper, choices.large_print)
    pages: list[SheetPage] = []
    errors: list[StunlineError] = list(sheets.errors)
    for read in sheets.read:
        try:
            pages.append(sheet_of(read, form, choices.date, choices.with_doubt))
        except UnsolvableShotError as error:
            errors.append(error)
    if len(errors) == 1:
        raise errors[0]
    if errors:
        raise SeveralInputErrors([_as_input(error) for error in errors])
    return SheetsResult(sheets, tuple(pages), sheets_pdf(pages, form), choices)


def sheet_of(
    read: ReadPosition, form: Format, date: str = "", with_doubt: bool = True
) -> SheetPage:
    """One file's sheet, before it is set.

    Raises:
        UnsolvableShotError: no strike does what the file asks for; with its line.
    """
    stamp = stamp_of(read, date)
    return sheet_page(subject_of(read, with_doubt), stamp, form, read.file.units)


def subject_of(read: ReadPosition, with_doubt: bool = True) -> Subject:
    """What a file's sheet is about, played; the same on every paper.

    Raises:
        UnsolvableShotError: no strike does what the file asks for; with its line.
    """
    file = read.file
    if file.ladder is None:
        result = play_shot(read, with_doubt)
        return of_shot(result.shot, file.plan, result.outcome, result.solution.pot, result.band)
    climbed = climb_ladder(read, with_doubt)
    return of_ladder(climbed.ladder, climbed.band)


def stamp_of(read: ReadPosition, date: str) -> Stamp:
    """Title, table, and where the sheet's numbers are from; the same on every paper."""
    position = read.file.position
    block = title_block(position)
    survives, plays = _survival(read)
    return Stamp(
        title=block.title,
        table=block.table,
        doubt=block.doubt,
        numbers=_numbers(position),
        survives=survives,
        plays=plays,
        date=date,
        engine=stunline.__version__,
    )


def _numbers(position: Position) -> str:
    own = position.coefficients
    told = f"sliding {own.sliding_friction:.3g}, rolling {own.rolling_resistance:.3g}"
    profile = position.table.cloths[position.cloth].coefficients
    return told if own == profile else f"{told}, the file’s own coefficients"


def _survival(read: ReadPosition) -> tuple[str, str]:
    """How often the file's own strike comes to the same, and what that was found from."""
    file = read.file
    try:
        found = setting_survival(file.position, file.plan)
    except UnsolvableShotError:  # a ladder whose rungs can be played without it
        return "", ""
    low, high = (100.0 * share for share in found.interval)
    counted = f"{found.kept} of {found.plays} computed plays"
    pace = "" if file.ladder is None else f" at {pace_of(file.position, file.plan):.2f} m/s"
    told = f"{counted}{pace} come to the same (95 %: {low:.0f} to {high:.0f})"
    return f"{survival_words(found)}.", told


def _as_input(error: StunlineError) -> InputError:
    if isinstance(error, InputError):
        return error
    assert isinstance(error, UnsolvableShotError)
    return InputError([error.fault], error.source)
