"""Choosing a strike: what is recommended does what the goal says, and nothing better is missed.

The yardsticks are single plays, judged by small steps along the white's way; a coarse lattice
solved and played strike by strike; and a plain Monte Carlo of another generator.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from random import Random

import numpy as np
import pytest

from planning import goal_on_shot
from planning.random_goals import Task, random_task
from random_positions import MATCH, RADIUS, TABLE
from stunline.equipment.player import Player, load_player
from stunline.errors import UnsolvableShotError
from stunline.mechanics import layout
from stunline.planning.choose import Choice, choose
from stunline.planning.judge import Judge
from stunline.planning.request import Request, request
from stunline.shot.aiming.solve import Solver
from stunline.shot.goal import CircleArea, Gap, Goal, Meeting, StrikeRange
from stunline.shot.play import Prepared, play
from stunline.shot.position import ContactAim, Position, PotAim, StrikePlan
from stunline.shot.setting_error import wilson_interval

CLUB = load_player("club")
STEADY = replace(CLUB, aim=0.0, pace=0.0, height=0.0, side=0.0)
TASKS = range(20)
STRIKES, PLAYS = 2_500, 1_024
GRID = 9  # paces and heights of the coarse lattice
Z99 = 2.575829  # two-sided 99 % of the standard normal distribution


def asked_of(task: Task, player: Player = CLUB) -> Request:
    return request(task.position, task.plan, task.goal, player)


@cache
def chosen(seed: int) -> tuple[Task, Choice]:
    task = random_task(Random(5_000 + seed))
    return task, choose(asked_of(task), STRIKES, PLAYS)


@pytest.mark.parametrize("seed", TASKS)
def test_what_is_recommended_does_what_the_goal_says(seed: int) -> None:
    task, choice = chosen(seed)
    for option in choice.options:
        shot = play(task.position, option.strike)
        judged = Judge(task.position, choice.request.goal)
        row = np.array([[*_numbers(option.strike)]])
        assert judged.judge(judged.play(row, whole=True)).met[0]
        if task.goal.next is None and not goal_on_shot.doubtful(choice.request.goal, shot):
            assert goal_on_shot.met(choice.request.goal, shot)


@pytest.mark.parametrize("seed", TASKS)
def test_where_a_coarse_lattice_finds_a_way_so_does_the_search(seed: int) -> None:
    task, choice = chosen(seed)
    successes = _coarse(task, choice.request)
    assert bool(choice.options) or not successes
    if successes:
        assert choice.met > 0


def _coarse(task: Task, asked: Request) -> list[np.ndarray]:
    """Rows of a coarse lattice that meet the goal, each aimed and played by itself."""
    solver, judge = Solver(task.position), Judge(task.position, asked.goal)
    rows = []
    for pace in np.linspace(*asked.ranges.pace, GRID):
        for height in np.linspace(*asked.ranges.height, GRID):
            try:
                strike = solver.solve(StrikePlan(asked.aim, float(pace), float(height))).strike
            except UnsolvableShotError:
                continue
            rows.append(np.array(_numbers(strike)))
    if not rows:
        return []
    met = judge.judge(judge.play(np.array(rows), whole=True)).met
    return [row for row, good in zip(rows, met, strict=True) if good]


@pytest.mark.parametrize("seed", list(TASKS)[:8])
def test_it_forgives_at_least_as_much_as_nearly_all_of_the_lattice(seed: int) -> None:
    """By the chance over one player's errors, of which margins are made."""
    task, choice = chosen(seed)
    successes = _coarse(task, choice.request)
    if not successes or not choice.options:
        pytest.skip("no way on the coarse lattice")
    judge = Judge(task.position, choice.request.goal)
    chances = [_plain_chance(judge, row, CLUB, 400, seed) for row in successes]
    best = max(option.chance.share for option in choice.options)
    # Four hundred strokes tell a chance to some 0.025, and the luckiest of many to three times it.
    assert best >= np.quantile(chances, 0.95) - 0.05


