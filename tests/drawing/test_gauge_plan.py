"""The plan of a gauging shot: every ball is dimensioned, and where it should end is ringed."""

from __future__ import annotations

import pytest

from stunline.calibration.menu import MENU
from stunline.calibration.predict import Predictor
from stunline.calibration.record import Play, Record, set_up_places
from stunline.drawing.gauge_plan import gauge_plan
from stunline.drawing.marks import Circle, Line, Role, Text
from stunline.equipment.catalogue import load_table

TABLES = ("snooker-12ft", "pool-9ft")
HEIGHTS = (500.0, 700.0)  # of a plan on a phone, and on a laptop [px]
SHOTS = [shot for shot in MENU if shot.tool != "fingers"]


@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("name", TABLES)
def test_each_ball_stands_with_its_distances_from_the_nearer_cushions(
    name: str, height: float
) -> None:
    table = load_table(name)
    for menu_shot in SHOTS:
        places = set_up_places(menu_shot, table)
        play = Play("one", menu_shot, *places, menu_shot.aim, menu_shot.drop, ())
        shot = Predictor(Record(table, table.default_cloth().name, (play,))).expected(play)
        drawing = gauge_plan(shot, height, "plan", "plan")
        words = [mark.words for mark in drawing.marks if isinstance(mark, Text)]
        for place in (one for one in places if one is not None):
            for value, size in zip(place, (table.width, table.length), strict=True):
                # Whole millimetres, as a tape is read.
                assert f"{1000 * min(value, size - value):.0f}" in words, (menu_shot.id, words)
        rings = [
            mark.centre
            for mark in drawing.marks
            if isinstance(mark, Circle) and mark.role is Role.REST
        ]
        ends = [shot.rest(ball) for ball in shot.position.names]
        for end in ends:
            assert end is not None
            assert any(
                ring == pytest.approx((1000 * end[0], 1000 * end[1]), abs=0.1) for ring in rings
            )


def test_dimensions_of_two_balls_in_line_can_be_told_apart() -> None:
    table = load_table("snooker-12ft")
    for menu_shot in (one for one in SHOTS if one.object is not None):
        play = Play("one", menu_shot, *set_up_places(menu_shot, table), menu_shot.aim, 0.1, ())
        shot = Predictor(Record(table, table.default_cloth().name, (play,))).expected(play)
        drawing = gauge_plan(shot, 700.0, "plan", "plan")
        upright = [
            mark.start[0]
            for mark in drawing.marks
            if isinstance(mark, Line) and mark.id.endswith("-line") and mark.role is Role.DIMENSION
            and abs(mark.end[1] - mark.start[1]) > abs(mark.end[0] - mark.start[0])
        ]  # fmt: skip
        assert len(upright) == 2
        assert abs(upright[0] - upright[1]) * drawing.scale > 12.0  # of a figure's height [px]
