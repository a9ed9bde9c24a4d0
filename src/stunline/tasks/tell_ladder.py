"""A ladder as lines of text: what each value does, and between which values it does it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stunline.shot.ladder import Band
from stunline.shot.position_file import PositionFile
from stunline.shot.readouts import nearest_cushions_mm
from stunline.shot.rung import Rung
from stunline.shot.shot import MEETINGS
from stunline.shot.words import with_article
from stunline.tasks.band_words import step_lines, whose_words
from stunline.tasks.climb_ladder import LadderResult
from stunline.tasks.lines import (
    columns,
    fine_length_words,
    heading,
    height_words,
    place_words,
    side_words,
    wrapped,
)

# Digits that a narrow band may take beyond the usual ones, so that its ends differ.
_MOST_FURTHER = 3
_PACE_DIGITS = 2


def ladder_lines(result: LadderResult) -> Iterator[str]:
    """What ``stunline ladder`` prints."""
    ladder = result.ladder
    yield from heading(result.file)
    yield ""
    held = "one aim, held" if ladder.aim_held else "the aim solved again for each"
    yield from wrapped(f"The same shot with {len(ladder.rungs)} values of {ladder.vary}, {held}.")
    yield ""
    yield from columns(
        (*_rung_words(result, rung), _told(result.file, rung)) for rung in ladder.rungs
    )
    yield from _steps(result)
    if ladder.bands:
        yield ""
        yield f"What each {ladder.vary} does:"
        yield ""
        further = _further_digits(result)
        yield from columns(
            (*_span_words(result, band, further), band.outcome.sentence()) for band in ladder.bands
        )


def _steps(result: LadderResult) -> Iterator[str]:
    """From rung to rung, with what doubt leaves of it."""
    if result.band is None or not result.band.steps:
        return
    names = [_rung_words(result, rung)[0] for rung in result.ladder.rungs]
    lines = list(step_lines(result.file, result.band, names))
    if lines:
        white = with_article(result.file.position.names[0])
        yield ""
        yield from wrapped(
            f"How far {white}'s end moves from each to the next, to its next ball or its rest; in "
            f"brackets {whose_words(result.band.rungs[0].doubt)}, the same tables for both:"
        )
        yield ""
        yield from columns(lines)
    yield ""
    yield from wrapped(_alike(result, names))


def _alike(result: LadderResult, names: list[str]) -> str:
    """On how many of the tables each rung comes to what is told of it."""
    assert result.band is not None
    bands = result.band.rungs
    if all(one.same == one.tables for one in bands):
        return f"Each comes to what stands above on all {bands[0].tables} tables."
    counts = (f"{name} on {one.same}" for name, one in zip(names, bands, strict=True))
    return f"Of {bands[0].tables} tables it comes to what stands above with {', '.join(counts)}."


def _told(file: PositionFile, rung: Rung) -> str:
    text = rung.outcome.sentence() + (f": {rung.reason}" if rung.reason else "")
    return "; ".join([text, *_further(file, rung)])


def _further(file: PositionFile, rung: Rung) -> list[str]:
    """The balls that it runs into after that, and where it rests."""
    outcome, white = rung.outcome, rung.outcome.cue_ball
    told = [outcome.object_ball, outcome.meets]
    later = [
        with_article(other)
        for event in rung.shot.events
        if event.kind in MEETINGS and white in event.balls
        for other in event.balls
        if other not in (white, *told)
    ]
    balls = list(dict.fromkeys(later))
    found = [f"later meets {' and '.join(balls)}"] if balls else []
    rest = rung.shot.rest(white)
    if rest is not None:
        rests = nearest_cushions_mm(rung.shot, rest)
        found.append(f"rests {place_words(file, rests)}")
    return found


def _rung_words(result: LadderResult, rung: Rung) -> list[str]:
    """The value with its unit; one that was itself solved as it came out."""
    value, strike = rung.value, rung.shot.strike
    if isinstance(value, str):
        return [value]
    if value is None:
        value = strike.pace if result.ladder.vary == "pace" else strike.height
    if result.ladder.vary == "pace":
        return [f"{value:.{_PACE_DIGITS}f} m/s", f"{result.lengths(value):.2f} lengths"]
    return [_value_words(result, value)]


def _value_words(result: LadderResult, value: float, further: int = 0) -> str:
    """ "10.5 mm above centre", "8.0 mm left", "0.500"."""
    file, vary = result.file, result.ladder.vary
    if vary == "height":
        return height_words(file, 1000.0 * value, further)
    if vary == "side":
        return side_words(file, 1000.0 * value, further)
    if vary == "distance":
        return fine_length_words(file, 1000.0 * value, further)
    return f"{value:.{3 + further}f}"


def _span_words(result: LadderResult, band: Band, further: int) -> list[str]:
    if result.ladder.vary != "pace":
        low, high = (_value_words(result, end, further) for end in (band.start, band.end))
        number, _, unit = low.partition(" ")
        return [f"{number} to {high}" if high.endswith(f" {unit}") else f"{low} to {high}"]
    digits = _PACE_DIGITS + further
    low_lengths, high_lengths = result.lengths(band.start), result.lengths(band.end)
    return [
        f"{band.start:.{digits}f} to {band.end:.{digits}f} m/s",
        f"{low_lengths:.{digits}f} to {high_lengths:.{digits}f} lengths",
    ]


def _further_digits(result: LadderResult) -> int:
    """How many more digits the narrowest band needs for its two ends to differ."""
    narrowest = min(band.end - band.start for band in result.ladder.bands)
    usual = _usual_step(result.file, result.ladder.vary)
    if narrowest <= 0.0:
        return 0
    return min(max(math.ceil(math.log10(usual / narrowest)), 0), _MOST_FURTHER)


def _usual_step(file: PositionFile, vary: str) -> float:
    """The last digit that a value of this kind is usually shown with. SI."""
    if vary == "pace":
        return 0.01
    if vary == "thickness":
        return 0.001
    return 1e-4 if file.units == "mm" else 2.54e-5
