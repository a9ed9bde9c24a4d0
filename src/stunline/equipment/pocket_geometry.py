"""Where noses, jaws and drops lie, worked out from a few numbers of the pockets.

A pocket is given by its mouth (the narrowest gap between its jaws, taken as the place of
the fall), the radius of its jaws in plan, and the radius of its drop circle. Every jaw is
an arc tangent to the straight nose line where that ends, and the drop circle's front
touches the middle of the mouth line.

Corner at (0, 0), nose lines y = 0 for x ≥ a and x = 0 for y ≥ a, jaw radius r::

    arc centres (a, −r) and (−r, a);  their distance is √2·(a + r)
    mouth = √2·(a + r) − 2r      ⇒  a = (mouth + 2r)/√2 − r
    middle of the mouth line ((a − r)/2, (a − r)/2)

The narrowest gap lies on the line of the two arc centres, 45° round each arc.

Middle pocket on x = 0 at y = L/2, the nose ending at L/2 ± b::

    arc centres (−r, L/2 ± b);  mouth = 2b − 2r  ⇒  b = mouth/2 + r
    middle of the mouth line (−r, L/2)

The narrowest gap lies 90° round each arc. Every arc goes on for 45° behind the mouth, so
that its end lies behind the front of the drop circle, where no ball's centre can come:
seen from the table, jaw and drop circle close every way past.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stunline.equipment.model import Jaw, Nose, Pocket, Point, Words

_BEHIND_THE_MOUTH = math.radians(45.0)  # how far an arc goes on past the narrowest gap
_TO_THE_MOUTH_CORNER = math.radians(45.0)  # from the tangent point to the narrowest gap
_TO_THE_MOUTH_MIDDLE = math.radians(90.0)

# Where each pocket is, in the order of ``Words.pockets``: at the middle of a side, on the
# right, at the far end.
_PLACES = (
    (False, False, False),
    (False, True, False),
    (True, False, False),
    (True, True, False),
    (False, False, True),
    (False, True, True),
)
_SNOOKER = Words()


@dataclass(frozen=True, slots=True)
class PocketShape:
    """The numbers that a kind of pocket is given by.

    Attributes:
        mouth: narrowest gap between the jaws, at the fall [m]
        jaw_radius: of the rounded nose in plan [m]
        drop_radius: of the circle that a ball's centre drops in [m]
    """

    mouth: float
    jaw_radius: float
    drop_radius: float

    def corner_setback(self) -> float:
        """From the corner of the nose lines to where a nose ends and its jaw begins. [m]"""
        return (self.mouth + 2.0 * self.jaw_radius) / math.sqrt(2.0) - self.jaw_radius

    def middle_setback(self) -> float:
        """From the middle of the side to where a nose ends and its jaw begins. [m]"""
        return self.mouth / 2.0 + self.jaw_radius


@dataclass(frozen=True, slots=True)
class Boundary:
    """What a ball can meet at the edge of the playing area, anticlockwise from the near left."""

    noses: tuple[Nose, ...]
    jaws: tuple[Jaw, ...]
    pockets: tuple[Pocket, ...]


def plain_noses(length: float, width: float, words: Words = _SNOOKER) -> tuple[Nose, ...]:
    """Four cushions without an opening, the playing area on the left of start → end.

    Args:
        length, width: of the playing area [m]
    """
    corners = ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length))
    return tuple(
        Nose(name, corners[index], corners[(index + 1) % 4])
        for index, name in enumerate(words.cushions)
    )


def boundary(
    length: float,
    width: float,
    corner: PocketShape | None,
    middle: PocketShape | None,
    words: Words = _SNOOKER,
) -> Boundary:
    """Noses, jaws and pockets of a table; None leaves that kind of pocket out.

    Args:
        length, width: of the playing area [m]
        corner, middle: the pockets' shapes
        words: names of the cushions and pockets
    """
    noses = _noses(
        words,
        length,
        width,
        corner.corner_setback() if corner else 0.0,
        middle.middle_setback() if middle else 0.0,
    )
    jaws: list[Jaw] = []
    pockets: list[Pocket] = []
    for name, (at_middle, right, far) in zip(words.pockets, _PLACES, strict=True):
        shape = middle if at_middle else corner
        if shape is None:
            continue
        pocket, pair = _middle(name, shape, length) if at_middle else _corner(name, shape)
        pocket, pair = _mirrored(pocket, pair, right, far, length, width)
        pockets.append(pocket)
        jaws.extend(pair)
    return Boundary(noses, tuple(jaws), tuple(pockets))


def _noses(words: Words, length: float, width: float, a: float, b: float) -> tuple[Nose, ...]:
    """The straight pieces, anticlockwise from the near cushion's left end."""
    near, right, far, left = words.cushions
    half = length / 2.0
    pieces = [Nose(near, (a, 0.0), (width - a, 0.0))]
    if b == 0.0:
        pieces.append(Nose(right, (width, a), (width, length - a)))
    else:
        pieces.append(Nose(right, (width, a), (width, half - b)))
        pieces.append(Nose(right, (width, half + b), (width, length - a)))
    pieces.append(Nose(far, (width - a, length), (a, length)))
    if b == 0.0:
        pieces.append(Nose(left, (0.0, length - a), (0.0, a)))
    else:
        pieces.append(Nose(left, (0.0, length - a), (0.0, half + b)))
        pieces.append(Nose(left, (0.0, half - b), (0.0, a)))
    return tuple(pieces)


