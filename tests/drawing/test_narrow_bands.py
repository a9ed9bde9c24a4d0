"""However narrow its bands, a strip says what each of them does, without words on words."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from drawing.pictures import NARROW_STRIP, ON_A_PAGE
from drawing.words_on_plans import faults, words_of
from stunline.drawing import Strip, StripBand, StripMark, drawing_of_strip
from stunline.drawing.narrow_bands import strip_rows

WORDS = st.sampled_from(["red 2", "red 11, thin on its right", "meets nothing more", "in-off"])
CUTS = st.lists(st.floats(0.0, 1.0), max_size=14, unique=True).map(sorted)


def strip_of(cuts: list[float], words: list[str], values: list[float], numbered: bool) -> Strip:
    edges = [0.0, *cuts, 1.0]
    bands = tuple(
        StripBand(start, end, said)
        for start, end, said in zip(edges[:-1], edges[1:], words, strict=False)
    )
    marks = tuple(
        StripMark(value, f"{value:.2f}", str(number) if numbered else "")
        for number, value in enumerate(values, 1)
    )
    return Strip("What each pace does", "m/s", 0.0, 1.0, bands, marks)


@settings(max_examples=60, deadline=None)
@given(
    CUTS,
    st.lists(WORDS, min_size=15, max_size=15),
    st.lists(st.floats(0.0, 1.0), max_size=5),
    st.booleans(),
    st.floats(420.0, 960.0),
)
def test_no_band_is_without_words(
    cuts: list[float], words: list[str], values: list[float], numbered: bool, width: float
) -> None:
    strip = strip_of(cuts, words, values, numbered)
    drawing = drawing_of_strip(strip, width, medium=ON_A_PAGE)
    assert list(faults(drawing, ON_A_PAGE)) == []
    said = {one.text.id: one.text.words for one in words_of(drawing)}
    legend = {entry.letter: entry.words for entry in strip_rows(strip, width).legend}
    for number, band in enumerate(strip.bands, 1):
        own = said[f"band-{number}-words"]
        assert legend.get(own, own) == band.words


def test_bands_of_one_outcome_share_a_letter() -> None:
    # By hand: ten narrow bands say five different things, and "top cushion" is narrow as well.
    rows = strip_rows(NARROW_STRIP, 680.0)
    assert [entry.letter for entry in rows.legend] == list("abcdef")
    assert [words.words for words in rows.narrow] == [*"abcde", *"abcde", "f"]
