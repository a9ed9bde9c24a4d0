"""What the writer writes: well-formed, escaped, with ids of its own, the same every time."""

from __future__ import annotations

import os
import re
import struct
from pathlib import Path
from xml.etree import ElementTree

import pytest

from drawing.pictures import PICTURES, ladder_picture, shot_picture
from stunline.drawing import PAPER, SCREEN_DARK, SCREEN_LIGHT, fragment, png, svg
from stunline.drawing.marks import Box, Circle, Drawing, Layer, Role
from stunline.drawing.svg import HATCH_FROM
from stunline.drawing.theme import THEMES

GALLERY = Path(__file__).parent / "gallery"
EACH = pytest.mark.parametrize("name", PICTURES)
LARGEST = 60_000  # bytes of a picture with its fonts inside
NAMESPACE = "{http://www.w3.org/2000/svg}"


@EACH
def test_it_is_as_it_was_when_last_looked_at(name: str) -> None:
    """Stored from this code, after looking. UPDATE_GALLERY=1 stores anew: then look again."""
    drawn = svg(PICTURES[name](), SCREEN_LIGHT, embed_font=False)
    stored = GALLERY / f"{name}.svg"
    if os.environ.get("UPDATE_GALLERY"):
        stored.parent.mkdir(exist_ok=True)
        stored.write_text(drawn, encoding="utf-8")
    assert drawn == stored.read_text(encoding="utf-8")


@EACH
@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES.keys())
def test_it_is_well_formed_and_no_id_stands_twice(name: str, theme: object) -> None:
    root = ElementTree.fromstring(svg(PICTURES[name](), theme))  # type: ignore[arg-type]
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))


@EACH
def test_every_reference_finds_its_id(name: str) -> None:
    text = svg(PICTURES[name](), SCREEN_DARK)
    ids = set(re.findall(r'\bid="([^"]+)"', text))
    assert set(re.findall(r"url\(#([^)]+)\)", text)) <= ids
    labelled = re.search(r'aria-labelledby="([^"]+)"', text)
    assert labelled and set(labelled[1].split()) <= ids


def test_words_come_back_as_they_were_given() -> None:
    root = ElementTree.fromstring(svg(ladder_picture(), SCREEN_LIGHT))
    assert root.findtext(f"{NAMESPACE}title") == 'Red & white, <"half-ball">'
    texts = {element.text for element in root.iter(f"{NAMESPACE}text")}
    assert {'Red & white, <"half-ball">', "misses & runs on"} <= texts


@EACH
def test_a_layer_alone_is_what_stands_in_the_whole(name: str) -> None:
    drawing = PICTURES[name]()
    whole = svg(drawing, PAPER)
    for layer in Layer:
        if drawing.of_layer(layer):
            part = fragment(drawing, layer, PAPER)
            ElementTree.fromstring(part)
            assert part in whole


@EACH
def test_numbers_are_rounded_to_a_hundredth_of_a_millimetre(name: str) -> None:
    text = svg(PICTURES[name](), SCREEN_LIGHT, embed_font=False)
    without_patterns = re.sub(r"<svg[^>]*>|<pattern.*?</pattern>", "", text)
    # Places and lengths; sizes that are set in pixels may have one decimal more.
    sizes = re.compile(r' (?:font-size|stroke-width|stroke-dasharray)="[^"]*"')
    assert re.findall(r"\d\.\d{4,}|\de[-+]?\d|nan|inf\b", without_patterns) == []
    assert re.findall(r"\d\.\d{3,}", sizes.sub("", without_patterns)) == []


def test_letters_at_full_size_are_as_large_as_they_should_be() -> None:
    # [X] 12 px of 1/96 inch are 3.175 mm
    assert 'font-size="3.175"' in svg(PICTURES["face"](), PAPER)


@EACH
def test_it_stands_alone_and_stays_small(name: str) -> None:
    text = svg(PICTURES[name](), SCREEN_LIGHT)
    assert text.count("data:font/woff2;base64,") == 2  # the plainest letters, regular and bold
    assert "http" not in text.replace("http://www.w3.org/2000/svg", "")
    assert len(text.encode()) < LARGEST


def test_one_millimetre_of_the_drawing_is_the_scale_in_pixels() -> None:
    drawing = shot_picture()
    root = ElementTree.fromstring(svg(drawing, SCREEN_LIGHT))
    shown = [float(number) for number in root.get("viewBox", "").split()]
    assert float(root.get("width", "0")) / shown[2] == pytest.approx(drawing.scale, rel=1e-4)
    assert float(root.get("height", "0")) / shown[3] == pytest.approx(drawing.scale, rel=1e-4)


@pytest.mark.parametrize(("diameter", "hatched"), [(HATCH_FROM, False), (HATCH_FROM + 1, True)])
def test_only_balls_large_enough_are_hatched(diameter: float, hatched: bool) -> None:
    ball = Circle("ball", Layer.BALLS, Role.BALL_RED, (0.0, 0.0), diameter / 2)
    drawing = Drawing((ball,), Box(-20, -20, 20, 20), scale=1.0, title="One ball")
    assert ("<pattern" in svg(drawing, SCREEN_LIGHT)) is hatched


def test_a_png_has_the_drawings_size() -> None:
    drawing = shot_picture()
    data = png(drawing, PAPER, zoom=1)
    # PNG specification: signature, then the header chunk with width and height.
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", data[16:24])
    assert (width, height) == pytest.approx((drawing.width, drawing.height), abs=1)
