"""A ladder's plan: each rung has its own ways, tangent line and number."""

from __future__ import annotations

import math

import pytest

from drawing.pictures import SPEEDS, hand_shot
from stunline.drawing import LadderPicture, RungPicture, plan_of_ladder, plan_of_rungs, story
from stunline.drawing.marks import Circle, Curve, Drawing, Line, Role, Text
from stunline.drawing.plan import title_block_of
from stunline.drawing.rungs import TOLD_APART
from stunline.drawing.segments import distance_to
from stunline.shot.ladder import Ladder
from stunline.tasks.climb_ladder import climb_ladder
from stunline.tasks.read_position import read_position

SHIPPED = ("edge-of-the-pack", "stun-and-hold", "thin-contact-running-side", "up-and-down")


@pytest.fixture(scope="module", params=SHIPPED)
def ladder(request: pytest.FixtureRequest) -> Ladder:
    return climb_ladder(read_position(request.param)).ladder


def of_role(drawing: Drawing, role: Role) -> list[Line | Curve]:
    return [m for m in drawing.marks if m.role is role and isinstance(m, Line | Curve)]


def test_every_rung_finds_its_tangent_line(ladder: Ladder) -> None:
    drawing = plan_of_ladder(ladder)
    lines = [line for line in of_role(drawing, Role.TANGENT) if line.id.startswith("tangent")]
    apart = 2 * TOLD_APART / drawing.scale  # each end of a line may be as far off as the eye sees
    for rung in ladder.rungs:
        for contact in story.contacts(rung.shot)[:1]:
            # By hand: at right angles to the line of centres, through the white at contact.
            x, y = contact.centres
            ahead = [
                (contact.ghost[0] - sign * 200 * y, contact.ghost[1] + sign * 200 * x)
                for sign in (1, -1)
            ]
            assert any(
                distance_to(contact.ghost, line.start, line.end) < apart
                and any(distance_to(end, line.start, line.end) < apart + 1 for end in ahead)
                for line in lines
            )


def test_every_object_ball_s_way_ends_where_the_ball_did(ladder: Ladder) -> None:
    drawing = plan_of_ladder(ladder)
    ways = of_role(drawing, Role.OBJECT_WAY)
    for rung in ladder.rungs:
        for contact in story.contacts(rung.shot)[:1]:
            end = story.place(rung.shot, contact.ball, rung.shot.duration)
            off = min(distance_to(end, way.start, way.end) for way in ways)
            assert off < TOLD_APART / drawing.scale + 1


def test_ways_that_coincide_are_drawn_once() -> None:
    # By hand: all hand-made rungs meet red 1 at one place, and it runs the same way.
    rungs = tuple(RungPicture(f"{speed:.1f}", hand_shot(speed)) for speed in SPEEDS)
    drawing = plan_of_rungs(LadderPicture(rungs, title_block_of(rungs[0].shot)))
    assert len({way.id for way in of_role(drawing, Role.OBJECT_WAY)} - {"legend-object-way"}) == 1
    lines = of_role(drawing, Role.TANGENT)
    assert [line.id for line in lines] == ["tangent-line", "legend-tangent"]


def test_plan_and_strip_number_the_rungs_alike(ladder: Ladder) -> None:
    drawing = plan_of_ladder(ladder, numbered=True)
    marks = {mark.id: mark for mark in drawing.marks}
    for number in range(1, len(ladder.rungs) + 1):
        ring = marks[f"rung-{number}-label-ring"]
        words = marks[f"rung-{number}-label-ring-number"]
        assert isinstance(ring, Circle) and isinstance(words, Text)
        assert words.words == str(number)
        assert math.dist(ring.centre, words.at) < ring.radius
    on_strip = [
        mark.words
        for name, mark in marks.items()
        if name.startswith("mark-") and name.endswith("-number") and isinstance(mark, Text)
    ]
    assert on_strip == [str(number) for number in range(1, len(ladder.rungs) + 1)]
