"""Print the record sheet of gauging: set-ups, what to do, lines to write on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import stunline
from stunline.calibration.record_file import ReadRecord, parse_open_record, read_open_record
from stunline.calibration.record_writing import new_record
from stunline.equipment.based_on import STANDARD
from stunline.errors import Fault, InputError
from stunline.paper.record_sheet import entries, record_sheet_pdf
from stunline.paper.sheet import page_count
from stunline.paper.sheet_format import format_of
from stunline.tasks.write_whole import check_ending, check_folder, write_whole

OPTION = "-o"
ENDING = ".pdf"
BLANK = "gauging"  # the name of a sheet that is of no record yet


@dataclass(frozen=True, slots=True)
class PrintedRecord:
    """A record sheet.

    Attributes:
        read: the record
        plays: how many stand on it
        pdf: the sheet
    """

    read: ReadRecord
    plays: int
    pdf: bytes

    def lines(self, path: str) -> Iterator[str]:
        """What ``stunline gauge sheet`` prints."""
        pages = page_count(self.pdf)
        count = f"{self.plays} shot{'s' if self.plays > 1 else ''}"
        yield f"{path} written: {count}, {pages} page{'s' if pages > 1 else ''}."
        for fault in self.read.faults:
            yield f"Left out: {fault.what} ({fault.given})."

    def write(self, path: str) -> None:
        """Write it, whole or not at all.

        Raises:
            InputError: the file can't be written.
        """
        write_whole(self.pdf, path, OPTION)


def own_path(file: str | None, output: str | None) -> str:
    """Where the PDF goes: as asked, or into the current folder.

    Raises:
        InputError: another ending than .pdf, or a folder that isn't there.
    """
    path = output or f"{BLANK if file is None else Path(file).stem}-record{ENDING}"
    check_ending(path, (ENDING,), "record sheets are written as PDF only", path, OPTION)
    check_folder(path, OPTION)
    return path


def print_record(
    file: str | None,
    full: bool = False,
    table: str | None = None,
    paper: str = "a4",
    large_print: bool = False,
    date: str = "",
) -> PrintedRecord:
    """The sheet of a record's shots that are still to be measured; without a file of the menu's.

    Args:
        full: of the menu, the dozen instead of three
        table: of the menu's, a shipped table or a table file

    Raises:
        InputError: the record can't be read, or holds no shot; no such table.
    """
    if file is None:
        read = parse_open_record(new_record(full, table or STANDARD))
    else:
        read = read_open_record(file)
    form = format_of(paper, large_print)
    plays = entries(read.record)
    if not plays:
        raise InputError([*read.faults, _no_shot()], file or "")
    pdf = record_sheet_pdf(read.record, plays, form, date, stunline.__version__)
    return PrintedRecord(read, len(plays), pdf)


def _no_shot() -> Fault:
    return Fault(
        "there is no shot in this record to print",
        given="no [[measured]] that can be read",
        allowed="one [[measured]] or more, each with its shot",
        remedy="stunline gauge new FILE writes one to start from",
    )
