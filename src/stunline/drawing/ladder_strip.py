"""The strip of a ladder: its bands and rungs on a ruler of the thing that varies."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stunline.drawing.story import MILLIMETRES
from stunline.drawing.strip_layout import SecondRuler, Strip, StripBand, StripMark

if TYPE_CHECKING:
    from stunline.shot.ladder import Ladder

MOST_DECIMALS = 2  # of a rung's label

# What varies → the strip's title, unit, and SI into that unit.
_RULERS: dict[str, tuple[str, str, float]] = {
    "pace": ("What each pace does", "m/s", 1.0),
    "height": ("What each height does", "mm", MILLIMETRES),
    "side": ("What each side does", "mm", MILLIMETRES),
    "thickness": ("What each thickness does", "part", 1.0),
    "distance": ("What each distance does", "mm", MILLIMETRES),
}


def strip_of_ladder(
    ladder: Ladder, second: SecondRuler | None = None, numbered: bool = False
) -> Strip | None:
    """The strip of a ladder over numbers; None over tables and cloths, which have no ruler.

    Args:
        ladder: its rungs and bands
        second: the values in another unit
        numbered: whether the rungs' marks carry ringed numbers as on the plan
    """
    if ladder.vary not in _RULERS or not ladder.bands:
        return None
    title, unit, factor = _RULERS[ladder.vary]
    bands = tuple(
        StripBand(band.start * factor, band.end * factor, words)
        for band, words in zip(ladder.bands, _band_words(ladder), strict=True)
    )
    marks = tuple(
        StripMark(value, label, str(number) if numbered else "")
        for number, (value, label) in enumerate(
            zip(_numbers(ladder), rung_labels(ladder), strict=True), 1
        )
        if value is not None
    )
    values = [mark.value for mark in marks]  # solved ones may lie outside every band
    start, end = min([bands[0].start, *values]), max([bands[-1].end, *values])
    return Strip(title, unit, start, end, bands, marks, second)


def rung_labels(ladder: Ladder) -> list[str]:
    """Each rung's value as it stands on the plan: all with the decimals that one needs."""
    numbers = _numbers(ladder)
    known = [number for number in numbers if number is not None]
    decimals = next(
        (few for few in range(MOST_DECIMALS) if all(_is_round(n, few) for n in known)),
        MOST_DECIMALS,
    )
    return [
        str(rung.value) if number is None else f"{number:.{decimals}f}".replace("-", "−")
        for number, rung in zip(numbers, ladder.rungs, strict=True)
    ]


def _is_round(number: float, decimals: int) -> bool:
    # Half a unit of the last decimal that is ever shown.
    return abs(number - round(number, decimals)) < 0.5 * 10.0**-MOST_DECIMALS


def _numbers(ladder: Ladder) -> list[float | None]:
    """Every rung's value in the ruler's unit; None where it is a name."""
    if ladder.vary not in _RULERS:
        return [None] * len(ladder.rungs)
    factor = _RULERS[ladder.vary][2]
    numbers: list[float | None] = []
    for rung in ladder.rungs:
        value = rung.value
        if value is None:  # solved for; the strike tells what came of it
            value = rung.shot.strike.height if ladder.vary == "height" else rung.shot.strike.pace
        numbers.append(float(value) * factor)
    return numbers


def _band_words(ladder: Ladder) -> list[str]:
    """Each band's outcome, with the side of the ball where the neighbour says the same."""
    outcomes = [band.outcome for band in ladder.bands]
    words = [one.words() for one in outcomes]
    around = ["", *words, ""]
    return [
        f"{said}, {one.on}" if one.on and said in (around[number], around[number + 2]) else said
        for number, (one, said) in enumerate(zip(outcomes, words, strict=True))
    ]
