"""Marking strips: two balls at their true distance, to set one from the other. [mm]"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import atan2, cos, dist, pi, sin

from stunline.drawing import story
from stunline.drawing.marks import (
    Anchor,
    Box,
    Drawing,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Role,
    Size,
)
from stunline.drawing.page import PIXELS_PER_MM
from stunline.errors import Fault, InputError
from stunline.paper.full_size_frame import BAR_IN, WARNING, Heading, bars, shortened, text
from stunline.paper.full_size_marks import Ball, cross
from stunline.paper.full_size_sheets import MARGIN, SIDE, Sheet
from stunline.paper.full_size_subject import Subject, ring
from stunline.paper.full_size_words import Block, Placing, segments_of, slots_inside
from stunline.shot.words import ball_words
from stunline.units import inches_text, metres

TOUCHING = 0.05  # a gap smaller than this is none: it can't be set by hand [mm]
EDGE = 5.0  # from the outlines to the strip's edge [mm]
WORDS_HEIGHT = 8.0  # of the row below the outlines [mm]
BETWEEN = 6.0  # strips [mm]
BAR_ROOM = 20.0  # below the strips, for the check bar and the warning [mm]
UP_ARROW = 0.8  # length of the arrow that shows the table's direction, in radii
ARROW_HEAD = 2.5  # [mm]
OPTION = "--strip"


@dataclass(frozen=True, slots=True)
class Pair:
    """Two balls, the first at the left of the strip."""

    first: Ball
    second: Ball

    @property
    def distance(self) -> float:
        """Between their centres."""
        return dist(self.first.at, self.second.at)

    @property
    def gap(self) -> float:
        """Between their outlines, as they lie on the bed."""
        return self.distance - self.first.radius - self.second.radius

    @property
    def angle(self) -> float:
        """From the first to the second, anticlockwise from +x. [rad]"""
        (x, y), (u, v) = self.first.at, self.second.at
        return atan2(v - y, u - x)

    @property
    def height(self) -> float:
        """Of the strip."""
        return 2 * max(self.first.radius, self.second.radius) + 2 * EDGE + WORDS_HEIGHT

    @property
    def length(self) -> float:
        """Of the strip."""
        return self.distance + self.first.radius + self.second.radius + 2 * EDGE

    def words(self, in_inches: bool) -> str:
        """What the strip says."""
        gap, apart = f"{self.gap:.1f} mm", f"{self.distance:.2f} mm"
        if in_inches:
            gap = f"{inches_text(metres(self.gap))} ({gap})"
            apart = f"{inches_text(metres(self.distance))} ({apart})"
        edges = "touching" if abs(self.gap) < TOUCHING else f"{gap} between the edges"
        return f"{apart} between centres, {edges}; arrows up the table"


def pairs(subject: Subject, asked: Sequence[tuple[str, str]], sheet: Sheet) -> tuple[Pair, ...]:
    """Those asked for; or the object ball with the white at contact, and two that touch.

    Raises:
        InputError: a ball that is not there, twice the same one, or two too far apart.
    """
    if asked:
        return tuple(_asked(subject, names, sheet) for names in asked)
    return tuple(_automatic(subject))


def strip_drawings(chosen: Sequence[Pair], sheet: Sheet, heading: Heading) -> list[Drawing]:
    """Pages with as many strips each as fit, and the check bars."""
    pages: list[list[Pair]] = []
    room = 0.0
    for pair in chosen:
        if not pages or pair.height > room:
            pages.append([])
            room = sheet.height - 2 * MARGIN - BAR_ROOM
        pages[-1].append(pair)
        room -= pair.height + BETWEEN
    return [_page(page, sheet, heading, number) for number, page in enumerate(pages, 1)]


def _automatic(subject: Subject) -> Iterator[Pair]:
    shot, white, contact = subject.shot, subject.cue_ball, subject.contact
    if contact is not None:
        ghost = Ball(
            "ghost",
            f"{ball_words(white)} at contact",
            white,
            contact.ghost,
            story.radius(shot, white),
            False,
        )
        yield Pair(_start(subject, contact.ball, contact.ball_at), ghost)
    for one, two in combinations(shot.position.balls, 2):
        pair = Pair(_start(subject, one), _start(subject, two))
        if abs(pair.gap) < TOUCHING:
            yield pair
            return


def _start(subject: Subject, name: str, at: Point | None = None) -> Ball:
    place = at or story.start(subject.shot, name)
    return Ball(f"ball-{name}", ball_words(name), name, place, story.radius(subject.shot, name))


def _asked(subject: Subject, names: tuple[str, str], sheet: Sheet) -> Pair:
    there = list(subject.shot.position.balls)
    for name in names:
        if name not in there:
            raise _fault(
                "there is no such ball in the position", f'"{name}"', ", ".join(there),
                f'"{there[0]},{there[-1]}"',
            )  # fmt: skip
    if names[0] == names[1]:
        raise _fault(
            "a strip needs two balls", f'"{names[0]},{names[1]}"', "two different balls",
            ", ".join(there),
        )  # fmt: skip
    pair = Pair(_start(subject, names[0]), _start(subject, names[1]))
    longest = sheet.width - 2 * MARGIN - SIDE
    if pair.length > longest:
        most = longest - (pair.length - pair.distance)
        raise _fault(
            "the two balls are too far apart for a strip of this paper",
            f"{pair.distance:.0f} mm between centres",
            f"up to {most:.0f} mm on {sheet.paper.title}",
            "two neighbours, or larger paper: --paper a3",
        )
    return pair


def _fault(what: str, given: str, allowed: str, remedy: str) -> InputError:
    return InputError([Fault(what, given=given, allowed=allowed, remedy=remedy, key=OPTION)])


def _page(chosen: Sequence[Pair], sheet: Sheet, heading: Heading, number: int) -> Drawing:
    """Coordinates from the sheet's bottom left corner."""
    marks: list[Mark] = []
    top = sheet.height - MARGIN
    for order, pair in enumerate(chosen, 1):
        marks += _strip(pair, (MARGIN, top - pair.height), f"strip-{order}", heading.in_inches)
        top -= pair.height + BETWEEN
    low = MARGIN + BAR_ROOM
    marks += bars((MARGIN, MARGIN + 12.0), (sheet.width - MARGIN - SIDE + BAR_IN, low), heading)
    marks.append(text("warning", (MARGIN, MARGIN + 3.0), WARNING, Anchor.START))
    names = "; ".join(f"{pair.first.name} and {pair.second.name}" for pair in chosen)
    return Drawing(
        marks=tuple(marks),
        view=Box(0.0, 0.0, sheet.width, sheet.height),
        scale=PIXELS_PER_MM,
        title=f"{heading.title}: marking strips",
        description=f"Marking strips at full size for {names}.",
        name=f"strips-{number}",
    )


