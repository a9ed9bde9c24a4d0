"""The chance of a strike in a player's hands, and what goes wrong, against plain Monte Carlo."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from stunline.equipment.catalogue import load_table
from stunline.equipment.player import Player, load_player, player_names
from stunline.mechanics import layout
from stunline.planning.fault_kinds import MET, MET_CODE, NOT_PLAYED, FaultKinds
from stunline.planning.judge import Judge
from stunline.planning.margin_study import Cloud, MarginAsked, MarginStudy, cloud, study
from stunline.planning.outcome_grid import OutcomeGrid, face_grid, pace_height_grid
from stunline.planning.own_goal import goal_held, goal_of_strike
from stunline.shot.aiming.solve import Solver
from stunline.shot.batch import play_many
from stunline.shot.goal import CircleArea, Goal, PolygonArea
from stunline.shot.outcome import outcome
from stunline.shot.play import play
from stunline.shot.position import Position, PotAim, Strike
from stunline.shot.position_file import PositionFile, parse_position
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
R = TABLE.balls["white"].radius
Z99 = 2.575829  # two-sided 99 % of the standard normal distribution
PAIR = Position(
    TABLE, CLOTH.name, CLOTH.coefficients,
    {"white": (0.32, 2.927), "black": TABLE.spots["black"]},
)  # fmt: skip
SCREW = Strike(0.5266, 2.4, -0.009, 0.0, 0.0)
RESTS = play(PAIR, SCREW).rest("white") or (0.0, 0.0)
BACK = Goal(pot=PotAim("black", "top right"), rest=CircleArea(RESTS, 0.25))


def last(asked: MarginAsked) -> MarginStudy:
    judge = Judge(asked.position, asked.goal)
    return list(study(asked, judge, FaultKinds(judge)))[-1]


def file_of(name: str) -> PositionFile:
    path = shipped_position_path(name)
    return parse_position(path.read_text(encoding="utf-8"), str(path), path.parent)


def plain_strikes(strike: Strike, player: Player, count: int, seed: int) -> np.ndarray:
    """From numpy's Mersenne Twister, one normal number after the other."""
    random = np.random.RandomState(seed)
    rows = np.zeros((count, layout.STRIKE_COLUMNS))
    rows[:, layout.STRIKE_AIM] = strike.aim + player.aim * random.standard_normal(count)
    rows[:, layout.STRIKE_PACE] = strike.pace * (1 + player.pace * random.standard_normal(count))
    rows[:, layout.STRIKE_HEIGHT] = strike.height + player.height * random.standard_normal(count)
    rows[:, layout.STRIKE_SIDE] = strike.side + player.side * random.standard_normal(count)
    return rows


@pytest.mark.parametrize("name", ["club", "match"])
def test_chances_agree_with_plain_monte_carlo(name: str) -> None:
    # Independent method: another generator, the demands told afresh from the batch's own numbers.
    player = load_player(name)
    found = last(MarginAsked(PAIR, SCREW, BACK, player))
    rows = plain_strikes(SCREW, player, 20_000, 7)
    struck = np.hypot(rows[:, 2], rows[:, 3]) <= TABLE.cue.miscue_offset * R
    batch = play_many(PAIR, rows[struck])
    pocket = [one.name for one in TABLE.pockets].index("top right")
    away = np.hypot(*(batch.rests[:, 0] - RESTS).T)
    hits = int(((batch.potted[:, 1] == pocket) & (away <= 0.25)).sum())
    share = hits / len(rows)
    half = Z99 * math.sqrt(share * (1.0 - share) / len(rows))
    assert 0.02 < share < 0.98
    assert abs(found.chance.share - share) <= half
    low, high = found.chance.interval
    assert low < found.chance.share < high


def test_shares_of_what_goes_wrong_agree_with_plain_monte_carlo() -> None:
    player = load_player("club")
    found = last(MarginAsked(PAIR, SCREW, BACK, player))
    rows = plain_strikes(SCREW, player, 20_000, 11)
    struck = np.hypot(rows[:, 2], rows[:, 3]) <= TABLE.cue.miscue_offset * R
    batch = play_many(PAIR, rows[struck])
    pocket = [one.name for one in TABLE.pockets].index("top right")
    missed = int((batch.potted[:, 1] != pocket).sum())
    shares = {kind.words: kind.chance.share for kind in found.kinds()}
    for words, count in (
        ("the tip slips off", int((~struck).sum())),
        ("the black misses the pocket", missed),
    ):
        share = count / len(rows)
        assert abs(shares[words] - share) <= Z99 * math.sqrt(share * (1 - share) / len(rows)), words
    assert sum(shares.values()) + found.chance.share == pytest.approx(1.0)


