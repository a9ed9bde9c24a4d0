"""A drawing as a PDF page of its own size: one pixel of it is 1/96 inch of paper."""

from __future__ import annotations

from stunline.drawing.marks import Drawing
from stunline.drawing.svg import svg
from stunline.drawing.theme import PAPER, Theme
from stunline.drawing.typesetting import typeset

_PAGE = """\
#set document(title: data.title)
#set page(width: data.width * 1mm, height: data.height * 1mm, margin: 0mm)
#picture("drawing", width: 100%, alt: data.description)
"""
_MM_PER_PIXEL = 25.4 / 96.0


def pdf(drawing: Drawing, theme: Theme = PAPER) -> bytes:
    """The drawing on a page that is just as large, at its true scale.

    Lines stay lines and letters letters: it can be enlarged, searched and copied from.
    """
    values = {
        "title": drawing.title,
        "description": drawing.description or drawing.title,
        "width": drawing.width * _MM_PER_PIXEL,
        "height": drawing.height * _MM_PER_PIXEL,
    }
    return typeset(_PAGE, values, {"drawing": svg(drawing, theme, embed_font=False)})
