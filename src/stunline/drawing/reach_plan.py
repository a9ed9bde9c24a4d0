"""The plan of where the white can go, or may stand: hatched regions on the whole table."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import balls
from stunline.drawing.foot import Foot
from stunline.drawing.framed_plan import framed_plan
from stunline.drawing.goal_marks import goal_marks
from stunline.drawing.ground import Ground
from stunline.drawing.labels import LabelWish, Rank
from stunline.drawing.marks import (
    Box,
    Circle,
    Drawing,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Polyline,
    Role,
    box_round,
)
from stunline.drawing.page import SCREEN, Medium, Page, page_for
from stunline.drawing.plan import action_of, placed_labels
from stunline.drawing.plan_labels import ball_wishes, obstacles_of
from stunline.drawing.regions import Cells, Region, edges, hatch_lines
from stunline.drawing.table_marks import table_marks
from stunline.drawing.title_block import TitleBlock
from stunline.shot.goal import Goal

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

DOT = 2.4  # radius of the dot at a named place [px]
_KEY_ORDER = (
    Role.SLIDING,
    Role.ROLLING,
    Role.OBJECT_WAY,
    Role.AIM,
    Role.HATCH_FOLLOW,
    Role.HATCH_STUN,
    Role.HATCH_SCREW,
    Role.HATCH_SIDE,
    Role.OUTER_EDGE,
    Role.GOAL,
)


@dataclass(frozen=True, slots=True)
class NamedPlace:
    """A place with words beside it.

    Attributes:
        at: [mm]
        letter: in a ring before the words, or ""
        words: the strike, for one
    """

    at: Point
    letter: str
    words: str


@dataclass(frozen=True, slots=True)
class ReachPicture:
    """What the plan shows.

    Attributes:
        shot: its balls are drawn; and its ways, where ``with_ways``
        cells: of the regions
        regions: each hatched in its own direction
        outer: (cells,) what lies within the chain line round all
        block: the title block's words
        key: the picture's own words for kinds of line in its key
        with_ways: whether the shot's ways are drawn
        places: that are named
        description: for people who cannot see it
        goal: whose area and gap are drawn, if any
    """

    shot: Shot
    cells: Cells
    regions: Sequence[Region]
    outer: Sequence[bool]
    block: TitleBlock
    key: Mapping[Role, str] = field(default_factory=dict)
    with_ways: bool = False
    places: Sequence[NamedPlace] = ()
    description: str = ""
    goal: Goal | None = None


@dataclass(frozen=True, slots=True)
class _ReachFoot(Foot):
    """The foot, with its own words for some kinds of line."""

    own: Mapping[Role, str] = field(default_factory=dict)

    def words(self, role: Role) -> str:
        """What the key says of that kind of line."""
        return self.own.get(role) or Foot.words(self, role)


def plan_of_reach(picture: ReachPicture, medium: Medium = SCREEN, name: str = "plan") -> Drawing:
    """The regions, the balls and the named places, cropped to where they are."""
    shot = picture.shot
    table = story.table_box(shot)
    page = page_for(_action(picture).within(table), table, medium)
    marks = list(_marks(picture, page))
    roles = {mark.role for mark in marks}
    kinds = [role for role in _KEY_ORDER if role in roles]
    foot = _ReachFoot(
        story.playing_area(shot), picture.block, kinds, 0.0, story.white_words(shot),
        own=picture.key,
    )  # fmt: skip
    return framed_plan(page, marks, foot, picture.description, name)


def _action(picture: ReachPicture) -> Box:
    """All regions, the balls that the shot begins with, and its ways where they are drawn. [mm]"""
    shot, cells = picture.shot, picture.cells
    inside = [number for number, within in enumerate(picture.outer) if within]
    points = [cells.middle(number % cells.columns, number // cells.columns) for number in inside]
    points += [place.at for place in picture.places]
    points.append(story.start(shot, story.cue_ball(shot)))
    points += [contact.ball_at for contact in story.contacts(shot)[:1]]
    for mark in goal_marks(picture.goal, shot.position) if picture.goal else ():
        points += _corners_of(mark)
    box = story.box_of(points, story.radius(shot, story.cue_ball(shot)) + story.CUSHION_DEPTH)
    return box_round([box, action_of(shot, shot.duration)]) if picture.with_ways else box


def _corners_of(mark: Mark) -> list[Point]:
    """Of the box round a goal's mark. [mm]"""
    if isinstance(mark, Circle):
        x, y = mark.centre
        return [(x - mark.radius, y - mark.radius), (x + mark.radius, y + mark.radius)]
    if isinstance(mark, Polygon):
        return list(mark.points)
    return [mark.start, mark.end] if isinstance(mark, Line) else []


def _marks(picture: ReachPicture, page: Page) -> Iterator[Mark]:
    shot = picture.shot
    contact = next(iter(story.contacts(shot)), None)
    lines = list(_ways(picture, contact))
    regions = list(region_marks(picture.cells, picture.regions, picture.outer))
    yield from regions
    yield from table_marks(shot.position.table, page, shot.position.coefficients.pockets)
    yield from lines
    met = frozenset({contact.ball} if contact else ())
    yield from balls(shot, page, met)
    dots = [
        Circle(f"place-{number}", Layer.CONTACTS, Role.END, place.at, page.mm(DOT))
        for number, place in enumerate(picture.places)
    ]
    yield from dots
    ground = Ground(obstacles_of(shot, [*lines, *_as_lines(regions)], ()), page)
    wishes = [*_place_wishes(picture, page), *ball_wishes(shot, page, met)]
    yield from placed_labels(wishes, ground)


def _ways(picture: ReachPicture, contact: story.Contact | None) -> Iterator[Mark]:
    shot = picture.shot
    if picture.goal is not None:
        yield from goal_marks(picture.goal, shot.position)
    if not picture.with_ways:
        return
    if contact is not None:
        way = (contact.time, shot.duration)
        yield from path_marks.thin_way(shot, contact.ball, way, Role.OBJECT_WAY, "object")
    yield from path_marks.white_way(shot, 0.0, shot.duration, "white")


def region_marks(cells: Cells, regions: Sequence[Region], outer: Sequence[bool]) -> Iterator[Mark]:
    """Hatching and edge of each, and the chain line round the cells of ``outer``."""
    for region in regions:
        yield from hatch_lines(cells, region)
        name = f"edge-{region.role.value}"
        yield from edges(cells, _within(cells, region.every), Role.REGION_EDGE, name)
    yield from edges(cells, _within(cells, outer), Role.OUTER_EDGE, "outer")


def _within(cells: Cells, values: Sequence[int]) -> Callable[[int, int], bool]:
    """Whether a column and row have a value above nought."""
    return lambda column, row: values[row * cells.columns + column] > 0


def _as_lines(marks: Sequence[Mark]) -> Iterator[Polyline]:
    """Edges as what words keep off; hatching they may cover."""
    for mark in marks:
        if isinstance(mark, Polygon):
            yield Polyline(mark.id, mark.layer, mark.role, (*mark.points, mark.points[0]))


def _place_wishes(picture: ReachPicture, page: Page) -> Iterator[LabelWish]:
    for number, place in enumerate(picture.places):
        yield LabelWish(
            f"label-place-{number}", place.words, place.at, page.mm(DOT), 0.0,
            rank=Rank.OUTCOME, ringed=place.letter,
        )  # fmt: skip
