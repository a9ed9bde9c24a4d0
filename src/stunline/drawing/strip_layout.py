"""What a strip shows, and where its words stand: pixels along and down from its top left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stunline.drawing.marks import Point, Size
from stunline.drawing.typeface import text_width

HEADING_ROW = 26.0  # title above everything [px]
NARROW_ROW = 18.0  # a row of words of bands too narrow for them [px]
LEGEND_ROW = 18.0  # of what the letters of narrow bands stand for [px]
LEGEND_GAP = 8.0  # above the legend [px]
RUNG_ROW = 26.0  # the rungs' labels and marks [px]
BAND_HEIGHT = 42.0  # [px]
RULER_ROW = 30.0  # ticks and figures [px]
SECOND_ROW = 28.0  # of the second ruler [px]
WORDS_MARGIN = 8.0  # free on either side of words in their band [px]
WORDS_GAP = 8.0  # between neighbouring words in a row [px]
MOST_NARROW_ROWS = 3  # of words of narrow bands
UNIT_ROOM = 46.0  # left of the ruler, for its unit [px]


@dataclass(frozen=True, slots=True)
class StripBand:
    """A stretch of values with one outcome, in the strip's unit."""

    start: float
    end: float
    words: str


@dataclass(frozen=True, slots=True)
class StripMark:
    """A rung on the strip, in the strip's unit; a ringed number takes its label's place."""

    value: float
    label: str
    number: str = ""


@dataclass(frozen=True, slots=True)
class SecondRuler:
    """The same values in another unit: its name, and places to be marked.

    Each place is a value in the strip's own unit and the figure to stand there.
    """

    unit: str
    places: tuple[tuple[float, str], ...]


@dataclass(frozen=True, slots=True)
class Strip:
    """What a strip shows.

    Attributes:
        title: "What each pace does"
        unit: of every value here, as written beside the ruler
        start, end: of the ruler
        bands: in order, without gaps where every value was tried
        marks: the rungs
        second: another ruler under the first, or None
        narrow_rows: most rows of words of narrow bands; with more there is a legend
    """

    title: str
    unit: str
    start: float
    end: float
    bands: tuple[StripBand, ...]
    marks: tuple[StripMark, ...] = ()
    second: SecondRuler | None = None
    narrow_rows: int = MOST_NARROW_ROWS


@dataclass(frozen=True, slots=True)
class StripPlace:
    """Where a strip stands: pixels from its top left corner into the drawing's millimetres."""

    strip: Strip
    origin: Point
    scale: float
    width: float

    def at(self, across: float, down: float) -> Point:
        """A point in pixels from the strip's top left corner. [mm]"""
        return self.origin[0] + across / self.scale, self.origin[1] - down / self.scale

    def across(self, value: float) -> float:
        """Pixels from the left edge to that value."""
        part = (value - self.strip.start) / (self.strip.end - self.strip.start)
        return UNIT_ROOM + min(max(part, 0.0), 1.0) * (self.width - UNIT_ROOM)

    @property
    def left(self) -> float:
        """Where the ruler begins. [px]"""
        return UNIT_ROOM

    def clamp_words(self, words: str, middle: float, bold: bool = False) -> float:
        """The middle moved so that the words stay between the edges. [px]"""
        half = text_width(words, Size.SMALL.value, bold) / 2
        return min(max(middle, half), self.width - half)


def spread(middles: Sequence[float], widths: Sequence[float], room: float) -> list[float]:
    """The middles of words in a row, moved as little as needed so that none overlap.

    Neighbours that collide join into a block that stands at its members' mean place
    (least squares with kept order); the whole is then kept between 0 and ``room``.
    """
    offsets, total = [], 0.0
    for number, width in enumerate(widths):
        offsets.append(total + width / 2)
        total += width + (WORDS_GAP if number + 1 < len(widths) else 0.0)
    blocks: list[tuple[float, int]] = []
    for middle, offset in zip(middles, offsets, strict=True):
        block = (middle - offset, 1)
        while blocks and blocks[-1][0] > block[0]:
            start, count = blocks.pop()
            both = count + block[1]
            block = ((start * count + block[0] * block[1]) / both, both)
        blocks.append(block)
    starts = [start for start, count in blocks for _ in range(count)]
    return [
        min(max(start, 0.0), room - total) + offset
        for start, offset in zip(starts, offsets, strict=True)
    ]


def size_inside(place: StripPlace, band: StripBand) -> Size | None:
    """The larger size in which the band's words fit inside it, if any does."""
    room = place.across(band.end) - place.across(band.start) - 2 * WORDS_MARGIN
    return next(
        (size for size in (Size.BODY, Size.SMALL) if text_width(band.words, size.value) <= room),
        None,
    )
