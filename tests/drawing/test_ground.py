"""The grid under a plan against plain geometry, and the empty places found on it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stunline.drawing.empty_place import empty_place
from stunline.drawing.ground import CELL, SAMPLE, Boxes, Ground, Obstacles, touches
from stunline.drawing.marks import Box
from stunline.drawing.page import Page
from stunline.drawing.segments import distance_to, length_inside

PAGE = Page(Box(0.0, 0.0, 1000.0, 600.0), denominator=5.0)
PLACES = st.tuples(st.floats(-100, 1100), st.floats(-100, 700))
INSIDE = st.tuples(st.floats(100, 900), st.floats(100, 500))
# A line without length shows nothing, and takes up no ground.
LINES = st.tuples(PLACES, PLACES).filter(lambda ends: math.dist(*ends) > 1.0)
SEGMENTS = st.lists(LINES, max_size=6)
DISCS = st.lists(st.tuples(PLACES, st.floats(5, 60)), max_size=6)


@given(SEGMENTS, INSIDE, st.floats(20, 90), st.floats(20, 90))
def test_the_grid_tells_how_much_line_lies_in_a_box(
    segments: list[tuple[tuple[float, float], tuple[float, float]]],
    at: tuple[float, float],
    half_width: float,
    half_height: float,
) -> None:
    box = Box(at[0] - half_width, at[1] - half_height, at[0] + half_width, at[1] + half_height)
    ground = Ground(Obstacles(segments=tuple(segments)), PAGE)
    got = ground.line_in(ground.box_pixels(box))
    # Plain geometry, for the box made smaller and larger by what a cell and a sample blur.
    blur = PAGE.mm(CELL + SAMPLE)
    least, most = (
        sum(length_inside(*one, box.grown(sign * blur)) for one in segments) * PAGE.scale
        for sign in (-1, 1)
    )
    assert least - 1e-6 <= got <= most + 1e-6


@given(DISCS, st.lists(st.tuples(PLACES, PLACES), min_size=1, max_size=8))
def test_boxes_on_discs_are_found(
    discs: list[tuple[tuple[float, float], float]],
    corners: list[tuple[tuple[float, float], tuple[float, float]]],
) -> None:
    ground = Ground(Obstacles(balls=tuple(discs)), PAGE)
    boxes = [
        ground.box_pixels(Box(min(x, u), min(y, v), max(x, u), max(y, v)).within(PAGE.window))
        for (x, y), (u, v) in corners
        if max(x, u) > 0 and min(x, u) < 1000 and max(y, v) > 0 and min(y, v) < 600
    ]
    sides = zip(*((box.left, box.bottom, box.right, box.top) for box in boxes), strict=True)
    arrays = [np.array(side) for side in sides]
    if not arrays:
        return
    hits = touches(Boxes(*arrays), ground.balls)
    assert hits.tolist() == [ground.balls_on(box) > 0 for box in boxes]


@settings(max_examples=60, deadline=None)
@given(SEGMENTS, DISCS, INSIDE)
def test_an_empty_place_is_empty(
    segments: list[tuple[tuple[float, float], tuple[float, float]]],
    discs: list[tuple[tuple[float, float], float]],
    near: tuple[float, float],
) -> None:
    obstacles = Obstacles(balls=tuple(discs), segments=tuple(segments))
    radius = 60.0
    whole = Box(-PAGE.mm(80), -PAGE.mm(radius + 35), PAGE.mm(80), PAGE.mm(radius))
    middle = empty_place(near, radius, whole, PAGE, obstacles)
    if middle is None:
        return
    words = Box(
        middle[0] + whole.left, middle[1] + whole.bottom, middle[0] + whole.right,
        middle[1] - PAGE.mm(radius),
    )  # fmt: skip
    assert PAGE.window.contains(words)
    for segment in segments:
        assert distance_to(middle, *segment) > PAGE.mm(radius)
        assert length_inside(*segment, words.grown(-PAGE.mm(SAMPLE))) == 0
    for centre, ball in discs:
        assert math.dist(centre, middle) > PAGE.mm(radius) + ball


def test_the_empty_place_is_near() -> None:
    # By hand: on an empty page the disc can stand on the very point, to half the grid's diagonal.
    whole = Box(-50.0, -80.0, 50.0, 50.0)
    middle = empty_place((500.0, 300.0), 60.0, whole, PAGE, Obstacles())
    assert middle is not None
    assert math.dist(middle, (500.0, 300.0)) <= PAGE.mm(2 * CELL)


def test_no_place_is_found_where_none_is() -> None:
    middle = empty_place((0.0, 0.0), 400.0, Box(-530.0, -530.0, 530.0, 530.0), PAGE, Obstacles())
    assert middle is None


@pytest.mark.parametrize(("end", "crossed"), [((600.0, 0.0), 1), ((0.0, 400.0), 0)])
def test_crossings_are_counted(end: tuple[float, float], crossed: int) -> None:
    ground = Ground(Obstacles(segments=(((100.0, -10.0), (100.0, 10.0)),)), PAGE)
    assert ground.crossings((0.0, 0.0), end) == crossed
