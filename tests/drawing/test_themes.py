"""Kinds of line without colour, letters that can be read, one accent, one hatching a ball."""

from __future__ import annotations

from itertools import combinations

import pytest

from stunline.drawing.marks import Role
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


@ALL
@pytest.mark.parametrize(
    "pair", list(combinations(LINE_KINDS, 2)), ids=lambda pair: f"{pair[0].value}-{pair[1].value}"
)
def test_kinds_of_line_differ_without_colour(theme: Theme, pair: tuple[Role, Role]) -> None:
    one, two = (theme.styles[role] for role in pair)
    low, high = sorted((one.width, two.width))
    assert one.dash != two.dash or (one.core > 0) != (two.core > 0) or high / low >= TOLD_APART


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


def test_paper_prints_in_greys() -> None:
    inks = [style.stroke for style in PAPER.styles.values()]
    inks += [style.fill for style in PAPER.styles.values()]
    inks += [style.hatch.ink for style in PAPER.styles.values() if style.hatch]
    assert [ink for ink in inks if ink and len({ink[1:3], ink[3:5], ink[5:7]}) > 1] == []


def test_no_two_balls_share_a_hatching() -> None:
    assert len(set(WEAVES.values())) == len(WEAVES) == 6


def test_widths_and_dashes_are_the_same_in_every_theme() -> None:
    for role in Role:
        shapes = {
            (style.width, style.dash, style.core)
            for style in (theme.styles[role] for theme in THEMES.values())
        }
        assert len(shapes) == 1, role
