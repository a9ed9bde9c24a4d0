"""The plan of one shot."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import (
    balls,
    meeting_ring,
    rest_ring,
)
from stunline.drawing.dimensions import dimensions
from stunline.drawing.doubt_marks import DoubtPicture, doubt_marks
from stunline.drawing.foot import Foot
from stunline.drawing.framed_plan import framed_plan
from stunline.drawing.goal_marks import goal_box, goal_marks
from stunline.drawing.ground import Ground
from stunline.drawing.inset import contact_inset, inset_window
from stunline.drawing.labels import LabelWish, label_marks, place_labels
from stunline.drawing.legend import LEGEND_WORDS
from stunline.drawing.marks import (
    Box,
    Drawing,
    Layer,
    Line,
    Mark,
    Point,
    Role,
    box_round,
)
from stunline.drawing.page import SCREEN, Furniture, Medium, Page, page_for
from stunline.drawing.plan_labels import obstacles_of, shot_wishes, tangent_note
from stunline.drawing.table_marks import table_marks
from stunline.drawing.title_block import TitleBlock
from stunline.shot.words import ball_words, doubt_words

if TYPE_CHECKING:
    from stunline.shot.goal import Goal
    from stunline.shot.shot import Shot

CUSHION_WORTH_SHOWING = 320.0  # a cushion this near to the white comes into the window [mm]
WORTH_SHRINKING = 1.6  # the white's rest is shown if the scale grows smaller by no more
WORTH_SEEING_DOUBT = 2.0  # the same of all the places at which its doubt may leave it
BALL_MARGIN = 10.0  # round a ball of the action, beyond its edge [mm]
DIMENSIONED_TO = 20.0  # the smallest scale, 1 : n, with dimensions where a page lists them
WINDOW_INSET = 4.0  # labels stay this far inside the window [px]


def plan_of_shot(
    shot: Shot,
    block: TitleBlock | None = None,
    crop: Box | None = None,
    name: str = "plan",
    medium: Medium = SCREEN,
    doubt: DoubtPicture | None = None,
    goal: Goal | None = None,
) -> Drawing:
    """The shot as a plan: the action, cropped, with dimensions, labels and what stands below.

    Args:
        shot: as played
        block: the title block's words; without it those of the position, undated
        crop: what must be seen [mm]; without it the action, to where the white rests or, when
            that would make it much smaller, to the next ball it meets
        name: goes before every id in the SVG
        medium: what it is drawn for
        doubt: how far it may be off, to be drawn under it
        goal: what is wanted of it, framed and drawn as well
    """
    block = block or title_block_of(shot)
    table = story.table_box(shot)
    page = page_for(crop, table, medium) if crop else _page_of(shot, medium, doubt, goal)
    marks = [*doubt_marks(doubt), *_plan_marks(shot, page, goal)]
    tick = path_marks.tick_interval(story.told_until(shot))
    words = doubt.words if doubt is not None else ""
    white = story.white_words(shot)
    foot = Foot(story.playing_area(shot), block, kinds_of(marks), tick, white, words)
    return framed_plan(page, marks, foot, described(shot), name, inset_window(marks))


def title_block_of(shot: Shot, date: str = "") -> TitleBlock:
    """The title block of a shot, from its position."""
    position = shot.position
    table = f"{position.table.title}, {position.cloth} cloth"
    doubt = doubt_words(position.table.cloths[position.cloth])
    return TitleBlock(position.title or "Untitled position", table, doubt, date)


def _page_of(shot: Shot, medium: Medium, doubt: DoubtPicture | None, goal: Goal | None) -> Page:
    """The widest that is worth its smaller scale: with its doubt, to its rest, to its next ball."""
    table = story.table_box(shot)
    action = with_goal(action_of(shot, shot.duration), shot, goal)
    off = doubt.box() if doubt is not None else None
    wide = [box_round([action, off]).within(table)] if off is not None else []
    told = with_goal(action_of(shot, story.told_until(shot)), shot, goal)
    close = page_for(told, table, medium)
    worth = [*(WORTH_SEEING_DOUBT for _ in wide), WORTH_SHRINKING]
    for box, times in zip((*wide, action), worth, strict=True):
        page = page_for(box, table, medium)
        if page.denominator <= close.denominator * times:
            return page
    return close


def with_goal(action: Box, shot: Shot, goal: Goal | None) -> Box:
    """What must be seen, grown by what is wanted of the shot. [mm]"""
    wanted = goal_box(goal, shot.position)
    if wanted is None:
        return action
    return box_round([action, wanted.grown(BALL_MARGIN)]).within(story.table_box(shot))


def action_of_all(shots: Iterable[Shot]) -> Box:
    """What must be seen of several shots, each to the end of its story. [mm]"""
    return box_round([action_of(shot, story.told_until(shot)) for shot in shots])


def action_of(shot: Shot, until: float) -> Box:
    """What must be seen: the white's way until then, balls met and their packs. [mm]

    Cushions near the white's start are seen as well. The time is in seconds.
    """
    white = story.cue_ball(shot)
    points = [story.start(shot, white)]
    for phase in shot.phases(white):
        if phase.end <= until + path_marks.TIME_EPSILON:
            curve = path_marks.curve_of(phase, "", Layer.PATHS, Role.LATER)
            points += [curve.at(0.5), curve.end]
    points += _object_ball_rests(shot, until)
    for contact in (*story.contacts(shot)[:1], story.next_meeting(shot)):
        if contact is not None:
            points += [story.start(shot, ball) for ball in story.pack_of(shot, contact.ball)]
    margin = story.radius(shot, white) + BALL_MARGIN
    action = story.box_of(points, margin)
    return _with_near_cushions(shot, points[0], action.within(story.table_box(shot)))


def _object_ball_rests(shot: Shot, until: float) -> list[Point]:
    """Where the object ball comes to rest, if by then it does. [mm]"""
    if until < shot.duration:
        return []
    places = (story.rest(shot, contact.ball) for contact in story.contacts(shot)[:1])
    return [at for at in places if at is not None]


def _with_near_cushions(shot: Shot, white: Point, action: Box) -> Box:
    table, near, depth = shot.position.table, CUSHION_WORTH_SHOWING, story.CUSHION_DEPTH
    width, length = table.width * story.MILLIMETRES, table.length * story.MILLIMETRES
    return Box(
        -depth if white[0] < near else action.left,
        -depth if white[1] < near else action.bottom,
        width + depth if width - white[0] < near else action.right,
        length + depth if length - white[1] < near else action.top,
    )


def _plan_marks(shot: Shot, page: Page, goal: Goal | None) -> Iterator[Mark]:
    contact = next(iter(story.contacts(shot)), None)
    meeting = story.next_meeting(shot)
    lines = list(shot_lines(shot, page, contact, meeting))
    met = frozenset(found.ball for found in (contact, meeting) if found)
    rings = shot_rings(shot, page, contact, meeting)
    yield from table_marks(shot.position.table, page, shot.position.coefficients.pockets)
    if goal is not None:
        yield from goal_marks(goal, shot.position)
    yield from lines
    yield from balls(shot, page, met)
    yield from rings
    obstacles = obstacles_of(shot, lines, rings)
    ground = Ground(obstacles, page)
    words, ground = fixed_words(shot, lines, ground, contact.ball if contact else None)
    yield from words.marks
    has_inset = contact is not None and page.medium.furniture is Furniture.FULL
    if contact is not None and has_inset:
        around = replace(obstacles, segments=obstacles.segments + words.lines, taken=words.boxes)
        inset = contact_inset(shot, contact, page, around)
        if inset is not None:
            yield from inset.marks
            ground = ground.with_more((), (inset.box,))
    wishes = list(shot_wishes(shot, page, contact, meeting))
    yield from placed_labels(wishes, ground)


@dataclass(frozen=True, slots=True)
class FixedWords:
    """Words that are placed before the labels: marks, their lines and rectangles. [mm]"""

    marks: tuple[Mark, ...]
    lines: tuple[tuple[Point, Point], ...]
    boxes: tuple[Box, ...]


def fixed_words(
    shot: Shot, lines: Iterable[Mark], ground: Ground, met: str | None
) -> tuple[FixedWords, Ground]:
    """The tangent line's name and the dimensions, and the ground with them on it."""
    marks: list[Mark] = []
    segments: list[tuple[Point, Point]] = []
    boxes: list[Box] = []
    tangent = next((m for m in lines if m.role is Role.TANGENT and isinstance(m, Line)), None)
    note = tangent_note(tangent, ground) if tangent is not None else None
    if note is not None:
        marks.append(note[0])
        boxes += note[1]
        ground = ground.with_more((), note[1])
    measured = [story.cue_ball(shot)]
    if met is not None and ground.page.medium.measures_object:
        measured.append(met)
    clear = ground
    for ball in measured if is_dimensioned(ground.page) else ():
        for dimension in dimensions(shot, clear, ball):
            marks += dimension.marks
            segments += dimension.lines
            boxes += dimension.words
            clear = clear.with_more((), dimension.words)
    return FixedWords(tuple(marks), tuple(segments), tuple(boxes)), clear.with_more(segments, ())


