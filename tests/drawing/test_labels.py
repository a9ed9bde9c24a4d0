"""Words lie on no other words and inside their window, in pictures and at random."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drawing.pictures import PICTURES, STRIP
from stunline.drawing.ground import Ground, Obstacles
from stunline.drawing.labels import LabelWish, place_labels
from stunline.drawing.marks import Anchor, Box, Drawing, Layer, Text
from stunline.drawing.page import Page
from stunline.drawing.segments import length_inside
from stunline.drawing.strip import spread
from stunline.drawing.strip_layout import WORDS_GAP
from stunline.drawing.typeface import CAPITAL_HEIGHT, text_width

PAGE = Page(Box(0.0, 0.0, 1000.0, 600.0), denominator=5.0)
POINTS = st.tuples(st.floats(100, 900), st.floats(100, 500))
ANGLES = st.floats(-math.pi, math.pi)


def inked(text: Text, drawing: Drawing) -> Box:
    """The rectangle of a text's capitals and figures; upright texts only. [mm]"""
    width = text_width(text.words, text.size.value, text.bold) / drawing.scale
    height = text.size.value * CAPITAL_HEIGHT / drawing.scale
    left = (
        text.at[0] - {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[text.anchor]
    )
    return Box(left, text.at[1], left + width, text.at[1] + height)


def upright_texts(drawing: Drawing) -> list[Text]:
    return [mark for mark in drawing.marks if isinstance(mark, Text) and not mark.angle]


@pytest.mark.parametrize("name", PICTURES)
def test_no_words_lie_on_other_words(name: str) -> None:
    drawing = PICTURES[name]()
    boxes = [(text.words, inked(text, drawing)) for text in upright_texts(drawing)]
    assert len(boxes) > 5
    overlapping = [(a, b) for (a, one), (b, two) in combinations(boxes, 2) if one.overlap(two) > 0]
    assert overlapping == []


@pytest.mark.parametrize("name", PICTURES)
def test_all_words_are_in_view(name: str) -> None:
    drawing = PICTURES[name]()
    for text in upright_texts(drawing):
        box = inked(text, drawing)
        window = drawing.windows.get(text.layer, drawing.view)
        outer = window if isinstance(window, Box) else drawing.view
        is_ball_sign = text.layer in (Layer.BALLS, Layer.INSET)
        assert is_ball_sign or outer.contains(box), text.words


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(POINTS, ANGLES), min_size=2, max_size=7))
def test_labels_anywhere_do_not_overlap(places: list[tuple[tuple[float, float], float]]) -> None:
    wishes = [
        LabelWish(f"label-{number}", f"{number}.25 m/s", point, 26.25, angle)
        for number, (point, angle) in enumerate(places)
    ]
    balls = tuple((point, 26.25) for point, _ in places)
    placed = place_labels(wishes, Ground(Obstacles(balls), PAGE), PAGE.window)
    assert all(one.box.overlap(two.box) == 0 for one, two in combinations(placed, 2))
    assert all(PAGE.window.contains(label.box) for label in placed)


def test_a_label_with_room_stands_on_the_side_it_prefers() -> None:
    for angle in (0.0, math.pi / 2, math.pi, -math.pi / 2):
        wish = LabelWish("label", "red 7", (500.0, 300.0), 20.0, angle)
        (label,) = place_labels([wish], Ground(Obstacles(), PAGE), PAGE.window)
        x, y = label.box.centre
        assert math.cos(math.atan2(y - 300, x - 500) - angle) > 0.99
        assert label.leader is None


def test_a_label_keeps_off_a_line_through_its_best_place() -> None:
    line = ((500.0, 300.0), (900.0, 300.0))
    wish = LabelWish("label", "red 7", (500.0, 300.0), 20.0, 0.0)
    (label,) = place_labels([wish], Ground(Obstacles(segments=(line,)), PAGE), PAGE.window)
    assert length_inside(*line, label.box) == 0


def test_the_same_wishes_get_the_same_places() -> None:
    wishes = [LabelWish(f"l{n}", f"{n}", (400.0 + 9 * n, 300.0), 20.0, 0.0) for n in range(5)]
    first, again = (place_labels(wishes, Ground(Obstacles(), PAGE), PAGE.window) for _ in range(2))
    assert first == again


@pytest.mark.parametrize(
    ("start", "end", "inside"),
    [
        # By hand: through a square of side 10, along its middle, its diagonal, past it.
        ((-5.0, 5.0), (15.0, 5.0), 10.0),
        ((0.0, 0.0), (10.0, 10.0), math.hypot(10, 10)),
        ((-5.0, 11.0), (15.0, 11.0), 0.0),
        ((2.0, 5.0), (4.0, 5.0), 2.0),
    ],
)
def test_how_much_of_a_line_lies_in_a_box(
    start: tuple[float, float], end: tuple[float, float], inside: float
) -> None:
    assert length_inside(start, end, Box(0, 0, 10, 10)) == pytest.approx(inside)


@given(st.lists(st.tuples(st.floats(0, 900), st.floats(5, 60)), min_size=1, max_size=10))
def test_words_in_a_row_keep_their_order_and_their_distance(
    words: list[tuple[float, float]],
) -> None:
    middles, widths = [sorted(part) for part in zip(*words, strict=True)]
    middles = spread(middles, widths, 960.0)
    ends = [
        (middle - width / 2, middle + width / 2)
        for middle, width in zip(middles, widths, strict=True)
    ]
    for (_, end), (start, _) in pairwise(ends):
        assert start - end >= WORDS_GAP - 1e-6
    assert ends[0][0] >= -1e-6 and ends[-1][1] <= 960 + 1e-6


def test_words_with_room_stay_where_they_belong() -> None:
    assert spread([100.0, 300.0], [40.0, 40.0], 960.0) == [100.0, 300.0]


def test_every_band_of_the_strip_says_its_words_once() -> None:
    said = [text.words for text in upright_texts(PICTURES["strip"]())]
    assert [said.count(band.words) for band in STRIP.bands] == [1] * len(STRIP.bands)


def test_figures_are_tabular() -> None:
    # Columns of figures line up only if all ten have one width, in both weights.
    for bold in (False, True):
        assert len({text_width(figure, 1.0, bold) for figure in "0123456789"}) == 1