def test_the_same_seed_gives_the_same_plays_and_another_nearly_the_same_chance() -> None:
    asked = MarginAsked(PAIR, SCREW, BACK, load_player("club"), 2_048)
    one, two = last(asked), last(asked)
    assert (one.codes == two.codes).all()
    other = last(replace(asked, seed=2))
    assert not (one.codes == other.codes).all()
    assert other.chance.share == pytest.approx(one.chance.share, abs=0.03)


def test_a_player_without_scatter_always_does_what_the_strike_does() -> None:
    still = replace(load_player("club"), aim=0.0, pace=0.0, height=0.0, side=0.0)
    found = last(MarginAsked(PAIR, SCREW, BACK, still, 64))
    assert found.alone == ""
    assert found.chance.share == 1.0
    assert found.chance.interval[1] == 1.0
    assert found.kinds() == []
    assert found.fault is None


def test_a_better_player_has_a_better_chance() -> None:
    chances = [last(MarginAsked(PAIR, SCREW, BACK, load_player(name), 4_096)).chance.share
               for name in player_names()]  # fmt: skip
    assert chances == sorted(chances)
    assert chances[0] < chances[-1]


def test_a_mirrored_position_has_the_same_chance() -> None:
    def mirror(place: tuple[float, float]) -> tuple[float, float]:
        return TABLE.width - place[0], place[1]

    player = load_player("club")
    one = last(MarginAsked(PAIR, SCREW, BACK, player)).chance
    two = last(
        MarginAsked(
            replace(PAIR, balls={name: mirror(place) for name, place in PAIR.balls.items()}),
            replace(SCREW, aim=math.pi - SCREW.aim, side=-SCREW.side),
            Goal(pot=PotAim("black", "top left"), rest=CircleArea(mirror(RESTS), 0.25)),
            player,
        )
    ).chance
    # The draws are not mirrored: two counts of one share, so twice the variance.
    half = Z99 * math.sqrt(2.0 * one.share * (1.0 - one.share) / one.plays)
    assert abs(one.share - two.share) <= half


def test_a_strike_that_fails_alone_has_no_margins_and_says_why() -> None:
    away = Goal(pot=PotAim("black", "top right"), rest=CircleArea((0.3, 0.3), 0.1))
    found = last(MarginAsked(PAIR, SCREW, away, load_player("club"), 64))
    assert found.margins is None and found.fault is None
    assert found.alone.startswith("rests ") and found.alone.endswith(" mm outside")
    assert found.chance.hits == 0
    assert "rests outside the area" in {kind.words for kind in found.kinds()}


# --- without a goal --------------------------------------------------------------------------


@pytest.mark.parametrize("name", shipped_positions())
def test_every_shipped_strike_does_what_it_is_held_to(name: str) -> None:
    file = file_of(name)
    strike = Solver(file.position).solve(file.plan).strike
    goal = goal_of_strike(file.position, strike, file.plan)
    judge = Judge(file.position, goal)
    assert judge.demands
    assert judge.judge(judge.play(MarginAsked(file.position, strike, goal, PLAYER).row())).met.all()


PLAYER = load_player("club")


def test_a_strike_without_a_goal_is_held_to_the_pot_and_the_ball_met_next() -> None:
    file = file_of("edge-of-the-pack")
    strike = Solver(file.position).solve(file.plan).strike
    goal = goal_of_strike(file.position, strike, file.plan)
    seen = outcome(play(file.position, strike), file.plan)
    assert goal.pot is not None and goal.meet is not None
    assert (goal.pot.ball, goal.pot.pocket) == ("black", "top right")
    assert seen.meets == goal.meet.ball
    assert goal.touch == goal.miss == ()


def test_a_goal_without_a_pot_keeps_that_of_the_strike() -> None:
    file = file_of("stay-on-the-black")
    assert file.goal is not None and file.goal.pot is None
    strike = Solver(file.position).solve(file.plan).strike
    goal = goal_held(file.position, strike, file.plan, file.goal)
    assert goal.pot == file.plan.aim
    assert replace(goal, pot=None) == file.goal


