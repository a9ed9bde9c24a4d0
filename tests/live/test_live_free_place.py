"""A dragged ball slides along others and cushions to the nearest place that is free."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from live.live_documents import asked, shipped
from stunline.tasks.live_free_place import nearest_free_place
from stunline.tasks.live_play import live_play

WIDTH, LENGTH = 1778.0, 3569.0  # of a full-size snooker table [R, rules of the game] [mm]
RADIUS = 26.25  # of its balls [R, the same]
places = st.tuples(st.floats(-200.0, WIDTH + 200.0), st.floats(-200.0, LENGTH + 200.0))
round_the_pack = st.tuples(st.floats(750.0, 1030.0), st.floats(2650.0, 3000.0))


def others(document: dict, ball: str) -> list[list[float]]:
    balls = live_play(asked(document))["balls"]
    return [one["at"] for name, one in balls.items() if name != ball]


PACK = shipped("edge-of-the-pack")
STANDING = others(PACK, "white")


def gap(at: list[float], standing: list[list[float]]) -> float:
    """Of the nearest ball; negative where they overlap. [mm]"""
    return min(math.dist(at, one) for one in standing) - 2.0 * RADIUS


@settings(max_examples=40)
@given(at=st.one_of(places, round_the_pack))
def test_place_is_free_and_the_reader_takes_it(at: tuple[float, float]) -> None:
    place = nearest_free_place(PACK, "white", at)
    assert place is not None
    assert gap(place, STANDING) > -1e-5
    moved = {**PACK, "balls": {**PACK["balls"], "white": place}}
    answer = live_play(asked(moved, drawing={"words": False, "hidden": True}))
    assert answer.get("fault", {}).get("kind") != "input"


@settings(max_examples=25)
@given(at=round_the_pack)
def test_no_free_place_is_nearer(at: tuple[float, float]) -> None:
    # An independent look: rings of places about the pointer, each a little wider. [X]
    place = nearest_free_place(PACK, "white", at)
    assert place is not None
    found = math.dist(place, at)
    if found < 1e-6:  # the pointer's own place is free
        return
    for share in (0.2, 0.5, 0.8, 0.97):
        for step in range(180):
            angle = math.radians(2.0 * step)
            one = [
                at[0] + share * found * math.cos(angle),
                at[1] + share * found * math.sin(angle),
            ]
            assert gap(one, STANDING) < 1e-5


def test_a_free_place_is_kept_as_it_is() -> None:
    assert nearest_free_place(PACK, "white", [400.0, 900.0]) == pytest.approx([400.0, 900.0])


def test_a_ball_pulled_over_a_cushion_stays_against_it() -> None:
    across, up = nearest_free_place(PACK, "white", [-300.0, 1000.0]) or [0.0, 0.0]
    # A ball touches the nose above its centre's height, so its centre comes nearer than R [X].
    assert 0.9 * RADIUS < across <= RADIUS
    assert up == pytest.approx(1000.0)


def test_the_very_middle_of_another_ball_is_answered_too() -> None:
    place = nearest_free_place(PACK, "white", [600.0, 3060.0])
    assert place is not None
    assert math.dist(place, [600.0, 3060.0]) == pytest.approx(2.0 * RADIUS)


def test_unequal_balls_touch_nearer_than_their_radii_together() -> None:
    document = shipped("english-pool-small-white-comes-back")
    name, standing = next(
        (name, one) for name, one in live_play(asked(document))["balls"].items()
        if name != "white"
    )  # fmt: skip
    x, y = standing["at"]
    place = nearest_free_place(document, "white", [x + 1.0, y])
    assert place is not None
    # Both lie on the cloth: in plan they touch at 2·√(r·R) [X].
    assert math.dist(place, (x, y)) >= 2.0 * math.sqrt(23.8 * 25.4) - 1e-6
    assert name


def test_no_such_ball() -> None:
    assert nearest_free_place(PACK, "violet", [400.0, 900.0]) is None
