"""How far a shot may be off, in words: brackets beside numbers, and sentences below them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from stunline.equipment.coefficient_scales import KINDS
from stunline.equipment.doubt import Doubt
from stunline.shot.band import Interval, ShotBand
from stunline.shot.ladder_band import LadderBand
from stunline.shot.outcome import Outcome
from stunline.shot.position_file import PositionFile
from stunline.shot.sentences import capital
from stunline.shot.words import with_article
from stunline.tasks.lines import length_words

_MEANINGS = {kind.name: kind.name.replace("_", " ") for kind in KINDS}
_WORTH_SAYING = 0.05  # of the tables; an interval of 90 % leaves so many out at either end [-]
_MOST_OTHERS = 4  # told by name; the rest is summed up


def whose_words(doubt: Doubt) -> str:
    """ "90 % of tables like this, never gauged", "90 % of the doubt gauged 2026-11-29 leaves"."""
    if doubt.gauging is None:
        return "90 % of tables like this, never gauged"
    return f"90 %, gauged {doubt.gauging.date}".rstrip()


@dataclass(frozen=True, slots=True)
class Brackets:
    """ " (80 to 95)" behind a number, or nothing where its last digit is not in doubt.

    Attributes:
        file: for its units
        band: None for no brackets at all
    """

    file: PositionFile
    band: ShotBand | None

    def number(self, name: str, digits: int, times: float = 1.0) -> str:
        """Of a read-out with so many decimals."""
        return self._told(name, lambda value: f"{times * value:.{digits}f}")

    def size(self, name: str, digits: int) -> str:
        """The same without its sign."""
        one = self._interval(name)
        if one is None:
            return ""
        crosses = one.low < 0.0 < one.high
        ends = sorted((abs(one.low), abs(one.high)))
        return between(0.0 if crosses else ends[0], ends[1], lambda value: f"{value:.{digits}f}")

    def length(self, name: str) -> str:
        """Of a read-out in mm."""
        return self._told(name, lambda value: length_words(self.file, value))

    def ways(self, name: str, digits: int, words: tuple[str, str]) -> str:
        """Of an angle whose sign is told in words, the negative one's first."""
        one = self._interval(name)
        if one is None:
            return ""
        if one.low * one.high >= 0.0:
            return self.size(name, digits)
        low, high = f"{-one.low:.{digits}f}° {words[0]}", f"{one.high:.{digits}f}° {words[1]}"
        return f" ({low} to {high})"

    def from_cushion(self, cushion: str) -> str:
        """Of the white's rest from that cushion."""
        if self.band is None:
            return ""
        table = self.file.position.table
        _, right, far, left = table.words.cushions
        axis = "x" if cushion in (left, right) else "y"
        one = self.band.rest_from_cushions.get(axis)
        if one is None:
            return ""
        across = 1000.0 * (table.width if axis == "x" else table.length)
        low, high = one.low, one.high
        if cushion in (right, far):
            low, high = across - high, across - low
        return between(low, high, lambda value: length_words(self.file, value))

    def _interval(self, name: str) -> Interval | None:
        return None if self.band is None else self.band.readouts.get(name)

    def _told(self, name: str, words: Callable[[float], str]) -> str:
        one = self._interval(name)
        return "" if one is None else between(one.low, one.high, words)


def between(low: float, high: float, words: Callable[[float], str]) -> str:
    """ " (80 to 95)": the unit stands with the number before; "" when both read alike."""
    first, last = (_without_unit(words(value)) for value in (low, high))
    return "" if first == last else f" ({first} to {last})"


def _without_unit(words: str) -> str:
    return words.split(" ")[0]


def doubt_sentences(band: ShotBand, shown: str = "In brackets") -> list[str]:
    """What the brackets are, and on how many of the tables something else happens.

    Args:
        shown: as what the 90 % are shown
    """
    said = [
        _basis(band.doubt, band.tables, shown),
        " ".join([*_elsewhere(band), *_both_ways(band)]),
    ]
    return [one for one in said if one]


def _basis(doubt: Doubt, tables: int, shown: str) -> str:
    if not doubt.names:
        return "The file states every coefficient itself, so nothing is in doubt."
    if doubt.gauging is None:
        said = "; it was never gauged, so they differ as tables that are played on do"
    else:
        date = f" {doubt.gauging.date}" if doubt.gauging.date else ""
        said = f", gauged{date} from {doubt.gauging.measurements} measurements"
    exact = [_MEANINGS[name] for name in doubt.stated]
    held = f" Taken as exact, as the file states it: {', '.join(exact)}." if exact else ""
    return f"{shown}: 90 % of {tables} tables as this one may be{said}.{held}"


def _elsewhere(band: ShotBand) -> Iterator[str]:
    """What is met on how many of the tables."""
    if band.tables == 1:
        return
    if not band.others:
        yield f"On all {band.tables} {_with_the_pot(band.usual)}."
        return
    shown, left = band.others[:_MOST_OTHERS], band.others[_MOST_OTHERS:]
    parts = [f"on {count} {_different(other, band.usual)}" for other, count in shown]
    if left:
        parts.append(f"on {sum(count for _, count in left)} something else happens")
    start = f"On {band.same} of {band.tables} {band.usual.sentence()}"
    yield "; ".join([start, *parts]) + "."


def _with_the_pot(usual: Outcome) -> str:
    """ "the black goes in and the white meets red 7 on its left side"."""
    if usual.pot is None or not usual.pot_made:
        return usual.sentence()
    return f"{with_article(usual.pot.ball)} goes in and {usual.sentence()}"


def _both_ways(band: ShotBand) -> Iterator[str]:
    """Where the doubt decides whether the white follows or comes back, on how many it does."""
    back, forward = band.bent
    if min(back, forward) < _WORTH_SAYING * band.tables:
        return
    white = with_article(band.usual.cue_ball)
    yield f"{capital(white)}'s way turns back on {back} of {band.tables}, forward on {forward}."


def _different(other: Outcome, usual: Outcome) -> str:
    """What is different: only the missed pot where everything else is the same."""
    alike = (other.object_ball, other.meets, other.on, other.in_off, other.cushions)
    same = alike == (usual.object_ball, usual.meets, usual.on, usual.in_off, usual.cushions)
    if same and other.pot is not None and other.pot_made is False:
        return f"{with_article(other.pot.ball)} misses the {other.pot.pocket} pocket"
    return other.sentence()


def step_lines(file: PositionFile, band: LadderBand, names: Iterable[str]) -> list[tuple[str, str]]:
    """ "1.20 m/s to 1.70 m/s", "182 mm (150 to 210)"."""
    labels = list(names)
    found: list[tuple[str, str]] = []
    for number, step in enumerate(band.steps):
        if step.moved_mm is None:
            continue
        moved = length_words(file, step.moved_mm)
        if step.moved is not None:
            moved += between(step.moved.low, step.moved.high, lambda mm: length_words(file, mm))
        found.append((f"{labels[number]} to {labels[number + 1]}", moved))
    return found
