"""The strip: a ruler of the thing that changes, whose bands say what each value does."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from stunline.drawing.labels import ring_radius, ringed_number
from stunline.drawing.marks import (
    Anchor,
    Box,
    Circle,
    Drawing,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Role,
    Size,
    Text,
)
from stunline.drawing.narrow_bands import (
    NarrowWords,
    StripRows,
    bands_top,
    legend_words_at,
    rulers_height,
    strip_height,
    strip_rows,
)
from stunline.drawing.page import PIXELS_PER_MM, SCREEN, Medium, sheet_margin
from stunline.drawing.strip_layout import (
    BAND_HEIGHT,
    HEADING_ROW,
    LEGEND_GAP,
    LEGEND_ROW,
    NARROW_ROW,
    RULER_ROW,
    RUNG_ROW,
    UNIT_ROOM,
    WORDS_GAP,
    SecondRuler,
    Strip,
    StripMark,
    StripPlace,
    size_inside,
    spread,
)
from stunline.drawing.typeface import CAPITAL_HEIGHT, text_width

TICK, SMALL_TICK = 8.0, 4.0  # [px]
RUNG_RADIUS = 4.0  # [px]
RUNG_UP = 7.0  # from the bottom of the rungs' row to their marks [px]
LABEL_DOWN = 4.0  # from the top of the rungs' row to the middle of their labels [px]
WORDS_UP = 3.0  # free below the rows of words above the bands [px]
LEADER_DOWN, LEADER_INTO = 8.0, 6.0  # from the words' middle, and into the band [px]
FIGURE_GAP = 54.0  # least distance of two figures of the ruler [px]
STEPS = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0,
         100.0, 200.0, 500.0)  # fmt: skip
SMALL_STEPS = 5  # small ticks to a figure


def strip_marks(strip: Strip, origin: Point, scale: float, width: float) -> Iterator[Mark]:
    """The strip's marks.

    Args:
        strip: what it shows
        origin: its top left corner [mm]
        scale: of the drawing that it stands in [px mm⁻¹]
        width: [px]
    """
    place = StripPlace(strip, origin, scale, width)
    top = bands_top(strip, width)
    yield _text(place, "strip-title", Role.SHEET_TEXT, 0.0, 9.0, strip.title, bold=True)
    rows = strip_rows(strip, width)
    yield from _bands(place, top, rows)
    yield from _rungs(place, top, rows)
    yield from _ruler(place, top + BAND_HEIGHT)
    if strip.second is not None:
        yield from _second_ruler(place, strip.second, top + BAND_HEIGHT + RULER_ROW)
    yield from _legend(place, top + BAND_HEIGHT + rulers_height(strip), rows)


def drawing_of_strip(
    strip: Strip, width: float = 960.0, name: str = "strip", medium: Medium = SCREEN
) -> Drawing:
    """The strip as a drawing of its own, at full size: one millimetre is one of paper.

    Args:
        strip: what it shows
        width: of the strip, without the margin round it [px]
        name: goes before every id in the SVG
        medium: gives the pixel's size; the margin is a sheet's with full furniture
    """
    scale = PIXELS_PER_MM / medium.pixel
    height, margin = strip_height(strip, width) / scale, sheet_margin(medium) / scale
    return Drawing(
        marks=tuple(strip_marks(strip, (0.0, height), scale, width)),
        view=Box(0.0, 0.0, width / scale, height).grown(margin),
        scale=scale,
        title=strip.title,
        description=strip_words(strip),
        name=name,
        pixel=medium.pixel,
    )


def strip_words(strip: Strip) -> str:
    """The bands in a sentence, for people who cannot see them."""
    said = (
        f"{_figure(band.start, 0.01)} to {_figure(band.end, 0.01)} {strip.unit}: {band.words}"
        for band in strip.bands
    )
    return f"{strip.title}. " + "; ".join(said) + "."


def _bands(place: StripPlace, top: float, rows: StripRows) -> Iterator[Mark]:
    for number, band in enumerate(place.strip.bands, 1):
        left, right = place.across(band.start), place.across(band.end)
        role = Role.BAND_SHADED if number % 2 else Role.BAND_PLAIN
        corners = ((left, top), (right, top), (right, top + BAND_HEIGHT), (left, top + BAND_HEIGHT))
        yield Polygon(f"band-{number}", Layer.STRIP, role, tuple(place.at(*c) for c in corners))
        size = size_inside(place, band)
        if size is not None:
            across, height = (left + right) / 2, top + BAND_HEIGHT / 2
            how = (band.words, size, Anchor.MIDDLE)
            yield _text(place, f"band-{number}-words", Role.BAND_TEXT, across, height, *how)
    for narrow in rows.narrow:
        yield from _narrow(place, top, narrow, is_letter=bool(rows.legend))


def _narrow(place: StripPlace, top: float, narrow: NarrowWords, is_letter: bool) -> Iterator[Mark]:
    """Words or a letter above a narrow band, with the leader down to it."""
    name = f"band-{narrow.number}-words"
    height = top - (narrow.row + 0.5) * NARROW_ROW - WORDS_UP
    how = (narrow.words, Size.SMALL, Anchor.MIDDLE, is_letter)
    yield _text(place, name, Role.SHEET_TEXT, narrow.middle, height, *how)
    start, end = narrow.reach
    knee = min(max(narrow.foot, start + WORDS_GAP), end - WORDS_GAP)
    if is_letter:
        knee = narrow.middle
    ends = place.at(knee, height + LEADER_DOWN), place.at(narrow.foot, top + LEADER_INTO)
    yield Line(f"{name}-leader", Layer.STRIP, Role.LEADER, *ends)


def _legend(place: StripPlace, top: float, rows: StripRows) -> Iterator[Mark]:
    """What the letters of narrow bands stand for."""
    for entry in rows.legend:
        height = top + LEGEND_GAP + (entry.row + 0.5) * LEGEND_ROW
        name, across = f"legend-{entry.letter}", entry.across
        yield _text(place, name, Role.SHEET_TEXT, across, height, entry.letter, bold=True)
        words = across + legend_words_at(entry.letter)
        yield _text(place, f"{name}-words", Role.SHEET_TEXT, words, height, entry.words)


def _rungs(place: StripPlace, top: float, rows: StripRows) -> Iterator[Mark]:
    """The rungs above the bands: labels or ringed numbers, moved apart where they must."""
    marks = sorted(place.strip.marks, key=lambda mark: mark.value)
    widths = [_rung_width(mark) for mark in marks]
    middles = spread([place.across(mark.value) for mark in marks], widths, place.width)
    for number, (mark, middle) in enumerate(zip(marks, middles, strict=True), 1):
        across, height = place.across(mark.value), HEADING_ROW + RUNG_ROW - RUNG_UP
        name, foot = f"mark-{number}", _stem_foot(rows, across, top)
        if mark.number:
            ring = ring_radius(mark.number, Size.SMALL)
            centre = (middle, height - RUNG_RADIUS / 2)
            ends = place.at(centre[0], centre[1] + ring), place.at(across, foot)
            yield Line(f"{name}-stem", Layer.STRIP, Role.RULER, *ends)
            yield from ringed_number(
                name, mark.number, place.at(*centre), Size.SMALL, place.scale, Layer.STRIP
            )
            continue
        ends = place.at(across, height), place.at(across, foot)
        yield Line(f"{name}-stem", Layer.STRIP, Role.RULER, *ends)
        centre, radius = place.at(across, height), RUNG_RADIUS / place.scale
        yield Circle(name, Layer.STRIP, Role.RUNG_MARK, centre, radius)
        how = (mark.label, Size.SMALL, Anchor.MIDDLE, True)
        yield _text(place, f"{name}-label", Role.SHEET_TEXT, middle, HEADING_ROW + LABEL_DOWN, *how)


def _rung_width(mark: StripMark) -> float:
    """[px]"""
    if mark.number:
        return 2 * ring_radius(mark.number, Size.SMALL)
    return text_width(mark.label, Size.SMALL.value, bold=True)


def _stem_foot(rows: StripRows, across: float, top: float) -> float:
    """Where a rung's stem ends: at the bands, or above a letter that stands in its way. [px]"""
    covered = rows.legend and any(
        words.reach[0] - 1 < across < words.reach[1] + 1 for words in rows.narrow
    )
    return top - NARROW_ROW - WORDS_UP if covered else top


