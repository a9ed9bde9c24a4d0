"""Which stroke was really played, as lines of text."""

from __future__ import annotations

from collections.abc import Iterator

from stunline.planning.stroke_ways import StrokeWay
from stunline.shot.position_file import PositionFile
from stunline.tasks.goal_words import off_words, player_words
from stunline.tasks.lines import columns, heading, wrapped
from stunline.tasks.played_stroke import PlayedResult
from stunline.tasks.played_words import (
    CANNOT_BE_TOLD,
    basis_words,
    happened_words,
    in_order,
    sentences,
    way_words,
)
from stunline.tasks.strike_words import strike_words

_PERCENT = 100.0


def played_lines(result: PlayedResult) -> Iterator[str]:
    """What ``stunline played`` prints."""
    file = result.file
    yield from heading(file)
    yield ""
    yield from columns(
        [
            ("meant", strike_words(file, result.meant.strike)),
            ("seen", happened_words(result)),
            ("player", player_words(result.found.asked.player, file)),
        ]
    )
    yield ""
    for sentence in sentences(result):
        yield from wrapped(sentence)
    yield ""
    if result.found.explained:
        yield from columns(number_rows(file, result.whole))
        yield ""
        if len(result.ways) > 1:
            yield from _ways(result)
        yield from wrapped(basis_words(result))


def number_rows(file: PositionFile, way: StrokeWay) -> Iterator[tuple[str, ...]]:
    """A row for each number: likely, its 90 % interval, the one before."""
    yield ("", "likely", "90 %", "before")
    for one in in_order(way):
        before = interval_words(file, one.name, one.before_low, one.before_high)
        if one.told:
            likely = off_words(one.name, one.value, file)
            yield (one.name, likely, interval_words(file, one.name, one.low, one.high), before)
        else:
            yield (
                one.name,
                CANNOT_BE_TOLD,
                interval_words(file, one.name, one.low, one.high),
                before,
            )


def interval_words(file: PositionFile, name: str, low: float, high: float) -> str:
    """ "4 to 19 % firm", "1.0 mm low to 5.0 mm high"."""
    first, second = off_words(name, low, file), off_words(name, high, file)
    amount, _, word = first.rpartition(" ")
    other, _, other_word = second.rpartition(" ")
    if word != other_word:
        return f"{first} to {second}"
    if low < 0.0:
        amount, other = other, amount
    return f"{amount} to {other} {word}"


def _ways(result: PlayedResult) -> Iterator[str]:
    for number, way in enumerate(result.ways, 1):
        share = f"{_PERCENT * way.share:.0f} %"
        yield from wrapped(f"Stroke {number}, {share}: {way_words(result, way)}")
        yield from columns(number_rows(result.file, way))
        yield ""
