"""The plan of an explained shot: the white's way, and its ways without one cause each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import dist
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import balls
from stunline.drawing.foot import Foot
from stunline.drawing.framed_plan import framed_plan
from stunline.drawing.ground import Ground
from stunline.drawing.labels import LabelWish, Rank
from stunline.drawing.marks import Box, Circle, Drawing, Layer, Mark, Point, Role, Size, box_round
from stunline.drawing.page import SCREEN, Medium, Page, page_for
from stunline.drawing.plan import (
    action_of,
    fixed_words,
    kinds_of,
    placed_labels,
    tangent_of,
)
from stunline.drawing.plan_labels import ball_wishes, obstacles_of, spot_wishes
from stunline.drawing.table_marks import table_marks
from stunline.drawing.title_block import TitleBlock

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

TOLD_APART = 6.0  # ways that nowhere lie further apart than this are one, to the eye [px]
LOOKS = 24  # places along a way at which that is looked at
BACK, BACK_STEPS = 0.5, 6  # a label may stand beside the last half of its way, in so many places
AS_STRUCK = "as struck"
# What ends the part of a way that is compared.
ENDS = ("ball", "cluster", "cushion", "jaw", "pocket")


@dataclass(frozen=True, slots=True)
class WithoutPicture:
    """The shot without something: what is left out, in a word or two, and how it goes then."""

    label: str
    shot: Shot


@dataclass(frozen=True, slots=True)
class ExplainPicture:
    """What the plan shows.

    Attributes:
        shot: as struck
        without: its ways without one cause each
        block: the title block's words
        words: what it comes to, in a sentence
    """

    shot: Shot
    without: Sequence[WithoutPicture]
    block: TitleBlock
    words: str


@dataclass(frozen=True, slots=True)
class _Way:
    """A way that is drawn, with the labels of all that go there."""

    number: int
    labels: tuple[str, ...]
    shot: Shot
    points: tuple[Point, ...]

    @property
    def words(self) -> str:
        return ", ".join(self.labels)


def plan_of_explanation(
    picture: ExplainPicture, medium: Medium = SCREEN, name: str = "plan"
) -> Drawing:
    """The way as struck in full, the others dotted and each with its label at its end."""
    shot = picture.shot
    page = page_for(_action(picture), story.table_box(shot), medium)
    ways, same = _distinct(picture, page)
    marks = list(_marks(picture, ways, page))
    white = story.white_words(shot)
    foot = Foot(story.playing_area(shot), picture.block, kinds_of(marks), 0.0, white)
    return framed_plan(page, marks, foot, _described(picture, ways, same), name)


def _span(shot: Shot) -> tuple[float, float]:
    """From the contact to what the white next comes to, or to its rest. [s]"""
    white = story.cue_ball(shot)
    since = next((contact.time for contact in story.contacts(shot)), 0.0)
    ends = (
        event.time
        for event in shot.events
        if event.time > since and event.kind.value in ENDS and white in event.balls
    )
    return since, next(ends, shot.duration)


def _action(picture: ExplainPicture) -> Box:
    shots = [picture.shot, *(one.shot for one in picture.without)]
    return box_round([action_of(shot, _span(shot)[1]) for shot in shots])


def _points(shot: Shot) -> tuple[Point, ...]:
    since, until = _span(shot)
    white = story.cue_ball(shot)
    steps = (since + (until - since) * look / LOOKS for look in range(LOOKS + 1))
    return tuple(story.place(shot, white, time) for time in steps)


def _distinct(picture: ExplainPicture, page: Page) -> tuple[list[_Way], list[str]]:
    """The ways that can be seen apart, and the labels of those that go as the shot itself."""
    own = _points(picture.shot)
    ways: list[_Way] = []
    same: list[str] = []
    apart = page.mm(TOLD_APART)
    for one in picture.without:
        points = _points(one.shot)
        if _coincide(points, own, apart):
            same.append(one.label)
            continue
        for k, other in enumerate(ways):
            if _coincide(points, other.points, apart):
                labels = (*other.labels, one.label)
                ways[k] = _Way(other.number, labels, other.shot, other.points)
                break
        else:
            ways.append(_Way(len(ways) + 1, (one.label,), one.shot, points))
    return ways, same


def _coincide(one: Sequence[Point], two: Sequence[Point], apart: float) -> bool:
    """Whether both lie on one another, ends included. [mm]"""
    ends = dist(one[-1], two[-1]) < apart
    return ends and all(min(dist(point, other) for other in two) < 2.0 * apart for point in one)


def _marks(picture: ExplainPicture, ways: Sequence[_Way], page: Page) -> Iterator[Mark]:
    shot = picture.shot
    contact = next(iter(story.contacts(shot)), None)
    lines, rings = list(_lines(shot, ways, contact)), list(_rings(shot, ways, page))
    ends = [_met_at_end(one) for one in (shot, *(way.shot for way in ways))]
    met = frozenset(found.ball for found in (contact, *ends) if found)
    yield from table_marks(shot.position.table, page, shot.position.coefficients.pockets)
    yield from lines
    yield from balls(shot, page, met)
    yield from rings
    ground = Ground(obstacles_of(shot, lines, rings), page)
    words, ground = fixed_words(shot, lines, ground, contact.ball if contact else None)
    yield from words.marks
    wishes = [*_wishes(shot, ways), *ball_wishes(shot, page, met), *spot_wishes(shot, page)]
    yield from placed_labels(wishes, ground)


def _lines(shot: Shot, ways: Sequence[_Way], contact: story.Contact | None) -> Iterator[Mark]:
    """The lighter ones first."""
    yield path_marks.aim_line(shot, contact)
    if contact is not None:
        span = (contact.time, shot.duration)
        yield from path_marks.thin_way(shot, contact.ball, span, Role.OBJECT_WAY, "object")
    for way in ways:
        name, span = f"without-{way.number}", _span(way.shot)
        white = story.cue_ball(way.shot)
        yield from path_marks.thin_way(way.shot, white, span, Role.WITHOUT, name)
    until = _span(shot)[1]
    white = story.cue_ball(shot)
    yield from path_marks.thin_way(shot, white, (until, shot.duration), Role.LATER, "later")
    yield from path_marks.white_way(shot, 0.0, until, "white")
    if contact is not None:
        yield tangent_of(shot, contact, until)


def _rings(shot: Shot, ways: Sequence[_Way], page: Page) -> Iterator[Mark]:
    """The contact, and where each way ends."""
    for contact in story.contacts(shot)[:1]:
        yield from path_marks.ghost(shot, page, contact)
    yield _end_ring(shot, "end")
    for way in ways:
        yield _end_ring(way.shot, f"without-{way.number}-end")


def _end_ring(shot: Shot, name: str) -> Circle:
    """Where the white meets something, or rests."""
    white, until = story.cue_ball(shot), _span(shot)[1]
    role = Role.REST if until >= shot.duration else Role.MEETING
    centre = story.place(shot, white, until)
    return Circle(name, Layer.CONTACTS, role, centre, story.radius(shot, white))


def _met_at_end(shot: Shot) -> story.Contact | None:
    """The ball that ends the way, if one does."""
    until = _span(shot)[1]
    return next((one for one in story.contacts(shot)[1:] if one.time == until), None)


def _wishes(shot: Shot, ways: Sequence[_Way]) -> Iterator[LabelWish]:
    white = story.cue_ball(shot)
    since, until = _span(shot)
    own = tuple(
        story.place(shot, white, until - (until - since) * BACK * step / BACK_STEPS)
        for step in range(BACK_STEPS)
    )
    radius = story.radius(shot, white)
    yield _label("label-as-struck", AS_STRUCK, own, radius, Size.BODY)
    for way in ways:
        last = way.points[: -int(LOOKS * BACK) : -int(LOOKS * BACK / BACK_STEPS)]
        yield _label(f"label-without-{way.number}", way.words, last, radius, Size.SMALL)


def _label(name: str, words: str, back: Sequence[Point], radius: float, size: Size) -> LabelWish:
    """Beyond the end of a way, or beside its last half; points from the end backwards."""
    onwards = path_marks.direction(back[-1], back[0]) if back[-1] != back[0] else 0.0
    bold = size is Size.BODY
    return LabelWish(
        name, words, back[0], radius, onwards, size, bold, along=tuple(back[1:]), rank=Rank.OUTCOME
    )


def _described(picture: ExplainPicture, ways: Sequence[_Way], same: Sequence[str]) -> str:
    parts = [picture.words, "Dotted, each without one of its causes:"]
    parts.append("; ".join(way.words for way in ways) + "." if ways else "none that goes apart.")
    if same:
        parts.append(f"Not to be told from the shot itself: {', '.join(same)}.")
    return " ".join(parts)
