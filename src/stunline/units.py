"""Conversions at the edge: millimetres, inches and degrees outside, metres and radians inside.

Nothing above this module multiplies by 1000 or by π/180. Conversions to SI divide by an
exactly known number, so a value typed as 10.5 mm is the double nearest to 0.0105 m.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction

MILLIMETRES_PER_METRE = 1000.0  # exact
MILLIMETRES_PER_INCH = 25.4  # exact, the international inch
LENGTH_UNITS = ("mm", "in")

_INCH_WORDS = ("in", "inch", "inches", '"', "″")
_LENGTH = re.compile(
    r"""\s*(?P<sign>[-+−]?)\s*
        (?: (?P<whole>[0-9]{1,9}) (?:[\s-]+(?P<part>[0-9]{1,4})/(?P<of>[0-9]{1,4}))?
          | (?P<only_part>[0-9]{1,4})/(?P<only_of>[0-9]{1,4})
          | (?P<decimal>[0-9]{0,9}\.[0-9]{1,12}) )
        \s*(?P<unit>[^\W0-9]{1,20}|"|″)?\s*""",
    re.VERBOSE,
)
_MILLIMETRES_PER_INCH_EXACTLY = Fraction(254, 10)  # so that 11 5/8 in is rounded only once


def metres(length_mm: float) -> float:
    """A length in millimetres, in metres."""
    return length_mm / MILLIMETRES_PER_METRE


def millimetres(length: float) -> float:
    """A length in metres, in the millimetres that read back as the same metres.

    Plain multiplication may miss by one unit in the last place. Where a neighbour of the
    product reads back exactly it is taken; a few lengths have no such neighbour, and the
    product stands.
    """
    return _read_back(length * MILLIMETRES_PER_METRE, length, metres)


def radians(angle_degrees: float) -> float:
    """An angle in degrees, in radians."""
    return math.radians(angle_degrees)


def degrees(angle: float) -> float:
    """An angle in radians, in the degrees that read back as the same radians where any do."""
    return _read_back(math.degrees(angle), angle, radians)


def inches(length: float) -> float:
    """A length in metres, in inches."""
    return length * MILLIMETRES_PER_METRE / MILLIMETRES_PER_INCH


def inches_text(length: float, finest: int = 32) -> str:
    """A length in metres as a carpenter reads it, "11 5/8 in".

    Args:
        length: [m]
        finest: largest denominator, a power of two
    """
    parts = Fraction(round(abs(inches(length)) * finest), finest)
    whole, rest = divmod(parts, 1)
    sign = "-" if length < 0 and parts else ""
    words = [str(whole)] if whole or not rest else []
    if rest:
        words.append(f"{rest.numerator}/{rest.denominator}")
    return f"{sign}{' '.join(words)} in"


def length_from_text(text: str) -> float:
    """A length written with its unit, in millimetres: "11 5/8 in", "11.625 in", "295 mm".

    Raises:
        ValueError: the text is not a number with one of the units; the message is a short
            phrase that says which part is wrong.
    """
    match = _LENGTH.fullmatch(text)
    if match is None:
        raise ValueError("is not a length")
    unit = match["unit"]
    if unit is None:
        raise ValueError("has no unit")
    if unit != "mm" and unit not in _INCH_WORDS:
        raise ValueError(f"has the unit {unit}, which is not a unit of length here")
    amount = _amount(match)
    exact_mm = amount if unit == "mm" else amount * _MILLIMETRES_PER_INCH_EXACTLY
    return float(-exact_mm if match["sign"] in ("-", "−") else exact_mm)


def shortest(number: float) -> str:
    """A number as TOML writes it, as short as reads back the same: "10.5", "1.0"."""
    return repr(float(number))


def _amount(match: re.Match[str]) -> Fraction:
    """The unsigned number of a matched length, exactly."""
    if match["decimal"]:
        return Fraction("0" + match["decimal"])
    whole = Fraction(match["whole"] or 0)
    part, of = match["part"] or match["only_part"], match["of"] or match["only_of"]
    if part is None:
        return whole
    if int(of) == 0:
        raise ValueError("has a fraction over nothing")
    return whole + Fraction(int(part), int(of))


def _read_back(product: float, wanted: float, read: Callable[[float], float]) -> float:
    """The product or a neighbour of it, whichever ``read`` turns into the wanted value."""
    above, below = math.nextafter(product, math.inf), math.nextafter(product, -math.inf)
    for candidate in (product, above, below):
        if read(candidate) == wanted:
            return candidate
    return product
