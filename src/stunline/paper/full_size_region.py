"""What of the table must be on the pages: small pieces, each a rectangle. [mm]"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, dist
from typing import Literal, get_args

from stunline.drawing import path_marks, story
from stunline.drawing.marks import Box, Point
from stunline.paper.full_size_subject import Subject, first_direction

Around = Literal["contact", "white", "all"]
AROUNDS: tuple[Around, ...] = get_args(Around)

PIECE = 15.0  # lines are asked for in pieces of this length [mm]
AIM_SHOWN = 130.0  # of the line of aim before the contact, enough to sight along [mm]
CUE_BEHIND = 80.0  # of the line of aim behind the white [mm]
POT_SHOWN = 110.0  # of the line of the pot beyond the object ball's centre [mm]
TANGENT_AHEAD, TANGENT_BACK = 160.0, 60.0  # of the tangent line [mm]
# So much of each of these lines is worth a page; the rest is printed where it comes of itself.
WORTH_A_PAGE = 0.6
SPOT_ROOM = 6.0  # round a spot, for the arms of its cross [mm]
END_ROOM = 16.0  # round the end of a stretch, for what stands there [mm]
BALL_ROOM = 1.0  # round a ball's outline [mm]
UNDER_NOSE = 15.0  # of paper beyond a nose line, to slide under it; own assumption [mm]


def needed(subject: Subject, around: Around) -> list[Box]:
    """Everything that must be shown, in pieces, cut off where the table ends."""
    return _pieces(subject, around, WORTH_A_PAGE)


def liked(subject: Subject, around: Around) -> list[Box]:
    """The whole of the lines, whose ends are no reason for a page, and spots to set them by."""
    return [*_pieces(subject, around, 1.0), *_spots(subject)]


def _spots(subject: Subject) -> Iterator[Box]:
    for place in subject.shot.position.table.spots.values():
        yield Box(*story.millimetres(place), *story.millimetres(place)).grown(SPOT_ROOM)


def _pieces(subject: Subject, around: Around, part: float) -> list[Box]:
    pieces: list[Box] = []
    if around != "white" and subject.contact is not None:
        pieces += _contact_pieces(subject, part)
    if around != "contact" or subject.contact is None:
        pieces += _white_pieces(subject, part)
    if around == "all" and subject.contact is not None:
        pieces += _line_pieces(subject.white, subject.contact.ghost)
    ground = bed(subject).grown(UNDER_NOSE)
    return [piece.within(ground) for piece in pieces if piece.overlap(ground) > 0]


def together(subject: Subject) -> list[Box]:
    """What had better stand on one page: each white at contact with the ball it meets."""
    found = []
    for contact in subject.contacts():
        one = _ball(subject, subject.cue_ball, contact.ghost)
        two = _ball(subject, contact.ball, contact.ball_at)
        found.append(
            Box(
                min(one.left, two.left),
                min(one.bottom, two.bottom),
                max(one.right, two.right),
                max(one.top, two.top),
            )
        )
    return found


def bed(subject: Subject) -> Box:
    """The playing area between the nose lines."""
    return story.playing_area(subject.shot)


def _contact_pieces(subject: Subject, part: float) -> Iterator[Box]:
    for contact in subject.contacts():
        yield _ball(subject, subject.cue_ball, contact.ghost)
        yield _ball(subject, contact.ball, contact.ball_at)
        tangent = path_marks.tangent_direction(subject.shot, contact)
        back = _moved(contact.ghost, tangent, -part * TANGENT_BACK)
        yield from _line_pieces(back, _moved(contact.ghost, tangent, part * TANGENT_AHEAD))
        way = dist(subject.white, contact.ghost)
        behind = min(part * AIM_SHOWN, way)
        if way > 0:
            came = _towards(contact.ghost, subject.white, behind)
            yield from _line_pieces(came, contact.ghost)
    line = subject.pot_line()
    if line is not None:
        yield from _line_pieces(line[0], _towards(*line, min(part * POT_SHOWN, dist(*line))))
    yield from _stretches(subject)


def _stretches(subject: Subject) -> Iterator[Box]:
    for way in subject.ways:
        for one, two in pairwise(way.points):
            yield from _line_pieces(one, two)
        if way.points:
            yield Box(*way.points[-1], *way.points[-1]).grown(END_ROOM)
        if way.meeting is not None:
            yield _ball(subject, subject.cue_ball, way.meeting.ghost)
            yield _ball(subject, way.meeting.ball, way.meeting.ball_at)


def _white_pieces(subject: Subject, part: float) -> Iterator[Box]:
    yield _ball(subject, subject.cue_ball, subject.white)
    aim, ahead = first_direction(subject.shot), part * AIM_SHOWN
    if subject.contact is not None:
        ahead = min(ahead, dist(subject.white, subject.contact.ghost))
    behind = _moved(subject.white, aim, -part * CUE_BEHIND)
    yield from _line_pieces(behind, _moved(subject.white, aim, ahead))
    if subject.contact is None:
        yield from _stretches(subject)


def _ball(subject: Subject, ball: str, at: Point) -> Box:
    return Box(*at, *at).grown(story.radius(subject.shot, ball) + BALL_ROOM)


def _line_pieces(start: Point, end: Point) -> Iterator[Box]:
    count = max(1, ceil(dist(start, end) / PIECE))
    for number in range(count):
        one = _part(start, end, number / count)
        two = _part(start, end, (number + 1) / count)
        across, up = sorted((one[0], two[0])), sorted((one[1], two[1]))
        yield Box(across[0], up[0], across[1], up[1]).grown(BALL_ROOM)


def _part(start: Point, end: Point, part: float) -> Point:
    return start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])


def _towards(start: Point, end: Point, length: float) -> Point:
    return _part(start, end, length / dist(start, end) if start != end else 0.0)


def _moved(point: Point, along: Point, distance: float) -> Point:
    return point[0] + along[0] * distance, point[1] + along[1] * distance
