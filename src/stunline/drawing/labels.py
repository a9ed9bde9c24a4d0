"""Placing labels so that none lies on another nor on a ball, and on a line only where it must.

Three rules hold always: a label stays inside its bounds, covers no ball, and covers no other
words; a leader runs through no words and crosses no other leader. Places that break one are
never taken, so nothing has to be weighed against an overlap. Among the others a place costs for
its distance, for the turn from the side that the label prefers, and for the lines under it.

Labels are placed by rank, the foremost first, then each is tried again with the others in
place. A label that finds no place is left out, except those of the first rank, which tell what
the shot does: these may stand anywhere in the window, on a longer leader. Only a window without
any free spot that is large enough makes one of them fail. There is no chance in it: the same
picture always comes out the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from math import hypot

from stunline.drawing.ground import Ground
from stunline.drawing.label_places import (
    Asked,
    Options,
    Spot,
    anywhere,
    may_stand,
    options_of,
)
from stunline.drawing.marks import Anchor, Box, Circle, Layer, Line, Mark, Point, Role, Size, Text
from stunline.drawing.page import Page
from stunline.drawing.typeface import CAPITAL_HEIGHT, DESCENT, text_width

PADDING = 3.5  # kept free round the words [px]
RING_MARGIN = 2.6  # between the corners of a ringed number and its ring [px]
RING_PADDING = 1.5  # kept free round a ring [px]
SWEEPS = 2  # how often every label is tried again


class Rank(IntEnum):
    """Which label gives way where room is short: the higher number, and never the first."""

    OUTCOME = 0
    BALL = 1
    REST = 2
    NOTE = 3


@dataclass(frozen=True, slots=True)
class LabelWish:
    """A label to be placed.

    Attributes:
        id: of its marks
        words: the text
        anchor: what it belongs to [mm]
        clearance: from the anchor to the edge of what it labels [mm]
        prefer: the side it would best stand on, anticlockwise from +x [rad]
        along: points of the labelled line beside which it may stand as well [mm]
        stays_near: whether it does without places so far off that they need a leader
        rank: who gives way to whom
        ringed: a short number in a ring before the words, or ""
    """

    id: str
    words: str
    anchor: Point
    clearance: float
    prefer: float
    size: Size = Size.SMALL
    bold: bool = False
    role: Role = Role.LABEL
    along: tuple[Point, ...] = ()
    stays_near: bool = False
    rank: Rank = Rank.OUTCOME
    ringed: str = ""


@dataclass(frozen=True, slots=True)
class Placed:
    """A label with its place, a rectangle round the words, and its leader. [mm]"""

    wish: LabelWish
    box: Box
    leader: tuple[Point, Point] | None


def place_labels(wishes: Sequence[LabelWish], ground: Ground, bounds: Box) -> tuple[Placed, ...]:
    """Every label's best place, given the others'; those without a place are left out.

    Args:
        wishes: the labels; within a rank the earlier one chooses first
        ground: what they keep off
        bounds: what they stay inside [mm]
    """
    asked, inside = [_asked(wish, ground) for wish in wishes], ground.box_pixels(bounds)
    options = options_of(asked, ground, inside)
    spots: list[Spot | None] = [None] * len(wishes)
    order = sorted(range(len(wishes)), key=lambda number: wishes[number].rank)
    for _ in range(1 + SWEEPS):
        before = list(spots)
        for number in order:
            others = [spot for other, spot in enumerate(spots) if spot and other != number]
            spots[number] = _best(options[number], others, ground) or spots[number]
            if spots[number] is None and wishes[number].rank is Rank.OUTCOME:
                spots[number] = _best(anywhere(asked[number], ground, inside), others, ground)
        if spots == before:
            break
    return tuple(
        _placed(wish, spot, ground) for wish, spot in zip(wishes, spots, strict=True) if spot
    )


def _asked(wish: LabelWish, ground: Ground) -> Asked:
    """The wish in pixels."""
    return Asked(
        ground.pixels(wish.anchor),
        wish.clearance * ground.page.scale,
        wish.prefer,
        _size(wish),
        tuple(ground.pixels(point) for point in wish.along),
        wish.stays_near,
        wish.rank is Rank.OUTCOME,
    )


def _size(wish: LabelWish) -> tuple[float, float]:
    """Width and height that the label keeps for itself. [px]"""
    width, height = 0.0, 0.0
    if wish.words:
        width = text_width(wish.words, wish.size.value, wish.bold) + 2 * PADDING
        height = 2 * wish.size.value * (CAPITAL_HEIGHT / 2 + DESCENT)
    if wish.ringed:
        side = 2 * (ring_radius(wish.ringed, wish.size) + RING_PADDING)
        width, height = width + side, max(height, side)
    return width, height


def ring_radius(number: str, size: Size) -> float:
    """Of the ring round a short number. [px]"""
    half_width = text_width(number, size.value, bold=True) / 2
    return hypot(half_width, size.value * CAPITAL_HEIGHT / 2) + RING_MARGIN


def _best(options: Options, others: Sequence[Spot], ground: Ground) -> Spot | None:
    """The cheapest place that keeps the rules; own costs rise, so that the search can stop."""
    best: Spot | None = None
    for index, spot in options.rising():
        if best is not None and spot.cost >= best.cost:
            break
        if may_stand(spot, ground.taken, others):
            dear = options.priced(index, ground)
            if best is None or dear.cost < best.cost:
                best = dear
    return best


def _placed(wish: LabelWish, spot: Spot, ground: Ground) -> Placed:
    leader = None
    if spot.leader is not None:
        start, end = (ground.place(point) for point in spot.leader)
        leader = (start, end)
    return Placed(wish, ground.millimetres(spot.box), leader)


def label_marks(placed: Sequence[Placed], page: Page) -> list[Mark]:
    """Leaders, rings and words."""
    marks: list[Mark] = []
    for label in placed:
        wish, box = label.wish, label.box
        if label.leader is not None:
            start, end = label.leader
            marks.append(Line(f"{wish.id}-leader", Layer.LABELS, Role.LEADER, start, end))
        if wish.ringed:
            reach = page.mm(ring_radius(wish.ringed, wish.size) + RING_PADDING)
            centre = (box.left + reach, box.centre[1])
            marks += ringed_number(f"{wish.id}-ring", wish.ringed, centre, wish.size, page.scale)
            box = Box(box.left + 2 * reach, box.bottom, box.right, box.top)
        if wish.words:
            at = (box.centre[0], baseline(box, wish.size, page))
            how = (wish.words, wish.size, Anchor.MIDDLE, wish.bold)
            marks.append(Text(wish.id, Layer.LABELS, wish.role, at, *how))
    return marks


def ringed_number(
    name: str, number: str, centre: Point, size: Size, scale: float, layer: Layer = Layer.LABELS
) -> tuple[Circle, Text]:
    """A short number in a ring. centre: [mm]; scale: of the drawing [px mm⁻¹]"""
    base = (centre[0], centre[1] - size.value * CAPITAL_HEIGHT / 2 / scale)
    how = (number, size, Anchor.MIDDLE, True)
    return (
        Circle(name, layer, Role.RUNG_MARK, centre, ring_radius(number, size) / scale),
        Text(f"{name}-number", layer, Role.SHEET_TEXT, base, *how),
    )


def baseline(box: Box, size: Size, page: Page) -> float:
    """Height of the baseline that centres capitals and figures in the box. [mm]"""
    return box.centre[1] - page.mm(size.value * CAPITAL_HEIGHT / 2)


def words_box(words: str, at: Point, size: Size, bold: bool, page: Page) -> Box:
    """The rectangle round words centred at a point. [mm]"""
    half_width = page.mm(text_width(words, size.value, bold) / 2 + PADDING)
    half_height = page.mm(size.value * (CAPITAL_HEIGHT / 2 + DESCENT))
    return Box(at[0] - half_width, at[1] - half_height, at[0] + half_width, at[1] + half_height)
