"""The contact magnified: its words, its angles as drawn, balls of their own size."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import cast

import pytest

from drawing.hand_shots import TABLE, HandShot, hand_shot, rolling
from paper.pdf_reading import Page, direction, read_pdf
from stunline.drawing import plan_of_shot
from stunline.drawing.contact_figure import contact_of_shot, contact_words
from stunline.drawing.contact_view import inside_degrees, motions, throw_degrees
from stunline.drawing.marks import Drawing, Layer, Line, Role, Size
from stunline.drawing.page import SCREEN
from stunline.drawing.pdf import pdf
from stunline.drawing.story import Contact, contacts
from stunline.shot.shot import Shot

LARGE_PRINT = replace(SCREEN, pixel=1.35, smallest=Size.SMALL)
DRAWN = 0.05  # [mm]
TURNED = 0.02  # [°]
WHITE, RED = 0.0238, 0.0254  # [R] English pool, world body's specification: radii [m]


def hand(**changes: object) -> Shot:
    return cast(Shot, replace(cast(HandShot, hand_shot()), **changes))  # type: ignore[arg-type]


def moved(ball: str, angle: float, speed: float = 0.6) -> Shot:
    """The hand-made shot with that ball's first velocity after contact turned. [°, m/s]"""
    shot = cast(HandShot, hand_shot())
    time, along = shot.events[1].time, math.radians(angle)
    place = shot.place(ball, time)
    way = rolling(ball, time, place, (speed * math.cos(along), speed * math.sin(along)))
    before = tuple(phase for phase in shot.moves[ball] if phase.end <= time)
    return hand(moves={**shot.moves, ball: (*before, way)})


def unequal() -> Shot:
    """The hand-made shot with English pool's balls, where they touch."""
    shot = cast(HandShot, hand_shot())
    balls = {
        **TABLE.balls,
        "white": replace(TABLE.balls["white"], radius=WHITE),
        "red1": replace(TABLE.balls["red1"], radius=RED),
    }
    return hand(position=replace(shot.position, table=replace(TABLE, balls=balls)))


def figure(shot: Shot, medium: object = SCREEN) -> Drawing:
    drawing = contact_of_shot(shot, medium)  # type: ignore[arg-type]
    assert drawing is not None
    return drawing


def page(shot: Shot, medium: object = SCREEN) -> Page:
    return read_pdf(pdf(figure(shot, medium)))[0]


def line(drawing: Drawing, name: str) -> Line:
    found = next(mark for mark in drawing.marks if mark.id == name)
    assert isinstance(found, Line)
    return found


def turned(mark: Line) -> float:
    """Its direction. [°]"""
    return direction(mark.start, mark.end)


def first(shot: Shot) -> Contact:
    return contacts(shot)[0]


def test_the_words_of_a_half_ball() -> None:
    # By hand: the white rolls along +x and the line of centres is 30° to the left of its way.
    words = contact_words(hand_shot())
    assert words is not None
    assert words.thickness == "half-ball on the right side of red 1"
    assert words.cut == "line of centres, cut 30.0°"
    assert words.leaving == "the white leaves along the tangent line"
    assert words.throw == "red 1 goes along the line of centres"


@pytest.mark.parametrize(
    ("angle", "words"),
    [
        (33.5, "red 1 is thrown 3.5° to the left"),
        (28.0, "red 1 is thrown 2.0° to the right"),
        (30.2, "red 1 goes along the line of centres"),
    ],
)
def test_the_words_of_a_throw(angle: float, words: str) -> None:
    # By hand: the line of centres points 30° to the left of +x.
    shot = moved("red1", angle)
    told = contact_words(shot)
    assert told is not None and told.throw == words
    struck = motions(shot, first(shot)).struck
    assert struck is not None
    assert throw_degrees(struck, first(shot).centres) == pytest.approx(angle - 30.0)


