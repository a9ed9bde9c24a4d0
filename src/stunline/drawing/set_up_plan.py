"""The whole table, small, with what is to be set up on it and about where the balls will go."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import tint_of
from stunline.drawing.marks import Circle, Drawing, Layer, Mark, Role
from stunline.drawing.page import Page
from stunline.drawing.screen_plan import page_of_window
from stunline.drawing.table_marks import table_marks

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

# Balls are at least so large: a true one would be a pixel wide, and could not be seen. [px]
_LEAST_RADIUS = 3.0
_TOO_FINE = (Role.SPOT, Role.CUSHION_BACK)


def set_up_plan(shot: Shot, height: float, title: str, name: str = "plan") -> Drawing:
    """The plan, upright.

    Args:
        shot: as it will go if all is as expected; its pockets are drawn though gauging plays none
        height: of the picture [px]
        title: for people who cannot see it
        name: goes before every id
    """
    window = story.table_box(shot)
    page = page_of_window(window, (height * window.width / window.height, height))
    marks = tuple(_marks(shot, page))
    return Drawing(marks, page.window, page.scale, title, _described(shot), name=name)


def _marks(shot: Shot, page: Page) -> Iterator[Mark]:
    for mark in table_marks(shot.position.table, page, pockets=True):
        if mark.role not in _TOO_FINE:
            yield mark
    yield path_marks.aim_line(shot, next(iter(story.contacts(shot)), None))
    least = page.mm(_LEAST_RADIUS)
    for ball in reversed(shot.position.names):
        span = (0.0, shot.duration)
        yield from path_marks.thin_way(shot, ball, span, Role.LATER, f"way-{ball}")
        radius = max(story.radius(shot, ball), least)
        start = story.start(shot, ball)
        yield Circle(f"ball-{ball}", Layer.BALLS, tint_of(shot, ball), start, radius)
        end = story.rest(shot, ball)
        if end is not None and story.moved(shot, ball):
            yield Circle(f"rest-{ball}", Layer.CONTACTS, Role.REST, end, radius)


def _described(shot: Shot) -> str:
    found = []
    for ball in shot.position.names:
        x, y = story.start(shot, ball)
        found.append(f"{ball} {x:.0f} mm from the left, {y:.0f} mm up the table")
    return "; ".join(found)
