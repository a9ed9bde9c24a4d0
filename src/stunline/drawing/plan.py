"""The plan of one shot."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, pi, sin
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import (
    balls,
    has_room_for_letter,
    meeting_ring,
    needs_letter,
    rest_ring,
)
from stunline.drawing.dimensions import Dimension, dimensions
from stunline.drawing.inset import contact_inset, inset_window
from stunline.drawing.labels import (
    LabelWish,
    Obstacles,
    label_marks,
    length_inside,
    place_labels,
    words_box,
)
from stunline.drawing.marks import (
    Anchor,
    Box,
    Circle,
    Curve,
    Drawing,
    Layer,
    Line,
    Mark,
    Point,
    Polyline,
    Role,
    Size,
    Text,
)
from stunline.drawing.page import Page, page_for
from stunline.drawing.table_marks import lines_in_play, table_marks
from stunline.drawing.title_block import LEGEND_WORDS, TitleBlock, block_height, foot
from stunline.drawing.typeface import CAPITAL_HEIGHT

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

PLAN_LAYERS = (
    Layer.TABLE,
    Layer.DIMENSIONS,
    Layer.PATHS,
    Layer.BALLS,
    Layer.CONTACTS,
    Layer.LABELS,
)
CUSHION_WORTH_SHOWING = 320.0  # a cushion this near to the white comes into the window [mm]
WORTH_SHRINKING = 1.6  # the white's rest is shown if the scale grows smaller by no more
BALL_MARGIN = 10.0  # round a ball of the action, beyond its edge [mm]
CURVE_PIECES = 6  # a curve as so many straight pieces, for keeping labels off it
SPOTS_NAMED_TO = 10.0  # the smallest scale, 1 : n, at which spots are named
WINDOW_INSET = 4.0  # labels stay this far inside the window [px]
TANGENT_NOTE = "tangent line"
TANGENT_NOTE_OFF = 11.0  # of the note's middle from its line [px]
OBJECT_STUB = 110.0  # of a way that leaves the window, shown up to the label [px]


def plan_of_shot(
    shot: Shot,
    block: TitleBlock | None = None,
    crop: Box | None = None,
    name: str = "plan",
) -> Drawing:
    """The shot as a plan: the action, cropped, with dimensions, labels and title block.

    Args:
        shot: as played
        block: the title block's words; without it those of the position, undated
        crop: what must be seen [mm]; without it the action, to where the white rests or, when
            that would make it much smaller, to the next ball it meets
        name: goes before every id in the SVG
    """
    block = block or title_block_of(shot)
    page = page_for(crop, story.table_box(shot)) if crop else _page_of(shot)
    marks = list(_plan_marks(shot, page))
    table = shot.position.table
    area = Box(0.0, 0.0, table.width * story.MILLIMETRES, table.length * story.MILLIMETRES)
    tick = path_marks.tick_interval(story.told_until(shot))
    marks += foot(page, area, block, kinds_of(marks), tick)
    return Drawing(
        marks=tuple(marks),
        view=page.view(block_height(block)),
        scale=page.scale,
        title=block.title,
        description=described(shot),
        windows={**dict.fromkeys(PLAN_LAYERS, page.window), **inset_window(marks)},
        name=name,
    )


def title_block_of(shot: Shot, date: str = "") -> TitleBlock:
    """The title block of a shot, from its position."""
    position = shot.position
    table = f"{position.table.title}, {position.cloth} cloth"
    return TitleBlock(position.title or "Untitled position", table, date=date)


def _page_of(shot: Shot) -> Page:
    table = story.table_box(shot)
    whole = page_for(action_of(shot, shot.duration), table)
    close = page_for(action_of(shot, story.told_until(shot)), table)
    return whole if whole.denominator <= close.denominator * WORTH_SHRINKING else close


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


def _plan_marks(shot: Shot, page: Page) -> Iterator[Mark]:
    contact = next(iter(story.contacts(shot)), None)
    meeting = story.next_meeting(shot)
    lines = list(shot_lines(shot, page, contact, meeting))
    met = frozenset(found.ball for found in (contact, meeting) if found)
    rings = _rings(shot, page, contact, meeting)
    yield from table_marks(shot.position.table, page, shot.position.coefficients.pockets)
    yield from lines
    yield from balls(shot, page, met)
    yield from rings
    tangent = next((m for m in lines if m.role is Role.TANGENT and isinstance(m, Line)), None)
    fixed = tangent_note(tangent, page, obstacles_of(shot, lines, rings)) if tangent else None
    around = obstacles_of(shot, lines, rings, (fixed[1],) if fixed else ())
    measured = dimensions(shot, page, around)
    around = beside(around, measured)
    if fixed:
        yield fixed[0]
    for dimension in measured:
        yield from dimension.marks
    inset = contact_inset(shot, contact, page, around) if contact else None
    if inset is not None:
        yield from inset.marks
        around = replace(around, taken=(*around.taken, inset.box))
    wishes = list(_wishes(shot, page, contact, meeting))
    bounds = page.window.grown(-page.mm(WINDOW_INSET))
    yield from label_marks(place_labels(wishes, around, bounds, page), page)


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


def _rings(
    shot: Shot, page: Page, contact: story.Contact | None, meeting: story.Contact | None
) -> list[Mark]:
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


def tangent_note(line: Line, page: Page, obstacles: Obstacles) -> tuple[Text, Box]:
    """The tangent line's name, set along it where it covers least."""
    along = path_marks.direction(line.start, line.end)
    # Letters must not stand on their heads.
    angle = along if -pi / 2 < along <= pi / 2 else along - pi * (1 if along > 0 else -1)
    best: tuple[float, Point, Box] | None = None
    for part in (0.9, 0.8, 0.7, 0.6, 0.5, 0.08):
        for side in (1, -1):
            at = (
                line.start[0] + part * (line.end[0] - line.start[0]),
                line.start[1] + part * (line.end[1] - line.start[1]),
            )
            off = page.mm(TANGENT_NOTE_OFF) * side
            at = (at[0] - sin(along) * off, at[1] + cos(along) * off)
            box = _turned_box(at, angle, page)
            cost = 0.0 if page.window.contains(box) else 1e4
            cost += sum(length_inside(*segment, box) for segment in obstacles.segments)
            cost += sum(
                box.overlap(Box(c[0], c[1], c[0], c[1]).grown(r)) for c, r in obstacles.balls
            )
            if best is None or cost < best[0]:
                best = (cost, at, box)
    assert best is not None
    down = page.mm(Size.SMALL.value * CAPITAL_HEIGHT / 2)
    at = (best[1][0] + sin(angle) * down, best[1][1] - cos(angle) * down)
    text = Text(
        "tangent-note",
        Layer.LABELS,
        Role.TANGENT_NOTE,
        at,
        TANGENT_NOTE,
        Size.SMALL,
        Anchor.MIDDLE,
        angle=angle,
    )
    return text, best[2]


