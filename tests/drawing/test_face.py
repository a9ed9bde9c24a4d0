"""The white's face: true size, the tip where a dome would touch, words that say the same."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise
from math import hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawing.hand_shots import TABLE
from paper.pdf_reading import read_pdf
from stunline.drawing.extent import text_box
from stunline.drawing.face import cue_axis, face_of, face_of_rungs, face_words
from stunline.drawing.marks import Box, Circle, Drawing, Line, Role, Size, Text
from stunline.drawing.page import SCREEN
from stunline.drawing.pdf import pdf
from stunline.drawing.segments import cross
from stunline.equipment.catalogue import load_table, table_names
from stunline.shot.position import Strike
from stunline.units import metres

RADIUS = 26.25  # [R] rules of snooker, section 1: 52.5 mm across [mm]
LARGE_PRINT = replace(SCREEN, pixel=1.35, smallest=Size.SMALL)
DRAWN = 0.05  # [mm] what a circle on paper may be off by
places = st.floats(-0.5, 0.5)


def struck(height: float, side: float = 0.0, elevation: float = 0.0) -> Strike:
    """Contact in mm."""
    return Strike(0.0, 1.7, metres(height), metres(side), elevation)


def ladder(*contacts: tuple[float, float]) -> Drawing:
    """Contacts as (height, side) in mm."""
    return face_of_rungs([(f"{n}", struck(*at)) for n, at in enumerate(contacts, 1)], TABLE)


def mark(drawing: Drawing, name: str) -> Circle:
    found = next(mark for mark in drawing.marks if mark.id == name)
    assert isinstance(found, Circle)
    return found


def words_boxes(drawing: Drawing) -> list[Box]:
    return [text_box(mark, drawing.scale) for mark in drawing.marks if isinstance(mark, Text)]


def test_a_contact_10_5_mm_up_is_a_cue_axis_14_1_mm_up() -> None:
    # By hand: 10.5·(1 + 9/26.25) = 14.1 with a dome of 9 mm.
    assert cue_axis((0.0, 10.5), RADIUS, 9.0) == pytest.approx((0.0, 14.1))


def test_a_cue_axis_13_mm_up_meets_the_ball_9_7_mm_up() -> None:
    # [P] a rule of the trade, to a tenth, for a ball of 52.5 mm and a dome of 9 mm
    assert cue_axis((0.0, 9.7), RADIUS, 9.0)[1] == pytest.approx(13.0, abs=0.05)


@given(side=places, height=places, tip=st.floats(1.0, 15.0))
def test_a_dome_about_that_axis_touches_the_ball_at_the_contact(
    side: float, height: float, tip: float
) -> None:
    # [X] In space: the dome's centre is R + r away from the ball's, on the cue's axis; the
    # point of the ball nearest to it is the contact.
    contact = (side * RADIUS, height * RADIUS)
    across, up = cue_axis(contact, RADIUS, tip)
    back = sqrt((RADIUS + tip) ** 2 - across**2 - up**2)
    length = sqrt(across**2 + up**2 + back**2)
    nearest = (across * RADIUS / length, up * RADIUS / length)
    assert nearest == pytest.approx(contact, abs=1e-9)


@pytest.mark.parametrize("medium", [SCREEN, LARGE_PRINT], ids=["screen", "large print"])
def test_the_ball_is_full_size_on_paper(medium: object) -> None:
    drawing = face_of(struck(10.5), TABLE, medium)  # type: ignore[arg-type]
    page = read_pdf(pdf(drawing))[0]
    radii = [circle.radius for circle, _ in page.circles]
    # [X] the ball, and the limits in parts of its radius as the cue's data give them
    for expected in (RADIUS, TABLE.cue.miscue_offset * RADIUS, TABLE.cue.safe_offset * RADIUS):
        assert min(abs(radius - expected) for radius in radii) < DRAWN
    assert max(radii) == pytest.approx(RADIUS, abs=DRAWN)


def test_large_print_has_larger_letters_on_the_same_ball() -> None:
    def tallest(medium: object) -> float:
        drawing = face_of(struck(10.5), TABLE, medium)  # type: ignore[arg-type]
        return max(word.size for word in read_pdf(pdf(drawing))[0].words)

    assert tallest(LARGE_PRINT) == pytest.approx(1.35 * tallest(SCREEN), rel=0.01)


def test_the_cross_stands_at_the_contact_and_the_tip_about_the_axis() -> None:
    drawing = face_of(struck(-6.0, 3.0), TABLE)
    arms = [mark for mark in drawing.marks if mark.role is Role.STRIKE_POINT]
    on_ball = [arm for arm in arms if isinstance(arm, Line) and not arm.id.startswith("caption")]
    for arm in on_ball:
        middle = [(a + b) / 2 for a, b in zip(arm.start, arm.end, strict=True)]
        assert middle == pytest.approx((3.0, -6.0))
    assert mark(drawing, "tip").centre == mark(drawing, "axis").centre
    assert mark(drawing, "axis").centre == pytest.approx((3.0 * 1.342857, -6.0 * 1.342857))


def test_the_grid_stands_every_5_mm_and_ends_on_the_ball() -> None:
    lines = [
        mark
        for mark in face_of(struck(0.0), TABLE, with_words=False).marks
        if isinstance(mark, Line) and mark.role in (Role.FACE_GRID, Role.FACE_CENTRE)
    ]
    assert len(lines) == 22  # by hand: −25 to 25 each way
    for line in lines:
        assert all(hypot(*end) == pytest.approx(RADIUS) for end in (line.start, line.end))
    upright = sorted(line.start[0] for line in lines if line.start[0] == line.end[0])
    assert upright == [5.0 * n for n in range(-5, 6)]
    assert sum(line.role is Role.FACE_CENTRE for line in lines) == 2


@pytest.mark.parametrize(
    ("strike", "contact", "axis", "cue"),
    [
        (struck(10.5), "contact 10.5 mm above centre, no side", "cue axis 14.1 mm above",
         "level cue"),
        (struck(-8.0, -3.0), "contact 8 mm below centre, 3 mm left",
         "cue axis 10.7 mm below, 4 mm left", "level cue"),
        (struck(0.0, 3.0, 0.0873), "contact at centre height, 3 mm right",
         "cue axis at centre height, 4 mm right", "cue raised 5°, seen along the cue"),
        (struck(0.0), "contact at centre height, no side", "cue axis at centre height",
         "level cue"),
    ],
)  # fmt: skip
def test_the_words(strike: Strike, contact: str, axis: str, cue: str) -> None:
    # By hand, with 1 + 9/26.25 = 1.342857.
    words = face_words(strike, TABLE)
    assert (words.contact, words.axis, words.cue) == (contact, axis, cue)
    assert words.miscue == "miscue past 13.1 mm"  # half of 26.25


def test_words_may_be_in_another_unit() -> None:
    words = face_words(struck(10.5), TABLE, lambda length: f"{length / 25.4:.2f} in")
    assert words.contact == "contact 0.41 in above centre, no side"


CONTACTS = [
    [(10.5, 0.0)],
    [(-10.0, 0.0), (-4.0, 0.0), (0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (10.5, 0.0)],
    [(2.0, -10.0), (2.0, -4.0), (2.0, 0.0), (2.0, 2.0), (2.0, 2.0), (2.0, 10.0)],
    [(n * 1.0 - 5.0, 0.0) for n in range(12)],
]


@pytest.mark.parametrize("contacts", CONTACTS, ids=["one", "heights", "sides", "twelve"])
def test_no_words_lie_on_others_on_the_ball_or_outside(
    contacts: list[tuple[float, float]],
) -> None:
    drawing = ladder(*contacts)
    boxes = words_boxes(drawing)
    assert all(one.overlap(two) == 0 for one, two in combinations(boxes, 2))
    assert all(drawing.view.contains(box) for box in boxes)
    assert all(min(hypot(*corner) for corner in box.corners) > RADIUS for box in boxes)
    assert all(
        mark.size.value >= Size.SMALL.value for mark in drawing.marks if isinstance(mark, Text)
    )


@pytest.mark.parametrize("contacts", CONTACTS[1:3], ids=["heights", "sides"])
def test_leaders_to_the_numbers_do_not_cross(contacts: list[tuple[float, float]]) -> None:
    marks = ladder(*contacts).marks
    leaders = [mark for mark in marks if isinstance(mark, Line) and mark.role is Role.LEADER]
    assert len(leaders) == len(set(contacts))
    assert not any(
        cross(one.start, one.end, two.start, two.end) for one, two in combinations(leaders, 2)
    )


def test_numbers_keep_the_order_of_their_contacts() -> None:
    marks = ladder((4.0, 0.0), (-4.0, 0.0), (0.0, 0.0)).marks
    texts = {
        mark.words: mark.at[1]
        for mark in marks
        if isinstance(mark, Text) and mark.id in ("number-1", "number-2", "number-3")
    }
    assert all(low < high for low, high in pairwise(texts[label] for label in ("2", "3", "1")))


def test_strikes_with_one_contact_share_a_mark() -> None:
    texts = [mark.words for mark in ladder(*CONTACTS[2]).marks if isinstance(mark, Text)]
    assert "4, 5" in texts and "4" not in texts


def test_a_ladder_of_paces_is_one_contact_without_numbers() -> None:
    marks = ladder((10.5, 0.0), (10.5, 0.0)).marks
    assert any(mark.id == "tip" for mark in marks)
    assert not any(mark.role is Role.LEADER for mark in marks)


@pytest.mark.parametrize("name", table_names())
def test_the_face_of_every_table_on_paper(name: str) -> None:
    table = load_table(name)
    radius = 1000 * table.balls[table.cue_ball].radius
    strike = Strike(0.0, 1.7, height=0.3 * radius / 1000, side=-0.2 * radius / 1000)
    (page,) = read_pdf(pdf(face_of(strike, table)))
    assert max(circle.radius for circle, _ in page.circles) == pytest.approx(radius, abs=DRAWN)
    assert page.overlapping_words() == [] and page.words_outside() == []
    assert page.smallest_letters() == pytest.approx(9.0, abs=1e-4)  # [pt], 12 px
