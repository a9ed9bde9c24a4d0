"""The plan of a ladder: the white's ways at every rung, and the strip below it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import dist
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import balls, meeting_ring, rest_ring
from stunline.drawing.dimensions import dimensions
from stunline.drawing.foot import Foot, foot_height, foot_marks
from stunline.drawing.ground import Obstacles
from stunline.drawing.labels import LabelWish, label_marks, place_labels
from stunline.drawing.marks import Box, Circle, Drawing, Layer, Line, Mark, Point, Role, Size
from stunline.drawing.page import SCREEN, Medium, Page, page_for
from stunline.drawing.plan import (
    PLAN_LAYERS,
    WINDOW_INSET,
    action_of,
    kinds_of,
    title_block_of,
)
from stunline.drawing.plan_labels import (
    ball_wishes,
    beside,
    object_wish,
    obstacles_of,
    spot_wishes,
    tangent_note,
)
from stunline.drawing.strip import strip_marks, strip_words
from stunline.drawing.strip_layout import SecondRuler, Strip, StripBand, StripMark, strip_height
from stunline.drawing.table_marks import table_marks
from stunline.drawing.title_block import TitleBlock

if TYPE_CHECKING:
    from stunline.shot.ladder import Ladder
    from stunline.shot.shot import Shot

BACK, BACK_STEPS = 0.5, 8  # labels may stand beside the last half of the way, in so many places
APART = 2.0  # contacts and starts further apart than this are drawn each for itself [mm]
MOST_DECIMALS = 2  # of a rung's label
STRIP_GAP = 26.0  # between the foot of the plan and the strip [px]

# What varies → the strip's title, unit, and SI into that unit.
_RULERS: dict[str, tuple[str, str, float]] = {
    "pace": ("What each pace does", "m/s", 1.0),
    "height": ("What each height does", "mm", story.MILLIMETRES),
    "side": ("What each side does", "mm", story.MILLIMETRES),
    "thickness": ("What each thickness does", "part", 1.0),
    "distance": ("What each distance does", "mm", story.MILLIMETRES),
}


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
    """

    rungs: tuple[RungPicture, ...]
    block: TitleBlock
    strip: Strip | None = None
    chosen: int | None = None


def plan_of_ladder(
    ladder: Ladder,
    block: TitleBlock | None = None,
    second: SecondRuler | None = None,
    medium: Medium = SCREEN,
    with_strip: bool = True,
) -> Drawing:
    """The plan of a ladder as it was played.

    Args:
        ladder: its rungs, bands and changes
        block: the title block's words; without it those of the position, undated
        second: the strip's values in another unit, such as lengths
        medium: what it is drawn for
        with_strip: whether the strip stands below the plan, where there is one
    """
    rungs = tuple(
        RungPicture(label, rung.shot, rung.outcome.words())
        for label, rung in zip(rung_labels(ladder), ladder.rungs, strict=True)
    )
    block = block or title_block_of(rungs[0].shot)
    strip = strip_of_ladder(ladder, second) if with_strip else None
    return plan_of_rungs(LadderPicture(rungs, block, strip), medium=medium)


def strip_of_ladder(ladder: Ladder, second: SecondRuler | None = None) -> Strip | None:
    """The strip of a ladder over numbers; None over tables and cloths, which have no ruler."""
    if ladder.vary not in _RULERS or not ladder.bands:
        return None
    title, unit, factor = _RULERS[ladder.vary]
    bands = tuple(
        StripBand(band.start * factor, band.end * factor, words)
        for band, words in zip(ladder.bands, _band_words(ladder), strict=True)
    )
    marks = tuple(
        StripMark(value, label)
        for value, label in zip(_numbers(ladder), rung_labels(ladder), strict=True)
        if value is not None
    )
    values = [mark.value for mark in marks]  # solved ones may lie outside every band
    start, end = min([bands[0].start, *values]), max([bands[-1].end, *values])
    return Strip(title, unit, start, end, bands, marks, second)


