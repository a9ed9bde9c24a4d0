"""A strike's chance on tables that this one may be: exact forms, and plain Monte Carlo."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm

from stunline.equipment.catalogue import load_table
from stunline.equipment.coefficient_scales import COEFFICIENTS, KINDS, to_scale, value_of
from stunline.equipment.doubt import Doubt, doubt_of
from stunline.equipment.player import Player, load_player
from stunline.mechanics import layout
from stunline.planning.judge import Judge
from stunline.planning.table_doubt import TableChance, TableEffort, chance_on_tables
from stunline.shot.batch import play_many
from stunline.shot.batch_input import coefficient_rows, strike_rows
from stunline.shot.goal import CircleArea, Goal, PolygonArea
from stunline.shot.play import play
from stunline.shot.position import Position, PotAim, Strike

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
R = TABLE.balls["white"].radius
STILL = replace(load_player("club"), aim=0.0, pace=0.0, height=0.0, side=0.0)
WIDTH = next(kind.width for kind in KINDS if kind.name == "rolling_resistance")
ALONE = Position(TABLE, CLOTH.name, CLOTH.coefficients, {"white": (0.9, 0.6)})
ROLLED = Strike(aim=0.5 * math.pi, pace=0.45, height=0.4 * R)
PAIR = Position(
    TABLE, CLOTH.name, CLOTH.coefficients,
    {"white": (0.32, 2.927), "black": TABLE.spots["black"]},
)  # fmt: skip
SCREW = Strike(0.5266, 2.4, -0.009)


def chances(position: Position, strike: Strike, goal: Goal, doubt: Doubt, player: Player = STILL,
            effort: TableEffort | None = None) -> TableChance:  # fmt: skip
    found = chance_on_tables(Judge(position, goal), strike_rows([strike]), player, doubt, 1, effort)
    assert found is not None
    return found


def only(doubt: Doubt, name: str) -> Doubt:
    """The doubt of one coefficient, all others exact."""
    row = doubt.names.index(name)
    return replace(doubt, names=(name,), covariance=((doubt.covariance[row][row],),))


def rests_between(low: float, high: float) -> Goal:
    return Goal(rest=PolygonArea(((0.0, low), (1.778, low), (1.778, high), (0.0, high))))


@pytest.mark.parametrize(("short", "long"), [(0.9, 1.1), (0.7, 1.0), (0.95, 1.6)])
def test_a_ball_that_rolls_from_the_tip_stops_as_often_as_its_resistance_says(
    short: float, long: float
) -> None:
    """Struck at 2/5 of its radius up it rolls at once, and runs v²/(2·μ_r·g): exact. With a log
    normal resistance the chance of a stretch is a difference of two normal integrals.
    """
    middle = ROLLED.pace**2 / (2.0 * CLOTH.coefficients.rolling_resistance * 9.81)
    goal = rests_between(0.6 + short * middle, 0.6 + long * middle)
    expected = norm.cdf(-math.log(short) / WIDTH) - norm.cdf(-math.log(long) / WIDTH)
    found = chances(ALONE, ROLLED, goal, doubt_of(CLOTH), effort=TableEffort(1024, 16, 4, 128))
    assert found.alone.share == pytest.approx(expected, abs=0.02)
    causes = dict(found.causes)
    assert causes.pop("rolling_resistance") == pytest.approx(expected, abs=0.02)
    assert set(causes.values()) == {1.0}  # no cushion and no ball is met
    assert found.causes[0][0] == "rolling_resistance"


def test_a_player_without_errors_fails_only_where_the_strike_does() -> None:
    middle = ROLLED.pace**2 / (2.0 * CLOTH.coefficients.rolling_resistance * 9.81)
    goal = rests_between(0.6 + 0.8 * middle, 0.6 + 1.2 * middle)
    found = chances(ALONE, ROLLED, goal, doubt_of(CLOTH), effort=TableEffort(64, 64, 4, 0))
    assert found.both.share == found.alone.share
    assert (found.low, found.high) == (0.0, 1.0)


def test_chances_on_tables_agree_with_plain_monte_carlo() -> None:
    """Another generator, each stroke on a table of its own, the demands told afresh."""
    doubt, player = doubt_of(CLOTH), load_player("club")
    end = play(PAIR, SCREW).rest("white") or (0.0, 0.0)
    goal = Goal(pot=PotAim("black", "top right"), rest=CircleArea(end, 0.25))
    found = chances(PAIR, SCREW, goal, doubt, player)
    random, count = np.random.RandomState(3), 12_000
    rows = np.repeat(strike_rows([SCREW]), count, axis=0)
    rows[:, layout.STRIKE_AIM] += player.aim * random.standard_normal(count)
    rows[:, layout.STRIKE_PACE] *= 1.0 + player.pace * random.standard_normal(count)
    rows[:, layout.STRIKE_HEIGHT] += player.height * random.standard_normal(count)
    rows[:, layout.STRIKE_SIDE] += player.side * random.standard_normal(count)
    tables = doubt.at(
        random.multivariate_normal(np.zeros(len(doubt.names)), doubt.covariance, count)
    )
    struck = np.hypot(rows[:, 2], rows[:, 3]) <= TABLE.cue.miscue_offset * R
    batch = play_many(PAIR, rows[struck], coefficients=coefficient_rows(PAIR, tables)[struck])
    pocket = [one.name for one in TABLE.pockets].index("top right")
    away = np.hypot(*(batch.rests[:, 0] - end).T)
    share = ((batch.potted[:, 1] == pocket) & (away <= 0.25)).sum() / count
    assert found.both.share == pytest.approx(share, abs=0.02)
    assert found.low < found.both.share < found.high
    assert found.both.share < found.alone.share


def test_a_table_better_known_spoils_less() -> None:
    end = play(PAIR, SCREW).rest("white") or (0.0, 0.0)
    goal = Goal(rest=CircleArea(end, 0.12))
    wide = doubt_of(CLOTH)
    narrow = replace(wide, covariance=tuple(
        tuple(0.04 * number for number in row) for row in wide.covariance
    ))  # fmt: skip
    effort = TableEffort(256, 16, 16, 0)
    assert (
        chances(PAIR, SCREW, goal, narrow, effort=effort).alone.share
        > chances(PAIR, SCREW, goal, wide, effort=effort).alone.share + 0.2
    )


def test_nothing_in_doubt_is_nothing_told() -> None:
    stated = Doubt(CLOTH.coefficients, (), (), None, COEFFICIENTS)
    judge = Judge(ALONE, rests_between(0.0, 3.5))
    assert chance_on_tables(judge, strike_rows([ROLLED]), STILL, stated, 1) is None


def test_one_coefficient_in_doubt_is_the_only_cause() -> None:
    end = play(PAIR, SCREW).rest("white") or (0.0, 0.0)
    goal = Goal(rest=CircleArea(end, 0.12))
    found = chances(PAIR, SCREW, goal, only(doubt_of(CLOTH), "sliding_friction"))
    assert [name for name, _ in found.causes] == ["sliding_friction"]
    assert found.causes[0][1] == pytest.approx(found.alone.share, abs=0.05)


def test_what_is_drawn_is_about_the_coefficients_in_force() -> None:
    drawn = doubt_of(CLOTH).draw(64)
    for kind in KINDS:
        scaled = [to_scale(value_of(table, kind.name), kind.scale) for table in drawn]
        middle = to_scale(value_of(CLOTH.coefficients, kind.name), kind.scale)
        assert np.median(scaled) == pytest.approx(middle, abs=0.15 * kind.width)
