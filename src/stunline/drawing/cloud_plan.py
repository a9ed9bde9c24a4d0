"""The plan of one strike played many times with a player's errors: where the white ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, dist
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import balls
from stunline.drawing.foot import Foot
from stunline.drawing.framed_plan import framed_plan
from stunline.drawing.goal_marks import goal_marks
from stunline.drawing.ground import Ground
from stunline.drawing.legend import END_RADIUS
from stunline.drawing.marks import (
    Box,
    Circle,
    Drawing,
    Layer,
    Mark,
    Point,
    Role,
    box_round,
)
from stunline.drawing.page import SCREEN, Medium, Page, page_for
from stunline.drawing.plan import action_of, kinds_of, placed_labels
from stunline.drawing.plan_labels import ball_wishes, obstacles_of, spot_wishes
from stunline.drawing.table_marks import table_marks
from stunline.drawing.title_block import TitleBlock
from stunline.shot.goal import Goal

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

MISSED_RADIUS = 1.9  # of the ring where a play ended that missed its goal [px]
# The ends nearest to each other that are looked at: a few far ones would make the picture small.
_SHOWN = 0.95


@dataclass(frozen=True, slots=True)
class CloudPicture:
    """What the plan shows.

    Attributes:
        shot: without error
        met, missed: where the white ended when the goal was met, and when not [mm]
        block: the title block's words
        goal: what is asked of it
        named: balls that carry their names
    """

    shot: Shot
    met: Sequence[Point]
    missed: Sequence[Point]
    block: TitleBlock
    goal: Goal
    named: frozenset[str] = frozenset()


def plan_of_cloud(picture: CloudPicture, medium: Medium = SCREEN, name: str = "plan") -> Drawing:
    """The strike's own way, and the ends of all plays."""
    shot = picture.shot
    page = page_for(_action(picture), story.table_box(shot), medium)
    marks = list(_marks(picture, page))
    white = story.white_words(shot)
    foot = Foot(story.playing_area(shot), picture.block, kinds_of(marks), 0.0, white)
    return framed_plan(page, marks, foot, _described(picture), name)


def _action(picture: CloudPicture) -> Box:
    """The strike's own way to rest, and nearly all ends about the middle of those that met it."""
    shot = picture.shot
    boxes = [action_of(shot, shot.duration)]
    ends = [*picture.met, *picture.missed]
    if ends:
        middle = _middle(picture.met or ends)
        nearest = sorted(ends, key=lambda end: dist(middle, end))
        shown = nearest[: ceil(_SHOWN * len(nearest))]
        boxes.append(story.box_of(shown, story.radius(shot, story.cue_ball(shot))))
    return box_round(boxes).within(story.table_box(shot))


def _middle(ends: Sequence[Point]) -> Point:
    across, up = (sorted(axis)[len(ends) // 2] for axis in zip(*ends, strict=True))
    return across, up


def _marks(picture: CloudPicture, page: Page) -> Iterator[Mark]:
    shot = picture.shot
    contact = next(iter(story.contacts(shot)), None)
    lines = [
        path_marks.aim_line(shot, contact),
        *path_marks.white_way(shot, 0.0, shot.duration, "white"),
    ]
    named = picture.named | frozenset({contact.ball} if contact else ())
    yield from table_marks(shot.position.table, page, shot.position.coefficients.pockets)
    yield from goal_marks(picture.goal, shot.position)
    yield from _ends(picture, page)
    yield from lines
    yield from balls(shot, page, named)
    ground = Ground(obstacles_of(shot, lines, ()), page)
    wishes = [*ball_wishes(shot, page, named), *spot_wishes(shot, page)]
    yield from placed_labels(wishes, ground)


def _ends(picture: CloudPicture, page: Page) -> Iterator[Mark]:
    """Rings first, so that the dots of plays that met the goal lie on top."""
    for number, end in enumerate(picture.missed):
        if page.window.holds(end):
            name, radius = f"missed-{number}", page.mm(MISSED_RADIUS)
            yield Circle(name, Layer.PATHS, Role.END_MISSED, end, radius)
    for number, end in enumerate(picture.met):
        if page.window.holds(end):
            yield Circle(f"end-{number}", Layer.PATHS, Role.END, end, page.mm(END_RADIUS))


def _described(picture: CloudPicture) -> str:
    white = story.white_words(picture.shot)
    total = len(picture.met) + len(picture.missed)
    return (
        f"One strike with a player's errors: {total} places at which the {white} ends on the "
        f"table, {len(picture.met)} of them with the goal met."
    )
