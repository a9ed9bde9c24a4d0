"""The plan on a screen: for any window and size, layer by layer, as light as it is asked for.

The same marks as the plan of a sheet, without what stands below it. While something is being
moved words are left out, since placing them takes longer than everything else together; the
distances of the ball that is held stand in the layer of dimensions, with their words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import balls, meeting_ring, rest_ring
from stunline.drawing.dimensions import dimensions
from stunline.drawing.doubt_marks import DoubtPicture, doubt_marks
from stunline.drawing.framed_plan import PLAN_LAYERS
from stunline.drawing.goal_marks import goal_marks
from stunline.drawing.ground import Ground
from stunline.drawing.inset import contact_inset, inset_window
from stunline.drawing.labels import LabelWish
from stunline.drawing.marks import Box, Drawing, Layer, Mark, Polygon, Role
from stunline.drawing.page import PIXELS_PER_MM, Furniture, Medium, Page, page_for
from stunline.drawing.plan import (
    action_of_all,
    described,
    fixed_words,
    placed_labels,
    shot_lines,
    shot_rings,
    with_goal,
)
from stunline.drawing.plan_labels import ball_wishes, obstacles_of, shot_wishes, spot_wishes
from stunline.drawing.rungs import LadderPicture, RungPicture, rung_wishes
from stunline.drawing.svg import fragment, svg
from stunline.drawing.table_marks import table_marks
from stunline.drawing.theme import THEMES, Theme
from stunline.drawing.title_block import TitleBlock
from stunline.drawing.way_marks import LetteredWay, in_ways_layer, way_marks, way_wishes

if TYPE_CHECKING:
    from stunline.equipment.model import Table
    from stunline.shot.goal import Goal
    from stunline.shot.shot import Shot

SCREEN_LAYERS = (*PLAN_LAYERS[:-1], Layer.INSET, Layer.WAYS, Layer.LABELS)
INSET_FROM = (600.0, 400.0)  # the smallest plan with room for the contact enlarged [px]
SMALLEST_WINDOW = 50.0  # about one ball; a smaller one shows nothing [mm]
ROUND_BALLS = 300.0  # shown round the balls where nothing is played: cushions near them [mm]
KEY_MARGIN = 2.0  # round the key of the whole table, for its outline [px]
_KEPT_TABLES = 32  # drawn tables kept; one for each window in use would do


@dataclass(frozen=True, slots=True)
class ScreenPlan:
    """What the plan on a screen shows.

    Attributes:
        shot: as played
        pinned: further strikes, numbered from 1 on the plan
        answers: whether ways, meetings and their words are shown; otherwise table and balls
        words: whether labels and the contact enlarged are shown
        held: the ball that is being moved, or None
        goal: what is wanted of the shot, or None
        ways: strikes that meet it, each with the letter at its end, in a layer of their own
        doubt: how far the shot may be off, drawn below everything
    """

    shot: Shot
    pinned: Sequence[Shot] = ()
    answers: bool = True
    words: bool = True
    held: str | None = None
    goal: Goal | None = None
    ways: Sequence[LetteredWay] = ()
    doubt: DoubtPicture | None = None


def screen_medium(size: tuple[float, float]) -> Medium:
    """A window of that size and nothing round it. [px]"""
    return Medium((size,), furniture=Furniture.NONE)


def page_of_window(window: Box, size: tuple[float, float]) -> Page:
    """The page that shows at least that window [mm] in a plan of that size [px], centred."""
    width, height = max(window.width, SMALLEST_WINDOW), max(window.height, SMALLEST_WINDOW)
    millimetre = min(size[0] / width, size[1] / height)
    (x, y), across, up = window.centre, size[0] / millimetre / 2, size[1] / millimetre / 2
    shown = Box(x - across, y - up, x + across, y + up)
    return Page(shown, PIXELS_PER_MM / millimetre, screen_medium(size))


def page_of_action(
    shots: Sequence[Shot], size: tuple[float, float], goal: Goal | None = None
) -> Page:
    """The page framed on what the shots do and on what is wanted of them. size: of the plan [px]"""
    return _page_with(action_of_all(shots), shots[0], size, goal)


def page_of_balls(shot: Shot, size: tuple[float, float], goal: Goal | None = None) -> Page:
    """The page framed on the balls where they stand; on the table where there are none."""
    table = story.table_box(shot)
    places = [story.start(shot, ball) for ball in shot.position.balls]
    action = story.box_of(places, ROUND_BALLS).within(table) if places else table
    return _page_with(action, shot, size, goal)


def _page_with(action: Box, shot: Shot, size: tuple[float, float], goal: Goal | None) -> Page:
    return page_for(with_goal(action, shot, goal), story.table_box(shot), screen_medium(size))


def screen_drawing(plan: ScreenPlan, page: Page) -> Drawing:
    """The plan without its table, which changes with the window only; see ``table_layer``."""
    marks = tuple(_marks(plan, page) if plan.answers else _hidden_marks(plan, page))
    return Drawing(
        marks=marks,
        view=page.window,
        scale=page.scale,
        title=plan.shot.position.title or "Untitled position",
        description=described(plan.shot) if plan.answers else "",
        windows={**dict.fromkeys(SCREEN_LAYERS, page.window), **inset_window(marks)},
    )


def layers_of(drawing: Drawing, theme: Theme) -> dict[str, str]:
    """Each layer of the plan but the table's as SVG that replaces the group of its id."""
    return {
        layer.value: fragment(drawing, layer, theme)
        for layer in SCREEN_LAYERS
        if layer is not Layer.TABLE
    }


