"""The ladder: rungs, and the values at which the outcome changes."""

from __future__ import annotations

import math
from itertools import groupby, pairwise

import pytest

from stunline.equipment.catalogue import load_table
from stunline.errors import UnsolvableShotError
from stunline.shot.ladder import CHANGE_TOLERANCE, SCANNED, climb, find_bands
from stunline.shot.outcome import Outcome
from stunline.shot.position import (
    Arrive,
    ContactAim,
    DirectAim,
    LadderPlan,
    Position,
    PotAim,
    StrikePlan,
)
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()


def outcome_of(name: str) -> Outcome:
    return Outcome("black", None, None, name, None, "")


def test_bands_narrower_than_a_two_hundredth_are_found():
    # A known function: c lies between 0.6 and 0.6 + 1/150 of the range.
    edges = [(0.25, "a"), (0.6, "b"), (0.6 + 1.0 / 150.0, "c"), (1.0, "d")]

    def outcome_at(value: float) -> Outcome:
        return outcome_of(next((name for edge, name in edges if value < edge), "d"))

    bands = find_bands(outcome_at, 0.0, 1.0)
    assert SCANNED >= 200
    assert [band.outcome.meets for band in bands] == ["a", "b", "c", "d"]
    for band, (edge, _) in zip(bands, edges[:-1], strict=False):
        assert band.end == pytest.approx(edge, abs=CHANGE_TOLERANCE)
    assert bands[0].start == 0.0
    assert bands[-1].end == 1.0


def test_two_changes_within_one_step_are_both_found():
    # b is a hundredth of a step wide beyond the middle of one step: the halving meets it.
    step = 1.0 / (SCANNED - 1)
    first = 100 * step + 0.5 * step
    second = first + 0.45 * step

    def outcome_at(value: float) -> Outcome:
        return outcome_of("a" if value < first else "b" if value < second else "c")

    assert [band.outcome.meets for band in find_bands(outcome_at, 0.0, 1.0)] == ["a", "b", "c"]


def test_pace_walks_the_white_down_the_edge_of_the_pack():
    # The demo position: far end red, then 7, 4, 2 and the apex, each by pace alone.
    file = read_position_file(shipped_position_path("edge-of-the-pack"))
    assert file.ladder is not None
    ladder = climb(file.position, file.plan, file.ladder)
    met = ["red11", "red7", "red4", "red2", "red1"]
    assert [rung.outcome.meets for rung in ladder.rungs] == met
    assert all(rung.pot_made for rung in ladder.rungs)
    # In-off bands, where the white comes back through the table, lie within those of 4 and 2.
    bands = [band.outcome for band in ladder.bands]
    assert [meets for meets, _ in groupby(band.meets for band in bands)] == met
    changes = [
        change
        for change, (before, after) in zip(ladder.changes, pairwise(bands), strict=True)
        if before.meets != after.meets
    ]
    assert len(changes) == 4
    assert not ladder.aim_held
    values = [rung.value for rung in ladder.rungs]
    for change, low, high in zip(changes, values, values[1:], strict=False):
        assert low < change.at < high
    # The cut is 24.5 to 26° and pace alone changes it, through throw.
    assert all(24.0 < math.degrees(_cut(rung)) < 27.0 for rung in ladder.rungs)


def _cut(rung):
    from stunline.shot.contact import first_contact

    contact = first_contact(rung.shot)
    assert contact is not None
    return contact.cut_angle


def test_a_contact_holds_its_aim_and_a_thickness_solves_it():
    position = Position(
        TABLE, CLOTH.name, CLOTH.coefficients, {"white": (0.889, 0.9), "blue": (0.7, 1.7845)}
    )
    plan = StrikePlan(ContactAim("blue", 0.5, "left"), 2.0)
    held = climb(position, plan, LadderPlan("height", (-0.005, 0.0, 0.005)))
    assert held.aim_held
    assert len({rung.shot.strike.aim for rung in held.rungs}) == 1
    solved = climb(position, plan, LadderPlan("thickness", (0.25, 0.5, 0.75)))
    assert not solved.aim_held
    assert len({rung.shot.strike.aim for rung in solved.rungs}) == 3


def test_distance_moves_the_white_along_its_line():
    position = Position(
        TABLE, CLOTH.name, CLOTH.coefficients, {"white": (0.889, 0.9), "blue": (0.889, 1.7845)}
    )
    plan = StrikePlan(ContactAim("blue", 0.5, "left"), 2.0)
    ladder = climb(position, plan, LadderPlan("distance", (0.3, 0.6)))
    for rung, distance in zip(ladder.rungs, (0.3, 0.6), strict=True):
        contact_at = rung.shot.events[1].at
        white = rung.shot.position.balls["white"]
        event = next(event for event in rung.shot.events if event.kind == "ball")
        place = rung.shot.place("white", event.time)
        assert math.dist(white, place) == pytest.approx(distance, abs=1e-9)
        assert contact_at


def test_cloths_are_rungs_without_a_scan():
    position = Position(
        TABLE, CLOTH.name, CLOTH.coefficients, {"white": (0.889, 0.9), "blue": (0.7, 1.7845)}
    )
    plan = StrikePlan(DirectAim(1.2), 1.0)
    ladder = climb(position, plan, LadderPlan("cloth", tuple(TABLE.cloths)))
    assert ladder.bands == ()
    used = [rung.shot.position.coefficients for rung in ladder.rungs]
    assert used == [cloth.coefficients for cloth in TABLE.cloths.values()]


def test_a_rung_that_cannot_pot_says_so_and_counts():
    file = read_position_file(shipped_position_path("edge-of-the-pack"))
    ladder = climb(file.position, file.plan, LadderPlan("pace", (0.4, 1.7)))
    slow, made = ladder.rungs
    assert slow.pot_made is False
    assert slow.reason == "too slow to get there"
    # It is played along the aim of the nearest rung that pots.
    assert slow.shot.strike.aim == pytest.approx(made.shot.strike.aim, abs=1e-12)
    assert made.pot_made is True
    assert isinstance(file.plan.aim, PotAim)
    assert any(change.before.pot_made is False for change in ladder.changes)


def test_a_white_that_cannot_stand_there_is_refused():
    position = Position(
        TABLE, CLOTH.name, CLOTH.coefficients, {"white": (0.889, 0.9), "blue": (0.889, 1.7845)}
    )
    plan = StrikePlan(ContactAim("blue", 0.5, "left"), 2.0)
    with pytest.raises(UnsolvableShotError) as caught:
        climb(position, plan, LadderPlan("distance", (0.3, 3.0)))
    assert caught.value.reason == "no-room"
    assert "3000.0 mm" in str(caught.value)


def test_a_rung_that_cannot_arrive_as_asked_is_played_at_the_limit() -> None:
    position = Position(
        TABLE, CLOTH.name, CLOTH.coefficients, {"white": (0.889, 0.9), "blue": (0.889, 1.7845)}
    )
    plan = StrikePlan(ContactAim("blue", 0.5, "left"), 2.0, Arrive(0.0))
    soft, firm = climb(position, plan, LadderPlan("pace", (1.9, 4.0))).rungs
    assert soft.reason.startswith("no height within the advised limit")
    # The cue's profile: 0.45 of the radius is safe (an assumption of the equipment data).
    assert soft.shot.strike.height == pytest.approx(-0.45 * 0.02625, rel=1e-9)
    assert firm.reason == ""
