"""How often an outcome survives balls set off their places: geometry, statistics, speed paths."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import binomtest, kstest

from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import nose_contact_distance
from stunline.errors import UnsolvableShotError
from stunline.shot.aiming.pot_aim import PotWindow, aim_near, direct_strike
from stunline.shot.aiming.solve import Solver
from stunline.shot.outcome import Outcome, outcome
from stunline.shot.placing import Placing
from stunline.shot.position import ContactAim, DirectAim, Position, PotAim, StrikePlan
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.shot.setting_error import (
    Survival,
    setting_survival,
    survival_words,
    wilson_interval,
)

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
RADIUS = TABLE.balls["white"].radius
UP = 0.5 * math.pi
ERROR = 0.002


def position_of(**balls: tuple[float, float]) -> Position:
    return Position(TABLE, CLOTH.name, CLOTH.coefficients, balls)


def drawn(position: Position, plays: int, error: float = ERROR) -> list[np.ndarray]:
    placing, random = Placing(position), np.random.default_rng(5)
    return [placing.displaced(error, random) for _ in range(plays)]


# --- the outcome ---------------------------------------------------------------------


@pytest.mark.parametrize("aim", [ContactAim("blue", 1.0, "left"), DirectAim(UP)])
def test_a_full_contact_in_the_open_always_survives(aim) -> None:
    """4 mm between two balls set 2 mm off is less than the 52.5 mm at which they miss [X]."""
    position = position_of(white=(0.889, 1.2), blue=(0.889, 1.7845))
    survival = setting_survival(position, StrikePlan(aim, 0.8), ERROR, plays=200)
    assert (survival.kept, survival.plays) == (200, 200)
    assert survival.outcome.object_ball == "blue"


@pytest.mark.parametrize("grip", [0.3, 1.0, -0.4])
def test_a_held_aim_at_a_graze_survives_as_often_as_its_directions_say(grip: float) -> None:
    """White and ball are each set off by e; the aim is straight up the table and held.

    They meet while their distance across the aim, 2R − g·e as printed, stays below 2R:
    cos θ₁ − cos θ₂ < g, with both angles uniform. P(cos θ < u) = 1 − arccos(u)/π, so
    P = (1/π) ∫₀^π [1 − arccos(g + cos θ₂)/π] dθ₂ [X, derived here].
    """
    across = 2.0 * RADIUS - grip * ERROR
    position = position_of(white=(0.8, 1.0), blue=(0.8 + across, 1.7845))
    plan = StrikePlan(DirectAim(UP), 0.9)

    def below(angle: float) -> float:
        return 1.0 - math.acos(min(max(grip + math.cos(angle), -1.0), 1.0)) / math.pi

    meets = quad(below, 0.0, math.pi, limit=200)[0] / math.pi
    plays = 3000
    survival = setting_survival(position, plan, ERROR, plays, seed=11)
    assert survival.outcome.object_ball == ("blue" if grip > 0.0 else "")
    # Kept is a meeting where the printed shot meets, and a miss where it misses.
    expected = meets if grip > 0.0 else 1.0 - meets
    deviation = math.sqrt(expected * (1.0 - expected) / plays)
    assert survival.share == pytest.approx(expected, abs=4.0 * deviation)
    assert survival.interval[0] < survival.share < survival.interval[1]


def test_a_solved_aim_survives_where_a_held_one_does_not() -> None:
    position = position_of(white=(0.8, 1.0), blue=(0.8 + 2.0 * RADIUS - 0.001, 1.7845))
    held = setting_survival(position, StrikePlan(DirectAim(UP), 0.9))
    solved = setting_survival(position, StrikePlan(ContactAim("blue", 0.02, "left"), 0.9))
    assert held.kept < 80
    assert solved.kept == solved.plays


def test_a_ball_set_into_the_way_ends_the_pot() -> None:
    """A red that clears the white's straight way by g·e blocks when set into it.

    Only the sideways places of white and red count near the white: cos θ₁ − cos θ₂ > g blocks.
    The white is aimed at the blue again, so beside the red, a twentieth of the way on, its way
    has come that part nearer to where it was: 5 % of e, which moves the share by under 0.03.
    """
    grip = 0.8
    beside = 2.0 * RADIUS + grip * ERROR
    position = position_of(
        white=(0.889, 0.5), blue=(0.889, 2.5), red1=(0.889 + beside, 0.55 + 2.0 * RADIUS)
    )
    plan = StrikePlan(ContactAim("blue", 1.0, "left"), 2.0)

    def clear(angle: float) -> float:
        return 1.0 - math.acos(min(max(grip + math.cos(angle), -1.0), 1.0)) / math.pi

    expected = quad(clear, 0.0, math.pi, limit=200)[0] / math.pi
    plays = 2000
    survival = setting_survival(position, plan, ERROR, plays)
    deviation = math.sqrt(expected * (1.0 - expected) / plays)
    assert survival.share == pytest.approx(expected, abs=4.0 * deviation + 0.03)


def test_the_same_seed_gives_the_same_numbers() -> None:
    file = read_position_file(shipped_position_path("pool-open-the-rack"))
    first = setting_survival(file.position, file.plan, seed=3)
    assert setting_survival(file.position, file.plan, seed=3) == first
    assert 0 < first.kept < first.plays
    others = {setting_survival(file.position, file.plan, seed=seed).kept for seed in range(4, 8)}
    assert others != {first.kept}


@pytest.mark.parametrize("name", ["pool-open-the-rack", "screw-between-two-balls"])
def test_quick_plays_count_what_whole_shots_count(name: str) -> None:
    """Each position made anew, solved from nothing and played as a whole shot."""
    file = read_position_file(shipped_position_path(name))
    plays = 40
    strike = Solver(file.position).solve(file.plan).strike
    plan = replace(file.plan, pace=strike.pace, height=strike.height)
    printed = outcome(Solver(file.position).prepared.play(strike), plan)
    placing, random = Placing(file.position), np.random.default_rng(21)
    kept = 0
    for _ in range(plays):
        places = placing.displaced(ERROR, random)
        names = file.position.names
        balls = {name: (x, y) for name, (x, y) in zip(names, places.tolist(), strict=True)}
        solver = Solver(replace(file.position, balls=balls))
        try:
            found = outcome(solver.prepared.play(solver.solve(plan).strike), plan)
        except UnsolvableShotError:
            continue
        kept += (found.object_ball, found.pot_made, found.meets, bool(found.in_off)) == (
            printed.object_ball, printed.pot_made, printed.meets, bool(printed.in_off),
        )  # fmt: skip
    quick = setting_survival(file.position, file.plan, ERROR, plays, seed=21)
    # Aims a hundredth of half a window apart may part on one play at a border.
    assert abs(quick.kept - kept) <= 1
    assert kept < plays


def test_an_aim_looked_for_nearby_is_the_middle_of_the_window() -> None:
    file = read_position_file(shipped_position_path("edge-of-the-pack"))
    pot = file.plan.aim
    assert isinstance(pot, PotAim)
    solver = Solver(file.position)
    strike, window = solver.solve(file.plan).strike, solver.solve(file.plan).pot
    assert window is not None
    direct = direct_strike(solver.prepared, pot, strike).aim
    expected = PotWindow(window.aim - direct, window.low - direct, window.high - direct)
    for places in drawn(file.position, 20):
        moved = solver.with_balls_at(places)
        full = moved.solve(replace(file.plan, pace=strike.pace, height=strike.height))
        near = aim_near(moved.prepared, pot, direct_strike(moved.prepared, pot, strike), expected)
        assert near is not None
        assert full.pot is not None
        assert near.aim == pytest.approx(full.strike.aim, abs=0.011 * full.pot.half_width)
    # The printed position is untouched by what shares its arrays.
    assert solver.solve(file.plan).strike == strike


# --- the places ----------------------------------------------------------------------


def test_every_ball_is_set_off_by_the_error_in_any_direction() -> None:
    position = position_of(white=(0.5, 0.8), blue=(0.889, 1.7845), red1=(1.3, 2.9))
    start = np.array(list(position.balls.values()))
    moves = np.array(drawn(position, 1500)) - start
    assert np.allclose(np.hypot(moves[..., 0], moves[..., 1]), ERROR, atol=1e-15)
    angles = np.arctan2(moves[..., 1], moves[..., 0])
    for ball in range(3):
        # Kolmogorov–Smirnov against the uniform distribution; the seed is fixed.
        assert kstest(angles[:, ball], "uniform", args=(-math.pi, 2.0 * math.pi)).pvalue > 0.01
    assert abs(np.corrcoef(angles[:, 0], angles[:, 1])[0, 1]) < 0.1


def test_a_pack_is_set_as_one_body() -> None:
    position = read_position_file(shipped_position_path("edge-of-the-pack")).position
    start = np.array(list(position.balls.values()))
    reds = [index for index, name in enumerate(position.names) if name.startswith("red")]
    assert len(reds) == 15
    for places in drawn(position, 30):
        moves = (places - start)[reds]
        assert np.ptp(moves, axis=0) == pytest.approx([0.0, 0.0], abs=1e-15)


def lies_free(position: Position, places: np.ndarray) -> bool:
    """No two balls closer than 2R, none past a nose line."""
    between = np.hypot(*(places[:, None] - places[None, :]).transpose(2, 0, 1))
    reach = nose_contact_distance(RADIUS, TABLE.nose_height)
    inside = (places >= reach - 1e-9) & (
        places <= np.array((TABLE.width, TABLE.length)) - reach + 1e-9
    )
    return bool(
        inside.all() and (between + 10.0 * np.eye(len(places)) >= 2.0 * RADIUS - 1e-9).all()
    )


@pytest.mark.parametrize(
    "balls",
    [
        # against a cushion
        {"white": (0.5, 0.8), "red1": (nose_contact_distance(RADIUS, TABLE.nose_height), 2.0)},
        # 1 mm apart, as the pink from the pack's apex
        {"white": (0.5, 0.8), "pink": (0.889, 2.7), "red1": (0.889, 2.7 + 2.0 * RADIUS + 0.001)},
        # twelve in a row with a fiftieth of a millimetre between them
        {
            "white": (0.5, 0.8),
            **{f"red{n}": (0.4 + n * (2.0 * RADIUS + 2e-5), 2.0) for n in range(1, 13)},
        },
    ],
)
def test_no_ball_is_set_on_another_or_off_the_table(balls) -> None:
    position = position_of(**balls)
    for places in drawn(position, 60):
        assert lies_free(position, places)
        moves = places - np.array(list(balls.values()))
        assert np.allclose(np.hypot(moves[:, 0], moves[:, 1]), ERROR, atol=1e-12)


# --- interval and words --------------------------------------------------------------


@pytest.mark.parametrize(("kept", "plays"), [(0, 100), (1, 100), (50, 100), (93, 100), (7, 7)])
def test_the_interval_is_wilsons(kept: int, plays: int) -> None:
    interval = binomtest(kept, plays).proportion_ci(0.95, method="wilson")
    assert wilson_interval(kept, plays) == pytest.approx((interval.low, interval.high), abs=1e-12)


@pytest.mark.parametrize(
    ("kept", "words"),
    [
        (100, "every time in 100 plays"),
        (97, "more than 9 times in 10"),
        (91, "9 times in 10"),
        (47, "5 times in 10"),
        (12, "once in 10"),
        (3, "less than once in 10"),
        (0, "not once in 100 plays"),
    ],
)
def test_words(kept: int, words: str) -> None:
    result = Outcome("black", None, None, "", None, "")
    survival = Survival(kept, 100, wilson_interval(kept, 100), ERROR, result)
    assert survival_words(survival) == f"Survives 2 mm of setting error {words}"
