"""Everything that lies on the cloth, drawn once for all pages, at full size. [mm]"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from math import dist

from stunline.drawing import path_marks, story
from stunline.drawing.marks import Box, Circle, Layer, Line, Mark, Point, Role
from stunline.drawing.page import Page
from stunline.drawing.table_marks import table_marks
from stunline.paper.full_size_region import CUE_BEHIND, TANGENT_BACK, bed
from stunline.paper.full_size_subject import (
    APART,
    FIRST_STRETCH,
    Subject,
    first_direction,
    ring,
)
from stunline.paper.full_size_tiles import Tiling
from stunline.shot.words import ball_words

MOST_NAMED = 2  # whites at contact that have room for their names
SMALL_CROSS = 1.5  # arm of a contact close to another [mm]
SAME = 0.05  # contacts nearer than this are one [mm]
CROSS = 4.0  # arm of a centre cross [mm]


@dataclass(frozen=True, slots=True)
class Ball:
    """A ball's outline that is printed.

    Attributes:
        id: unique among them
        name: for people: "black", "white at contact"
        ball: its name in the file
        at: its centre [mm]
        radius: [mm]
        there_at_start: False for the white at contact and where it meets the next ball
    """

    id: str
    name: str
    ball: str
    at: Point
    radius: float
    there_at_start: bool = True

    @property
    def name_lines(self) -> tuple[str, ...]:
        """Its name as it stands inside the outline."""
        first, middle, last = self.name.partition(" at ")
        return (f"{first}{middle.rstrip()}", last) if last else (first,)

    @property
    def box(self) -> Box:
        """Round its outline."""
        return Box(*self.at, *self.at).grown(self.radius)


def balls(subject: Subject, tiling: Tiling) -> tuple[Ball, ...]:
    """Balls that are wholly on the pages; the others are too far away."""
    return tuple(ball for ball in every_ball(subject) if tiling.shows(ball.box))


def every_ball(subject: Subject) -> Iterator[Ball]:
    """All of the position, and the white where it meets the object ball, printed or not."""
    shot = subject.shot
    for name in shot.position.balls:
        at, radius = story.start(shot, name), story.radius(shot, name)
        yield Ball(f"ball-{name}", ball_words(name), name, at, radius)
    white = subject.cue_ball
    for number, contact in enumerate(subject.contacts(), 1):
        name = f"{ball_words(white)} at contact{which_rungs(subject, contact)}"
        radius = story.radius(shot, white)
        yield Ball(f"ghost-{number}", name, white, contact.ghost, radius, False)


def which_rungs(subject: Subject, contact: story.Contact) -> str:
    """ " 1/2", the rungs that meet the ball there, where not all of them do; otherwise ""."""
    others = subject.contacts()
    if len(others) < 2:
        return ""
    owners = [
        way.label.split(":")[0]
        for way in subject.ways
        if way.contact and min(others, key=partial(_apart, way.contact)) is contact
    ]
    return f" {'/'.join(owners)}"


def _apart(one: story.Contact, two: story.Contact) -> float:
    return dist(one.ghost, two.ghost)


def bed_marks(subject: Subject, tiling: Tiling) -> list[Mark]:
    """Nose lines, jaws, drops, baulk line, D and spots; not the cushions' backs."""
    page = Page(tiling.whole, 1)
    position = subject.shot.position
    marks = table_marks(position.table, page, position.coefficients.pockets)
    return [mark for mark in marks if mark.role is not Role.CUSHION_BACK]


def ball_marks(printed: tuple[Ball, ...]) -> Iterator[Mark]:
    """Outlines with their centre crosses."""
    for ball in printed:
        role = Role.OUTLINE if ball.there_at_start else Role.GHOST
        yield ring(ball.id, role, ball.at, ball.radius)
        yield from cross(f"{ball.id}-cross", ball.at)


def meeting_marks(subject: Subject, tiling: Tiling) -> Iterator[Circle]:
    """The white where it meets the next ball, one ring a rung."""
    radius = story.radius(subject.shot, subject.cue_ball)
    for number, way in enumerate(subject.ways, 1):
        if way.meeting is not None:
            at = way.meeting.ghost
            if tiling.shows(Box(*at, *at).grown(radius)):
                yield ring(f"meeting-{number}", Role.MEETING, at, radius)


