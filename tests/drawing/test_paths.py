"""The white's way is drawn on the very polynomial that the engine computed."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawing.hand_shots import hand_shot, phase
from stunline.drawing import plan_of_shot
from stunline.drawing.contact_view import leaving_words
from stunline.drawing.marks import Curve, Layer, Line, Role
from stunline.drawing.path_marks import curve_of, tick_interval

NUMBERS = st.floats(-5.0, 5.0)
PAIRS = st.tuples(NUMBERS, NUMBERS)


@given(PAIRS, PAIRS, PAIRS, st.floats(0.0, 3.0), st.floats(0.0, 1.0))
def test_a_sliding_phase_is_exactly_one_quadratic_curve(
    place: tuple[float, float],
    velocity: tuple[float, float],
    acceleration: tuple[float, float],
    duration: float,
    part: float,
) -> None:
    # Property [X]: p₀ + v₀t + at²/2, worked out here in millimetres.
    sliding = phase("white", "sliding", (1.0, 1.0 + duration), place, velocity, acceleration)
    curve = curve_of(sliding, "way", Layer.PATHS, Role.SLIDING)
    time = part * (sliding.end - sliding.start)
    wanted = tuple(
        1000 * (p + v * time + a * time**2 / 2)
        for p, v, a in zip(place, velocity, acceleration, strict=True)
    )
    assert curve.at(part) == pytest.approx(wanted, abs=1e-6)


def test_each_phase_of_the_white_is_one_mark_of_its_kind() -> None:
    shot = hand_shot()
    marks = [mark for mark in plan_of_shot(shot).marks if mark.id.startswith("white-")]
    kinds = {"sliding": (Curve, Role.SLIDING), "rolling": (Line, Role.ROLLING)}
    assert [(type(mark), mark.role) for mark in marks] == [
        kinds[each.motion] for each in shot.phases("white")
    ]


def test_the_ways_join_without_gaps() -> None:
    marks = [mark for mark in plan_of_shot(hand_shot()).marks if mark.id.startswith("white-")]
    for before, after in pairwise(marks):
        assert isinstance(before, Curve | Line) and isinstance(after, Curve | Line)
        assert before.end == pytest.approx(after.start, abs=1e-6)


def test_ticks_stand_on_the_way_at_equal_times() -> None:
    shot = hand_shot()
    ticks = [mark for mark in plan_of_shot(shot).marks if mark.id.startswith("tick-")]
    interval = tick_interval(shot.duration)
    assert len(ticks) > 5
    for tick in ticks:
        assert isinstance(tick, Line)
        middle = [(a + b) / 2 for a, b in zip(tick.start, tick.end, strict=True)]
        time = int(tick.id.removeprefix("tick-")) * interval
        wanted = [1000 * value for value in shot.place("white", time)]
        assert middle == pytest.approx(wanted, abs=1e-6)


def test_a_short_shot_has_a_tick_every_tenth_of_a_second() -> None:
    assert tick_interval(2.9) == 0.1
    assert tick_interval(14.0) == 0.5


def test_the_tangent_line_is_at_right_angles_to_the_line_of_centres() -> None:
    # By hand: the line of centres of the hand-made shot stands at +30°, so the tangent line,
    # to the side on which the white leaves, points to −60°.
    line = next(mark for mark in plan_of_shot(hand_shot()).marks if mark.role is Role.TANGENT)
    assert isinstance(line, Line)
    angle = math.atan2(line.end[1] - line.start[1], line.end[0] - line.start[0])
    assert math.degrees(angle) == pytest.approx(-60.0, abs=1e-9)


def test_the_inset_says_how_far_inside_the_tangent_line_the_white_leaves() -> None:
    # [X] Smooth pair, e = 0.95, cut 25°: along the centres (1 − e)/2·cos φ is left, across them
    # sin φ, so the white leaves atan(0.025·0.90631/0.42262) = 3.07° inside.
    cut, restitution = math.radians(25), 0.95
    leaving = ((1 - restitution) / 2 * math.cos(cut), math.sin(cut))
    assert leaving_words(leaving, (1.0, 0.0)) == "leaves 3° inside the tangent line"
    assert leaving_words((0.0, 2.0), (1.0, 0.0)) == "leaves along the tangent line"
    assert leaving_words((-0.1, 1.0), (1.0, 0.0)) == "leaves 6° outside the tangent line"