def table_layer(table: Table, page: Page, pockets: bool, theme: Theme) -> str:
    """The table's layer; kept, since it is the same while things move on it."""
    return _table_layer(_Kept(table), page, pockets, theme.name)


@dataclass(frozen=True, slots=True)
class _Kept:
    """A table, equal when it is the same one."""

    table: Table

    def __hash__(self) -> int:
        return id(self.table)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Kept) and self.table is other.table


@lru_cache(maxsize=_KEPT_TABLES)
def _table_layer(kept: _Kept, page: Page, pockets: bool, theme: str) -> str:
    marks = tuple(table_marks(kept.table, page, pockets))
    windows = {Layer.TABLE: page.window}
    drawing = Drawing(marks, page.window, page.scale, kept.table.title, windows=windows)
    return fragment(drawing, Layer.TABLE, THEMES[theme])


def key_svg(table: Table, window: Box, height: float, theme: Theme) -> str:
    """The whole table, small, with the window marked on it: a picture of its own.

    Args:
        table: the table
        window: what the plan shows of it [mm]
        height: of the table in the key [px]
        theme: what it stands on
    """
    return _key_svg(_Kept(table), window, height, theme.name)


@lru_cache(maxsize=_KEPT_TABLES)
def _key_svg(kept: _Kept, window: Box, height: float, theme: str) -> str:
    width, length = (story.MILLIMETRES * side for side in (kept.table.width, kept.table.length))
    table, scale = Box(0.0, 0.0, width, length), height / length
    left, right = (min(max(side, 0.0), width) for side in (window.left, window.right))
    bottom, top = (min(max(side, 0.0), length) for side in (window.bottom, window.top))
    marks = (
        Polygon("table", Layer.KEY, Role.KEY_TABLE, table.corners),
        Polygon("crop", Layer.KEY, Role.KEY_CROP, Box(left, bottom, right, top).corners),
    )
    title = "The whole table, with the part that the plan shows"
    view = table.grown(KEY_MARGIN / scale)
    drawing = Drawing(marks, view, scale, title, name="key")
    return svg(drawing, THEMES[theme], embed_font=False)


def _hidden_marks(plan: ScreenPlan, page: Page) -> Iterator[Mark]:
    """The balls where they stand, and letters beside those too small to carry them."""
    yield from balls(plan.shot, page, frozenset())
    if plan.words:
        wishes = [*ball_wishes(plan.shot, page, frozenset()), *spot_wishes(plan.shot, page)]
        yield from placed_labels(wishes, Ground(obstacles_of(plan.shot, (), ()), page))
    yield from held_distances(plan, page, (), ())


