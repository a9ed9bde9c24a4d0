"""Balls where they stand, and the rings where they will."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import hypot
from typing import TYPE_CHECKING

from stunline.drawing import story
from stunline.drawing.marks import Anchor, Box, Circle, Layer, Mark, Point, Role, Size, Text
from stunline.drawing.page import Page
from stunline.drawing.typeface import CAPITAL_HEIGHT, text_width

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

LETTER_FROM = 12.5  # diameter above which a ball carries its letter [px]
SMALL_LETTER_FROM = 22.0  # and above which that is as large as other small letters [px]
BODY_LETTER_FROM = 34.0  # and above which in the larger size [px]
LETTER_MARGIN = 2.5  # between the corners of a letter and its ball's edge, both sides [px]
LETTER_REACH = 8.0  # a letter of a ball nearer to the window's edge might be cut off [px]
HATCHED_FROM = 16.0  # above it a plate keeps the hatching off the letter [px]
PLATE_MARGIN = 2.0  # round the letter [px]
NEAR = 1.5  # a ball with another within this gap is part of a pack [mm]

_TINTS = {role.value.removeprefix("ball-"): role for role in Role if role.name.startswith("BALL_")}


def tint_of(shot: Shot, ball: str) -> Role:
    """The role of that ball's disc."""
    return _TINTS.get(shot.position.table.balls[ball].tint, Role.BALL_OTHER)


def balls(shot: Shot, page: Page, met: frozenset[str]) -> Iterator[Mark]:
    """Every ball in the window where it stood before the strike, with its letter.

    Args:
        shot: the shot
        page: where it is drawn
        met: balls that carry a letter even inside a pack
    """
    named = lettered(shot, met)
    for ball in shot.position.balls:
        at, size = story.start(shot, ball), story.radius(shot, ball)
        if page.window.overlap(Box(at[0], at[1], at[0], at[1]).grown(size)) <= 0:
            continue
        yield Circle(f"ball-{ball}", Layer.BALLS, tint_of(shot, ball), at, size)
        reach = max(size / 2, page.mm(LETTER_REACH))
        is_whole = page.window.contains(Box(at[0], at[1], at[0], at[1]).grown(reach))
        if ball in named and is_whole and has_room_for_letter(shot, ball, page):
            yield from _letter(shot, page, ball, at)


def lettered(shot: Shot, met: frozenset[str]) -> tuple[str, ...]:
    """The balls that a reader must know: those met, and all but the reds that touch another."""
    reds = [
        (ball, *story.start(shot, ball), story.radius(shot, ball))
        for ball in shot.position.balls
        if tint_of(shot, ball) is Role.BALL_RED
    ]
    quiet = set()
    for (one, x, y, radius), (two, u, v, other) in combinations(reds, 2):
        if hypot(u - x, v - y) <= radius + other + NEAR:
            quiet |= {one, two}
    return tuple(ball for ball in shot.position.balls if ball in met or ball not in quiet)


def has_room_for_letter(shot: Shot, ball: str, page: Page) -> bool:
    """Whether its letter can stand inside it; otherwise it stands beside it."""
    diameter = 2 * story.radius(shot, ball) * page.scale
    if page.medium.smallest is Size.SIGN:
        return diameter > LETTER_FROM
    size = page.at_least(_letter_size(diameter))
    width = text_width(shot.position.table.balls[ball].letter, size.value, bold=True)
    return diameter > hypot(width, size.value * CAPITAL_HEIGHT) + LETTER_MARGIN


def rest_ring(shot: Shot, ball: str, name: str) -> Circle | None:
    """A dashed ring where that ball comes to rest, if it moved and was not potted."""
    at = story.rest(shot, ball)
    if at is None or not story.moved(shot, ball):
        return None
    return Circle(name, Layer.CONTACTS, Role.REST, at, story.radius(shot, ball))


def meeting_ring(shot: Shot, contact: story.Contact, name: str) -> Circle:
    """A dotted ring where the white meets the next ball."""
    ring = story.radius(shot, story.cue_ball(shot))
    return Circle(name, Layer.CONTACTS, Role.MEETING, contact.ghost, ring)


def _letter_size(diameter: float) -> Size:
    if diameter > BODY_LETTER_FROM:
        return Size.BODY
    return Size.SMALL if diameter > SMALL_LETTER_FROM else Size.SIGN


def letter(
    shot: Shot, page: Page, ball: str, at: Point, size: Size, layer: Layer, name: str
) -> Text:
    """The ball's letter, centred at a point."""
    role = {
        Role.BALL_WHITE: Role.BALL_LETTER_WHITE,
        Role.BALL_BLACK: Role.BALL_LETTER_BLACK,
    }.get(tint_of(shot, ball), Role.BALL_LETTER)
    baseline = at[1] - page.mm(size.value * CAPITAL_HEIGHT / 2)
    words = shot.position.table.balls[ball].letter
    return Text(name, layer, role, (at[0], baseline), words, size, Anchor.MIDDLE, bold=True)


def plate(
    shot: Shot, page: Page, ball: str, at: Point, size: Size, layer: Layer, name: str
) -> Iterator[Circle]:
    """A plain disc that keeps the hatching off the letter, on balls that are hatched."""
    if tint_of(shot, ball) in (Role.BALL_WHITE, Role.BALL_BLACK):
        return
    half = text_width(shot.position.table.balls[ball].letter, size.value, bold=True) / 2
    half = max(half, size.value * CAPITAL_HEIGHT / 2) + PLATE_MARGIN
    limit = story.radius(shot, ball) * page.scale - 1
    yield Circle(name, layer, Role.PLATE, at, page.mm(min(half, limit)))


def _letter(shot: Shot, page: Page, ball: str, at: Point) -> Iterator[Mark]:
    diameter = 2 * story.radius(shot, ball) * page.scale
    size = page.at_least(_letter_size(diameter))
    if diameter > HATCHED_FROM:
        yield from plate(shot, page, ball, at, size, Layer.BALLS, f"plate-{ball}")
    yield letter(shot, page, ball, at, size, Layer.BALLS, f"letter-{ball}")
