"""Kinds of line without colour, letters that can be read, one accent, one hatching a ball."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree

import pytest

from drawing.pictures import PICTURES
from stunline.drawing.marks import Box, Drawing, Layer, Line, Role, Text
from stunline.drawing.svg import svg
from stunline.drawing.theme import (
    LETTER_ROLES,
    LINE_KINDS,
    PAPER,
    SCREEN_DARK,
    SCREEN_LIGHT,
    THEMES,
    WEAVES,
    Theme,
)

ALL = pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES.keys())
READABLE = 4.5  # [S] Web Content Accessibility Guidelines 2.1, criterion 1.4.3, level AA
TOLD_APART = 1.3  # [P] the least ratio of widths that a draughtsman gives to two kinds of line


def luminance(ink: str) -> float:
    """Relative luminance of an sRGB ink, as the guidelines define it."""
    channels = [int(ink[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    red, green, blue = (
        channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
        for channel in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, two: str) -> float:
    low, high = sorted((luminance(one), luminance(two)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_of_black_on_white_is_21() -> None:
    # [X] (1 + 0.05)/(0 + 0.05)
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)


@ALL
@pytest.mark.parametrize("role", LETTER_ROLES, ids=lambda role: role.value)
def test_letters_can_be_read_on_their_ground(theme: Theme, role: Role) -> None:
    assert contrast(theme.styles[role].fill, theme.ground(role)) >= READABLE


@dataclass(frozen=True)
class Drawn:
    """A line as the SVG says it: width and dash in pixels, and whether it is twin hairlines."""

    width: float
    dash: tuple[float, ...]
    twin: bool


def drawn_lines(theme: Theme) -> dict[str, Drawn]:
    """Every kind of line, one below the other, written and read back without its ink."""
    marks = tuple(
        Line(f"{role.value}", Layer.PATHS, role, (0.0, 10.0 * row), (100.0, 10.0 * row))
        for row, role in enumerate(LINE_KINDS)
    )
    drawing = Drawing(marks, Box(0, -10, 100, 10 * len(marks)), 1.0, "Lines", name="kinds")
    found: dict[str, Drawn] = {}
    styles: dict[str, dict[str, str]] = {}
    _gather(ElementTree.fromstring(svg(drawing, theme)), {}, styles)
    for role in LINE_KINDS:
        own = styles[f"kinds-{role.value}"]
        dash = tuple(float(part) for part in own.get("stroke-dasharray", "").split())
        twin = f"kinds-{role.value}-core" in styles
        found[role.value] = Drawn(float(own["stroke-width"]), dash, twin)
    return found


def _gather(
    element: ElementTree.Element, above: dict[str, str], found: dict[str, dict[str, str]]
) -> None:
    """Each element's attributes by its id, those of its groups included, as SVG hands them down."""
    own = {**above, **element.attrib}
    if "id" in element.attrib:
        found[element.attrib["id"]] = own
    for child in element:
        _gather(child, {name: value for name, value in own.items() if name != "id"}, found)


def told_apart(one: Drawn, two: Drawn) -> bool:
    """By twin hairlines, by dash or by width, each by as much as the eye needs."""
    if one.twin != two.twin or len(one.dash) != len(two.dash):
        return True
    lengths = zip((one.width, *one.dash), (two.width, *two.dash), strict=True)
    return any(max(pair) / min(pair) >= TOLD_APART for pair in lengths)


@ALL
def test_every_pair_of_kinds_of_line_differs_without_colour_in_the_svg(theme: Theme) -> None:
    drawn = drawn_lines(theme)
    assert len(drawn) == len(LINE_KINDS) == len(set(LINE_KINDS))
    alike = [
        (one, two) for one, two in combinations(drawn, 2) if not told_apart(drawn[one], drawn[two])
    ]
    assert alike == []


def test_lines_that_only_differ_in_ink_would_be_found() -> None:
    assert not told_apart(Drawn(1.0, (), False), Drawn(1.2, (), False))
    assert not told_apart(Drawn(1.0, (5.0, 4.0), False), Drawn(1.0, (5.5, 4.4), False))
    assert told_apart(Drawn(1.0, (5.0, 4.0), False), Drawn(1.0, (7.0, 4.0), False))


@ALL
@pytest.mark.parametrize("name", PICTURES)
def test_every_word_of_a_picture_is_of_a_role_that_can_be_read(theme: Theme, name: str) -> None:
    """In the SVG itself: the ink of the letters against the ground that they stand on."""
    styles: dict[str, dict[str, str]] = {}
    drawing = PICTURES[name]()
    _gather(ElementTree.fromstring(svg(drawing, theme)), {}, styles)
    texts = [mark for mark in drawing.marks if isinstance(mark, Text)]
    assert texts
    for text in texts:
        assert text.role in LETTER_ROLES
        ink = styles[f"{drawing.name}-{text.id}"]["fill"]
        assert contrast(ink, theme.ground(text.role)) >= READABLE


@ALL
@pytest.mark.parametrize("ball", WEAVES, ids=lambda role: role.value)
def test_a_letter_can_be_read_on_a_ball_without_its_plate(theme: Theme, ball: Role) -> None:
    # Below the size from which balls are hatched the letter stands on the bare tint.
    ink, tint = theme.styles[Role.BALL_LETTER].fill, theme.styles[ball].fill
    assert contrast(ink, tint) >= READABLE


@ALL
def test_every_role_has_a_style(theme: Theme) -> None:
    assert set(theme.styles) == set(Role)


@pytest.mark.parametrize("theme", [SCREEN_LIGHT, SCREEN_DARK], ids=lambda theme: theme.name)
def test_the_accent_is_for_the_tangent_line_alone(theme: Theme) -> None:
    accented = {
        role
        for role, style in theme.styles.items()
        if theme.inks.accent in (style.stroke, style.fill)
    }
    assert accented == {Role.TANGENT, Role.TANGENT_NOTE}


def is_grey(ink: str) -> bool:
    return len({ink[1:3], ink[3:5], ink[5:7]}) == 1


def test_paper_has_no_ink_but_greys() -> None:
    inks = [style.stroke for style in PAPER.styles.values()]
    inks += [style.fill for style in PAPER.styles.values()]
    inks += [style.hatch.ink for style in PAPER.styles.values() if style.hatch]
    assert [ink for ink in inks if ink and not is_grey(ink)] == []


@pytest.mark.parametrize("name", PICTURES)
def test_paper_prints_in_greys(name: str) -> None:
    written = svg(PICTURES[name](), PAPER, embed_font=False)
    inks = set(re.findall(r'(?:fill|stroke)="([^"]+)"', written))
    colours = {ink for ink in inks if ink != "none" and not ink.startswith("url(#")}
    assert colours and all(re.fullmatch("#[0-9A-F]{6}", ink) and is_grey(ink) for ink in colours)


def test_no_two_balls_share_a_hatching() -> None:
    assert len(set(WEAVES.values())) == len(WEAVES) == 6


def test_widths_and_dashes_are_the_same_in_every_theme() -> None:
    for role in Role:
        shapes = {
            (style.width, style.dash, style.core)
            for style in (theme.styles[role] for theme in THEMES.values())
        }
        assert len(shapes) == 1, role