def _marks(plan: ScreenPlan, page: Page) -> Iterator[Mark]:
    shot = plan.shot
    contact = next(iter(story.contacts(shot)), None)
    meeting = story.next_meeting(shot)
    pinned = list(pinned_lines(plan.pinned))
    lines = [*pinned, *shot_lines(shot, page, contact, meeting)]
    met = frozenset(found.ball for found in (contact, meeting) if found)
    ways = list(way_marks(plan.ways))
    rings = [*pinned_rings(plan.pinned), *shot_rings(shot, page, contact, meeting)]
    yield from doubt_marks(plan.doubt)
    yield from _goal(plan)
    yield from lines
    yield from balls(shot, page, met)
    yield from rings
    yield from ways
    yield from held_distances(plan, page, lines, rings)
    if plan.words:
        yield from _words(plan, page, [*lines, *ways], rings)


def _goal(plan: ScreenPlan) -> Iterator[Mark]:
    """The resting area and the gap that the goal asks for."""
    if plan.goal is not None:
        yield from goal_marks(plan.goal, plan.shot.position)


def _words(
    plan: ScreenPlan, page: Page, lines: Sequence[Mark], rings: Sequence[Mark]
) -> Iterator[Mark]:
    """Names, dimensions, the contact enlarged, and labels."""
    shot = plan.shot
    contact = next(iter(story.contacts(shot)), None)
    obstacles = obstacles_of(shot, lines, rings)
    ground = Ground(obstacles, page)
    fixed, ground = fixed_words(shot, lines, ground, None)
    shown = [m for m in fixed.marks if plan.held is None or not _is_dimension(m)]
    yield from shown
    if contact is not None and _has_room_for_inset(page):
        around = replace(obstacles, segments=obstacles.segments + fixed.lines, taken=fixed.boxes)
        inset = contact_inset(shot, contact, page, around)
        if inset is not None:
            yield from inset.marks
            ground = ground.with_more((), (inset.box,))
    wishes = list(_pinned_wishes(plan.pinned, page))
    wishes += way_wishes(plan.ways)
    wishes += shot_wishes(shot, page, contact, story.next_meeting(shot))
    yield from (in_ways_layer(mark) for mark in placed_labels(wishes, ground))


def _is_dimension(mark: Mark) -> bool:
    return mark.id.startswith("dimension")


def _has_room_for_inset(page: Page) -> bool:
    (width, height), (least, lowest) = page.medium.sizes[0], INSET_FROM
    return width >= least and height >= lowest


def held_distances(
    plan: ScreenPlan, page: Page, lines: Sequence[Mark], rings: Sequence[Mark]
) -> Iterator[Mark]:
    """The held ball's distances from its two nearest cushions, words and all in one layer."""
    if plan.held is None or plan.held not in plan.shot.position.balls:
        return
    ground = Ground(obstacles_of(plan.shot, lines, rings), page)
    for dimension in dimensions(plan.shot, ground, plan.held):
        ground = ground.with_more((), dimension.words)
        for mark in dimension.marks:
            yield replace(mark, id=f"held-{mark.id}", layer=Layer.DIMENSIONS)


def pinned_lines(pinned: Sequence[Shot]) -> Iterator[Mark]:
    """The white's way of each pinned strike from its contact on, thin."""
    for number, shot in enumerate(pinned, 1):
        since = next((contact.time for contact in story.contacts(shot)), 0.0)
        span = (since, story.told_until(shot))
        name = f"pinned-{number}-way"
        yield from path_marks.thin_way(shot, story.cue_ball(shot), span, Role.LATER, name)


def pinned_rings(pinned: Sequence[Shot]) -> Iterator[Mark]:
    """Where the white of each pinned strike meets its next ball, or rests."""
    for number, shot in enumerate(pinned, 1):
        meeting = story.next_meeting(shot)
        if meeting is not None:
            yield meeting_ring(shot, meeting, f"pinned-{number}-meeting")
            continue
        ring = rest_ring(shot, story.cue_ball(shot), f"pinned-{number}-rest")
        if ring is not None:
            yield ring


def _pinned_wishes(pinned: Sequence[Shot], page: Page) -> Iterator[LabelWish]:
    """A ringed number at the end of each pinned strike's way."""
    if not pinned:
        return
    rungs = tuple(RungPicture("", shot) for shot in pinned)
    picture = LadderPicture(rungs, TitleBlock("", ""), numbered=True)
    yield from (wish for wish in rung_wishes(picture, page) if wish.ringed)