# --- maps and the cloud ---------------------------------------------------------------------------


def grids() -> tuple[OutcomeGrid, OutcomeGrid]:
    judge = Judge(PAIR, BACK)
    asked, kinds = MarginAsked(PAIR, SCREW, BACK, PLAYER), FaultKinds(judge)
    return list(face_grid(asked, kinds))[-1], list(pace_height_grid(asked, kinds))[-1]


def does_it(strike: Strike) -> bool:
    shot = play(PAIR, strike)
    rest = shot.rest("white")
    return (
        shot.potted("black") == "top right" and rest is not None and math.dist(rest, RESTS) <= 0.25
    )


def test_cells_of_the_maps_say_what_single_shots_do() -> None:
    face, paces = grids()
    random = np.random.default_rng(3)
    seen = set()
    for _ in range(60):
        i, j = random.integers(len(face.up)), random.integers(len(face.across))
        if face.codes[i, j] == NOT_PLAYED:
            assert math.hypot(face.up[i], face.across[j]) > TABLE.cue.miscue_offset * R
            continue
        strike = replace(SCREW, height=float(face.up[i]), side=float(face.across[j]))
        assert (face.codes[i, j] == MET_CODE) == does_it(strike)
        i, j = random.integers(len(paces.up)), random.integers(len(paces.across))
        strike = replace(SCREW, height=float(paces.up[i]), pace=float(paces.across[j]))
        assert (paces.codes[i, j] == MET_CODE) == does_it(strike)
        seen.add(int(paces.codes[i, j]))
    assert len(seen) > 1
    assert face.words[0] == MET
    assert face.played == face.wanted == (face.codes != NOT_PLAYED).sum()


def test_the_strikes_own_cell_meets_the_goal() -> None:
    face, paces = grids()
    i, j = np.abs(face.up - SCREW.height).argmin(), np.abs(face.across - SCREW.side).argmin()
    assert face.codes[i, j] == MET_CODE
    i, j = np.abs(paces.up - SCREW.height).argmin(), np.abs(paces.across - SCREW.pace).argmin()
    assert paces.codes[i, j] == MET_CODE


def test_the_cloud_is_the_first_of_the_plays() -> None:
    asked = MarginAsked(PAIR, SCREW, BACK, PLAYER, 1_024)
    judge = Judge(PAIR, BACK)
    kinds = FaultKinds(judge)
    plays = list(study(asked, judge, kinds))[-1]
    grown: list[Cloud] = list(cloud(asked, kinds))
    assert [len(one.codes) for one in grown] == [256, 512, 768, 1_024]
    assert (grown[-1].codes == plays.codes).all()
    there = grown[-1].rests[grown[-1].codes == MET_CODE]
    assert (np.hypot(*(there - RESTS).T) <= 0.25).all()


def test_into_a_pack_strokes_that_fail_early_are_told_as_when_they_are_played_to_rest() -> None:
    """The white comes off the black into the pack; it is to end in the upper half."""
    file = file_of("edge-of-the-pack")
    corners = ((0.0, 1.78), (1.778, 1.78), (1.778, 3.569), (0.0, 3.569))
    goal = Goal(pot=PotAim("black", "top right"), rest=PolygonArea(corners), in_off=False)
    strike = replace(Solver(file.position).solve(file.plan).strike, pace=2.6)
    asked = MarginAsked(file.position, strike, goal, PLAYER, 256)
    early = last(asked)
    judge = Judge(file.position, goal)
    whole = list(cloud(asked, FaultKinds(judge)))[-1]
    # A black that is knocked in later by a red is all that can differ.
    assert early.played == len(whole.codes) == 256
    met_early, met_whole = early.codes == MET_CODE, whole.codes == MET_CODE
    assert not (met_early & ~met_whole).any()
    assert (met_whole & ~met_early).sum() <= 1
    assert 0 < early.chance.hits < 256


def test_a_stop_keeps_what_was_played() -> None:
    asked = MarginAsked(PAIR, SCREW, BACK, PLAYER, 8_192)
    judge = Judge(PAIR, BACK)
    calls = 0

    def stop() -> bool:
        nonlocal calls
        calls += 1
        return calls > 3

    found = list(study(asked, judge, FaultKinds(judge), stop))[-1]
    assert 0 < found.played < 8_192
    whole = last(asked)
    assert set(found.codes.tolist()) <= set(whole.codes.tolist())
