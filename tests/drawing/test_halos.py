"""Words keep a ground free round them in a PDF as well, and no letter loses ink to the next."""

from __future__ import annotations

import numpy as np

from paper.pdf_reading import picture_of, read_pdf
from stunline.drawing.halos import halos_below
from stunline.drawing.marks import Box, Drawing, Layer, Line, Mark, Role, Text
from stunline.drawing.pdf import pdf
from stunline.drawing.svg import svg
from stunline.drawing.theme import PAPER

WORDS = "fill tilt 100 & <b>"
DARK = 128  # of 255
AT = (120.0, 340.0)  # far from the origin: the ground must follow the words
LINE = Line("line", Layer.PATHS, Role.ROLLING, (100.0, 341.0), (200.0, 341.0))


def drawing(role: Role, *below: Mark) -> Drawing:
    words = Text("words", Layer.LABELS, role, AT, WORDS)
    return Drawing((*below, words), Box(100.0, 300.0, 200.0, 360.0), 96 / 25.4, "Words")


def dark(one: Drawing) -> np.ndarray:
    return np.asarray(picture_of(pdf(one), 0, 200.0).convert("L")) < DARK


def test_a_halo_takes_no_ink_from_the_letters() -> None:
    with_halo, without = dark(drawing(Role.LABEL)), dark(drawing(Role.SHEET_TEXT))
    assert without.sum() > 500
    assert (with_halo == without).mean() > 0.9999


def test_a_halo_parts_a_line_under_the_words() -> None:
    crossed, clear = (dark(drawing(role, LINE)) for role in (Role.SHEET_TEXT, Role.LABEL))
    assert clear.sum() < crossed.sum() - 100


def test_the_words_are_found_once() -> None:
    (page,) = read_pdf(pdf(drawing(Role.LABEL, LINE)))
    assert [words.text for words in page.words] == [WORDS]
    assert page.copied.strip() == WORDS


def test_a_picture_without_halos_stays_as_it_is() -> None:
    plain = svg(drawing(Role.SHEET_TEXT), PAPER, embed_font=False)
    assert halos_below(plain) == plain
