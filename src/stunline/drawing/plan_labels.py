"""What a plan names, and what its words keep off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise, product
from math import ceil, cos, hypot, pi, sin
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import has_room_for_letter, lettered
from stunline.drawing.ground import Ground, Obstacles
from stunline.drawing.labels import LabelWish, Rank
from stunline.drawing.marks import (
    Anchor,
    Box,
    Circle,
    Curve,
    Layer,
    Line,
    Mark,
    Point,
    Polyline,
    Role,
    Size,
    Text,
)
from stunline.drawing.page import Page
from stunline.drawing.segments import length_inside
from stunline.drawing.table_marks import lines_in_play
from stunline.drawing.typeface import CAPITAL_HEIGHT, DESCENT, text_width
from stunline.shot.words import ball_words

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

CURVE_PIECES = 6  # a curve as so many straight pieces, for keeping labels off it
SPOTS_NAMED_TO = 10.0  # the smallest scale, 1 : n, at which spots are named
TANGENT_NOTE = "tangent line"
TANGENT_NOTE_OFF = 11.0  # of the note's middle from its line [px]
TANGENT_NOTE_AT = (0.9, 0.8, 0.7, 0.6, 0.5, 0.08)  # parts of the line where it may stand
MOST_UNDER_NOTE = 36.0  # of line; the legend names the tangent line as well [px]
OBJECT_STUB = 110.0  # of a way that leaves the window, shown up to the label [px]


def tangent_note(line: Line, ground: Ground) -> tuple[Text, tuple[Box, ...]] | None:
    """The tangent line's name, set along it where it covers least, and the squares it fills.

    None where it would lie on a ball, on other words, outside the window or on much line.
    """
    along = path_marks.direction(line.start, line.end)
    # Letters must not stand on their heads.
    angle = along if -pi / 2 < along <= pi / 2 else along - pi * (1 if along > 0 else -1)
    best: tuple[float, Point, list[Box]] | None = None
    half, offsets = _squares(angle)
    for part, side in product(TANGENT_NOTE_AT, (1, -1)):
        off = ground.page.mm(TANGENT_NOTE_OFF) * side
        at = (
            line.start[0] + part * (line.end[0] - line.start[0]) - sin(along) * off,
            line.start[1] + part * (line.end[1] - line.start[1]) + cos(along) * off,
        )
        x, y = ground.pixels(at)
        squares = [Box(x + u - half, y + v - half, x + u + half, y + v + half) for u, v in offsets]
        cost = sum(ground.line_in(square) for square in squares)
        cheaper = cost < (best[0] if best else MOST_UNDER_NOTE)
        if cheaper and all(ground.is_free(square) for square in squares):
            best = (cost, at, squares)
            if cost == 0:
                break
    if best is None:
        return None
    down = ground.page.mm(Size.SMALL.value * CAPITAL_HEIGHT / 2)
    at = (best[1][0] + sin(angle) * down, best[1][1] - cos(angle) * down)
    how = (TANGENT_NOTE, Size.SMALL, Anchor.MIDDLE, False, angle)
    text = Text("tangent-note", Layer.LABELS, Role.TANGENT_NOTE, at, *how)
    return text, tuple(ground.millimetres(square) for square in best[2])


def _squares(angle: float) -> tuple[float, list[Point]]:
    """Upright squares that cover the turned words: half a side, and their middles. [px]"""
    across, up = abs(cos(angle)), abs(sin(angle))
    length, letter = text_width(TANGENT_NOTE, Size.SMALL.value), Size.SMALL.value
    half = letter * (CAPITAL_HEIGHT / 2 + DESCENT) * max(across, up)
    half += letter * CAPITAL_HEIGHT / 2 * min(across, up)
    count = ceil(length / (2 * half)) + 1
    steps = [(number / (count - 1) - 0.5) * (length - half) for number in range(count)]
    return half, [(step * cos(angle), step * sin(angle)) for step in steps]


def shot_wishes(
    shot: Shot, page: Page, contact: story.Contact | None, meeting: story.Contact | None
) -> Iterator[LabelWish]:
    """Everything that the plan of one shot names."""
    white = story.cue_ball(shot)
    radius = story.radius(shot, white)
    if meeting is not None:
        away = path_marks.direction(meeting.ball_at, meeting.ghost)
        words = f"meets {ball_words(meeting.ball)}"
        yield LabelWish("label-meeting", words, meeting.ghost, radius, away, bold=True)
    at = story.rest(shot, white)
    if at is not None and story.moved(shot, white) and page.window.holds(at):
        yield LabelWish(
            "label-rest", f"{story.white_words(shot)} rests", at, radius, 0.0, rank=Rank.REST
        )
    if contact is not None:
        yield from object_wish(shot, page, contact)
    met = frozenset(found.ball for found in (contact, meeting) if found)
    yield from ball_wishes(shot, page, met)
    yield from spot_wishes(shot, page)


def ball_wishes(shot: Shot, page: Page, met: frozenset[str]) -> Iterator[LabelWish]:
    """Letters beside the balls that are too small to carry them; the white needs none."""
    for ball in lettered(shot, met):
        at, radius = story.start(shot, ball), story.radius(shot, ball)
        outside = ball == story.cue_ball(shot) or not page.window.holds(at)
        if outside or has_room_for_letter(shot, ball, page):
            continue
        letter = shot.position.table.balls[ball].letter
        name = f"label-ball-{ball}"
        yield LabelWish(name, letter, at, radius, 0.0, bold=True, stays_near=True, rank=Rank.BALL)


def spot_wishes(shot: Shot, page: Page) -> Iterator[LabelWish]:
    """The names of the spots in the window that no ball covers, where there is room for them."""
    if page.denominator > SPOTS_NAMED_TO:
        return
    for spot, place in shot.position.table.spots.items():
        at = story.millimetres(place)
        covered = any(
            hypot(at[0] - x, at[1] - y) < story.radius(shot, ball)
            for ball, (x, y) in ((b, story.start(shot, b)) for b in shot.position.balls)
        )
        if page.window.holds(at) and not covered:
            name = f"label-spot-{spot.replace(' ', '-')}"
            yield LabelWish(
                name,
                f"{spot} spot",
                at,
                0.0,
                -pi / 4,
                role=Role.NOTE,
                stays_near=True,
                rank=Rank.NOTE,
            )


def object_wish(shot: Shot, page: Page, contact: story.Contact) -> Iterator[LabelWish]:
    """What becomes of the object ball, where its way ends or leaves the window."""
    pocket, at = shot.potted(contact.ball), story.rest(shot, contact.ball)
    if pocket is not None:
        mouth = story.millimetres(shot.position.table.pocket(pocket).mouth_middle)
        run = hypot(mouth[0] - contact.ball_at[0], mouth[1] - contact.ball_at[1])
        if page.window.holds(mouth):
            words = f"{ball_words(contact.ball)} potted, {page.figure(run)}"
        else:
            words = f"to {pocket}, {page.figure(run)}"
        anchor = last_inside(contact.ball_at, mouth, page)
        prefer = path_marks.direction(mouth, contact.ball_at) + pi / 2
        yield LabelWish("label-object", words, anchor, 0.0, prefer, role=Role.NOTE, rank=Rank.REST)
    elif at is not None and page.window.holds(at) and story.moved(shot, contact.ball):
        radius = story.radius(shot, contact.ball)
        words = f"{ball_words(contact.ball)} rests"
        yield LabelWish("label-object", words, at, radius, pi / 2, role=Role.NOTE, rank=Rank.REST)


def last_inside(start: Point, end: Point, page: Page) -> Point:
    """A point on the straight way, a little before it leaves the window or ends. [mm]"""
    inside = length_inside(start, end, page.window)
    whole = hypot(end[0] - start[0], end[1] - start[1])
    part = max(inside - page.mm(OBJECT_STUB), inside / 2) / whole if whole > 0 else 0.0
    return start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])


def obstacles_of(
    shot: Shot, lines: Iterable[Mark], rings: Iterable[Mark], others: Iterable[Circle] = ()
) -> Obstacles:
    """Balls, rings and lines as what labels keep off. others: balls drawn as well"""
    discs = [(story.start(shot, ball), story.radius(shot, ball)) for ball in shot.position.balls]
    discs += [(ball.centre, ball.radius) for ball in others]
    marked = [(ring.centre, ring.radius) for ring in rings if isinstance(ring, Circle)]
    segments = list(lines_in_play(shot.position.table))
    for line in lines:
        segments += pieces(line)
    return Obstacles(tuple(discs), tuple(segments), (), tuple(marked))


def pieces(mark: Mark) -> list[tuple[Point, Point]]:
    """A line of the shot as straight pieces."""
    if isinstance(mark, Line):
        return [(mark.start, mark.end)]
    if isinstance(mark, Curve):
        points = [mark.at(step / CURVE_PIECES) for step in range(CURVE_PIECES + 1)]
        return list(pairwise(points))
    if isinstance(mark, Polyline):
        return list(pairwise(mark.points))
    return []