def _strip(pair: Pair, corner: Point, name: str, in_inches: bool) -> Iterator[Mark]:
    x, y = corner
    edge = Box(x, y, x + pair.length, y + pair.height)
    radius = max(pair.first.radius, pair.second.radius)
    level = y + WORDS_HEIGHT + EDGE + radius
    first = x + EDGE + pair.first.radius, level
    second = first[0] + pair.distance, level
    lines: list[Mark] = [Line(f"{name}-centres", Layer.PATHS, Role.DIMENSION, first, second)]
    for ball, at, end in ((pair.first, first, "first"), (pair.second, second, "second")):
        role = Role.OUTLINE if ball.there_at_start else Role.GHOST
        lines.append(ring(f"{name}-{end}", role, at, ball.radius))
        lines += cross(f"{name}-{end}-cross", at)
        lines += _up_arrow(f"{name}-{end}-up", at, pi / 2 - pair.angle, ball.radius)
    yield Polygon(f"{name}-edge", Layer.FRAME, Role.CUT, edge.corners)
    yield from lines
    words = Placing(edge, segments_of(lines))
    for ball, at in ((pair.first, first), (pair.second, second)):
        block = Block(f"{name}-{ball.id}", ball.name_lines, Role.LABEL, bold=2)
        words.place(block, slots_inside(at, ball.radius, block))
    yield from words.texts
    said_here = shortened(pair.words(in_inches), pair.length - 4.0, Size.SMALL)
    yield text(f"{name}-words", (x + pair.length / 2, y + WORDS_HEIGHT / 2), said_here)


def _up_arrow(name: str, at: Point, angle: float, radius: float) -> Iterator[Mark]:
    """From a ball's centre the way that is up the table, parallel to its side cushions."""
    way, across = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    tip = at[0] + way[0] * radius * UP_ARROW, at[1] + way[1] * radius * UP_ARROW
    neck = tip[0] - way[0] * ARROW_HEAD, tip[1] - way[1] * ARROW_HEAD
    half = ARROW_HEAD / 2
    sides = [
        (neck[0] + sign * across[0] * half, neck[1] + sign * across[1] * half) for sign in (1, -1)
    ]
    yield Line(name, Layer.PATHS, Role.DIMENSION, at, neck)
    yield Polygon(f"{name}-head", Layer.PATHS, Role.LEAVES_HEAD, (tip, sides[0], sides[1]))
