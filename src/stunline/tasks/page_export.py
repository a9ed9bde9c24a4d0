"""Make a picture or a page to print of a document."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stunline.errors import InputError
from stunline.tasks.page_read import read_document, without_line
from stunline.tasks.read_position import ReadPosition
from stunline.tasks.save_names import clean_name

PDF = "application/pdf"
_MEDIA_TYPES = {".svg": "image/svg+xml", ".png": "image/png", ".pdf": PDF}
Report = Callable[[str, float], None]  # what is being done, and how much of it is


@dataclass(frozen=True, slots=True)
class Export:
    """A file for the browser to keep.

    Attributes:
        content: of the file
        name: that it is offered under
        media_type: of the content
    """

    content: bytes
    name: str
    media_type: str


@dataclass(frozen=True, slots=True)
class ExportWish:
    """What is to be made.

    Attributes:
        kind: "svg", "png", "pdf" for the plan; "sheet", "fullsize" for pages
        paper: "a4", "a3", "letter"
        large_print: letters of 14 pt and more, on a sheet
        date: as it is to stand on it
    """

    kind: str
    paper: str = "a4"
    large_print: bool = False
    date: str = ""


def export(document: Mapping[str, Any], wish: ExportWish, folder: Path, report: Report) -> Export:
    """Make it.

    Args:
        folder: the library's, for table files

    Raises:
        InputError: the document is not in order.
        UnsolvableShotError: no strike does what it asks for.
    """
    read = read_document(document, folder)
    report("playing the shot", 0.1)
    with without_line():
        content, media_type, ending = _make(read, wish, report)
    return Export(content, _name(read.file.title or "position", ending), media_type)


def _make(read: ReadPosition, wish: ExportWish, report: Report) -> tuple[bytes, str, str]:
    """Content, media type and how the name ends."""
    if wish.kind == "sheet":
        return _sheet(read, wish, report), PDF, " sheet.pdf"
    if wish.kind == "fullsize":
        from stunline.tasks.print_full_size import print_full_size

        report("setting the full-size pages", 0.3)
        return print_full_size(read, wish.paper).pages.pdf, PDF, " full size.pdf"
    return _plan(read, wish, report)


def _sheet(read: ReadPosition, wish: ExportWish, report: Report) -> bytes:
    from stunline.tasks.print_sheet import Choices, ReadSheets, print_sheets

    report("setting the sheet", 0.3)
    paper = "letter" if wish.paper == "letter" else "a4"
    choices = Choices(paper=paper, large_print=wish.large_print, date=wish.date)
    return print_sheets(ReadSheets((read.file.title,), (read,), ()), choices).pdf


def _plan(read: ReadPosition, wish: ExportWish, report: Report) -> tuple[bytes, str, str]:
    from stunline.tasks.play_shot import play_shot
    from stunline.tasks.write_picture import is_paper, picture

    ending = f".{wish.kind}"
    drawing = play_shot(read).drawing(date=wish.date, on_paper=is_paper(ending))
    report("drawing", 0.7)
    return picture(drawing, ending), _MEDIA_TYPES[ending], ending


def _name(title: str, ending: str) -> str:
    """A file name after the title, where the title can be one."""
    try:
        return clean_name(title) + ending
    except InputError:
        return "position" + ending
