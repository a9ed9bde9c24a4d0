"""What a goal asks for is on the plan of the shot, inside its window."""

from __future__ import annotations

import pytest

from stunline.drawing.goal_marks import goal_box
from stunline.drawing.marks import Box, Layer
from stunline.drawing.plan import plan_of_shot
from stunline.shot.goal import CircleArea, Gap, Goal, Meeting, NextBall
from stunline.tasks.play_shot import ShotResult, play_shot
from stunline.tasks.read_position import read_position

RADIUS = 26.25  # of a snooker ball [mm] [X] half of 52.5 mm
CIRCLE = Goal(rest=CircleArea((0.9, 0.6), 0.2))


@pytest.fixture(scope="module")
def played() -> ShotResult:
    return play_shot(read_position("edge-of-the-pack"))


def test_the_area_is_drawn_and_lies_in_the_window(played: ShotResult) -> None:
    drawing = plan_of_shot(played.shot, goal=CIRCLE)
    window = drawing.windows[Layer.PATHS]
    assert isinstance(window, Box)
    assert window.contains(Box(700, 400, 1100, 800))  # by hand: 900 ± 200, 600 ± 200
    assert [mark.id for mark in drawing.marks].count("goal-area") == 1
    without = plan_of_shot(played.shot).windows[Layer.PATHS]
    assert isinstance(without, Box) and without.bottom > 800


@pytest.mark.parametrize(
    ("goal", "ball"),
    [
        (Goal(meet=Meeting("red11")), "red11"),
        (Goal(next=NextBall(("red11",), (0.0, 1.0))), "red11"),
    ],
)
def test_a_ball_that_is_named_is_seen_whole(played: ShotResult, goal: Goal, ball: str) -> None:
    x, y = (1000 * one for one in played.shot.position.balls[ball])
    box = goal_box(goal, played.shot.position)
    assert box is not None
    assert (box.left, box.right) == pytest.approx((x - RADIUS, x + RADIUS))
    assert (box.bottom, box.top) == pytest.approx((y - RADIUS, y + RADIUS))


def test_a_gap_reaches_from_ball_to_ball_and_no_goal_asks_for_nothing(played: ShotResult) -> None:
    position = played.shot.position
    box = goal_box(Goal(through=Gap(("black", "white"))), position)
    places = [position.balls[name] for name in ("black", "white")]
    assert box is not None
    assert (box.left, box.right) == tuple(sorted(1000 * x for x, _ in places))
    assert goal_box(None, position) is None
    assert goal_box(Goal(in_off=False), position) is None
