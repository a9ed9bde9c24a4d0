"""Reads a PDF back: paths as they are drawn, words with their boxes, the page as a picture.

Everything is in millimetres of the page, ``x`` to the right and ``y`` up from the bottom left
corner. Paths come from the drawing operators (pikepdf), words from the text extraction that a
reader's own program would do (pypdfium2), so a figure on paper is held against what a printer
is told, not against what the writer meant.
"""

from __future__ import annotations

import io
from collections.abc import Iterator

import pikepdf
import pypdfium2
from PIL import Image

from paper.pdf_operators import Matrix, Reader, State
from paper.pdf_page import (
    MM_PER_POINT,
    Box,
    Page,
    Path,
    Point,
    Round,
    Words,
    box_of,
    direction,
    fitted_circle,
    overlap,
    samples,
)
from paper.pdf_words import words_of

__all__ = [
    "MM_PER_POINT",
    "Box",
    "Page",
    "Path",
    "Point",
    "Round",
    "Words",
    "box_of",
    "direction",
    "fitted_circle",
    "overlap",
    "picture_of",
    "read_pdf",
    "samples",
]


def read_pdf(data: bytes) -> list[Page]:
    """Every page of a PDF."""
    with pikepdf.open(io.BytesIO(data)) as file:
        document = pypdfium2.PdfDocument(data)
        try:
            return [_page(page, document[number]) for number, page in enumerate(file.pages)]
        finally:
            document.close()


def picture_of(data: bytes, page: int = 0, dots_per_inch: float = 96.0) -> Image.Image:
    """A page as a picture in pixels, page 0 the first."""
    document = pypdfium2.PdfDocument(data)
    try:
        return document[page].render(scale=dots_per_inch / 72.0).to_pil()
    finally:
        document.close()


def _page(page: pikepdf.Page, words_page: pypdfium2.PdfPage) -> Page:
    left, bottom, right, top = (float(n) * MM_PER_POINT for n in page.mediabox)
    whole = Box(0.0, 0.0, right - left, top - bottom)
    start: Matrix = (MM_PER_POINT, 0.0, 0.0, MM_PER_POINT, -left, -bottom)
    reader = Reader(State(start, whole))
    reader.read(page, page.resources)
    words = tuple(words_of(words_page))
    copied = words_page.get_textpage().get_text_range()
    fonts = dict(_fonts(page.resources))
    return Page(whole.right, whole.top, tuple(reader.paths), words, fonts, reader.images, copied)


def _fonts(resources: pikepdf.Object) -> Iterator[tuple[str, bool]]:
    """Fonts of the page and of its forms, with whether their files are inside."""
    for font in resources.get("/Font", pikepdf.Dictionary()).values():
        below = font.get("/DescendantFonts", [font])[0]
        described = below.get("/FontDescriptor", pikepdf.Dictionary())
        inside = any(f"/FontFile{kind}" in described for kind in ("", "2", "3"))
        yield str(font.get("/BaseFont", "/Type3")), inside
    for form in resources.get("/XObject", pikepdf.Dictionary()).values():
        if "/Resources" in form:
            yield from _fonts(form["/Resources"])
