"""The contact, magnified, in an empty part of the plan: how the white leaves the tangent line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.drawing import story
from stunline.drawing.contact_view import Lens, between, contact_view, leaving_words, motions
from stunline.drawing.empty_place import empty_place
from stunline.drawing.ground import Obstacles
from stunline.drawing.labels import baseline, words_box
from stunline.drawing.marks import Anchor, Box, Circle, Disc, Layer, Mark, Point, Role, Size, Text
from stunline.drawing.page import Page

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

RADIUS = 84.0  # of the inset [px]
BALL = 36.0  # radius of a ball inside it [px]
LEAST_MAGNIFICATION = 1.7  # below it the plan itself shows as much
WORDS_DOWN = 13.0  # from the inset's edge to the middle of its words, and between lines [px]


@dataclass(frozen=True, slots=True)
class Inset:
    """Its marks, and the rectangle round it and its words."""

    marks: tuple[Mark, ...]
    box: Box


def contact_inset(
    shot: Shot, contact: story.Contact, page: Page, obstacles: Obstacles
) -> Inset | None:
    """The inset at the empty place nearest to the contact; None without need or room for it."""
    radius = story.radius(shot, story.cue_ball(shot))
    power = round(BALL / (radius * page.scale), 1)
    leaving = motions(shot, contact).leaving
    if power < LEAST_MAGNIFICATION or leaving is None:
        return None
    words = (f"contact, {power:g} ×", leaving_words(leaving, contact.centres))
    whole = _whole_box((0.0, 0.0), words, page)
    middle = empty_place(contact.ghost, RADIUS, whole, page, obstacles)
    if middle is None:
        return None
    lens = Lens(between(contact), middle, power, RADIUS)
    inside = contact_view(shot, contact, lens, page, "inset")
    marks = (*inside, *_around(middle, words, page))
    return Inset(marks, _whole_box(middle, words, page))


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


def _around(middle: Point, words: tuple[str, ...], page: Page) -> Iterator[Mark]:
    yield Circle("inset-ring", Layer.LABELS, Role.INSET_RING, middle, page.mm(RADIUS))
    for number, line in enumerate(words):
        box = _line_box(middle, words, number, page)
        at = (box.centre[0], baseline(box, Size.SMALL, page))
        yield Text(
            f"inset-words-{number}", Layer.LABELS, Role.NOTE, at, line, Size.SMALL, Anchor.MIDDLE
        )
