"""How far a shot may be off, as it is drawn."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from stunline.drawing.doubt_marks import DoubtPicture, doubt_of_shot
from stunline.drawing.marks import Layer, Polygon, Role, Text
from stunline.drawing.plan import plan_of_shot
from stunline.drawing.svg import svg
from stunline.drawing.theme import PAPER
from stunline.shot.band import ShotBand, band_of_shot
from stunline.tasks.play_shot import ShotResult, play_shot
from stunline.tasks.read_position import read_position

WORDS = "90 % of tables like this, never gauged"


@pytest.fixture(scope="module")
def played() -> ShotResult:
    return play_shot(read_position("stay-on-the-black"), with_doubt=True)


def picture_of(result: ShotResult) -> DoubtPicture:
    assert result.band is not None
    return doubt_of_shot(result.band, WORDS)


def test_ribbon_and_region_lie_below_all_else(played: ShotResult) -> None:
    drawing = plan_of_shot(played.shot, doubt=picture_of(played))
    marks = drawing.of_layer(Layer.DOUBT)
    assert marks and {mark.role for mark in marks} == {Role.DOUBT, Role.DOUBT_EDGE}
    text = svg(drawing, PAPER)
    assert text.index("plan-layer-doubt") < text.index("plan-layer-table")
    shown = [mark.words for mark in drawing.marks if isinstance(mark, Text)]
    assert WORDS in shown and "white ends within" in shown


def test_the_region_is_where_the_engine_rests_the_white(played: ShotResult) -> None:
    band = played.band
    assert band is not None and band.rest_region is not None
    edges = [mark for mark in plan_of_shot(played.shot, doubt=picture_of(played)).marks
             if mark.role is Role.DOUBT_EDGE and isinstance(mark, Polygon)]  # fmt: skip
    (edge,) = edges
    assert np.array(edge.points) == pytest.approx(1000.0 * band.rest_region)
    # Every corner is the rest of a table that was played.
    rests = {tuple(rest) for rest in band.whole.rests.tolist()} if band.whole else set()
    assert {tuple(corner) for corner in band.rest_region.tolist()} <= rests


def test_the_page_shows_the_whole_region_while_that_costs_little(played: ShotResult) -> None:
    picture = picture_of(played)
    box = picture.box()
    assert box is not None
    window = plan_of_shot(played.shot, doubt=picture).windows[Layer.DOUBT]
    assert window.contains(box)  # type: ignore[union-attr]
    assert not plan_of_shot(played.shot).of_layer(Layer.DOUBT)


def test_a_shot_without_doubt_has_nothing_drawn(played: ShotResult) -> None:
    position = played.file.position
    cloths = {name: cloth for name, cloth in position.table.cloths.items() if name != "match"}
    bare = replace(position, table=replace(position.table, cloths=cloths), cloth="match")
    band: ShotBand = band_of_shot(bare, played.shot.strike, played.file.plan)
    assert band.tables == 1 and band.doubt.names == ()
    picture = doubt_of_shot(band, WORDS)
    assert not picture.ribbon and not picture.regions