@pytest.mark.parametrize("seed", list(TASKS)[:6])
def test_chances_agree_with_plain_random_strokes(seed: int) -> None:
    """20,000 strokes by PCG64 and a normal generator, within its two-sided 99 % interval."""
    task, choice = chosen(seed)
    if not choice.options:
        pytest.skip("no strike meets that goal")
    option = choice.options[0]
    judge = Judge(task.position, choice.request.goal)
    plays = 20_000
    share = _plain_chance(judge, np.array(_numbers(option.strike)), CLUB, plays, 77 + seed)
    low, high = wilson_interval(round(share * plays), plays, Z99)
    # The search's own few draws are evenly spread: they err by less than a random share would.
    slack = Z99 * math.sqrt(max(share * (1.0 - share), 1e-4) / PLAYS)
    assert low - slack <= option.chance.share <= high + slack


def _plain_chance(judge: Judge, row: np.ndarray, player: Player, plays: int, seed: int) -> float:
    random = np.random.default_rng(seed)
    rows = np.repeat(row[None], plays, axis=0)
    rows[:, layout.STRIKE_AIM] += random.normal(0.0, player.aim, plays)
    rows[:, layout.STRIKE_PACE] *= 1.0 + random.normal(0.0, player.pace, plays)
    rows[:, layout.STRIKE_HEIGHT] += random.normal(0.0, player.height, plays)
    rows[:, layout.STRIKE_SIDE] += random.normal(0.0, player.side, plays)
    offset = np.hypot(rows[:, layout.STRIKE_HEIGHT], rows[:, layout.STRIKE_SIDE])
    fine = offset <= TABLE.cue.miscue_offset * RADIUS
    met = judge.judge(judge.play(rows[fine], whole=True)).met
    return float(met.sum()) / plays


def test_mirrored_positions_give_mirrored_strikes_and_equal_chances() -> None:
    """The table is its own mirror image, so left and right change places and nothing else."""
    balls = {"white": (0.6, 1.1), "red1": (0.95, 1.9), "blue": (0.4, 2.6)}
    width = TABLE.width
    mirrored = {name: (width - x, y) for name, (x, y) in balls.items()}
    vary = StrikeRange((0.8, 3.0), (-0.01, 0.01), None)
    plan = StrikePlan(PotAim("red1", "top right"), 1.8, 0.004)
    here = Position(TABLE, "match", MATCH, balls)
    centre = play(here, Solver(here).solve(plan).strike).rest("white")
    assert centre is not None
    found = []
    for places, pocket, side in ((balls, "top right", "left"), (mirrored, "top left", "right")):
        position = Position(TABLE, "match", MATCH, places)
        rest = centre if side == "left" else (width - centre[0], centre[1])
        goal = Goal(rest=CircleArea(rest, 0.2), in_off=False, vary=vary)
        plan = StrikePlan(PotAim("red1", pocket), 1.8, 0.004)
        found.append(choose(request(position, plan, goal, CLUB), STRIKES, 4_096))
    one, other = found
    assert one.options
    assert len(one.options) == len(other.options)
    assert one.met == pytest.approx(other.met, abs=max(3, 0.005 * one.met))
    for here, there in zip(one.options, other.options, strict=True):
        assert there.strike.pace == pytest.approx(here.strike.pace, rel=0.03)
        assert there.strike.height == pytest.approx(here.strike.height, abs=6e-4)
        turned = math.degrees(there.strike.aim + here.strike.aim) - 180.0
        assert math.remainder(turned, 360.0) == pytest.approx(0.0, abs=0.08)
        low, high = here.chance.interval
        assert low - 0.015 <= there.chance.share <= high + 0.015


def test_a_player_without_scatter_brings_it_off_every_time() -> None:
    task, choice = next(one for one in map(chosen, TASKS) if one[1].options)
    steady = choose(asked_of(task, STEADY), 400, 64)
    assert steady.options
    assert all(option.chance.share == 1.0 for option in steady.options)
    assert all(option.fault is None for option in steady.options)
    assert choice.options[0].chance.share < 1.0


def test_margins_are_where_single_plays_change_over() -> None:
    """A little less than each margin still meets the goal, a little more does not."""
    task, choice = next(one for one in map(chosen, TASKS) if one[1].options)
    prepared = Prepared(task.position)
    judge = Judge(task.position, choice.request.goal)
    for option in choice.options[:2]:
        base = np.array(_numbers(option.strike))
        for name, column in (("aim", 0), ("pace", 1), ("height", 2), ("side", 3)):
            margin = option.margins[name]
            for off, sign in ((margin.minus, -1.0), (margin.plus, 1.0)):
                if off is None:
                    continue
                for share, holds in ((1.0 - 1e-3, True), (1.0 + 1e-3, False)):
                    row = base.copy()
                    change = sign * share * off
                    row[column] = (
                        row[column] * (1 + change) if name == "pace" else row[column] + change
                    )
                    offset = math.hypot(row[2], row[3])
                    if offset > TABLE.cue.miscue_offset * RADIUS:
                        assert not holds
                        continue
                    assert judge.judge(judge.play(row[None])).met[0] == holds, (name, sign)
    assert prepared.position is task.position


