"""The plan of a stroke that was really played: as meant, as it likely went, and what was seen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import balls
from stunline.drawing.foot import Foot
from stunline.drawing.framed_plan import framed_plan
from stunline.drawing.ground import Ground
from stunline.drawing.labels import LabelWish, Rank
from stunline.drawing.marks import Box, Circle, Drawing, Layer, Line, Mark, Point, Role, box_round
from stunline.drawing.page import SCREEN, Medium, Page, page_for
from stunline.drawing.plan import action_of, kinds_of, placed_labels
from stunline.drawing.plan_labels import ball_wishes, obstacles_of, spot_wishes
from stunline.drawing.table_marks import table_marks
from stunline.drawing.title_block import TitleBlock

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

ARM = 7.0  # of the cross at a place that was seen [px]
LOOKS = (0.3, 0.2, 0.4, 0.5, 0.6, 0.75)  # parts of a way's time beside which its label may stand
BESIDE = 0.4  # of a radius, from a way to its label [-]
AS_MEANT = "as meant"


@dataclass(frozen=True, slots=True)
class LikelyWay:
    """One of the strokes: its label, "12 % firm", and how it went."""

    label: str
    shot: Shot


@dataclass(frozen=True, slots=True)
class SeenPlace:
    """A place that was seen, in words, and whether a ball came to rest there. [mm]"""

    words: str
    at: Point
    rests: bool


@dataclass(frozen=True, slots=True)
class PlayedPicture:
    """What the plan shows.

    Attributes:
        meant: the shot as it was meant
        likely: the strokes that explain what was seen, the likeliest first; or the nearest
        seen: places that were seen
        block: the title block's words
        words: what it comes to, in a sentence
    """

    meant: Shot
    likely: Sequence[LikelyWay]
    seen: Sequence[SeenPlace]
    block: TitleBlock
    words: str


def plan_of_played(picture: PlayedPicture, medium: Medium = SCREEN, name: str = "plan") -> Drawing:
    """The likeliest way in full, others dotted, the one that was meant faint."""
    shot = picture.meant
    page = page_for(_action(picture), story.table_box(shot), medium)
    marks = list(_marks(picture, page))
    foot = Foot(
        story.playing_area(shot), picture.block, kinds_of(marks), 0.0, story.white_words(shot)
    )
    return framed_plan(page, marks, foot, picture.words, name)


def played_lines(picture: PlayedPicture) -> Iterator[Mark]:
    """The ways alone: to be laid over a plan that is there already."""
    meant = picture.meant
    white = story.cue_ball(meant)
    whole = (0.0, meant.duration)
    yield from path_marks.thin_way(meant, white, whole, Role.MEANT, "meant")
    for number, way in reversed(list(enumerate(picture.likely, 1))):
        shot, name = way.shot, f"likely-{number}"
        contact = next(iter(story.contacts(shot)), None)
        if contact is not None and number == 1:
            span = (contact.time, shot.duration)
            yield from path_marks.thin_way(shot, contact.ball, span, Role.OBJECT_WAY, "object")
        if number == 1:
            yield from path_marks.white_way(shot, 0.0, shot.duration, name)
        else:
            yield from path_marks.thin_way(
                shot, white, (0.0, shot.duration), Role.OTHER_STROKE, name
            )


def seen_marks(picture: PlayedPicture, page: Page) -> Iterator[Mark]:
    """A cross at each place that was seen, a ring where a ball came to rest."""
    radius, arm = story.radius(picture.meant, story.cue_ball(picture.meant)), page.mm(ARM)
    for number, place in enumerate(picture.seen):
        x, y = place.at
        name = f"seen-{number}"
        yield Line(f"{name}-level", Layer.CONTACTS, Role.SEEN, (x - arm, y), (x + arm, y))
        yield Line(f"{name}-upright", Layer.CONTACTS, Role.SEEN, (x, y - arm), (x, y + arm))
        if place.rests:
            yield Circle(name, Layer.CONTACTS, Role.SEEN, place.at, radius)


def _action(picture: PlayedPicture) -> Box:
    shots = [picture.meant, *(one.shot for one in picture.likely)]
    boxes = [action_of(shot, shot.duration) for shot in shots]
    if picture.seen:
        radius = story.radius(picture.meant, story.cue_ball(picture.meant))
        boxes.append(story.box_of([one.at for one in picture.seen], 2.0 * radius))
    return box_round(boxes).within(story.table_box(picture.meant))


def _marks(picture: PlayedPicture, page: Page) -> Iterator[Mark]:
    shot = picture.meant
    lines, rings = list(played_lines(picture)), list(seen_marks(picture, page))
    met = frozenset(
        contact.ball
        for one in (shot, *(way.shot for way in picture.likely))
        for contact in story.contacts(one)[:2]
    )
    yield from table_marks(shot.position.table, page, shot.position.coefficients.pockets)
    yield from lines
    yield from balls(shot, page, met)
    yield from rings
    ground = Ground(obstacles_of(shot, lines, rings), page)
    wishes = [*_wishes(picture), *ball_wishes(shot, page, met), *spot_wishes(shot, page)]
    yield from placed_labels(wishes, ground)


def _wishes(picture: PlayedPicture) -> Iterator[LabelWish]:
    radius = story.radius(picture.meant, story.cue_ball(picture.meant))
    for number, place in enumerate(picture.seen):
        yield LabelWish(f"label-seen-{number}", place.words, place.at, radius, 0.0, bold=True)
    for number, way in enumerate(picture.likely, 1):
        yield _label(f"label-likely-{number}", way.label, way.shot, radius)
    yield _label("label-meant", AS_MEANT, picture.meant, radius)


def _label(name: str, words: str, shot: Shot, radius: float) -> LabelWish:
    """Beside the white's way, where it is still apart from the others' end."""
    white = story.cue_ball(shot)
    points = [story.place(shot, white, part * shot.duration) for part in LOOKS]
    return LabelWish(
        name, words, points[0], BESIDE * radius, 0.0, along=tuple(points[1:]), rank=Rank.OUTCOME
    )
