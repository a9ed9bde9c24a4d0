"""Balls typed a hair too near are moved apart to exact touching; the rest stay put.

The tolerance of 0.01 mm is the file format's own promise; distances are by hand.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stunline.equipment.model import Point
from stunline.errors import InputError
from stunline.shot.position_file import parse_position, touching

D = 0.0525  # two balls of 52.5 mm


def balls(lines: str) -> dict[str, Point]:
    text = f'table = "snooker-12ft"\n[balls]\n{lines}\n[strike]\naim = 90\npace = 1\n'
    return dict(parse_position(text).position.balls)


def test_two_colours_share_the_way() -> None:
    read = balls("white = [300, 300]\npink = [800, 1000]\nblack = [852.492, 1000]")
    assert math.dist(read["pink"], read["black"]) == pytest.approx(D, abs=1e-12)
    # 0.008 mm of overlap, half of it each, along the line of centres
    assert read["pink"] == pytest.approx((0.799996, 1.0), abs=1e-12)
    assert read["black"] == pytest.approx((0.852496, 1.0), abs=1e-12)


def test_the_white_stays_while_a_colour_moves() -> None:
    read = balls("white = [800, 1000]\nblack = [852.495, 1000]")
    assert read["white"] == (0.8, 1.0)
    assert read["black"] == pytest.approx((0.8525, 1.0), abs=1e-12)


def test_the_triangle_stays_while_the_white_moves() -> None:
    alone = balls('white = [300, 300]\nreds = "triangle"')
    x, y = alone["red1"]
    read = balls(f'white = [{1000 * x!r}, {1000 * y - 52.495!r}]\nreds = "triangle"')
    assert {k: v for k, v in read.items() if k != "white"} == {
        k: v for k, v in alone.items() if k != "white"
    }
    assert read["white"] == pytest.approx((x, y - D), abs=1e-12)


def test_the_white_gives_way_when_a_colour_is_held_between() -> None:
    # white, black, red1 of the triangle in a row, both gaps 0.006 mm short
    alone = balls('white = [300, 300]\nreds = "triangle"')
    x, y = (1000 * part for part in alone["red1"])
    read = balls(
        f'white = [{x!r}, {y - 2 * 52.494!r}]\nblack = [{x!r}, {y - 52.494!r}]\nreds = "triangle"'
    )
    assert read["red1"] == alone["red1"]
    assert math.dist(read["black"], read["red1"]) == pytest.approx(D, abs=1e-11)
    assert math.dist(read["white"], read["black"]) == pytest.approx(D, abs=1e-11)


def test_a_ball_on_the_cushion_is_not_pushed_into_it() -> None:
    read = balls("white = [300, 300]\npink = [24.0586, 1000]\nblack = [76.5526, 1000]")
    assert read["pink"][0] >= 0.0240585
    assert math.dist(read["pink"], read["black"]) >= D - 1e-12


@pytest.mark.parametrize("gap_mm", [0.0001, 0.005, 0.0099])
def test_gaps_stay_gaps(gap_mm: float) -> None:
    x = 852.5 + gap_mm
    read = balls(f"white = [300, 300]\npink = [800, 1000]\nblack = [{x!r}, 1000]")
    assert read["pink"] == (0.8, 1.0)
    assert read["black"] == (x / 1000, 1.0)


def test_more_than_a_hundredth_of_a_millimetre_is_a_fault() -> None:
    assert balls("white = [800, 1000]\nblack = [852.4901, 1000]")
    with pytest.raises(InputError, match=r"white and black overlap by 0\.02 mm"):
        balls("white = [800, 1000]\nblack = [852.48, 1000]")


def test_a_pack_typed_to_a_hundredth_of_a_millimetre_touches_again() -> None:
    exact = balls('white = [300, 300]\nreds = "triangle"')
    reds = [place for name, place in exact.items() if name != "white"]
    typed = ", ".join(f"[{1000 * x:.2f}, {1000 * y:.2f}]" for x, y in reds)
    read = balls(f"white = [300, 300]\nreds = [{typed}]")
    names = [name for name in read if name != "white"]
    for index, one in enumerate(names):
        for other in names[index + 1 :]:
            assert math.dist(read[one], read[other]) >= D - 1e-12
    assert all(math.dist(read[name], exact[name]) < 2e-5 for name in names)


@given(
    st.lists(st.floats(0, 9.9e-6), min_size=1, max_size=8),
    st.floats(0, 2 * math.pi),
    st.integers(0, 8),
)
def test_no_overlap_remains_in_a_row(overlaps: list[float], angle: float, cue_ball: int) -> None:
    names = [f"ball{index}" for index in range(len(overlaps) + 1)]
    along = [0.0]
    for overlap in overlaps:
        along.append(along[-1] + D - overlap)
    places = {
        name: (1 + a * math.cos(angle), 1 + a * math.sin(angle))
        for name, a in zip(names, along, strict=True)
    }
    radii = dict.fromkeys(names, D / 2)
    ranks = {
        name: touching.CUE_BALL if i == cue_ball else touching.ORDINARY
        for i, name in enumerate(names)
    }
    moved = touching.moved_apart(places, radii, ranks, lambda name, place: place)
    assert moved is not None
    assert all(one.depth <= 1e-12 for one in touching.overlaps(moved, radii))
    assert all(math.dist(places[name], moved[name]) <= sum(overlaps) + 1e-9 for name in names)
    if cue_ball < len(names):
        assert moved[names[cue_ball]] == places[names[cue_ball]]


def test_balls_without_room_are_refused() -> None:
    # three balls in a row between two walls that leave 0.01 mm too little
    places = {"a": (0.0, 0.0), "b": (D - 5e-6, 0.0), "c": (2 * D - 1e-5, 0.0)}

    def confine(name: str, place: Point) -> Point:
        return (min(max(place[0], 0.0), 2 * D - 1e-5), 0.0)

    ranks = dict.fromkeys(places, touching.ORDINARY)
    assert touching.moved_apart(places, dict.fromkeys(places, D / 2), ranks, confine) is None