def _turned_box(at: Point, angle: float, page: Page) -> Box:
    flat = words_box(TANGENT_NOTE, at, Size.SMALL, False, page)
    width = abs(flat.width * cos(angle)) + abs(flat.height * sin(angle))
    height = abs(flat.width * sin(angle)) + abs(flat.height * cos(angle))
    return Box(at[0] - width / 2, at[1] - height / 2, at[0] + width / 2, at[1] + height / 2)


def _wishes(
    shot: Shot, page: Page, contact: story.Contact | None, meeting: story.Contact | None
) -> Iterator[LabelWish]:
    white = story.cue_ball(shot)
    radius = story.radius(shot, white)
    if meeting is not None:
        away = path_marks.direction(meeting.ball_at, meeting.ghost)
        words = f"meets {named(meeting.ball)}"
        yield LabelWish("label-meeting", words, meeting.ghost, radius, away, bold=True)
    at = story.rest(shot, white)
    if at is not None and story.moved(shot, white) and page.window.holds(at):
        yield LabelWish("label-rest", "white rests", at, radius, 0.0)
    if contact is not None:
        yield from object_wish(shot, page, contact)
    met = frozenset(found.ball for found in (contact, meeting) if found)
    yield from ball_wishes(shot, page, met)
    yield from spot_wishes(shot, page)


