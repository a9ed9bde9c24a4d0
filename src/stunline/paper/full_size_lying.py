"""How fields of one length may lie along one axis of the table, and what they hold. [mm]"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from stunline.paper.full_size_region import UNDER_NOSE
from stunline.paper.full_size_sheets import OVERLAP

NOSE_REACH = 300.0  # a nose line this near is worth a page more [mm]
WORTH = 2.2  # pages that a nose line to set the paper by is worth
STARTS = 6  # steps between the places that are tried where nothing holds the fields
TASTE = 0.01  # pages; the middle is liked best where nothing else speaks

Stretch = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Lie:
    """How the fields lie, counted in the axis's direction.

    Attributes:
        count: number of fields
        start: where the first begins
        cost: of having no nose line, in pages
        at_nose: the field that a nose line crosses, or None
    """

    count: int
    start: float
    cost: float = 0.0
    at_nose: int | None = None


@dataclass(frozen=True, slots=True)
class Held:
    """The fields that a stretch touches, and those that hold all of it."""

    touched: tuple[int, ...]
    whole: tuple[int, ...]


def ways_to_lie(need: Stretch, length: float, field: float) -> list[Lie]:
    """As few fields as will do, or one or two more where that brings in a nose line.

    Args:
        need: what must be covered, its ends
        length: of the bed; nose lines are at 0 and there
        field: a field's length
    """
    low, high = need
    fewest = max(1, ceil((high - low - OVERLAP) / (field - OVERLAP) - 1e-9))
    near = min(low, length - high) < NOSE_REACH
    ways = []
    for count in (fewest, fewest + 1, fewest + 2):
        whole = count * (field - OVERLAP) + OVERLAP
        if whole - UNDER_NOSE >= high:
            ways.append(Lie(count, -UNDER_NOSE, at_nose=0))
        if length + UNDER_NOSE - whole <= low:
            ways.append(Lie(count, round(length + UNDER_NOSE - whole, 2), at_nose=count - 1))
        if count <= fewest + 1:
            ways += _loose(count, need, (length, field), WORTH if near else 0.0)
    return ways


def _loose(count: int, need: Stretch, sizes: Stretch, cost: float) -> list[Lie]:
    """So many fields with no nose line to hold them, at several starts."""
    (low, high), (length, field) = need, sizes
    whole = count * (field - OVERLAP) + OVERLAP
    slack = max(whole - (high - low), 0.0)
    ways = []
    for part in range(STARTS + 1):
        start = low - slack * part / STARTS
        on_bed = min(max(start, 0.0), max(0.0, length - whole))
        start = on_bed if on_bed <= low and on_bed + whole >= high else start
        ways.append(Lie(count, round(start, 2), cost + TASTE * abs(part - STARTS / 2)))
    return ways


def held(lie: Lie, field: float, stretches: Sequence[Stretch]) -> list[Held]:
    """What each stretch touches and which fields hold it."""
    step = field - OVERLAP
    found = []
    for low, high in stretches:
        first = max(0, floor((low - lie.start - field) / step) + 1)
        last = min(lie.count - 1, ceil((high - lie.start) / step) - 1)
        touched = tuple(range(first, last + 1))
        whole = tuple(
            number
            for number in touched
            if lie.start + number * step <= low and lie.start + number * step + field >= high
        )
        found.append(Held(touched, whole))
    return found