def _ruler(place: StripPlace, top: float) -> Iterator[Mark]:
    strip = place.strip
    per_unit = (place.width - UNIT_ROOM) / (strip.end - strip.start)
    step = next((step for step in STEPS if step * per_unit >= FIGURE_GAP), STEPS[-1])
    small = step / SMALL_STEPS
    ends = (place.across(strip.start), place.across(strip.end))
    base, far = (place.at(across, top) for across in ends)
    yield Line("ruler-base", Layer.STRIP, Role.RULER, base, far)
    yield _text(place, "ruler-unit", Role.SHEET_NOTE, 0.0, top + 19.0, strip.unit)
    # A thousandth of a step: figures at the very ends count as inside.
    slack = small / 1000
    for count in range(ceil((strip.start - slack) / small), floor((strip.end + slack) / small) + 1):
        value, is_figure = count * small, count % SMALL_STEPS == 0
        across = place.across(value)
        yield Line(
            f"ruler-{count}",
            Layer.STRIP,
            Role.RULER,
            place.at(across, top),
            place.at(across, top + (TICK if is_figure else SMALL_TICK)),
        )
        if is_figure:
            words = _figure(value, step)
            middle = place.clamp_words(words, across)
            yield _text(
                place, f"ruler-{count}-figure", Role.SHEET_TEXT, middle, top + 19.0, words,
                Size.SMALL, Anchor.MIDDLE,
            )  # fmt: skip


def _second_ruler(place: StripPlace, second: SecondRuler, top: float) -> Iterator[Mark]:
    yield _text(place, "second-unit", Role.SHEET_NOTE, 0.0, top + 16.0, second.unit)
    inside = [
        (value, label)
        for value, label in second.places
        if place.strip.start <= value <= place.strip.end
    ]
    for number, (value, label) in enumerate(inside, 1):
        across = place.across(value)
        yield Line(
            f"second-{number}",
            Layer.STRIP,
            Role.RULER,
            place.at(across, top),
            place.at(across, top + SMALL_TICK),
        )
        middle = place.clamp_words(label, across)
        yield _text(
            place, f"second-{number}-figure", Role.SHEET_NOTE, middle, top + 16.0, label,
            Size.SMALL, Anchor.MIDDLE,
        )  # fmt: skip


def _figure(value: float, step: float) -> str:
    decimals = 0 if step >= 1 else 1 if step >= 0.1 else 2 if step >= 0.01 else 3
    text = f"{value:.{decimals}f}"
    return text.replace("-", "−") if float(text) else text.lstrip("-")


def _text(
    place: StripPlace,
    name: str,
    role: Role,
    across: float,
    middle: float,
    words: str,
    size: Size = Size.SMALL,
    anchor: Anchor = Anchor.START,
    bold: bool = False,
) -> Text:
    at = place.at(across, middle + size.value * CAPITAL_HEIGHT / 2)
    return Text(name, Layer.STRIP, role, at, words, size, anchor, bold)
