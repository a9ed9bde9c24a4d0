"""Judging many plays at once against judging each by itself, by small steps along its way."""

from __future__ import annotations

import math
from random import Random

import numpy as np
import pytest

from planning import goal_on_shot
from planning.random_goals import random_task
from random_positions import MATCH, RADIUS, TABLE
from stunline.equipment.player import load_player
from stunline.mechanics import layout
from stunline.planning.aim_field import AimField
from stunline.planning.judge import Judge, distance_to_area, outside_of_cuts
from stunline.planning.request import request
from stunline.planning.strike_space import strike_of, strike_space
from stunline.shot.batch import play_many
from stunline.shot.goal import CircleArea, Goal, NamedArea, PolygonArea
from stunline.shot.play import Prepared
from stunline.shot.position import Position

CLUB = load_player("club")


@pytest.mark.parametrize("seed", range(30))
def test_plays_are_judged_as_their_shots_are_one_by_one(seed: int) -> None:
    task = random_task(Random(seed))
    asked = request(task.position, task.plan, task.goal, CLUB)
    judge = Judge(asked.position, asked.goal)
    space = strike_space(asked.position, asked.ranges, AimField(asked, asked.ranges), 49)
    rows = space.rows[space.struck]
    judgement = judge.judge(judge.play(rows))
    if task.goal.next is not None:
        return  # held by the geometry below
    prepared = Prepared(asked.position)
    told = 0
    for row, met in zip(rows, judgement.met, strict=True):
        shot = prepared.play(strike_of(row))
        if not goal_on_shot.doubtful(asked.goal, shot):
            told += 1
            assert goal_on_shot.met(asked.goal, shot) == met, (seed, asked.goal, row)
    assert told >= 40


@pytest.mark.parametrize("seed", range(8))
def test_a_shortfall_is_nought_where_the_demand_holds_and_only_there(seed: int) -> None:
    task = random_task(Random(1000 + seed))
    asked = request(task.position, task.plan, task.goal, CLUB)
    judge = Judge(asked.position, asked.goal)
    space = strike_space(asked.position, asked.ranges, AimField(asked, asked.ranges), 100)
    judgement = judge.judge(judge.play(space.rows[space.struck]))
    for name, short in judgement.shortfalls.items():
        assert np.all(short[judgement.holds[name]] == 0.0)
        assert np.all(short[~judgement.holds[name]] > 0.0), name


def test_distances_to_areas_by_hand() -> None:
    """Exact: a circle, a right-angled triangle, the D and baulk."""
    position = Position(TABLE, "match", MATCH, {"white": (0.5, 0.5)})
    line, radius, middle = TABLE.baulk_line, TABLE.d_radius, 0.5 * TABLE.width
    assert line is not None
    assert radius is not None

    def away(
        area: CircleArea | PolygonArea | NamedArea, *places: tuple[float, float]
    ) -> list[float]:
        return distance_to_area(position, area, np.array(places)).tolist()

    circle = CircleArea((1.0, 1.0), 0.2)
    assert away(circle, (1.0, 1.1), (1.3, 1.4)) == pytest.approx([0.0, 0.3])
    triangle = PolygonArea(((0.0, 0.0), (0.3, 0.0), (0.0, 0.4)))
    assert away(triangle, (0.1, 0.1), (0.3, 0.4), (-0.1, 0.2), (0.4, 0.0)) == pytest.approx(
        [0.0, 0.24, 0.1, 0.1]  # the height of the 3-4-5 triangle over its longest side is 0.24
    )
    d = NamedArea("D")
    assert away(d, (middle, line - 0.9 * radius), (middle, line + 0.1)) == pytest.approx([0.0, 0.1])
    beyond = (middle + radius + 0.3, line + 0.4)
    assert away(d, beyond, (middle, line - radius - 0.2)) == pytest.approx([0.5, 0.2])
    assert away(NamedArea("baulk"), (0.3, line), (0.3, line + 0.05)) == pytest.approx([0.0, 0.05])
    assert math.isnan(away(circle, (math.nan, math.nan))[0])


@pytest.mark.parametrize("cut", [0.0, 20.0, 40.0, 65.0])
def test_the_cut_on_the_next_ball_is_that_of_the_triangle_it_makes(cut: float) -> None:
    """The white is put where its way to the ghost ball turns by that angle from the ball's way."""
    pocket = TABLE.pocket("top left")
    black = (0.5 * TABLE.width, 3.245)
    way = math.atan2(pocket.mouth_middle[1] - black[1], pocket.mouth_middle[0] - black[0])
    ghost = (black[0] - 2.0 * RADIUS * math.cos(way), black[1] - 2.0 * RADIUS * math.sin(way))
    turned = way + math.radians(cut) + math.pi
    white = (ghost[0] + 0.4 * math.cos(turned), ghost[1] + 0.4 * math.sin(turned))
    position = Position(TABLE, "match", MATCH, {"white": white, "black": black})
    batch = play_many(position, _still())
    prepared = Prepared(position)

    def outside(least: float, most: float) -> float:
        span = (math.radians(least), math.radians(most))
        return math.degrees(outside_of_cuts(prepared, ("black",), span, batch)[0])

    # The other pockets are cut more thickly from no such place: a range about the cut holds it.
    assert outside(max(cut - 0.01, 0.0), cut + 0.01) == pytest.approx(0.0, abs=1e-9)
    batch.rests[0, 0] = black[0], black[1] + 3.0 * RADIUS
    assert not math.isclose(outside(0.0, 5.0), 0.0, abs_tol=1e-9)


def test_a_ball_in_the_way_takes_the_next_pot_away() -> None:
    black, pocket = (0.5 * TABLE.width, 3.245), TABLE.pocket("top left")
    between = tuple(0.5 * (a + b) for a, b in zip(black, pocket.mouth_middle, strict=True))
    balls = {"white": (1.2, 3.0), "black": black, "red1": (between[0], between[1])}
    for other, clear in (((0.3, 0.9), True), (balls["red1"], False)):
        position = Position(TABLE, "match", MATCH, {**balls, "red1": other})
        batch = play_many(position, _still())
        span = (0.0, math.radians(60.0))
        found = outside_of_cuts(Prepared(position), ("black",), span, batch)[0]
        assert math.isfinite(found) or not clear
        assert (found == 0.0) == clear


def _still() -> np.ndarray:
    """A stroke that hardly moves the white: everything stays where it is, to a tenth of a mm."""
    row = np.zeros((1, layout.STRIKE_COLUMNS))
    row[0, layout.STRIKE_PACE] = 1e-3
    return row


def test_an_in_off_that_is_allowed_is_no_demand() -> None:
    position = Position(TABLE, "match", MATCH, {"white": (0.5, 0.5), "red1": (0.9, 1.5)})
    assert Judge(position, Goal(in_off=True)).demands == ()
    assert Judge(position, Goal(in_off=False)).demands == ("in_off",)
