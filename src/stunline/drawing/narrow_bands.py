"""Words of bands that are too narrow for them.

They stand above their bands, in a few rows, with leaders, clear of the rungs' stems.
Where that is not possible for all of them, each such band carries a letter instead, and a
legend below the ruler says what the letters stand for; so no band is without words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from string import ascii_lowercase

from stunline.drawing.marks import Size
from stunline.drawing.strip_layout import (
    BAND_HEIGHT,
    HEADING_ROW,
    LEGEND_GAP,
    LEGEND_ROW,
    NARROW_ROW,
    RULER_ROW,
    RUNG_ROW,
    SECOND_ROW,
    WORDS_GAP,
    Strip,
    StripBand,
    StripPlace,
    size_inside,
    spread,
)
from stunline.drawing.typeface import text_width

SHIFT, SHIFT_STEP = 90, 6  # how far such words may stand aside, and in which steps [px]
LEGEND_BETWEEN = 18.0  # between entries of the legend [px]
LETTER_GAP = 5.0  # between a letter and its words in the legend [px]


@dataclass(frozen=True, slots=True)
class NarrowWords:
    """Words or a letter above a band, and where their leader meets the band. [px]

    Attributes:
        number: of the band, from 1
        words: as they stand there
        middle: along the strip
        foot: where the leader meets the band
        row: counted upwards from the bands
        half: half the words' width with half the gap to a neighbour
    """

    number: int
    words: str
    middle: float
    foot: float
    row: int
    half: float

    @property
    def reach(self) -> tuple[float, float]:
        """Its left and right end, with half the gap to a neighbour. [px]"""
        return self.middle - self.half, self.middle + self.half


@dataclass(frozen=True, slots=True)
class LegendEntry:
    """What a letter stands for, and where: its left end and its row. [px]"""

    letter: str
    words: str
    across: float
    row: int


@dataclass(frozen=True, slots=True)
class StripRows:
    """What a strip needs above and below its bands."""

    narrow: tuple[NarrowWords, ...]
    legend: tuple[LegendEntry, ...]

    @property
    def above(self) -> int:
        """Rows of words above the bands."""
        return 1 + max((words.row for words in self.narrow), default=-1)

    @property
    def below(self) -> int:
        """Rows of the legend."""
        return 1 + max((entry.row for entry in self.legend), default=-1)


@lru_cache(maxsize=8)  # asked for by the height, by the bands and by the rungs of one drawing
def strip_rows(strip: Strip, width: float) -> StripRows:
    """Where the words of narrow bands stand in a strip of that width. [px]"""
    place = StripPlace(strip, (0.0, 0.0), 1.0, width)
    bands = [
        (number, band)
        for number, band in enumerate(strip.bands, 1)
        if size_inside(place, band) is None
    ]
    led = _on_leaders(place, bands)
    if led is not None:
        return StripRows(tuple(led), ())
    letters = _letters(bands)
    return StripRows(tuple(_lettered(place, bands, letters)), tuple(_legend(letters, width)))


def bands_top(strip: Strip, width: float) -> float:
    """Pixels from the strip's top to its bands."""
    rungs = RUNG_ROW if strip.marks else 0.0
    return HEADING_ROW + rungs + strip_rows(strip, width).above * NARROW_ROW


def rulers_height(strip: Strip) -> float:
    """Of the rulers below the bands. [px]"""
    return RULER_ROW + (SECOND_ROW if strip.second else 0.0)


def strip_height(strip: Strip, width: float) -> float:
    """How high it comes out at that width. [px]"""
    rows = strip_rows(strip, width).below
    legend = LEGEND_GAP + rows * LEGEND_ROW if rows else 0.0
    return bands_top(strip, width) + BAND_HEIGHT + rulers_height(strip) + legend


def _on_leaders(
    place: StripPlace, bands: Sequence[tuple[int, StripBand]]
) -> list[NarrowWords] | None:
    """Every narrow band's words above it; None as soon as one finds no room."""
    stems = [place.across(mark.value) for mark in place.strip.marks]
    found: list[NarrowWords] = []
    for number, band in bands:
        free = (
            words
            for words in _places(place, number, band)
            if _has_room(words, found, stems, place.width)
        )
        first = next(free, None)
        if first is None:
            return None
        found.append(first)
    return found


def _places(place: StripPlace, number: int, band: StripBand) -> Iterator[NarrowWords]:
    """The places of a band's words, the lowest and nearest first."""
    left, right = place.across(band.start), place.across(band.end)
    half = text_width(band.words, Size.SMALL.value) / 2 + WORDS_GAP / 2
    quarter = (right - left) / 4
    for row in range(place.strip.narrow_rows):
        for shift in sorted(range(-SHIFT, SHIFT + 1, SHIFT_STEP), key=abs):
            middle = (left + right) / 2 + shift
            # The leader meets the band as near under the words as the band is wide.
            foot = min(max(middle, left + quarter), right - quarter)
            yield NarrowWords(number, band.words, middle, foot, row, half)


def _has_room(
    words: NarrowWords, found: Sequence[NarrowWords], stems: Sequence[float], width: float
) -> bool:
    start, end = words.reach
    if start < 0 or end > width or any(start < stem < end for stem in stems):
        return False
    for other in found:
        other_start, other_end = other.reach
        if other.row == words.row and start < other_end and other_start < end:
            return False
        if other.row < words.row and other_start < words.foot < other_end:
            return False
        if other.row > words.row and start < other.foot < end:
            return False
    return True


def _letters(bands: Sequence[tuple[int, StripBand]]) -> dict[str, str]:
    """A letter for each different outcome of the narrow bands: a to z, then a1, b1 and so on."""
    letters: dict[str, str] = {}
    for _, band in bands:
        turn, index = divmod(len(letters), len(ascii_lowercase))
        letters.setdefault(band.words, ascii_lowercase[index] + (str(turn) if turn else ""))
    return letters


def _lettered(
    place: StripPlace, bands: Sequence[tuple[int, StripBand]], letters: dict[str, str]
) -> Iterator[NarrowWords]:
    """The letters in one row above the bands, moved apart as little as needed."""
    signs = [letters[band.words] for _, band in bands]
    feet = [(place.across(band.start) + place.across(band.end)) / 2 for _, band in bands]
    widths = [text_width(sign, Size.SMALL.value, bold=True) for sign in signs]
    middles = spread(feet, widths, place.width)
    rows = zip(bands, signs, feet, widths, middles, strict=True)
    for (number, _), sign, foot, width, middle in rows:
        yield NarrowWords(number, sign, middle, foot, 0, width / 2 + WORDS_GAP / 2)


def _legend(letters: dict[str, str], width: float) -> Iterator[LegendEntry]:
    """One after the other, in as many rows as needed."""
    across, row = 0.0, 0
    for words, letter in letters.items():
        own = legend_words_at(letter) + text_width(words, Size.SMALL.value)
        if across > 0 and across + own > width:
            across, row = 0.0, row + 1
        yield LegendEntry(letter, words, across, row)
        across += own + LEGEND_BETWEEN


def legend_words_at(letter: str) -> float:
    """From a letter's left end to that of its words. [px]"""
    return text_width(letter, Size.SMALL.value, bold=True) + LETTER_GAP
