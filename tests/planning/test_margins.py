"""Margins: against bisection on single plays, published geometry, and the mirrored table."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from stunline.equipment.catalogue import load_table
from stunline.planning.judge import Judge
from stunline.planning.margins import Margin, margins_of
from stunline.shot.goal import CircleArea, Goal
from stunline.shot.play import Prepared, play
from stunline.shot.position import Coefficients, Position, PotAim, Strike

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
# The published margin is geometry: no throw, so no friction between balls.
SMOOTH = replace(CLOTH.coefficients, ball_friction=0.0)
R = TABLE.balls["white"].radius
POCKET = next(one for one in TABLE.pockets if one.name == "top right")
MOUTH = POCKET.mouth_middle


def at(place: tuple[float, float], way: float, distance: float) -> tuple[float, float]:
    return place[0] + distance * math.cos(way), place[1] + distance * math.sin(way)


def row_of(strike: Strike) -> np.ndarray:
    return np.array([[strike.aim, strike.pace, strike.height, strike.side, strike.elevation]])


def margins(position: Position, goal: Goal, strike: Strike) -> dict[str, Margin]:
    (found,) = margins_of(Judge(position, goal), row_of(strike))
    return found


def position(coefficients: Coefficients, **balls: tuple[float, float]) -> Position:
    return Position(TABLE, CLOTH.name, coefficients, balls)


# --- published geometry --------------------------------------------------------------------

LINE = math.radians(45.0)  # on the corner's bisector the pocket is open evenly to both sides
TO_POCKET = 0.9  # from the object ball to the pocket's mouth [m]
FREE = 0.7  # from the white to the ghost ball [m]
SPEED = 2.0  # of the object ball, off the contact [m/s]
OBJECT = at(MOUTH, LINE + math.pi, TO_POCKET)
GHOST = at(OBJECT, LINE + math.pi, 2.0 * R)


def half_window() -> float:
    """x/L: by how much a ball alone may leave that place off the pocket's line. [rad]

    Played with the ball itself as the white, sliding without spin as an object ball does, by
    bisection on single shots.
    """
    alone = position(SMOOTH, white=OBJECT)

    def drops(off: float) -> bool:
        shot = play(alone, Strike(LINE + off, SPEED, 0.0, 0.0, 0.0))
        return shot.potted("white") == "top right"

    low, high = 0.0, 0.1
    assert drops(low) and not drops(high)
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if drops(middle) else (low, middle)
    return low


def pace_for(cut: float) -> float:
    """With which the object ball leaves at that speed: it takes (1 + e)/2 · cos φ of the white's,
    which has slid all the way, losing 2 μ g l of its square. [m/s] [X]"""
    arrives = SPEED / (0.5 * (1.0 + SMOOTH.ball_restitution) * math.cos(cut))
    pace = math.sqrt(arrives**2 + 2.0 * SMOOTH.sliding_friction * SMOOTH.gravity * FREE)
    assert arrives > 5.0 / 7.0 * pace  # it does not roll before
    return pace


def aim_margin(cut: float) -> float:
    """Of a pot along the same line from the same distance, cut by that angle. [rad]"""
    way = LINE + cut
    white = at(GHOST, way + math.pi, FREE)
    found = margins(
        position(SMOOTH, white=white, black=OBJECT),
        Goal(pot=PotAim("black", "top right")),
        Strike(way, pace_for(cut), 0.0, 0.0, 0.0),
    )["aim"]
    assert found.minus is not None and found.plus is not None
    return 0.5 * (found.minus + found.plus)


def test_a_straight_pots_margin_is_that_of_the_published_geometry() -> None:
    # [S: published geometry] 2R x/(l L): l from the white to the ghost ball, L from the object
    # ball to the pocket, x the half-margin there.
    expected = 2.0 * R * half_window() / FREE
    assert aim_margin(0.0) == pytest.approx(expected, rel=0.03)


@pytest.mark.parametrize("cut", [10.0, 20.0, 30.0, 40.0])
def test_errors_of_aim_grow_with_the_cut_as_1_by_its_cosine(cut: float) -> None:
    # [S: published geometry] The object ball is off by l/(2R cos φ) times the error of aim.
    phi = math.radians(cut)
    assert aim_margin(0.0) / aim_margin(phi) == pytest.approx(1.0 / math.cos(phi), rel=0.03)


def test_twice_the_distance_halves_the_margin() -> None:
    near, far = (
        margins(
            position(SMOOTH, white=at(GHOST, LINE + math.pi, free), black=OBJECT),
            Goal(pot=PotAim("black", "top right")),
            Strike(LINE, 2.0, 0.0, 0.0, 0.0),
        )["aim"].plus
        for free in (0.4, 0.8)
    )
    assert near is not None and far is not None
    assert near / far == pytest.approx(2.0, rel=0.03)


# --- bisection on single plays -----------------------------------------------------------------

PAIR = position(CLOTH.coefficients, white=(0.32, 2.927), black=TABLE.spots["black"])
SCREW = Strike(0.5266, 2.4, -0.009, 0.001, 0.0)
WHITE_RESTS = play(PAIR, SCREW).rest("white") or (0.0, 0.0)
AREA = 0.15  # round there [m]
BACK = Goal(pot=PotAim("black", "top right"), rest=CircleArea(WHITE_RESTS, AREA))


def singly(strike: Strike, name: str, off: float) -> Strike:
    if name == "pace":
        return replace(strike, pace=strike.pace * (1.0 + off))
    return replace(strike, **{name: getattr(strike, name) + off})


def comes_back(strike: Strike) -> bool:
    """The black down and the white in the circle, seen on one shot."""
    if math.hypot(strike.height, strike.side) > TABLE.cue.miscue_offset * R:
        return False
    shot = Prepared(PAIR).play(strike)
    rest = shot.rest("white")
    return (
        shot.potted("black") == "top right"
        and rest is not None
        and math.dist(rest, WHITE_RESTS) <= AREA
    )


@pytest.mark.parametrize("name", ["aim", "pace", "height", "side"])
def test_margins_are_those_of_bisection_on_single_shots(name: str) -> None:
    found = margins(PAIR, BACK, SCREW)[name]
    assert comes_back(SCREW)
    for sign, off in ((-1.0, found.minus), (1.0, found.plus)):
        assert off is not None
        low, high = 0.5 * off, 1.5 * off
        # A crossing lies between; the margin is the one nearest to the strike.
        assert comes_back(singly(SCREW, name, sign * low))
        edge = _edge(name, sign, low, high)
        assert off == pytest.approx(edge, rel=1e-3, abs=1e-8)


def _edge(name: str, sign: float, low: float, high: float) -> float:
    """The first failure beyond ``low``, from steps that are then halved."""
    steps = np.linspace(low, high, 101)
    first = next(
        k for k, off in enumerate(steps) if not comes_back(singly(SCREW, name, sign * off))
    )
    low, high = float(steps[first - 1]), float(steps[first])
    for _ in range(30):
        middle = 0.5 * (low + high)
        good = comes_back(singly(SCREW, name, sign * middle))
        low, high = (middle, high) if good else (low, middle)
    return low


# --- the mirrored table -------------------------------------------------------------------------


def mirrored(place: tuple[float, float]) -> tuple[float, float]:
    return TABLE.width - place[0], place[1]


def test_a_mirrored_position_has_mirrored_margins() -> None:
    one = margins(PAIR, BACK, SCREW)
    balls = {name: mirrored(place) for name, place in PAIR.balls.items()}
    two = margins(
        position(CLOTH.coefficients, **balls),
        Goal(pot=PotAim("black", "top left"), rest=CircleArea(mirrored(WHITE_RESTS), AREA)),
        replace(SCREW, aim=math.pi - SCREW.aim, side=-SCREW.side),
    )
    for name in ("pace", "height"):
        assert one[name].minus == pytest.approx(two[name].minus, rel=1e-6), name
        assert one[name].plus == pytest.approx(two[name].plus, rel=1e-6), name
    for name in ("aim", "side"):
        assert one[name].minus == pytest.approx(two[name].plus, rel=1e-6), name
        assert one[name].plus == pytest.approx(two[name].minus, rel=1e-6), name


def test_what_goes_wrong_just_beyond_a_margin_is_what_a_single_shot_shows() -> None:
    seen = set()
    for name, margin in margins(PAIR, BACK, SCREW).items():
        sides = (-1.0, margin.minus, margin.fault_minus), (1.0, margin.plus, margin.fault_plus)
        for sign, off, words in sides:
            assert off is not None
            strike = singly(SCREW, name, sign * off * (1.0 + 1e-6))
            seen.add(words)
            if words == "the tip slips off":
                assert math.hypot(strike.height, strike.side) > TABLE.cue.miscue_offset * R
                continue
            shot = Prepared(PAIR).play(strike)
            if words == "the black misses the pocket":
                assert shot.potted("black") != "top right"
                continue
            rest = shot.rest("white")
            assert words.startswith("rests ") and shot.potted("black") == "top right"
            assert rest is not None and math.dist(rest, WHITE_RESTS) > AREA
    assert len(seen) > 1
