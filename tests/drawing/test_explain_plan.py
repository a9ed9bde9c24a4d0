"""The plan of an explained shot: its ways without each cause, told apart without colour."""

from __future__ import annotations

import math

import pytest

from stunline.drawing.explain_plan import TOLD_APART
from stunline.drawing.marks import Circle, Curve, Drawing, Line, Role, Text
from stunline.planning.causes import GROUP_OF, Cause, Group
from stunline.tasks.explain_picture import AS_STUN, LABELS
from stunline.tasks.explain_shot import ExplainResult, explain_shot
from stunline.tasks.read_position import read_position

SHIPPED = ("edge-of-the-pack", "edge-of-the-pack-low", "screw-between-two-balls",
           "thin-contact-running-side", "pool-stop-for-the-nine")  # fmt: skip


@pytest.fixture(scope="module", params=SHIPPED)
def explained(request: pytest.FixtureRequest) -> ExplainResult:
    return explain_shot(read_position(request.param))


@pytest.fixture(scope="module")
def drawing(explained: ExplainResult) -> Drawing:
    return explained.drawing()


def ends_of_ways(drawing: Drawing) -> dict[int, tuple[float, float]]:
    return {
        int(mark.id.split("-")[1]): mark.centre
        for mark in drawing.marks
        if isinstance(mark, Circle) and mark.id.startswith("without-") and mark.id.endswith("-end")
    }


def next_place(explained: ExplainResult, *causes: Cause) -> tuple[float, float]:
    """Where the white next meets something, falls or rests without these, by the shot's record."""
    shot = explained.explanation.without(*causes)
    white = shot.position.names[0]
    met = next(event for event in shot.events if event.kind in ("ball", "cluster"))
    kinds = ("ball", "cluster", "cushion", "jaw", "pocket")
    after = (
        event for event in shot.events
        if event.time > met.time and event.kind in kinds and white in event.balls
    )  # fmt: skip
    event = next(after, None)
    x, y = shot.place(white, event.time if event else shot.duration)
    return 1000.0 * x, 1000.0 * y


def test_each_cause_has_its_way_or_goes_with_another(
    explained: ExplainResult, drawing: Drawing
) -> None:
    told = explained.explanation
    words = " ".join(mark.words for mark in drawing.marks if isinstance(mark, Text))
    ends = list(ends_of_ways(drawing).values())
    reach = TOLD_APART / drawing.scale
    own = next_place(explained)
    for cause in told.causes:
        label = LABELS[cause]
        place = next_place(explained, cause)
        if label in words:
            assert min(math.dist(place, end) for end in ends) <= reach
        else:
            # Not drawn by itself: it goes where the shot itself goes, and the description says so.
            assert math.dist(place, own) <= reach
            assert label in drawing.description


def test_the_way_as_stun_stands_for_height_and_cloth_together(
    explained: ExplainResult, drawing: Drawing
) -> None:
    told = explained.explanation
    spin = [cause for cause in told.causes if GROUP_OF[cause] is Group.SPIN]
    assert (AS_STUN in drawing.description) == (len(spin) > 1)


def test_ways_without_a_cause_are_dotted_and_the_shot_is_not(drawing: Drawing) -> None:
    dotted = [mark for mark in drawing.marks if mark.role is Role.WITHOUT]
    assert all(isinstance(mark, Line | Curve) for mark in dotted)
    assert {mark.id.split("-")[0] for mark in dotted} <= {"without", "legend"}
    assert any(mark.id.startswith("white-") and mark.role in (Role.SLIDING, Role.ROLLING)
               for mark in drawing.marks)  # fmt: skip


def test_the_shot_itself_is_named(drawing: Drawing) -> None:
    texts = [
        mark for mark in drawing.marks if isinstance(mark, Text) and mark.id == "label-as-struck"
    ]
    assert [mark.words for mark in texts] == ["as struck"]
