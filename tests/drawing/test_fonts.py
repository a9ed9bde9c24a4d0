"""The shipped fonts: which letters they have, how wide texts are, what a picture carries."""

from __future__ import annotations

import io
import re
import struct
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from paper.pdf_reading import read_pdf
from stunline.drawing.marks import Anchor, Box, Drawing, Layer, Role, Size, Text
from stunline.drawing.pdf import pdf
from stunline.drawing.png import png
from stunline.drawing.svg import svg
from stunline.drawing.theme import PAPER
from stunline.drawing.typeface import (
    FAMILY,
    FURTHER_FAMILY,
    embedded_faces,
    font_families,
    font_files,
    font_folder,
    lacking,
    runs,
    text_width,
)
from stunline.drawing.typesetting import typeset

GREETINGS = ("Γειά σου", "Łódź, Ångström", "Привет, Київ", "שלום עולם", "مرحبا، لا", "Việt ★ ½ ♠")
EACH = pytest.mark.parametrize("words", GREETINGS)
BOTH = pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])
CHINESE = "斯诺克"  # no shipped font has it
DARK = 128  # of 255: a pixel that is more ink than paper


def picture(words: str, bold: bool = False, anchor: Anchor = Anchor.START) -> Drawing:
    at = {Anchor.START: 20.0, Anchor.MIDDLE: 200.0, Anchor.END: 380.0}[anchor]
    text = Text("words", Layer.TITLE, Role.TITLE, (at, 20.0), words, Size.TITLE, anchor, bold=bold)
    return Drawing((text,), Box(0, 0, 400, 60), scale=1.0, title="Words")


def inked_columns(page: pypdfium2.PdfDocument) -> tuple[float, float]:
    """From where to where a picture is inked, in its pixels."""
    grey = page[0].render(scale=96 / 72 * 4, grayscale=True).to_numpy()
    columns = (grey.reshape(grey.shape[0], grey.shape[1]) < DARK).any(axis=0).nonzero()[0]
    return columns[0] / 4, (columns[-1] + 1) / 4


@EACH
def test_no_letter_of_it_is_lacking(words: str) -> None:
    assert lacking(words) == ""


def test_a_text_with_arabic_lacks_what_the_further_family_lacks() -> None:
    assert lacking("ἄ") == "" and lacking("ب ἄ") == "ἄ"


def test_what_is_lacking_is_told_once() -> None:
    assert lacking(f"a{CHINESE}{CHINESE}b\u200b") == CHINESE


@EACH
@BOTH
@pytest.mark.parametrize("anchor", Anchor, ids=lambda anchor: anchor.value)
def test_a_text_on_paper_is_no_wider_than_measured(words: str, bold: bool, anchor: Anchor) -> None:
    drawing = picture(words, bold, anchor)
    left, right = inked_columns(pypdfium2.PdfDocument(pdf(drawing)))
    width = text_width(words, Size.TITLE.value, bold)
    start = {Anchor.START: 20.0, Anchor.MIDDLE: 200.0 - width / 2, Anchor.END: 380.0 - width}
    # [P] a letter's ink may leave its box by a pixel.
    assert left >= start[anchor] - 1 and right <= start[anchor] + width + 1
    # And it is all there; of an Arabic letter the widest form was measured.
    assert right - left > 0.65 * width


@EACH
def test_words_can_be_found_in_the_pdf(words: str) -> None:
    found = pypdfium2.PdfDocument(pdf(picture(words)))[0].get_textpage().get_text_range()
    # Arabic comes back by its letters, whatever order a reader of the PDF puts them in.
    assert sorted(found.replace(" ", "").strip()) == sorted(words.replace(" ", ""))


@EACH
def test_bold_is_bolder_in_a_png(words: str) -> None:
    regular, bold = (
        np.asarray(Image.open(io.BytesIO(png(picture(words, bold), PAPER))).convert("L"))
        for bold in (False, True)
    )
    assert (255.0 - bold).sum() > 1.1 * (255.0 - regular).sum()


def test_arabic_and_hebrew_are_set_in_one_family() -> None:
    assert [family.split(",")[0] for family, _ in runs("a ب 1")] == [f"'{FURTHER_FAMILY}'"]
    assert [words for _, words in runs("a ★ b")] == ["a ", "★", " b"]


def test_words_in_two_families_come_back_whole() -> None:
    root = ElementTree.fromstring(svg(picture("Pot ★ & <run>"), PAPER))
    text = root.find(".//{http://www.w3.org/2000/svg}text")
    assert text is not None and "".join(text.itertext()) == "Pot ★ & <run>"


