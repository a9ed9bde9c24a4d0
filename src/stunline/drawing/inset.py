"""The contact, magnified, in an empty part of the plan: how the white leaves the tangent line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import asin, degrees, hypot
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import letter, plate, tint_of
from stunline.drawing.empty_place import empty_place
from stunline.drawing.ground import Obstacles
from stunline.drawing.labels import baseline, words_box
from stunline.drawing.marks import (
    Anchor,
    Box,
    Circle,
    Disc,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Role,
    Size,
    Text,
)
from stunline.drawing.page import Page

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

RADIUS = 84.0  # of the inset [px]
BALL = 36.0  # radius of a ball inside it [px]
LEAST_MAGNIFICATION = 1.7  # below it the plan itself shows as much
WORDS_DOWN = 13.0  # from the inset's edge to the middle of its words, and between lines [px]
ARROW_LENGTH = 62.0  # from the ghost's centre to the arrow's tip [px]
ARROW_HEAD, ARROW_HALF = 11.0, 4.5  # length and half the width of its head [px]
ALONG = 0.5  # degrees: nearer than this the white leaves along the tangent line


@dataclass(frozen=True, slots=True)
class Inset:
    """Its marks, and the rectangle round it and its words."""

    marks: tuple[Mark, ...]
    box: Box


@dataclass(frozen=True, slots=True)
class _Lens:
    """Places on the table into places in the inset."""

    looks_at: Point
    middle: Point
    power: float

    def __call__(self, point: Point) -> Point:
        return (
            self.middle[0] + self.power * (point[0] - self.looks_at[0]),
            self.middle[1] + self.power * (point[1] - self.looks_at[1]),
        )


def contact_inset(
    shot: Shot, contact: story.Contact, page: Page, obstacles: Obstacles
) -> Inset | None:
    """The inset at the empty place nearest to the contact; None without need or room for it."""
    radius = story.radius(shot, story.cue_ball(shot))
    power = round(BALL / (radius * page.scale), 1)
    leaving = path_marks.velocity_after(shot, contact.time)
    if power < LEAST_MAGNIFICATION or leaving is None:
        return None
    words = (f"contact, {power:g} ×", leaving_words(leaving, contact.centres))
    whole = _whole_box((0.0, 0.0), words, page)
    middle = empty_place(contact.ghost, RADIUS, whole, page, obstacles)
    if middle is None:
        return None
    looks_at = (
        (contact.ghost[0] + contact.ball_at[0]) / 2,
        (contact.ghost[1] + contact.ball_at[1]) / 2,
    )
    lens = _Lens(looks_at, middle, power)
    marks = (*_inside(shot, contact, lens, page, leaving), *_around(middle, words, page))
    return Inset(marks, _whole_box(middle, words, page))


def leaving_words(leaving: Point, centres: Point) -> str:
    """How the white leaves, against the tangent line; inside is towards the ball met."""
    speed = hypot(leaving[0], leaving[1])
    inside = degrees(asin((leaving[0] * centres[0] + leaving[1] * centres[1]) / speed))
    if abs(inside) < ALONG:
        return "leaves along the tangent line"
    side = "inside" if inside > 0 else "outside"
    return f"leaves {abs(inside):.0f}° {side} the tangent line"


def inset_window(marks: Iterable[Mark]) -> dict[Layer, Disc]:
    """The round window of the inset's layer, if there is an inset."""
    for mark in marks:
        if isinstance(mark, Circle) and mark.role is Role.INSET_GROUND:
            return {Layer.INSET: Disc(mark.centre, mark.radius)}
    return {}


def _whole_box(middle: Point, words: tuple[str, ...], page: Page) -> Box:
    ring = Box(middle[0], middle[1], middle[0], middle[1]).grown(page.mm(RADIUS))
    lines = [_line_box(middle, words, number, page) for number in range(len(words))]
    return Box(
        min([ring.left] + [line.left for line in lines]),
        min(line.bottom for line in lines),
        max([ring.right] + [line.right for line in lines]),
        ring.top,
    )


def _line_box(middle: Point, words: tuple[str, ...], number: int, page: Page) -> Box:
    down = middle[1] - page.mm(RADIUS + WORDS_DOWN * (1.1 + 1.2 * number))
    return words_box(words[number], (middle[0], down), Size.SMALL, False, page)


def _inside(
    shot: Shot, contact: story.Contact, lens: _Lens, page: Page, leaving: Point
) -> Iterator[Mark]:
    layer, reach = Layer.INSET, page.mm(2 * RADIUS) / lens.power
    radius = story.radius(shot, story.cue_ball(shot))
    yield Circle("inset-ground", layer, Role.INSET_GROUND, lens.middle, page.mm(RADIUS))
    ghost = lens(contact.ghost)
    before = shot.motion_before(story.cue_ball(shot), contact.event).velocity
    came = _stepped(contact.ghost, before, -reach)
    yield Line("inset-way", layer, Role.TICK, lens(came), ghost)
    tangent = path_marks.tangent_direction(shot, contact)
    back, ahead = (_stepped(contact.ghost, tangent, sign * reach) for sign in (-1, 1))
    yield Line("inset-tangent", layer, Role.TANGENT, lens(back), lens(ahead))
    ball = lens(contact.ball_at)
    size = story.radius(shot, contact.ball) * lens.power
    yield Circle("inset-ball", layer, tint_of(shot, contact.ball), ball, size)
    yield from plate(shot, page, contact.ball, ball, Size.BODY, layer, "inset-plate")
    yield letter(shot, page, contact.ball, ball, Size.BODY, Layer.INSET, "inset-letter")
    yield Circle("inset-ghost", layer, Role.GHOST, ghost, radius * lens.power)
    yield from _arrow(ghost, leaving, page)


def _arrow(start: Point, along: Point, page: Page) -> Iterator[Mark]:
    tip = _stepped(start, along, page.mm(ARROW_LENGTH))
    neck = _stepped(tip, along, -page.mm(ARROW_HEAD))
    across = (-along[1], along[0])
    left, right = (_stepped(neck, across, sign * page.mm(ARROW_HALF)) for sign in (1, -1))
    yield Line("inset-leaves", Layer.INSET, Role.LEAVES, start, neck)
    yield Polygon("inset-leaves-head", Layer.INSET, Role.LEAVES_HEAD, (left, tip, right))


def _around(middle: Point, words: tuple[str, ...], page: Page) -> Iterator[Mark]:
    yield Circle("inset-ring", Layer.LABELS, Role.INSET_RING, middle, page.mm(RADIUS))
    for number, line in enumerate(words):
        box = _line_box(middle, words, number, page)
        at = (box.centre[0], baseline(box, Size.SMALL, page))
        yield Text(
            f"inset-words-{number}", Layer.LABELS, Role.NOTE, at, line, Size.SMALL, Anchor.MIDDLE
        )


def _stepped(point: Point, along: Point, distance: float) -> Point:
    length = hypot(along[0], along[1])
    return point[0] + along[0] / length * distance, point[1] + along[1] / length * distance