@pytest.mark.parametrize(
    ("angle", "words"),
    [
        (-57.0, "the white leaves 3° inside the tangent line"),
        (-64.0, "the white leaves 4° outside the tangent line"),
    ],
)
def test_the_words_of_a_way_off_the_tangent_line(angle: float, words: str) -> None:
    # By hand: the tangent line points 60° to the right of +x.
    shot = moved("white", angle)
    told = contact_words(shot)
    assert told is not None and told.leaving == words
    leaving = motions(shot, first(shot)).leaving
    assert leaving is not None
    assert inside_degrees(leaving, first(shot).centres) == pytest.approx(60.0 + angle)


def test_a_white_that_stays_has_no_arrow() -> None:
    shot = cast(HandShot, hand_shot())
    stays = hand(moves={**shot.moves, "white": shot.moves["white"][:1]})
    drawing = figure(stays)
    assert not any(mark.role is Role.LEAVES for mark in drawing.marks)
    told = contact_words(stays)
    assert told is not None and told.leaving == "the white stays where it is at first"


def test_a_shot_that_meets_no_ball_has_no_figure() -> None:
    shot = hand(events=cast(HandShot, hand_shot()).events[:1])
    assert contact_of_shot(shot) is None and contact_words(shot) is None


@pytest.mark.parametrize("medium", [SCREEN, LARGE_PRINT], ids=["screen", "large print"])
def test_balls_are_half_their_own_size_on_paper(medium: object) -> None:
    radii = [circle.radius for circle, _ in page(unequal(), medium).circles]
    for expected in (WHITE, RED):
        assert min(abs(radius - 1000 * expected / 2) for radius in radii) < DRAWN


def test_angles_on_paper() -> None:
    # By hand: way in 0°, tangent line −60°, line of centres 30°, ball thrown to 33.5°.
    drawing, paper = figure(moved("red1", 33.5)), page(moved("red1", 33.5))
    drawn = [direction(start, end) % 180 for start, end, _ in paper.lines]
    for name, expected in (
        ("contact-way", 0.0),
        ("contact-aim", 0.0),
        ("contact-tangent", -60.0),
        ("contact-leaves", -60.0),
        ("contact-centres", 30.0),
        ("contact-object-way", 33.5),
    ):
        assert turned(line(drawing, name)) == pytest.approx(expected, abs=1e-6), name
        away = [abs((angle - expected + 90) % 180 - 90) for angle in drawn]
        assert min(away) < TURNED, name


def test_the_line_of_aim_stands_where_the_cue_points() -> None:
    # By hand: aimed 2° to the left from (400, 1300), it passes the ghost at x = 800
    # 400·sin 2° = 13.96 mm to its left.
    shot = cast(HandShot, hand_shot())
    drawing = figure(hand(strike=replace(shot.strike, aim=math.radians(2.0))))
    aim = line(drawing, "contact-aim")
    assert turned(aim) == pytest.approx(2.0)
    (x, y), along = aim.start, math.radians(2.0)
    off = -(800.0 - x) * math.sin(along) + (1300.0 - y) * math.cos(along)
    assert off == pytest.approx(-13.96, abs=0.005)


@pytest.mark.parametrize("medium", [SCREEN, LARGE_PRINT], ids=["screen", "large print"])
@pytest.mark.parametrize("shot", [hand_shot(), unequal()], ids=["equal", "unequal"])
def test_words_stand_clear_on_paper(shot: Shot, medium: object) -> None:
    paper = page(shot, medium)
    assert paper.overlapping_words() == [] and paper.words_outside() == []
    assert paper.smallest_letters() >= 9.0 - 1e-4  # [pt], 12 px


def test_without_words_only_the_window_remains() -> None:
    drawing = contact_of_shot(hand_shot(), with_words=False)
    assert drawing is not None
    assert {mark.layer for mark in drawing.marks} == {Layer.INSET, Layer.LABELS}


def test_the_inset_of_a_plan_shows_the_same_lines() -> None:
    marks = {mark.id: mark for mark in plan_of_shot(hand_shot()).marks}
    shown = figure(hand_shot())
    for name in ("way", "aim", "tangent", "centres", "leaves", "object-way"):
        inset = marks[f"inset-{name}"]
        assert isinstance(inset, Line)
        assert turned(inset) == pytest.approx(turned(line(shown, f"contact-{name}")), abs=1e-6)
