"""Random shots by seed, as a coach might set them up, with how sensitive each one is.

Rests agree only as far as a shot allows: a shot that multiplies a hair's turn of the cue into
metres says little about an engine. The sensitivity is measured with the reference itself.
``python -m reference.random_shots 220`` writes the list of seeds that are fit to compare.
"""

from __future__ import annotations

import json
import math
import sys
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

from reference.ball_impact_radau import Friction
from reference.table_dop853 import Point, simulate

LENGTH, WIDTH = 3.569, 1.778  # playing area of the rules [R]
RADIUS = 0.02625  # [R]
NOSE_HEIGHT = 7.0 / 5.0 * RADIUS  # [M]
BALL_TO_END_MASS = 25.0  # m/m_e [M]
TURN = 1e-6  # rad; small against what changes a shot's events, large against rounding
LARGEST_SENSITIVITY = 2000.0  # m rad⁻¹; beyond, the agreement asked for would exceed 0.2 mm
SMOOTH_SHARE = 0.1  # the two sides of a derivative may differ by this share
SENSITIVITY_FLOOR = 1.0  # m rad⁻¹; a table's length: below it the two sides are not compared
FEWEST_MEETINGS = 3  # a shot with less of them says little about a whole shot
STORED = Path(__file__).parent / "data" / "shots_fit_to_compare.json"


@dataclass(frozen=True)
class ReferenceShot:
    """A shot to play. SI units, radians; the balls' centres with the white's first."""

    balls: tuple[Point, ...]
    strike: dict[str, float]
    coefficients: dict[str, float | tuple[float, float, float]]
    ball_to_end_mass: float | None

    def play(self, turn: float = 0.0) -> dict[str, Any]:
        """The reference's result, with the cue turned a little. [rad]"""
        strike = {**self.strike, "aim": self.strike["aim"] + turn}
        return simulate(
            LENGTH, WIDTH, RADIUS, self.coefficients, self.balls, strike, self.ball_to_end_mass
        )


def random_shot(seed: int) -> ReferenceShot:
    """Two to four balls; usually played at one of them, some with side or a raised cue."""
    random = Random(seed)
    balls = _places(random, random.choice((2, 2, 3, 3, 4)))
    strike = {
        "aim": _aim(random, balls),
        "pace": random.uniform(0.6, 4.0),
        "height": random.uniform(-0.35, 0.35) * RADIUS,
        "side": random.choice((0.0, random.uniform(-0.3, 0.3))) * RADIUS,
        "elevation": math.radians(random.choice((0.0, 0.0, 0.0, random.uniform(0.0, 10.0)))),
    }
    squirt = random.choice((BALL_TO_END_MASS, BALL_TO_END_MASS, None))
    return ReferenceShot(balls, strike, _coefficients(random), squirt)


def sensitivity(shot: ReferenceShot) -> float | None:
    """Metres of rest per radian of aim, the largest of all balls; None where not smooth.

    Not smooth: an impact comes or goes within the turn, or contact lasts.
    """
    before, here, after = shot.play(-TURN), shot.play(), shot.play(TURN)
    if before["lasting"] or here["lasting"] or after["lasting"]:
        return None
    if not _same_events(before, here) or not _same_events(after, here):
        return None
    slopes = [max(_moved(side, here)) / TURN for side in (before, after)]
    uneven = abs(slopes[0] - slopes[1]) > SMOOTH_SHARE * max(*slopes, SENSITIVITY_FLOOR)
    return None if uneven else max(slopes)


def stored_seeds() -> dict[int, float]:
    """Seed → sensitivity [m rad⁻¹] of the shots fit to compare, as ``store`` wrote them."""
    return {int(seed): value for seed, value in json.loads(STORED.read_text()).items()}


def store(count: int) -> None:
    """Find that many shots fit to compare, from seed 1 on, and write them down."""
    found: dict[int, float] = {}
    seed = 0
    while len(found) < count:
        seed += 1
        shot = random_shot(seed)
        if len(shot.play()["events"]) < FEWEST_MEETINGS:
            continue
        slope = sensitivity(shot)
        if slope is not None and slope < LARGEST_SENSITIVITY:
            found[seed] = float(f"{slope:.4g}")
    STORED.parent.mkdir(exist_ok=True)
    STORED.write_text(json.dumps(found, indent=0) + "\n")


def _places(random: Random, count: int) -> tuple[Point, ...]:
    """Centres clear of each other and of the cushions."""
    balls: list[Point] = []
    while len(balls) < count:
        place = (random.uniform(0.05, WIDTH - 0.05), random.uniform(0.05, LENGTH - 0.05))
        if all(math.dist(place, other) > 2.2 * RADIUS for other in balls):
            balls.append(place)
    return tuple(balls)


def _aim(random: Random, balls: tuple[Point, ...]) -> float:
    """At a ball, anywhere on it, four times in five; else anywhere."""
    if random.random() > 0.8:
        return random.uniform(-math.pi, math.pi)
    white, target = balls[0], random.choice(balls[1:])
    apart = math.dist(white, target)
    straight = math.atan2(target[1] - white[1], target[0] - white[0])
    return straight + math.asin(random.uniform(-0.95, 0.95) * 2.0 * RADIUS / apart)


def _coefficients(random: Random) -> dict[str, float | tuple[float, float, float]]:
    """The match cloth's assumed numbers, or others, with either law of ball friction."""
    varied = random.random() < 0.4
    falling: Friction = (0.00995, 0.108, 1.088)
    return {
        "sliding_friction": random.uniform(0.12, 0.3) if varied else 0.20,
        "rolling_resistance": random.uniform(0.006, 0.02) if varied else 0.010,
        "spin_deceleration": random.uniform(3.0, 25.0) if varied else 10.0,
        "gravity": 9.81,
        "ball_restitution": random.uniform(0.88, 1.0) if varied else 0.95,
        "ball_friction": random.choice((falling, random.uniform(0.0, 0.12))),
        "cushion_restitution": random.uniform(0.7, 1.0) if varied else 0.98,
        "cushion_friction": random.uniform(0.05, 0.3) if varied else 0.14,
        "nose_height": NOSE_HEIGHT,
    }


def _same_events(one: dict[str, Any], other: dict[str, Any]) -> bool:
    names = [[event[1:] for event in result["events"]] for result in (one, other)]
    return names[0] == names[1]


def _moved(one: dict[str, Any], other: dict[str, Any]) -> list[float]:
    return [math.dist(*pair) for pair in zip(one["rest"], other["rest"], strict=True)]


if __name__ == "__main__":
    store(int(sys.argv[1]))
