"""How results stand in a terminal: the heading, wrapped sentences, columns, lengths."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence

from stunline.shot.position_file import PositionFile
from stunline.shot.words import doubt_words

WIDTH = 96  # characters of a line
_INDENT = "  "
_GAP = "  "  # between columns
# A number and its unit stay on one line.
_NUMBER_AND_UNIT = re.compile(r"(?<=[0-9]) (?=(?:mm|in|m/s)\b)")
_UNBROKEN = "\u00a0"
_MM_PER_INCH = 25.4


def heading(file: PositionFile) -> list[str]:
    """The title; the table and its profile, with how sure it is."""
    position = file.position
    cloth = position.table.cloths[position.cloth]
    own = "" if position.coefficients == cloth.coefficients else " with the file's own coefficients"
    return [
        position.title or "Untitled position",
        *wrapped(f"{position.table.title}, {cloth.name} cloth{own}: {doubt_words(cloth)}"),
    ]


def wrapped(text: str, indent: str = "", hanging: str = "") -> list[str]:
    """A sentence in lines of at most ``WIDTH`` characters, the indents included."""
    lines = textwrap.wrap(
        _NUMBER_AND_UNIT.sub(_UNBROKEN, text),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=hanging,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(_UNBROKEN, " ") for line in lines]


def columns(rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """Rows of cells under one another; the last cell is wrapped within its own column.

    A row of empty cells is an empty line.
    """
    rows = list(rows)
    widths = [max(map(len, cells)) for cells in zip(*(row[:-1] for row in rows), strict=True)]
    hanging = " " * (len(_INDENT) + sum(widths) + len(_GAP) * len(widths))
    for row in rows:
        cells = [cell.ljust(width) for cell, width in zip(row, widths, strict=False)]
        text = _GAP.join([*cells, row[-1]])
        yield from wrapped(text, _INDENT, hanging) if text.strip() else [""]


def length_words(file: PositionFile, length_mm: float) -> str:
    """A length in the unit that the file asks for."""
    return f"{length_mm:.0f} mm" if file.units == "mm" else f"{length_mm / _MM_PER_INCH:.2f} in"


def place_words(file: PositionFile, from_cushions_mm: Mapping[str, float]) -> str:
    """ "712 mm from the left and 1484 mm from the top cushion"."""
    places = [
        f"{length_words(file, distance)} from the {name}"
        for name, distance in from_cushions_mm.items()
    ]
    return " and ".join(places) + " cushion"


def fine_length_words(file: PositionFile, length_mm: float, further: int = 0) -> str:
    """A length with the digits that the tip's height is set by, and ``further`` ones."""
    if file.units == "mm":
        return f"{length_mm:.{1 + further}f} mm"
    return f"{length_mm / _MM_PER_INCH:.{3 + further}f} in"


def height_words(file: PositionFile, height_mm: float, further: int = 0) -> str:
    """ "10.5 mm above centre"."""
    if height_mm == 0.0:
        return "at centre height"
    where = "above" if height_mm > 0.0 else "below"
    return f"{fine_length_words(file, abs(height_mm), further)} {where} centre"


def side_words(file: PositionFile, side_mm: float, further: int = 0) -> str:
    """ "8.0 mm right", "no side"."""
    if side_mm == 0.0:
        return "no side"
    where = "right" if side_mm > 0.0 else "left"
    return f"{fine_length_words(file, abs(side_mm), further)} {where}"
