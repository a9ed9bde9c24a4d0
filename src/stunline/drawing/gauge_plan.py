"""The whole table, as large as a screen has room for, with a gauging shot set up by tape."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import rest_ring, tint_of
from stunline.drawing.dimensions import dimensions
from stunline.drawing.ground import Ground
from stunline.drawing.labels import LabelWish, Rank
from stunline.drawing.marks import Circle, Drawing, Layer, Mark, Point, Role
from stunline.drawing.page import Page
from stunline.drawing.plan import placed_labels
from stunline.drawing.plan_labels import obstacles_of
from stunline.drawing.screen_plan import page_of_window
from stunline.drawing.table_marks import table_marks
from stunline.shot.words import ball_words

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

# Balls are at least so large: a true one is hardly seen on a whole table. [px]
_LEAST_RADIUS = 5.0
_BESIDE = 6.0  # between lines that can be told apart, and between those kept clear [px]
_MARGIN = 75.0  # of cushions round the playing area [mm]

Piece = tuple[Point, Point]


def gauge_plan(shot: Shot, height: float, title: str, name: str) -> Drawing:
    """The plan, upright: balls with their distances, the expected way, where it is to end.

    Args:
        shot: as it will go if all is as expected; its pockets are drawn though gauging plays none
        height: of the picture [px]
        title: for people who cannot see it
        name: goes before every id
    """
    window = story.table_box(shot).grown(_MARGIN)
    page = page_of_window(window, (height * window.width / window.height, height))
    table = table_marks(shot.position.table, page, pockets=True)
    marks = (*table, *_shot_marks(shot, page))
    return Drawing(marks, page.window, page.scale, title, described(shot), name=name)


def described(shot: Shot) -> str:
    """Where balls are set and expected to end, in mm."""
    found = []
    for ball in shot.position.names:
        (x, y), end = story.start(shot, ball), story.rest(shot, ball)
        words = f"{ball_words(ball)} {x:.0f} mm from the left, {y:.0f} mm up the table"
        if end is not None and story.moved(shot, ball):
            words += f", expected to end about {end[0]:.0f}, {end[1]:.0f}"
        found.append(words)
    return "; ".join(found)


def _shot_marks(shot: Shot, page: Page) -> Iterator[Mark]:
    lines = list(_ways(shot))
    rings = [
        ring
        for ball in shot.position.names
        if (ring := rest_ring(shot, ball, f"rest-{ball}")) is not None
    ]
    yield from lines
    yield from _balls(shot, page)
    yield from rings
    ground = Ground(obstacles_of(shot, lines, rings), page)
    for ball in shot.position.names:
        clear = ground
        for dimension in dimensions(shot, ground, ball):
            clear = clear.with_more(tuple(_with_beside(dimension.lines, page)), dimension.words)
            yield from dimension.marks
        ground = clear
    yield from placed_labels(list(_wishes(shot)), ground)


def _with_beside(lines: Sequence[Piece], page: Page) -> Iterator[Piece]:
    """Lines, and others beside them: so that no other dimension runs there."""
    for side in (-2, -1, 0, 1, 2):
        off = side * page.mm(_BESIDE)
        for (x, y), (u, v) in lines:
            is_upright = abs(v - y) > abs(u - x)
            right, up = (off, 0.0) if is_upright else (0.0, off)
            yield (x + right, y + up), (u + right, v + up)


def _ways(shot: Shot) -> Iterator[Mark]:
    span = (0.0, shot.duration)
    contact = next(iter(story.contacts(shot)), None)
    yield path_marks.aim_line(shot, contact)
    for ball in reversed(shot.position.names):
        role = Role.LATER if ball == story.cue_ball(shot) else Role.OBJECT_WAY
        yield from path_marks.thin_way(shot, ball, span, role, f"way-{ball}")


def _balls(shot: Shot, page: Page) -> Iterator[Mark]:
    for ball in reversed(shot.position.names):
        radius = max(story.radius(shot, ball), page.mm(_LEAST_RADIUS))
        yield Circle(
            f"ball-{ball}", Layer.BALLS, tint_of(shot, ball), story.start(shot, ball), radius
        )


def _wishes(shot: Shot) -> Iterator[LabelWish]:
    for ball in shot.position.names:
        at = story.rest(shot, ball)
        if at is None or not story.moved(shot, ball):
            continue
        words = "expected" if ball == story.cue_ball(shot) else f"{ball_words(ball)}, expected"
        radius = story.radius(shot, ball)
        yield LabelWish(f"label-{ball}", words, at, radius, 0.0, rank=Rank.REST)
