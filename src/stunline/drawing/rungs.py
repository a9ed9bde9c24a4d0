"""The rungs of a ladder on the plan: each one's ways, rings, tangent line and label."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import dist
from typing import TYPE_CHECKING

import numpy as np

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import meeting_ring, rest_ring
from stunline.drawing.doubt_marks import DoubtPicture
from stunline.drawing.ground import Floats
from stunline.drawing.labels import LabelWish, Rank
from stunline.drawing.marks import Circle, Curve, Layer, Line, Mark, Point, Role, Size
from stunline.drawing.page import Furniture, Page
from stunline.drawing.plan_labels import ball_wishes, object_wish, pieces, spot_wishes
from stunline.drawing.segments import distance_to
from stunline.drawing.strip_layout import Strip
from stunline.drawing.title_block import TitleBlock

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

BACK, BACK_STEPS = 0.5, 6  # labels may stand beside the last half of the way, in so many places
APART = 2.0  # contacts and starts further apart than this are drawn each for itself [mm]
TOLD_APART = 4.0  # dashed lines nearer than this run together, so one stands for both [px]


@dataclass(frozen=True, slots=True)
class RungPicture:
    """One rung: its shot, its short label on the plan, what happens in words."""

    label: str
    shot: Shot
    words: str = ""


@dataclass(frozen=True, slots=True)
class LadderPicture:
    """What the plan of a ladder shows.

    Attributes:
        rungs: in order; the first one's shot also gives the table and the balls
        block: the title block's words
        strip: below the plan, or None
        chosen: index of a rung whose way carries the ticks of time, or None
        numbered: whether ringed numbers, 1 for the first rung, stand at the rungs' ends
        doubt: how far the ends may be off
    """

    rungs: tuple[RungPicture, ...]
    block: TitleBlock
    strip: Strip | None = None
    chosen: int | None = None
    numbered: bool = False
    doubt: DoubtPicture | None = None


def rung_lines(picture: LadderPicture, page: Page) -> Iterator[Mark]:
    """Every line of every rung, the lighter ones first; what coincides is drawn once."""
    rungs, first = picture.rungs, picture.rungs[0].shot
    yield path_marks.aim_line(first, next(iter(story.contacts(first)), None))
    yield from _object_ways(rungs, page)
    for number, (shot, own) in enumerate(_distinct_contacts(rungs), 1):
        yield from path_marks.white_way(shot, 0.0, own.time, f"run-up-{number}")
    for number, rung in enumerate(rungs, 1):
        since, until = _told_from(rung.shot), story.told_until(rung.shot)
        yield from path_marks.white_way(rung.shot, since, until, f"rung-{number}-way")
        if picture.chosen == number - 1:
            yield from path_marks.ticks(rung.shot, page, since, until, f"rung-{number}-tick")
    yield from _tangent_lines(rungs, page)


def _object_ways(rungs: Sequence[RungPicture], page: Page) -> Iterator[Mark]:
    """Each rung's object ball, the longest way first; a way that lies on others is left out."""
    ways: list[list[Mark]] = []
    for number, rung in enumerate(rungs, 1):
        for own in story.contacts(rung.shot)[:1]:
            span = (own.time, rung.shot.duration)
            name = f"object-{number}"
            ways.append(list(path_marks.thin_way(rung.shot, own.ball, span, Role.OBJECT_WAY, name)))
    drawn = np.zeros((0, 4))
    for way in sorted(ways, key=_length, reverse=True):
        points = np.array([point for mark in way for point in _points(mark)]).reshape(-1, 2)
        if not len(points) or not np.all(_off_lines(points, drawn) < page.mm(TOLD_APART)):
            yield from way
            lines = [(*start, *end) for mark in way for start, end in pieces(mark)]
            drawn = np.concatenate((drawn, np.array(lines).reshape(-1, 4)))


def _points(mark: Mark) -> tuple[Point, ...]:
    if isinstance(mark, Curve):
        return mark.at(0.5), mark.end
    return (mark.end,) if isinstance(mark, Line) else ()


def _length(way: Sequence[Mark]) -> float:
    return sum(dist(mark.start, mark.end) for mark in way if isinstance(mark, Line | Curve))


def _off_lines(points: Floats, lines: Floats) -> Floats:
    """From each point to the nearest of the straight lines, rows of their ends. [mm]"""
    if not len(lines):
        return np.full(len(points), np.inf)
    start, along = lines[:, :2], lines[:, 2:] - lines[:, :2]
    away = points[:, np.newaxis, :] - start
    square = np.maximum((along**2).sum(axis=1), 1e-12)  # a line without length is a point
    part = np.clip((away * along).sum(axis=2) / square, 0.0, 1.0)
    off = away - part[:, :, np.newaxis] * along
    return np.asarray(np.sqrt((off**2).sum(axis=2)).min(axis=1))


