"""Sheets as one PDF: a page a position, with a contents page before several."""

from __future__ import annotations

import re
from collections.abc import Sequence
from importlib.resources import files

from stunline.drawing.svg import svg
from stunline.drawing.theme import PAPER
from stunline.drawing.typesetting import typeset
from stunline.paper.sheet_format import Format
from stunline.paper.sheet_page import SheetPage, pictures, values

BOOKLET_TITLE = "Practice sheets"
_PAGES = re.compile(rb"<</Type/Pages/Count (\d+)")


def sheets_pdf(pages: Sequence[SheetPage], form: Format) -> bytes:
    """The PDF.

    On ordinary print each sheet is one page; the template takes the first of its arrangements
    that fits (see ``templates/sheet.typ``).
    """
    drawn = {
        name: svg(drawing, PAPER, embed_font=False)
        for number, page in enumerate(pages, 1)
        for name, drawing in pictures(page, number).items()
    }
    filled = {
        "title": pages[0].stamp.title if len(pages) == 1 else BOOKLET_TITLE,
        "format": form.values(),
        "sheets": [values(page, number) for number, page in enumerate(pages, 1)],
    }
    template = files("stunline.paper") / "templates" / "sheet.typ"
    return typeset(template.read_text(encoding="utf-8"), filled, drawn)


def page_count(pdf: bytes) -> int:
    """How many pages a PDF of ours has: the count at the root of its tree of pages."""
    return max(int(count) for count in _PAGES.findall(pdf))
