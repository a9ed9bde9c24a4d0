"""Lengths as they are set: a tape in whole millimetres, a tip in tenths, inches in fractions."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor
from typing import Literal

from stunline.units import inches_text, metres

FINEST_INCH = 32  # the smallest part on a carpenter's tape is 1/32 in


@dataclass(frozen=True, slots=True)
class Lengths:
    """Words for lengths in a file's units.

    Attributes:
        units: "mm", or "in" for fractions with the millimetres behind them
    """

    units: Literal["mm", "in"] = "mm"

    def __call__(self, length_mm: float) -> str:
        """ "10.5 mm"; "13/32 in (10.5 mm)"."""
        if self.units == "mm":
            return f"{tenths(length_mm)} mm"
        return f"{fraction(length_mm)} in ({tenths(length_mm)} mm)"

    def fine(self, length_mm: float) -> str:
        """Where only one unit has room: "11.8 mm", "15/32 in"."""
        return f"{length_mm:.1f} mm" if self.units == "mm" else f"{fraction(length_mm)} in"

    def whole(self, length_mm: float) -> str:
        """Where a tenth means nothing: "148 mm", "5 7/8 in"."""
        return f"{length_mm:.0f} mm" if self.units == "mm" else inches_text(metres(length_mm), 8)


def tenths(length_mm: float) -> str:
    """ "150", "123.8"."""
    return in_decimals(length_mm, 1)


def in_decimals(length_mm: float, decimals: int) -> str:
    """With so many decimals at most, none where the length is whole; a true minus sign."""
    words = f"{length_mm:.{decimals}f}"
    if decimals:
        words = words.rstrip("0").rstrip(".")
    return "0" if words == "-0" else words.replace("-", "−")


def whole_mm(length_mm: float) -> str:
    """As a tape is read, halves upwards: "150", "124"."""
    return f"{floor(length_mm + 0.5)}"


def fraction(length_mm: float) -> str:
    """In inches, "11 5/8", without the unit."""
    return inches_text(metres(length_mm), FINEST_INCH).removesuffix(" in").replace("-", "−")