def test_a_picture_carries_only_the_ranges_that_it_shows() -> None:
    # [X] one face for each style and range used
    assert embedded_faces([("Red 7", False)]).count("@font-face") == 1
    assert embedded_faces([("Red 7", False), ("W", True)]).count("@font-face") == 2
    assert embedded_faces([("Łódź", False)]).count("@font-face") == 2
    assert embedded_faces([]) == ""


def test_a_letter_belongs_to_one_range_of_a_family() -> None:
    faces = embedded_faces([(words, False) for words in (*GREETINGS, "aب1éاΓЖ½", "ἄ①")])
    by_family: dict[str, list[set[int]]] = {}
    for family, css in re.findall(r"font-family:'([^']+)'.*?unicode-range:([^}]+)}", faces):
        runs_of = [run.removeprefix("U+").partition("-") for run in css.split(",")]
        codes = {
            code
            for first, _, last in runs_of
            for code in range(int(first, 16), int(last or first, 16) + 1)
        }
        by_family.setdefault(family, []).append(codes)
    assert set(by_family) == {FAMILY, FURTHER_FAMILY}
    for ranges in by_family.values():
        assert len(ranges) > 2
        assert all(one.isdisjoint(two) for one, two in combinations(ranges, 2))


def test_figures_are_all_as_wide() -> None:
    for bold in (False, True):
        assert len({text_width(figure, 1.0, bold) for figure in "0123456789"}) == 1


def test_marks_without_width_take_none() -> None:
    # [S] Unicode: U+0301 combines with its letter, U+200B is a place where a line may break
    assert text_width("e\u0301", 1.0) == text_width("e\u200b", 1.0) == text_width("e", 1.0)


def test_every_family_has_its_files() -> None:
    assert font_families() == [FAMILY, FURTHER_FAMILY]
    assert len(font_files()) == 4
    assert all(file.startswith(font_folder()) for file in font_files())


def names_in(file: str) -> dict[int, str]:
    """The names that a TTF gives itself. [S] OpenType specification, the "name" table"""
    data = Path(file).read_bytes()
    (tables,) = struct.unpack_from(">H", data, 4)
    entries = [struct.unpack_from(">4sLLL", data, 12 + 16 * n) for n in range(tables)]
    start = next(offset for tag, _, offset, _ in entries if tag == b"name")
    count, storage = struct.unpack_from(">HH", data, start + 2)
    found = {}
    for number in range(count):
        *_, ident, length, offset = struct.unpack_from(">6H", data, start + 6 + 12 * number)
        raw = data[start + storage + offset : start + storage + offset + length]
        found[ident] = raw.decode("utf-16-be")
    return found


@pytest.mark.parametrize("file", font_files(), ids=lambda file: Path(file).stem)
def test_cut_down_fonts_carry_names_of_their_own_and_their_licence(file: str) -> None:
    names = names_in(file)
    family, full, for_printers = names[1], names[4], names[6]
    assert family in font_families() and full.startswith(family)
    # What the licences reserve or ask to leave out.
    for reserved in ("Lato", "Bitstream", "Vera", "Arev", "Bah", "DejaVu"):
        assert reserved not in family + full + for_printers
    assert "Copyright" in names[0]
    assert "SIL Open Font License" in names[13] or "Permission is hereby granted" in names[13]


@EACH
@BOTH
def test_a_pdf_holds_no_font_but_the_shipped_ones(words: str, bold: bool) -> None:
    (page,) = read_pdf(pdf(picture(words, bold)))
    assert page.fonts
    assert all("StunlineSans" in name and inside for name, inside in page.fonts.items())


@EACH
@BOTH
def test_a_page_of_words_is_set_in_the_shipped_fonts_too(words: str, bold: bool) -> None:
    weight = "bold" if bold else "regular"
    data = typeset(f'#text(weight: "{weight}", data.words)', {"words": words})
    (page,) = read_pdf(data)
    assert all("StunlineSans" in name and inside for name, inside in page.fonts.items())
    assert any("Bold" in name for name in page.fonts) is bold


def test_a_letter_that_is_lacking_shows_as_a_box() -> None:
    left, right = inked_columns(pypdfium2.PdfDocument(pdf(picture(CHINESE))))
    assert right - left > len(CHINESE) * Size.TITLE.value / 4
