"""Pages as PDF: a template, data and pictures through typst, with the shipped fonts only.

What a user wrote reaches the page as data, never as markup: a template reads it as ``data.title``
and typst sets it letter by letter, whatever signs stand in it. Nothing is taken from the clock
or from the machine's fonts, so the same input gives the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from threading import Lock

import typst

from stunline.drawing.halos import halos_below
from stunline.drawing.typeface import font_families, font_folder

# Before every template: the fonts, the data, the pictures. Kept on one line each, so that a
# line of a diagnostic is the template's own line plus this many.
_PRELUDE = """\
#let data = json(bytes(sys.inputs.data))
#let pictures = json(bytes(sys.inputs.pictures))
#let picture(name, ..how) = image(bytes(pictures.at(name)), format: "svg", ..how)
#set document(date: none)
#set text(font: json(bytes(sys.inputs.fonts)), lang: "en", number-width: "tabular")
"""
# typst's compiler keeps its state between two runs and is not for two threads at once.
_ONE_AT_A_TIME = Lock()


def typeset(
    template: str, values: Mapping[str, object], pictures: Mapping[str, str] | None = None
) -> bytes:
    """The PDF of a template.

    Args:
        template: typst source; it sees ``data`` and ``picture(name, width: …, alt: …)``
        values: what ``data`` holds; numbers, words, lists and mappings of them
        pictures: name → SVG text; lines and letters stay lines and letters in the PDF

    Raises:
        typst.TypstError: the template itself is wrong, which no input of a user can bring about.
    """
    shown = {name: halos_below(text) for name, text in (pictures or {}).items()}
    inputs = {
        "data": json.dumps(values, ensure_ascii=False),
        "pictures": json.dumps(shown, ensure_ascii=False),
        "fonts": json.dumps(font_families()),
    }
    with _ONE_AT_A_TIME:
        pdf = _compiler().compile(
            (_PRELUDE + template).encode(), format="pdf", sys_inputs=inputs, timestamp=0
        )
    if not isinstance(pdf, bytes):
        raise AssertionError("one document is one PDF")
    return pdf


@cache
def _compiler() -> typst.Compiler:
    fonts = typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[font_folder()],
    )
    return typst.Compiler(font_paths=fonts)
