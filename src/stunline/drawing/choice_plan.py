"""The plan of a choice: the ways to a goal as A, D, E, and where a player's strokes end."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.drawing import story
from stunline.drawing.ball_marks import balls
from stunline.drawing.foot import Foot
from stunline.drawing.framed_plan import framed_plan
from stunline.drawing.goal_marks import goal_marks
from stunline.drawing.ground import Ground
from stunline.drawing.legend import END_RADIUS
from stunline.drawing.marks import Box, Circle, Drawing, Layer, Mark, Point, Role, box_round
from stunline.drawing.page import SCREEN, Medium, Page, page_for
from stunline.drawing.plan import (
    action_of_all,
    fixed_words,
    kinds_of,
    placed_labels,
)
from stunline.drawing.plan_labels import obstacles_of
from stunline.drawing.rungs import (
    LadderPicture,
    RungPicture,
    met_balls,
    rung_lines,
    rung_rings,
    rung_wishes,
)
from stunline.drawing.table_marks import table_marks
from stunline.drawing.title_block import TitleBlock
from stunline.shot.goal import Goal

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

# Dots of one way; more only blacken the plan.
MOST_DOTS = 160
_SHOWN = 0.9  # ends nearest to each other that the crop is to hold


@dataclass(frozen=True, slots=True)
class Way:
    """One way to the goal.

    Attributes:
        letter: on the plan
        shot: without error
        words: what is said of it
        ends: where the white ended over a player's strokes, and whether the goal was met [mm]
    """

    letter: str
    shot: Shot
    words: str
    ends: tuple[tuple[Point, bool], ...]


@dataclass(frozen=True, slots=True)
class ChoicePicture:
    """What the plan shows; the first way's shot gives table and balls."""

    ways: tuple[Way, ...]
    goal: Goal
    block: TitleBlock


def plan_of_choice(picture: ChoicePicture, medium: Medium = SCREEN, name: str = "plan") -> Drawing:
    """The ways from the white to where each ends, the goal, and the first one's ends."""
    first = picture.ways[0].shot
    page = page_for(_action(picture), story.table_box(first), medium)
    marks = list(_marks(picture, page))
    white = story.white_words(first)
    foot = Foot(story.playing_area(first), picture.block, kinds_of(marks), 0.0, white)
    return framed_plan(page, marks, foot, " ".join(f"{way.words}." for way in picture.ways), name)


def _action(picture: ChoicePicture) -> Box:
    shots = [way.shot for way in picture.ways]
    boxes = [action_of_all(shots)]
    ends = _nearest([end for end, _ in picture.ways[0].ends])
    if ends and (picture.goal.rest or picture.goal.next):
        boxes.append(story.box_of(ends, story.radius(shots[0], story.cue_ball(shots[0]))))
    return box_round(boxes).within(story.table_box(shots[0]))


def _nearest(ends: Sequence[Point]) -> list[Point]:
    """Those nearest to the middle of all."""
    if not ends:
        return []
    middle = tuple(sorted(axis)[len(ends) // 2] for axis in zip(*ends, strict=True))
    return sorted(ends, key=lambda end: math.dist(middle, end))[: math.ceil(_SHOWN * len(ends))]


def _marks(picture: ChoicePicture, page: Page) -> Iterator[Mark]:
    first = picture.ways[0].shot
    rungs = LadderPicture(
        tuple(RungPicture(way.letter, way.shot, way.words) for way in picture.ways),
        picture.block,
    )
    lines, rings = list(rung_lines(rungs, page)), list(rung_rings(rungs, page))
    ends = list(_ends(picture.ways[0], page))
    yield from table_marks(first.position.table, page, first.position.coefficients.pockets)
    yield from goal_marks(picture.goal, first.position)
    yield from lines
    yield from ends
    yield from balls(first, page, met_balls(rungs.rungs))
    yield from rings
    ground = Ground(obstacles_of(first, lines, rings, ()), page)
    contact = next(iter(story.contacts(first)), None)
    words, ground = fixed_words(first, lines, ground, contact.ball if contact else None)
    yield from words.marks
    yield from placed_labels(list(rung_wishes(rungs, page)), ground)


def _ends(way: Way, page: Page) -> Iterator[Mark]:
    """A full dot where the goal was met, an open one where not."""
    shown = [(end, met) for end, met in way.ends if page.window.holds(end)][:MOST_DOTS]
    for number, (end, met) in enumerate(shown):
        role = Role.END if met else Role.END_MISSED
        yield Circle(f"end-{number}", Layer.PATHS, role, end, page.mm(END_RADIUS))
