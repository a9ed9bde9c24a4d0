"""Three hundred random goals: what is recommended does it, and no way of a lattice is missed.

``make campaign`` runs this; figures of the last run stand in docs/campaigns.
"""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from planning import goal_on_shot
from planning.random_goals import random_task
from stunline.equipment.player import load_player
from stunline.errors import UnsolvableShotError
from stunline.planning.choose import choose
from stunline.planning.judge import Judge
from stunline.planning.margins import margins_of
from stunline.planning.request import request
from stunline.planning.scatter import met_of, normal_draws, scattered
from stunline.shot import compiled
from stunline.shot.aiming.solve import Solver
from stunline.shot.play import play
from stunline.shot.position import StrikePlan

CLUB = load_player("club")
GOALS, GRID = 300, 9
NAMES = ("aim", "pace", "height", "side", "elevation")
DEVIATIONS = {"aim": CLUB.aim, "pace": CLUB.pace, "height": CLUB.height, "side": CLUB.side}


def test_random_goals(capsys: pytest.CaptureFixture[str]) -> None:
    tried = missed = recommended = wrong = 0
    ranks: list[float] = []
    by_chance: list[float] = []
    for seed in range(GOALS):
        task = random_task(Random(900_000 + seed))
        asked = request(task.position, task.plan, task.goal, CLUB)
        choice = choose(asked, 10_000, 1_024)
        judge = Judge(task.position, asked.goal)
        for option in choice.options:
            recommended += 1
            row = np.array([[getattr(option.strike, name) for name in NAMES]])
            held = bool(judge.judge(judge.play(row, whole=True)).met[0])
            shot = play(task.position, option.strike)
            if task.goal.next is None and not goal_on_shot.doubtful(asked.goal, shot):
                held = held and goal_on_shot.met(asked.goal, shot)
            wrong += not held
        successes = coarse(task.position, asked, judge)
        if successes:
            tried += 1
            missed += not choice.options
            if choice.options:
                best = np.array([[getattr(choice.options[0].strike, n) for n in NAMES]])
                ranks.append(rank(judge, best, successes[:60]))
                share = max(option.chance.share for option in choice.options)
                by_chance.append(chance_rank(judge, share, successes[:60]))
    with capsys.disabled():
        print(
            f"\n{GOALS} goals: {recommended} strikes recommended, {wrong} do not do it; a lattice "
            f"of {GRID}² finds a way to {tried}, the search to {tried - missed} of these; the "
            f"best option's least margin is at least that of {100 * np.mean(ranks):.0f} % of the "
            f"lattice's successes on average, of 95 % in "
            f"{100 * np.mean(np.array(ranks) >= 0.95):.0f} % of the goals; the best chance "
            "is at least that of 95 % of them in "
            f"{100 * np.mean(np.array(by_chance) >= 0.95):.0f} %; "
            f"kernels {compiled.sources_hash()}"
        )
    assert wrong == 0
    assert missed == 0


def coarse(position, asked, judge) -> list[np.ndarray]:
    """Rows of a coarse lattice that meet the goal, each aimed and played by itself."""
    solver = Solver(position)
    rows = []
    for pace in np.linspace(*asked.ranges.pace, GRID):
        for height in np.linspace(*asked.ranges.height, GRID):
            try:
                strike = solver.solve(StrikePlan(asked.aim, float(pace), float(height))).strike
            except UnsolvableShotError:
                continue
            rows.append(np.array([getattr(strike, name) for name in NAMES]))
    if not rows:
        return []
    met = judge.judge(judge.play(np.array(rows), whole=True)).met
    return [row for row, good in zip(rows, met, strict=True) if good]


def rank(judge: Judge, best: np.ndarray, successes: list[np.ndarray]) -> float:
    """Share of the lattice's successes whose least margin, in deviations, is not larger."""
    rows = np.concatenate([best, np.array(successes)])
    least = [
        min(
            off / DEVIATIONS[name]
            for name, margin in one.items()
            for off in (margin.minus, margin.plus)
            if off is not None
        )
        for one in margins_of(judge, rows)
    ]
    return float(np.mean(np.array(least[1:]) <= least[0] * (1.0 + 1e-6)))


def chance_rank(judge: Judge, share: float, successes: list[np.ndarray]) -> float:
    """Share of the lattice's successes whose chance, over 1,024 strokes, is not larger by 0.02."""
    rows = np.array(successes)
    met, _ = met_of(judge, scattered(rows, CLUB, normal_draws(1_024, 5)))
    return float(np.mean(met.reshape(len(rows), -1).mean(axis=1) <= share + 0.02))