def rung_labels(ladder: Ladder) -> list[str]:
    """Each rung's value as it stands on the plan: all with the decimals that one needs."""
    numbers = _numbers(ladder)
    known = [number for number in numbers if number is not None]
    decimals = next(
        (few for few in range(MOST_DECIMALS) if all(_is_round(n, few) for n in known)),
        MOST_DECIMALS,
    )
    return [
        str(rung.value) if number is None else f"{number:.{decimals}f}".replace("-", "−")
        for number, rung in zip(numbers, ladder.rungs, strict=True)
    ]


def _is_round(number: float, decimals: int) -> bool:
    # Half a unit of the last decimal that is ever shown.
    return abs(number - round(number, decimals)) < 0.5 * 10.0**-MOST_DECIMALS


def _numbers(ladder: Ladder) -> list[float | None]:
    """Every rung's value in the ruler's unit; None where it is a name."""
    if ladder.vary not in _RULERS:
        return [None] * len(ladder.rungs)
    factor = _RULERS[ladder.vary][2]
    numbers: list[float | None] = []
    for rung in ladder.rungs:
        value = rung.value
        if value is None:  # solved for; the strike tells what came of it
            value = rung.shot.strike.height if ladder.vary == "height" else rung.shot.strike.pace
        numbers.append(float(value) * factor)
    return numbers


def _band_words(ladder: Ladder) -> list[str]:
    """Each band's outcome, with the side of the ball where the neighbour says the same."""
    outcomes = [band.outcome for band in ladder.bands]
    words = [one.words() for one in outcomes]
    around = ["", *words, ""]
    return [
        f"{said}, {one.on}" if one.on and said in (around[number], around[number + 2]) else said
        for number, (one, said) in enumerate(zip(outcomes, words, strict=True))
    ]


def plan_of_rungs(picture: LadderPicture, name: str = "plan", medium: Medium = SCREEN) -> Drawing:
    """The plan of several shots that share their balls, with the strip below."""
    first = picture.rungs[0].shot
    page = page_for(_action(picture), story.table_box(first), medium)
    marks = list(_plan_marks(picture, page))
    shown = picture.rungs[picture.chosen or 0].shot
    tick = path_marks.tick_interval(story.told_until(shown))
    foot = Foot(story.playing_area(first), picture.block, kinds_of(marks), tick)
    marks += foot_marks(page, foot)
    height = foot_height(page, foot)
    if picture.strip is not None:
        origin = page.below(0.0, height + STRIP_GAP)
        marks += strip_marks(picture.strip, origin, page.scale, page.width)
        height += STRIP_GAP + strip_height(picture.strip, page.width)
    return Drawing(
        marks=tuple(marks),
        view=page.view(height),
        scale=page.scale,
        title=picture.block.title,
        description=_described(picture),
        windows=dict.fromkeys(PLAN_LAYERS, page.window),
        name=name,
        pixel=medium.pixel,
    )


def _action(picture: LadderPicture) -> Box:
    boxes = [action_of(rung.shot, story.told_until(rung.shot)) for rung in picture.rungs]
    return Box(
        min(box.left for box in boxes),
        min(box.bottom for box in boxes),
        max(box.right for box in boxes),
        max(box.top for box in boxes),
    )


def _plan_marks(picture: LadderPicture, page: Page) -> Iterator[Mark]:
    first = picture.rungs[0].shot
    contact = next(iter(story.contacts(first)), None)
    lines = list(_lines(picture, page, contact))
    rings = list(_rings(picture, page))
    yield from table_marks(first.position.table, page, first.position.coefficients.pockets)
    yield from lines
    yield from _other_starts(picture.rungs)
    yield from balls(first, page, _met(picture.rungs))
    yield from rings
    around = obstacles_of(first, lines, rings)
    tangent = next((m for m in lines if m.role is Role.TANGENT and isinstance(m, Line)), None)
    if tangent is not None:
        note, box = tangent_note(tangent, page, around)
        around = Obstacles(around.balls, around.segments, (box,))
        yield note
    measured = dimensions(first, page, around)
    for dimension in measured:
        yield from dimension.marks
    wishes = list(_wishes(picture, page, contact))
    bounds = page.window.grown(-page.mm(WINDOW_INSET))
    yield from label_marks(place_labels(wishes, beside(around, measured), bounds, page), page)