def test_when_nothing_works_the_least_relaxation_works() -> None:
    """A circle that a stopped white misses by a hand's breadth: that much larger, it is met."""
    position = Position(TABLE, "match", MATCH, {"white": (0.889, 1.0), "red1": (0.889, 1.5)})
    vary = StrikeRange((1.0, 1.2), (-0.004, 0.004), None)
    goal = Goal(rest=CircleArea((0.2, 0.4), 0.1), vary=vary)
    plan = StrikePlan(ContactAim("red1", 0.6, "left"), 1.1)
    choice = choose(request(position, plan, goal, CLUB), 900, 64)
    assert choice.options == ()
    (rest,) = [one for one in choice.relaxations if one.what == "rest"]
    assert rest.by > 0.0
    larger = replace(goal, rest=CircleArea((0.2, 0.4), 0.1 + rest.by + 1e-6))
    shot = play(position, rest.strike)
    assert goal_on_shot.met(larger, shot)
    assert not goal_on_shot.met(
        replace(larger, rest=CircleArea((0.2, 0.4), 0.1 + 0.99 * rest.by)), shot
    )


def test_a_range_that_is_too_narrow_is_named() -> None:
    """Rolling on after a full ball takes pace: a range that ends below it is the obstacle."""
    position = Position(TABLE, "match", MATCH, {"white": (0.889, 1.0), "red1": (0.889, 1.5)})
    aim = ContactAim("red1", 1.0)
    probe = play(position, Solver(position).solve(StrikePlan(aim, 1.1, 0.0105)).strike)
    rest = probe.rest("white")
    assert rest is not None
    vary = StrikeRange((0.5, 0.9), (0.0105, 0.0105), None)
    goal = Goal(rest=CircleArea(rest, 0.05), vary=vary)
    choice = choose(request(position, StrikePlan(aim, 0.9, 0.0105), goal, CLUB), 300, 64)
    assert choice.options == ()
    (pace,) = [one for one in choice.relaxations if one.what == "pace"]
    assert pace.to is not None
    assert 0.9 < pace.to <= 1.15
    assert goal_on_shot.met(goal, play(position, pace.strike))


def test_the_same_seed_gives_the_same_choice_and_a_stop_keeps_what_was_found() -> None:
    task, choice = next(one for one in map(chosen, TASKS) if one[1].options)
    again = choose(asked_of(task), STRIKES, PLAYS)
    assert [one.strike for one in again.options] == [one.strike for one in choice.options]
    assert [one.chance for one in again.options] == [one.chance for one in choice.options]
    asked: list[int] = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) > 3

    stopped = choose(asked_of(task), 20_000, PLAYS, cancelled=stop)
    assert not stopped.complete
    assert stopped.tried < 20_000


def test_a_gap_and_a_meeting_on_one_side_are_found() -> None:
    """Through two balls, then on to a third one: a plain case, by hand."""
    balls = {
        "white": (0.889, 1.0),
        "red1": (1.0, 1.6),
        "blue": (0.55, 1.9),
        "pink": (0.70, 2.15),
        "black": (0.3, 2.6),
    }
    position = Position(TABLE, "match", MATCH, balls)
    vary = StrikeRange((1.0, 4.0), (-0.012, 0.012), None)
    goal = Goal(through=Gap(("blue", "pink")), meet=Meeting("black"), vary=vary)
    choices = [
        choose(
            request(position, StrikePlan(ContactAim("red1", thick, "left"), 2.0), goal, CLUB),
            900,
            256,
        )
        for thick in (0.2, 0.35, 0.5)
    ]
    found = [choice for choice in choices if choice.options]
    assert found
    for choice in found:
        shot = play(position, choice.options[0].strike)
        assert goal_on_shot.met(goal, shot)


def _numbers(strike: object) -> tuple[float, ...]:
    return tuple(getattr(strike, name) for name in ("aim", "pace", "height", "side", "elevation"))
