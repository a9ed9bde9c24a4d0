"""Conversions at the edge. Expected numbers by hand unless a property."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stunline import units


@pytest.mark.parametrize(
    ("text", "length_mm"),
    [
        ("11 5/8 in", 295.275),  # 11.625 × 25.4, by hand
        ("11-5/8 in", 295.275),
        ("11.625 in", 295.275),
        ("5/8in", 15.875),
        ("1 inch", 25.4),
        ('3/8"', 9.525),
        ("-1/4 in", -6.35),
        ("−0.25 inches", -6.35),
        ("+10.5 mm", 10.5),
        (".5 mm", 0.5),
    ],
)
def test_lengths_in_words(text: str, length_mm: float) -> None:
    assert units.length_from_text(text) == length_mm


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "is not a length"),
        ("five mm", "is not a length"),
        ("1/2/3 in", "is not a length"),
        ("1e3 mm", "is not a length"),
        ("12", "has no unit"),
        ("12 ft", "has the unit ft"),
        ("3 1/0 in", "over nothing"),
        ("٣ mm", "is not a length"),
        ("9" * 400 + " mm", "is not a length"),
    ],
)
def test_words_that_are_no_length(text: str, reason: str) -> None:
    with pytest.raises(ValueError) as raised:
        units.length_from_text(text)
    assert reason in str(raised.value)


def test_typed_millimetres_are_the_nearest_metres() -> None:
    assert units.metres(10.5) == 0.0105
    assert units.metres(3050.0) == 3.05


@given(st.floats(-4000, 4000))
def test_millimetres_of_a_file_come_back(length_mm: float) -> None:
    length = units.metres(length_mm)
    assert units.metres(units.millimetres(length)) == length


@given(st.floats(-360, 360))
def test_degrees_of_a_file_come_back(angle_degrees: float) -> None:
    angle = units.radians(angle_degrees)
    assert units.radians(units.degrees(angle)) == angle


@given(st.integers(-4000, 4000))
def test_inches_text_reads_back(thirty_seconds: int) -> None:
    length = thirty_seconds / 32 * 0.0254  # an inch is exactly 25.4 mm
    read = units.metres(units.length_from_text(units.inches_text(length)))
    assert read == pytest.approx(length, abs=1e-12)


def test_inches_text() -> None:
    assert units.inches_text(0.295275) == "11 5/8 in"
    assert units.inches_text(-0.00635) == "-1/4 in"
    assert units.inches_text(0.0) == "0 in"


@given(st.text(max_size=30))
def test_any_text_is_a_length_or_a_value_error(text: str) -> None:
    try:
        assert math.isfinite(units.length_from_text(text))
    except ValueError as error:
        assert str(error)