def _lines(picture: LadderPicture, page: Page, contact: story.Contact | None) -> Iterator[Mark]:
    first = picture.rungs[0].shot
    yield path_marks.aim_line(first, contact)
    if contact is not None:  # of one rung only: several object balls' ways would hide the white's
        way = (contact.time, first.duration)
        yield from path_marks.thin_way(first, contact.ball, way, Role.OBJECT_WAY, "object")
    for number, (shot, own) in enumerate(_distinct_contacts(picture.rungs), 1):
        yield from path_marks.white_way(shot, 0.0, own.time, f"run-up-{number}")
    reach = 0.0
    for number, rung in enumerate(picture.rungs, 1):
        since, until = _told_from(rung.shot), story.told_until(rung.shot)
        yield from path_marks.white_way(rung.shot, since, until, f"rung-{number}-way")
        if picture.chosen == number - 1:
            yield from path_marks.ticks(rung.shot, page, since, until, f"rung-{number}-tick")
        if contact is not None:
            end = story.place(rung.shot, story.cue_ball(rung.shot), until)
            reach = max(reach, path_marks.along_tangent(first, contact, end))
    if contact is not None:
        yield path_marks.tangent_line(first, contact, reach)


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


def _other_starts(rungs: Sequence[RungPicture]) -> Iterator[Circle]:
    """Where the white stands at rungs that move it."""
    white = story.cue_ball(rungs[0].shot)
    shown = [story.start(rungs[0].shot, white)]
    for number, rung in enumerate(rungs, 1):
        at = story.start(rung.shot, white)
        if all(dist(at, other) > APART for other in shown):
            shown.append(at)
            radius = story.radius(rung.shot, white)
            yield Circle(f"rung-{number}-white", Layer.BALLS, Role.BALL_WHITE, at, radius)


def _rings(picture: LadderPicture, page: Page) -> Iterator[Mark]:
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
    first = picture.rungs[0].shot
    for met in story.contacts(first)[:1]:
        object_ring = rest_ring(first, met.ball, "object-rest")
        if object_ring is not None:
            yield object_ring


def _met(rungs: Sequence[RungPicture]) -> frozenset[str]:
    """Every ball that the white meets first or next at some rung."""
    met: set[str] = set()
    for rung in rungs:
        met |= {contact.ball for contact in story.contacts(rung.shot)[:1]}
        meeting = story.next_meeting(rung.shot)
        met |= {meeting.ball} if meeting else set()
    return frozenset(met)


def _wishes(
    picture: LadderPicture, page: Page, contact: story.Contact | None
) -> Iterator[LabelWish]:
    for number, rung in enumerate(picture.rungs, 1):
        white = story.cue_ball(rung.shot)
        end = story.place(rung.shot, white, story.told_until(rung.shot))
        meeting = story.next_meeting(rung.shot)
        # Away from the ball it meets; without one, onwards from where it came.
        prefer = path_marks.direction(meeting.ball_at, end) if meeting else 0.0
        yield LabelWish(
            f"rung-{number}-label",
            rung.label,
            end,
            story.radius(rung.shot, white),
            prefer,
            Size.BODY,
            along=_back_along(rung.shot),
        )
    yield from ball_wishes(picture.rungs[0].shot, page, _met(picture.rungs))
    yield from spot_wishes(picture.rungs[0].shot, page)
    if contact is not None and len(_distinct_contacts(picture.rungs)) == 1:
        yield from object_wish(picture.rungs[0].shot, page, contact)


def _back_along(shot: Shot) -> tuple[Point, ...]:
    """Points of the white's last stretches, from its end backwards, for its label. [mm]"""
    since, until = _told_from(shot), story.told_until(shot)
    white = story.cue_ball(shot)
    steps = (
        until - (until - since) * BACK * number / BACK_STEPS for number in range(1, BACK_STEPS)
    )
    return tuple(story.place(shot, white, time) for time in steps)


def _described(picture: LadderPicture) -> str:
    said = "; ".join(f"{rung.label}: {rung.words}" for rung in picture.rungs if rung.words)
    parts = [f"The same shot {len(picture.rungs)} times with one thing changed."]
    parts += [f"{said}."] if said else []
    if picture.strip is not None:
        parts.append(strip_words(picture.strip))
    return " ".join(parts)