def _corner(name: str, shape: PocketShape) -> tuple[Pocket, tuple[Jaw, Jaw]]:
    """A corner pocket, drawn at (0, 0)."""
    a, r = shape.corner_setback(), shape.jaw_radius
    front = (a - r) / 2.0
    back = front - shape.drop_radius / math.sqrt(2.0)
    arc = _TO_THE_MOUTH_CORNER + _BEHIND_THE_MOUTH
    jaws = (
        Jaw(name, (a, -r), r, math.radians(90.0) + arc / 2.0, arc / 2.0),
        Jaw(name, (-r, a), r, -arc / 2.0, arc / 2.0),
    )
    inward = (math.sqrt(0.5), math.sqrt(0.5))
    pocket = Pocket(name, (back, back), shape.drop_radius, shape.mouth, (front, front), inward)
    return pocket, jaws


def _middle(name: str, shape: PocketShape, length: float) -> tuple[Pocket, tuple[Jaw, Jaw]]:
    """A middle pocket, drawn on the left side."""
    b, r, half = shape.middle_setback(), shape.jaw_radius, length / 2.0
    arc = _TO_THE_MOUTH_MIDDLE + _BEHIND_THE_MOUTH
    jaws = (
        Jaw(name, (-r, half - b), r, arc / 2.0, arc / 2.0),
        Jaw(name, (-r, half + b), r, -arc / 2.0, arc / 2.0),
    )
    drop = (-r - shape.drop_radius, half)
    pocket = Pocket(name, drop, shape.drop_radius, shape.mouth, (-r, half), (1.0, 0.0))
    return pocket, jaws


def _mirrored(
    pocket: Pocket,
    jaws: tuple[Jaw, Jaw],
    across: bool,
    along: bool,
    length: float,
    width: float,
) -> tuple[Pocket, tuple[Jaw, Jaw]]:
    """A pocket of the left side or the near end moved to the right side or the far end."""

    def place(point: Point) -> Point:
        return (
            width - point[0] if across else point[0],
            length - point[1] if along else point[1],
        )

    def turn(angle: float) -> float:
        x = -math.cos(angle) if across else math.cos(angle)
        y = -math.sin(angle) if along else math.sin(angle)
        return math.atan2(y, x)

    inward_x, inward_y = pocket.inward
    moved = Pocket(
        pocket.name,
        place(pocket.drop_centre),
        pocket.drop_radius,
        pocket.mouth,
        place(pocket.mouth_middle),
        (-inward_x if across else inward_x, -inward_y if along else inward_y),
    )
    first, second = (
        Jaw(jaw.pocket, place(jaw.centre), jaw.radius, turn(jaw.middle), jaw.half_angle)
        for jaw in jaws
    )
    return moved, (first, second)