def line_marks(subject: Subject) -> Iterator[Mark]:
    """Lines of aim, of the pot, the tangent line and the white's first stretches."""
    yield from (aim.line for aim in aims(subject))
    yield from _other_contacts(subject)
    yield from _object_way(subject)
    for number, contact in enumerate(subject.contacts(), 1):
        yield _tangent(subject, contact, f"tangent-{number}")
    for number, way in enumerate(subject.ways, 1):
        for piece in way.pieces:
            name = f"rung-{number}-{piece.id}"
            yield replace(piece, id=name)


@dataclass(frozen=True, slots=True)
class Aim:
    """A line of aim, and the numbers of the rungs that are struck along it."""

    line: Line
    rungs: tuple[str, ...]


def aims(subject: Subject) -> list[Aim]:
    """From behind the white to the white at contact, along the cue; each aim once."""
    found: list[Aim] = []
    for number, way in enumerate(subject.ways, 1):
        start = story.start(way.shot, subject.cue_ball)
        aim = first_direction(way.shot)
        ahead = dist(start, way.contact.ghost) if way.contact else FIRST_STRETCH
        end, rung = _moved(start, aim, ahead), way.label.split(":")[0]
        same = [n for n, one in enumerate(found) if _beside(end, one.line) <= APART]
        if same:
            one = found[same[0]]
            found[same[0]] = replace(one, rungs=(*one.rungs, rung))
        else:
            behind = _moved(start, aim, -CUE_BEHIND)
            line = Line(f"aim-{number}", Layer.PATHS, Role.AIM, behind, end)
            found.append(Aim(line, (rung,)))
    return found


def told_by_lines(subject: Subject) -> bool:
    """Whether whites at contact lie on one another, and each has a line of aim to tell it by."""
    return len(subject.contacts()) > MOST_NAMED and len(aims(subject)) > 1


def _other_contacts(subject: Subject) -> Iterator[Line]:
    """Small crosses where other rungs meet the ball, too close for a ring of their own."""
    drawn = [contact.ghost for contact in subject.contacts()]
    for number, way in enumerate(subject.ways, 1):
        if way.contact is not None and all(dist(way.contact.ghost, at) > SAME for at in drawn):
            drawn.append(way.contact.ghost)
            yield from cross(f"contact-{number}", way.contact.ghost, SMALL_CROSS)


def _beside(point: Point, line: Line) -> float:
    """How far beside a line a point lies. [mm]"""
    (x, y), (u, v) = line.start, line.end
    length = dist(line.start, line.end)
    return abs((u - x) * (point[1] - y) - (v - y) * (point[0] - x)) / length


def _object_way(subject: Subject) -> Iterator[Mark]:
    line = subject.pot_line()
    if line is not None:
        yield Line("pot-line", Layer.PATHS, Role.OBJECT_WAY, *line)
    elif subject.contact is not None:
        way = subject.contact.time, subject.shot.duration
        ball = subject.contact.ball
        yield from path_marks.thin_way(subject.shot, ball, way, Role.OBJECT_WAY, "object-way")


def _tangent(subject: Subject, contact: story.Contact, name: str) -> Line:
    """At right angles to the line of centres, as long as the first stretch, inside the cushions."""
    along = path_marks.tangent_direction(subject.shot, contact)
    ground = bed(subject)
    ahead = _within(contact.ghost, along, FIRST_STRETCH, ground)
    back = _within(contact.ghost, along, -TANGENT_BACK, ground)
    return Line(name, Layer.PATHS, Role.TANGENT, back, ahead)


def _within(start: Point, along: Point, distance: float, ground: Box) -> Point:
    """So far along, or to where the ground ends."""
    part = 1.0
    for axis, low, high in ((0, ground.left, ground.right), (1, ground.bottom, ground.top)):
        step = along[axis] * distance
        if step > 0:
            part = min(part, (high - start[axis]) / step)
        elif step < 0:
            part = min(part, (low - start[axis]) / step)
    return _moved(start, along, distance * max(part, 0.0))


def cross(
    name: str, at: Point, arm: float = CROSS, role: Role = Role.GHOST_CROSS
) -> Iterator[Line]:
    """A cross with its middle there."""
    x, y = at
    yield Line(f"{name}-level", Layer.CONTACTS, role, (x - arm, y), (x + arm, y))
    yield Line(f"{name}-upright", Layer.CONTACTS, role, (x, y - arm), (x, y + arm))


def _moved(point: Point, along: Point, distance: float) -> Point:
    return point[0] + along[0] * distance, point[1] + along[1] * distance