def is_dimensioned(page: Page) -> bool:
    """Whether the plan is large enough for dimensions, or has nothing else that tells them."""
    is_sheet = page.medium.furniture is Furniture.FULL
    return is_sheet or page.denominator <= DIMENSIONED_TO


def placed_labels(wishes: list[LabelWish], ground: Ground) -> list[Mark]:
    """The labels' marks, each inside the window."""
    page = ground.page
    bounds = page.window.grown(-page.mm(WINDOW_INSET))
    return label_marks(place_labels(wishes, ground, bounds), page)


def shot_lines(
    shot: Shot, page: Page, contact: story.Contact | None, meeting: story.Contact | None
) -> Iterator[Mark]:
    """Every line of the shot, the lighter ones first so that the heavier lie on them."""
    yield path_marks.aim_line(shot, contact)
    told = story.told_until(shot)
    if meeting is not None:
        later = (meeting.time, shot.duration)
        yield from path_marks.thin_way(shot, story.cue_ball(shot), later, Role.LATER, "later")
    if contact is not None:
        way = (contact.time, shot.duration)
        yield from path_marks.thin_way(shot, contact.ball, way, Role.OBJECT_WAY, "object")
    yield from path_marks.white_way(shot, 0.0, told, "white")
    yield from path_marks.ticks(shot, page, 0.0, told, "tick")
    if contact is not None:
        yield tangent_of(shot, contact, told)