def ball_wishes(shot: Shot, page: Page, met: frozenset[str]) -> Iterator[LabelWish]:
    """Letters beside the balls that are too small to carry them; the white needs none."""
    for ball in shot.position.balls:
        at, radius = story.start(shot, ball), story.radius(shot, ball)
        outside = ball == story.cue_ball(shot) or not page.window.holds(at)
        if outside or has_room_for_letter(shot, ball, page) or not needs_letter(shot, ball, met):
            continue
        letter = shot.position.table.balls[ball].letter
        name = f"label-ball-{ball}"
        yield LabelWish(name, letter, at, radius, 0.0, bold=True, stays_near=True)


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
            yield LabelWish(name, f"{spot} spot", at, 0.0, -pi / 4, role=Role.NOTE, stays_near=True)


def object_wish(shot: Shot, page: Page, contact: story.Contact) -> Iterator[LabelWish]:
    """What becomes of the object ball, where its way ends or leaves the window."""
    pocket, at = shot.potted(contact.ball), story.rest(shot, contact.ball)
    if pocket is not None:
        mouth = story.millimetres(shot.position.table.pocket(pocket).mouth_middle)
        run = hypot(mouth[0] - contact.ball_at[0], mouth[1] - contact.ball_at[1])
        if page.window.holds(mouth):
            words = f"{named(contact.ball)} potted, {run:.0f}"
        else:
            words = f"to {pocket}, {run:.0f}"
        anchor = last_inside(contact.ball_at, mouth, page)
        prefer = path_marks.direction(mouth, contact.ball_at) + pi / 2
        yield LabelWish("label-object", words, anchor, 0.0, prefer, role=Role.NOTE)
    elif at is not None and page.window.holds(at) and story.moved(shot, contact.ball):
        radius = story.radius(shot, contact.ball)
        words = f"{named(contact.ball)} rests"
        yield LabelWish("label-object", words, at, radius, pi / 2, role=Role.NOTE)


def last_inside(start: Point, end: Point, page: Page) -> Point:
    """A point on the straight way, a little before it leaves the window or ends. [mm]"""
    inside = length_inside(start, end, page.window)
    whole = hypot(end[0] - start[0], end[1] - start[1])
    part = max(inside - page.mm(OBJECT_STUB), inside / 2) / whole if whole > 0 else 0.0
    return start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])


def obstacles_of(
    shot: Shot, lines: Iterable[Mark], rings: Iterable[Mark], taken: tuple[Box, ...] = ()
) -> Obstacles:
    """Balls, rings and lines as what labels keep off."""
    discs = [(story.start(shot, ball), story.radius(shot, ball)) for ball in shot.position.balls]
    discs += [(ring.centre, ring.radius) for ring in rings if isinstance(ring, Circle)]
    segments = list(lines_in_play(shot.position.table))
    for line in lines:
        segments += pieces(line)
    return Obstacles(tuple(discs), tuple(segments), taken)


def beside(obstacles: Obstacles, measured: Iterable[Dimension]) -> Obstacles:
    """The obstacles with the dimensions among them."""
    found = tuple(measured)
    return Obstacles(
        obstacles.balls,
        obstacles.segments + tuple(dimension.line for dimension in found),
        obstacles.taken + tuple(dimension.words for dimension in found),
    )


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


def kinds_of(marks: Iterable[Mark]) -> list[Role]:
    """The kinds of line among the marks, in the legend's order."""
    present = {mark.role for mark in marks if mark.layer is Layer.PATHS}
    return [role for role in LEGEND_WORDS if role in present]


def named(ball: str) -> str:
    """A ball's name as it is said: "red 7"."""
    stem = ball.rstrip("0123456789")
    number = ball[len(stem) :]
    return f"{stem} {number}" if number and stem else ball


def described(shot: Shot) -> str:
    """The plan in a sentence or two, for people who cannot see it."""
    contact, meeting = next(iter(story.contacts(shot)), None), story.next_meeting(shot)
    parts = [f"The white is struck at {shot.strike.pace:.2f} metres a second."]
    if contact is None:
        parts.append("It meets no ball.")
    else:
        pocket = shot.potted(contact.ball)
        end = f"which goes into the {pocket} pocket" if pocket else "which stays on the table"
        parts.append(f"It meets {named(contact.ball)}, {end}.")
    if meeting is not None:
        parts.append(f"Then it meets {named(meeting.ball)}.")
    return " ".join(parts)
