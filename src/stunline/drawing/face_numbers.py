"""The numbers of several contacts on the white's face, outside the ball and clear of each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot

from stunline.drawing.marks import Anchor, Circle, Layer, Line, Mark, Point, Role, Size, Text
from stunline.drawing.page import Page
from stunline.drawing.typeface import CAPITAL_HEIGHT

GAP = 16.0  # from the ball to the middle of the numbers [px]
RING = 9.0  # radius of the ring round a number [px]
STEP = 22.0  # between numbers [px]
MOST_IN_RING = 2  # figures; a longer label stands without a ring


@dataclass(frozen=True, slots=True)
class StrikePoint:
    """A contact on the face [mm], and what its marks are called."""

    label: str
    at: Point

    @property
    def ident(self) -> str:
        """Part of the marks' ids."""
        return self.label.replace(" ", "-").replace(",", "") or "1"


def is_tall(points: Sequence[StrikePoint]) -> bool:
    """Whether the contacts differ more in height than in side."""
    across, up = [point.at[0] for point in points], [point.at[1] for point in points]
    return max(up) - min(up) >= max(across) - min(across)


def numbers(points: Sequence[StrikePoint], page: Page) -> Iterator[Mark]:
    """Each contact's number outside the ball: to its right, or above when sides differ most."""
    tall, beyond = is_tall(points), page.window.right + page.mm(GAP)
    along = 1 if tall else 0
    ordered = sorted(points, key=lambda point: point.at[along])
    places = _spread([point.at[along] for point in ordered], page.mm(STEP))
    # Never below the ball, where the caption stands.
    up = max(0.0, page.window.bottom - places[0]) if tall else 0.0
    ring = page.mm(RING)
    for point, place in zip(ordered, places, strict=True):
        at = (beyond, place + up) if tall else (place, beyond)
        away = hypot(at[0] - point.at[0], at[1] - point.at[1])
        end = tuple(at[i] - (at[i] - point.at[i]) * ring / away for i in (0, 1))
        yield Line(f"leader-{point.ident}", Layer.LABELS, Role.LEADER, point.at, (end[0], end[1]))
        yield from number(point.ident, point.label, at, page)


def number(ident: str, label: str, at: Point, page: Page) -> Iterator[Mark]:
    """A rung's number in a ring, or several numbers on the bare ground."""
    ring, low = page.mm(RING), page.mm(Size.SMALL.value * CAPITAL_HEIGHT / 2)
    if label.isalnum() and len(label) <= MOST_IN_RING:
        yield Circle(f"ring-{ident}", Layer.LABELS, Role.RUNG_MARK, at, ring)
        anchor, at = Anchor.MIDDLE, (at[0], at[1] - low)
    else:
        anchor, at = Anchor.START, (at[0] - ring, at[1] - low)
    yield Text(
        f"number-{ident}", Layer.LABELS, Role.LABEL, at, label, Size.SMALL, anchor, bold=True
    )


def _spread(wanted: Sequence[float], gap: float) -> list[float]:
    """Ascending places no nearer than the gap, as near to the wanted ones as they come."""
    blocks: list[list[float]] = []  # of each: the wanted places of its members
    for place in wanted:
        blocks.append([place])
        while len(blocks) > 1 and _first(blocks[-1], gap) < _last(blocks[-2], gap) + gap:
            blocks[-2:] = [blocks[-2] + blocks[-1]]
    return [_first(block, gap) + number * gap for block in blocks for number in range(len(block))]


def _first(block: Sequence[float], gap: float) -> float:
    return sum(block) / len(block) - (len(block) - 1) * gap / 2


def _last(block: Sequence[float], gap: float) -> float:
    return _first(block, gap) + (len(block) - 1) * gap