def tangent_of(shot: Shot, contact: story.Contact, until: float) -> Line:
    """The tangent line, as long as the white's way beside it."""
    end = story.place(shot, story.cue_ball(shot), until)
    return path_marks.tangent_line(shot, contact, path_marks.along_tangent(shot, contact, end))


def shot_rings(
    shot: Shot, page: Page, contact: story.Contact | None, meeting: story.Contact | None
) -> list[Mark]:
    """Where the white meets balls, and where it and the object ball come to rest."""
    rings: list[Mark] = []
    if meeting is not None:
        rings.append(meeting_ring(shot, meeting, "meeting"))
    if contact is not None:
        rings += path_marks.ghost(shot, page, contact)
    shown = [story.cue_ball(shot)] + ([contact.ball] if contact else [])
    for ball in shown:
        ring = rest_ring(shot, ball, f"rest-{ball}")
        if ring is not None:
            rings.append(ring)
    return rings


def kinds_of(marks: Iterable[Mark]) -> list[Role]:
    """The kinds of line among the marks, in the legend's order."""
    present = {mark.role for mark in marks if mark.layer in (Layer.PATHS, Layer.DOUBT)}
    return [role for role in LEGEND_WORDS if role in present]


def described(shot: Shot) -> str:
    """The plan in a sentence or two, for people who cannot see it."""
    contact, meeting = next(iter(story.contacts(shot)), None), story.next_meeting(shot)
    parts = [f"The {story.white_words(shot)} is struck at {shot.strike.pace:.2f} metres a second."]
    if contact is None:
        parts.append("It meets no ball.")
    else:
        pocket = shot.potted(contact.ball)
        end = f"which goes into the {pocket} pocket" if pocket else "which stays on the table"
        parts.append(f"It meets {ball_words(contact.ball)}, {end}.")
    if meeting is not None:
        parts.append(f"Then it meets {ball_words(meeting.ball)}.")
    return " ".join(parts)