def _tangent_lines(rungs: Sequence[RungPicture], page: Page) -> Iterator[Line]:
    """One for each contact, and as long as the rungs' ways beside it; told apart or drawn once."""
    found: list[tuple[Line, Shot, story.Contact, float]] = []
    for rung in rungs:
        for own in story.contacts(rung.shot)[:1]:
            end = story.place(rung.shot, story.cue_ball(rung.shot), story.told_until(rung.shot))
            reach = path_marks.along_tangent(rung.shot, own, end)
            name = "tangent-line" if not found else f"tangent-line-{len(found) + 1}"
            line = path_marks.tangent_line(rung.shot, own, reach, name)
            for number, (other, shot, contact, far) in enumerate(found):
                if _coincide(line, other, page.mm(TOLD_APART)):
                    longer = max(far, reach)
                    line = path_marks.tangent_line(shot, contact, longer, other.id)
                    found[number] = (line, shot, contact, longer)
                    break
            else:
                found.append((line, rung.shot, own, reach))
    yield from (line for line, *_ in found)


def _coincide(one: Line, two: Line, apart: float) -> bool:
    """Whether the shorter line's ends lie on the other, to the eye. [mm]"""
    short, long = sorted((one, two), key=lambda line: dist(line.start, line.end))
    return all(distance_to(end, long.start, long.end) < apart for end in (short.start, short.end))


def _told_from(shot: Shot) -> float:
    """A rung's own way begins at its contact, or with the shot when it meets nothing. [s]"""
    return next((contact.time for contact in story.contacts(shot)), 0.0)


def _distinct_contacts(rungs: Sequence[RungPicture]) -> list[tuple[Shot, story.Contact]]:
    """The rungs' first contacts; those at the same place as an earlier one are left out."""
    found: list[tuple[Shot, story.Contact]] = []
    for rung in rungs:
        for own in story.contacts(rung.shot)[:1]:
            if all(dist(own.ghost, other.ghost) > APART for _, other in found):
                found.append((rung.shot, own))
    return found


def other_starts(rungs: Sequence[RungPicture]) -> Iterator[Circle]:
    """Where the white stands at rungs that move it."""
    white = story.cue_ball(rungs[0].shot)
    shown = [story.start(rungs[0].shot, white)]
    for number, rung in enumerate(rungs, 1):
        at = story.start(rung.shot, white)
        if all(dist(at, other) > APART for other in shown):
            shown.append(at)
            radius = story.radius(rung.shot, white)
            yield Circle(f"rung-{number}-white", Layer.BALLS, Role.BALL_WHITE, at, radius)


def rung_rings(picture: LadderPicture, page: Page) -> Iterator[Mark]:
    """Where each rung's contact and meeting are, and where its balls rest."""
    for number, rung in enumerate(picture.rungs, 1):
        meeting = story.next_meeting(rung.shot)
        if meeting is not None:
            yield meeting_ring(rung.shot, meeting, f"rung-{number}-meeting")
        else:
            ring = rest_ring(rung.shot, story.cue_ball(rung.shot), f"rung-{number}-rest")
            if ring is not None:
                yield ring
    for number, (shot, own) in enumerate(_distinct_contacts(picture.rungs), 1):
        yield from path_marks.ghost(shot, page, own, f"ghost-{number}")
    yield from _object_rests(picture.rungs)


def _object_rests(rungs: Sequence[RungPicture]) -> Iterator[Circle]:
    shown: list[Point] = []
    for number, rung in enumerate(rungs, 1):
        for own in story.contacts(rung.shot)[:1]:
            ring = rest_ring(rung.shot, own.ball, f"object-rest-{number}")
            if ring is not None and all(dist(ring.centre, other) > APART for other in shown):
                shown.append(ring.centre)
                yield ring


def met_balls(rungs: Sequence[RungPicture]) -> frozenset[str]:
    """Every ball that the white meets first or next at some rung."""
    met: set[str] = set()
    for rung in rungs:
        met |= {contact.ball for contact in story.contacts(rung.shot)[:1]}
        meeting = story.next_meeting(rung.shot)
        met |= {meeting.ball} if meeting else set()
    return frozenset(met)


def rung_wishes(picture: LadderPicture, page: Page) -> Iterator[LabelWish]:
    """The rungs' labels, and what the plan names besides."""
    first = picture.rungs[0].shot
    for number, rung in enumerate(picture.rungs, 1):
        white = story.cue_ball(rung.shot)
        end = story.place(rung.shot, white, story.told_until(rung.shot))
        meeting = story.next_meeting(rung.shot)
        # A page that numbers the rungs says in words below what each one is.
        is_sheet = page.medium.furniture is Furniture.FULL
        yield LabelWish(
            f"rung-{number}-label",
            rung.label if is_sheet or not picture.numbered else "",
            end,
            story.radius(rung.shot, white),
            # Away from the ball it meets; without one, onwards from where it came.
            path_marks.direction(meeting.ball_at, end) if meeting else 0.0,
            Size.SMALL if picture.numbered else Size.BODY,
            along=back_along(rung.shot),
            rank=Rank.OUTCOME,
            ringed=str(number) if picture.numbered else "",
        )
    yield from ball_wishes(first, page, met_balls(picture.rungs))
    yield from spot_wishes(first, page)
    if len(_distinct_contacts(picture.rungs)) == 1:
        for own in story.contacts(first)[:1]:
            yield from object_wish(first, page, own)


def back_along(shot: Shot) -> tuple[Point, ...]:
    """Points of the white's last stretches, from its end backwards, for its label. [mm]"""
    since, until = _told_from(shot), story.told_until(shot)
    white = story.cue_ball(shot)
    steps = (
        until - (until - since) * BACK * number / BACK_STEPS for number in range(1, BACK_STEPS)
    )
    return tuple(story.place(shot, white, time) for time in steps)
