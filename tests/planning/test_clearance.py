"""The butt is raised by just so much that the cue, as a cylinder in space, touches nothing."""

from __future__ import annotations

import math

import numpy as np
import pytest

from random_positions import MATCH, RADIUS, TABLE
from stunline.planning.clearance import SHAFT_RADIUS, least_elevation
from stunline.shot.position import Position

UP = 0.5 * math.pi  # straight up the table


def nearest(position: Position, aim: float, height: float, raised: float, ball: str) -> float:
    """From the cue's axis to that ball's centre, by small steps along the axis in space. [m]"""
    x, y = position.balls["white"]
    back = np.linspace(0.0, 0.4, 400_001)
    way = np.array([math.cos(aim), math.sin(aim)])
    axis = np.column_stack(
        [
            x - way[0] * (RADIUS + back),
            y - way[1] * (RADIUS + back),
            RADIUS + height + back * math.tan(raised),
        ]
    )
    centre = np.array([*position.balls[ball], RADIUS])
    return float(np.linalg.norm(axis - centre, axis=1).min())


@pytest.mark.parametrize("behind", [0.06, 0.1, 0.2])
@pytest.mark.parametrize("aside", [0.0, 0.01, 0.02])
@pytest.mark.parametrize("height", [-0.01, 0.0, 0.012])
def test_the_shaft_just_clears_a_ball_behind(behind: float, aside: float, height: float) -> None:
    balls = {"white": (0.9, 1.8), "red1": (0.9 + aside, 1.8 - behind), "blue": (0.9, 2.5)}
    position = Position(TABLE, "match", MATCH, balls)
    raised = least_elevation(position, UP, height)
    assert raised > 0.0
    assert nearest(position, UP, height, raised, "red1") == pytest.approx(
        RADIUS + SHAFT_RADIUS, abs=2e-6
    )


def test_what_is_beside_far_behind_or_in_front_does_not_matter() -> None:
    for place in ((0.9 + 0.04, 1.7), (0.9, 1.8 - 0.32), (0.9, 2.0)):
        position = Position(TABLE, "match", MATCH, {"white": (0.9, 1.8), "red1": place})
        assert least_elevation(position, UP, 0.0) == 0.0
    position = Position(TABLE, "match", MATCH, {"white": (0.9, 1.8)})
    assert least_elevation(position, UP, 0.0, 0.03) == 0.03


@pytest.mark.parametrize("height", [-0.012, 0.0, 0.012])
def test_over_a_cushion_the_shafts_underside_is_at_the_nose(height: float) -> None:
    """Exact: at the nose line the lowest line of the cylinder is as high as the nose."""
    position = Position(TABLE, "match", MATCH, {"white": (0.9, 0.1)})
    raised = least_elevation(position, UP, height)
    low = RADIUS + height + (0.1 - RADIUS) * math.tan(raised) - SHAFT_RADIUS / math.cos(raised)
    assert low == pytest.approx(TABLE.nose_height, abs=2e-6)
    assert least_elevation(position, UP, height, 0.5) == 0.5
