"""The crop: a round scale, the whole action, and as little as can be outside the table."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawing.hand_shots import hand_shot
from drawing.words_on_plans import faults
from stunline.drawing import plan_of_shot
from stunline.drawing.dimensions import dimensions
from stunline.drawing.ground import Ground, Obstacles
from stunline.drawing.marks import Box, Circle, Layer, Polygon, Role, Size, Text
from stunline.drawing.page import (
    FRAME_MARGIN,
    ROUND_SCALES,
    SCREEN,
    Furniture,
    Medium,
    page_for,
)
from stunline.drawing.title_block import TitleBlock
from stunline.shot.shot import Shot

TABLE = Box(-70.0, -70.0, 1848.0, 3639.0)
ACROSS = st.tuples(st.floats(-50, 1800), st.floats(-50, 1800)).map(sorted)
UP = st.tuples(st.floats(-50, 3600), st.floats(-50, 3600)).map(sorted)


@given(ACROSS, UP)
def test_the_window_holds_the_action_at_a_round_scale(across: list[float], up: list[float]) -> None:
    action = Box(across[0], up[0], across[1], up[1])
    page = page_for(action, TABLE)
    assert page.denominator in ROUND_SCALES
    assert page.window.grown(1e-6).contains(action)


def test_paper_at_scale_can_be_measured_with_a_ruler() -> None:
    # [X] 500 mm at 1 : 5 are 100 mm of paper, and CSS has 96 pixels to 25.4 mm.
    page = page_for(Box(600, 1200, 1600, 1800), TABLE)
    assert 500 * page.scale * page.denominator / 5 == pytest.approx(100 * 96 / 25.4)


def test_dimensions_give_the_distances_from_the_nearest_cushions() -> None:
    # By hand: the white stands at (400, 1300) on a table of 1778 × 3569 mm.
    shot = hand_shot()
    page = page_for(Box(0, 900, 1500, 1600), TABLE)
    words = [
        mark.words
        for dimension in dimensions(shot, Ground(Obstacles(), page))
        for mark in dimension.marks
        if isinstance(mark, Text)
    ]
    # To the nearest edge it is a ball's radius, 26.25 mm, less: 373.75 and 1273.75.
    assert words == ["400", "374 to edge", "1300 to baulk cushion", "1274 to edge"]


def test_the_key_shows_the_whole_table_with_the_window_in_it() -> None:
    marks = {mark.id: mark for mark in plan_of_shot(hand_shot()).marks}
    table, crop = marks["key-table"], marks["key-crop"]
    assert isinstance(table, Polygon) and isinstance(crop, Polygon)
    width, height = (
        max(point[axis] for point in table.points) - min(point[axis] for point in table.points)
        for axis in (0, 1)
    )
    assert height / width == pytest.approx(3569 / 1778)  # [R] rules of the game, section 1
    left, bottom = (min(point[axis] for point in table.points) for axis in (0, 1))
    assert all(left - 1e-6 <= x <= left + width + 1e-6 for x, _ in crop.points)
    assert all(bottom - 1e-6 <= y <= bottom + height + 1e-6 for _, y in crop.points)


def test_balls_are_drawn_to_size_where_they_stand() -> None:
    shot = hand_shot()
    marks = {mark.id: mark for mark in plan_of_shot(shot).marks}
    for ball in ("white", "red1", "red2"):
        disc = marks[f"ball-{ball}"]
        assert isinstance(disc, Circle)
        assert disc.radius == pytest.approx(26.25)  # [R] 52.5 mm, rules of the game, section 1
        assert disc.centre == pytest.approx([1000 * v for v in shot.position.balls[ball]])


def test_the_date_stands_there_only_when_it_is_given() -> None:
    assert "title-date" not in {mark.id for mark in plan_of_shot(hand_shot()).marks}


def test_rings_stand_at_the_contact_and_where_balls_rest() -> None:
    shot = hand_shot()
    rings = {
        mark.role: mark.centre
        for mark in plan_of_shot(shot).marks
        if isinstance(mark, Circle)
        and mark.layer is Layer.CONTACTS
        and mark.id in ("ghost", "rest-white")
    }
    assert rings[Role.GHOST] == pytest.approx((800.0, 1300.0))  # by hand, in hand_shots.py
    rest = shot.rest("white")
    assert rest is not None
    assert rings[Role.REST] == pytest.approx([1000 * value for value in rest])


def test_a_ball_against_a_cushion_is_said_to_be_there() -> None:
    # By hand: its centre is 24.55 mm from the nose line, less than its radius of 26.25 mm.
    shot = hand_shot()
    balls = {**shot.position.balls, "white": (0.02455, 1.3)}
    moved = replace(shot.position, balls=balls)
    page = page_for(Box(0, 900, 1500, 1600), TABLE)
    against = cast(Shot, SimpleNamespace(position=moved))
    words = [
        mark.words
        for dimension in dimensions(against, Ground(Obstacles(), page))
        for mark in dimension.marks
        if isinstance(mark, Text)
    ]
    assert words[:2] == ["25", "on the cushion"]


@pytest.mark.parametrize("pixel", [1.0, 1.35])
def test_large_print_is_larger_and_keeps_its_scale(pixel: float) -> None:
    medium = Medium(((400.0, 300.0),), pixel, Size.SMALL, Furniture.NONE)
    drawing = plan_of_shot(hand_shot(), medium=medium)
    # [X] A millimetre of table comes out as 1/n mm of paper, and CSS has 96 pixels to 25.4 mm.
    paper = drawing.width / drawing.view.width * 25.4 / 96
    assert any(paper == pytest.approx(1 / n) for n in ROUND_SCALES)
    # The window keeps its size in pixels, so it grows on paper with them.
    assert drawing.width == pytest.approx((400.0 + 2 * FRAME_MARGIN) * pixel)


def test_full_furniture_refuses_a_window_too_narrow_for_it() -> None:
    with pytest.raises(ValueError, match="at least 740 px wide, and one is 438 px"):
        Medium(((438.0, 300.0),))


@pytest.mark.parametrize(
    "title", ["Sixty letters of a title, which is the longest that a file takes", "W" * 60]
)
def test_long_titles_break_into_lines_that_fit(title: str) -> None:
    block = TitleBlock(title, "A table with a long name of its own, 12 ft, club cloth, new in May")
    drawing = plan_of_shot(hand_shot(), block)
    assert list(faults(drawing, SCREEN)) == []
    said = [
        mark.words
        for mark in drawing.marks
        if mark.id.startswith("title-") and isinstance(mark, Text) and mark.role is Role.TITLE
    ]
    assert "".join(said).replace(" ", "") == title.replace(" ", "")
    assert len(said) > 1
