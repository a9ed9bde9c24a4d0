"""The contact as a figure of its own: how full it is, and where both balls go first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees, sin
from typing import TYPE_CHECKING

from stunline.drawing import story
from stunline.drawing.contact_view import (
    ALONG,
    Lens,
    Motions,
    arrow,
    between,
    contact_view,
    cut_angle,
    leaving_words,
    motions,
    throw_degrees,
)
from stunline.drawing.extent import extent
from stunline.drawing.inset import inset_window
from stunline.drawing.legend import sheet_line, sheet_text
from stunline.drawing.marks import Box, Circle, Drawing, Layer, Mark, Role
from stunline.drawing.page import PIXELS_PER_MM, SCREEN, Medium, Page, sheet_margin
from stunline.shot.words import thickness_words, with_article

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

SCALE = 2.0  # the figure is 1 : 2 on paper
RADIUS = 132.0  # of the round window: two balls side by side, and half a ball round them [px]
ROW = 20.0  # of the caption [px]
FIRST_ROW = 22.0  # from the window to the middle of the caption's first row [px]
SAMPLE = 36.0  # width of a caption row's sample [px]
CAPTION_GAP = 8.0  # between it and the words [px]
SIDED = 0.02  # nearer to full than this no side of the ball is named [-]


@dataclass(frozen=True, slots=True)
class ContactWords:
    """A contact in words.

    Attributes:
        thickness: "a little fuller than half-ball on the right side of the black"
        cut: "line of centres, cut 25.4°"
        leaving: "the white leaves 3° inside the tangent line"
        throw: "the black is thrown 1.8° to the left", or "" where it does not move at once
    """

    thickness: str
    cut: str
    leaving: str
    throw: str


def contact_words(shot: Shot) -> ContactWords | None:
    """The white's first contact in words; None where it meets no ball."""
    contact = next(iter(story.contacts(shot)), None)
    return None if contact is None else _words(contact, motions(shot, contact))


def contact_of_shot(
    shot: Shot,
    medium: Medium = SCREEN,
    with_words: bool = True,
    name: str = "contact",
    scale: float = SCALE,
    radius: float = RADIUS,
) -> Drawing | None:
    """The white's first contact, 1 : 2 on paper; None where it meets no ball.

    Args:
        shot: as played
        medium: sizes of letters; the scale stays
        with_words: whether the caption stands below
        name: goes before every id in the SVG
        scale: n of the scale 1 : n on paper
        radius: of the round window [px]
    """
    contact = next(iter(story.contacts(shot)), None)
    if contact is None:
        return None
    centre, half = between(contact), radius * scale * medium.pixel / PIXELS_PER_MM
    page = Page(Box(*centre, *centre).grown(half), scale, medium)
    moved = motions(shot, contact)
    words = _words(contact, moved)
    marks: list[Mark] = [
        *contact_view(shot, contact, Lens(centre, centre, 1.0, radius), page, "contact"),
        Circle("contact-ring", Layer.LABELS, Role.INSET_RING, centre, half),
    ]
    if with_words:
        marks += _caption(words, moved, page)
    seen = [mark for mark in marks if mark.layer is not Layer.INSET]
    return Drawing(
        marks=tuple(marks),
        view=extent(seen, page.scale).grown(page.mm(sheet_margin(medium))),
        scale=page.scale,
        title=f"The contact: {words.thickness}",
        description=". ".join(filter(None, (words.cut, words.leaving, words.throw))) + ".",
        windows=inset_window(marks),
        name=name,
        pixel=medium.pixel,
    )


def _words(contact: story.Contact, moved: Motions) -> ContactWords:
    cut, ball = cut_angle(moved.before, contact.centres), with_article(contact.ball)
    thickness = 1.0 - sin(cut)
    x, y = contact.centres
    met = "right" if moved.before[0] * y - moved.before[1] * x > 0 else "left"
    where = f"on the {met} side of {ball}" if thickness < 1.0 - SIDED else f"on {ball}"
    leaving = "stays where it is at first"
    if moved.leaving is not None:
        leaving = leaving_words(moved.leaving, contact.centres)
    return ContactWords(
        thickness=f"{thickness_words(thickness)} {where}",
        cut=f"line of centres, cut {degrees(cut):.1f}°",
        leaving=f"the white {leaving}",
        throw="" if moved.struck is None else _throw_words(ball, moved, contact),
    )


def _throw_words(ball: str, moved: Motions, contact: story.Contact) -> str:
    throw = throw_degrees(moved.struck, contact.centres) if moved.struck else 0.0
    if abs(throw) < ALONG:
        return f"{ball} goes along the line of centres"
    return f"{ball} is thrown {abs(throw):.1f}° to the {'left' if throw > 0 else 'right'}"


def _caption(words: ContactWords, moved: Motions, page: Page) -> Iterator[Mark]:
    """A bold line, then each kind of line in the window with what it says."""
    way = Role.SLIDING if moved.motion_before == "sliding" else Role.ROLLING
    yield sheet_text(
        page, "caption-thickness", Role.SHEET_TEXT, (0.0, FIRST_ROW), words.thickness, bold=True
    )
    arrives = f"the white arrives {moved.motion_before}"
    if moved.leaving is None:
        arrives += f" and {words.leaving.removeprefix('the white ')}"
    rows = [(way, arrives)]
    rows += [(Role.LEAVES, words.leaving)] if moved.leaving else []
    rows += [(Role.TANGENT, "tangent line"), (Role.CENTRES, words.cut)]
    rows += [(Role.OBJECT_WAY, words.throw)] if words.throw else []
    rows += [(Role.AIM, "line of aim")]
    for number, (role, told) in enumerate(rows, 1):
        down = FIRST_ROW + number * ROW
        if role is Role.LEAVES:
            start = page.below(0.0, down)
            yield from arrow(start, (1.0, 0.0), SAMPLE, page, "caption", Layer.TITLE)
        else:
            ends = (0.0, down), (SAMPLE, down)
            yield sheet_line(page, f"caption-{role.value}", role, *ends)
        at = (SAMPLE + CAPTION_GAP, down)
        yield sheet_text(page, f"caption-{role.value}-words", Role.SHEET_NOTE, at, told)
