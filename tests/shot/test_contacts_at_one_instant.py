"""Contacts of balls that touch: at the moment of the strike, or twice at one instant."""

from __future__ import annotations

import math

import pytest

from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import nose_contact_distance
from stunline.shot.contact import contacts, first_contact
from stunline.shot.play import play
from stunline.shot.position import Position, Strike
from stunline.shot.readouts import readouts
from stunline.shot.shot import EventKind, StopReason

TABLE = load_table("snooker-12ft")
MATCH = TABLE.default_cloth().coefficients
RADIUS = TABLE.balls["white"].radius


def position(white: tuple[float, float], red: tuple[float, float]) -> Position:
    """Two balls on match cloth."""
    return Position(TABLE, "match", MATCH, {"white": white, "red1": red})


@pytest.mark.parametrize("degrees", range(0, 360, 15))
def test_a_white_struck_into_a_ball_it_touches_brings_what_the_strike_gave(degrees: int) -> None:
    # [X] it has not moved: pace, spin and the angle to the line of centres are those of the strike
    line = math.radians(degrees)
    red = (0.9 + 2.0 * RADIUS * math.cos(line), 1.0 + 2.0 * RADIUS * math.sin(line))
    aim = line + math.radians(30.0)
    shot = play(position((0.9, 1.0), red), Strike(aim, 1.5, height=0.2 * RADIUS))
    contact = first_contact(shot)
    assert contact is not None
    assert contact.cut_angle == pytest.approx(math.radians(30.0), abs=1e-9)
    assert contact.white_before.speed == pytest.approx(1.5, rel=1e-12)
    assert contact.follow_ratio == pytest.approx(0.5, rel=1e-9)  # (5/2)·0.2
    read = readouts(shot)
    assert read.contact_time_s == pytest.approx(0.0, abs=1e-12)
    assert read.energy_kept is not None
    assert 0.5 < read.energy_kept < 1.0


def test_of_two_contacts_at_one_instant_the_second_starts_from_what_the_first_left() -> None:
    # [X] a red against the cushion is met, comes back at once and meets the white again
    reach = nose_contact_distance(RADIUS, TABLE.nose_height)
    shot = play(position((0.9, 0.5), (0.9, reach)), Strike(-0.5 * math.pi, 1.5))
    first, second = contacts(shot, "white")[:2]
    assert first.event.time == second.event.time
    assert second.white_before == first.white_after
    # The red comes off the cushion, up the table, towards a white that still goes down it.
    assert second.ball_before.velocity[1] > 0.5
    assert first.ball_after.velocity[1] < 0.0


def test_two_contacts_a_rounding_apart_are_one_cluster() -> None:
    # Property: a white straight between two touching reds meets both at once, though the two
    # times found differ by 1e-16 s; both reds leave alike.
    reds = {"red1": (0.9 - RADIUS, 1.4), "red2": (0.9 + RADIUS, 1.4)}
    straight = Position(TABLE, "match", MATCH, {"white": (0.9, 1.0), **reds})
    shot = play(straight, Strike(0.5 * math.pi, 1.0))
    cluster = next(event for event in shot.events if event.kind is EventKind.CLUSTER)
    assert set(cluster.balls) == {"white", "red1", "red2"}
    left, right = cluster.after["red1"].velocity, cluster.after["red2"].velocity
    assert left[0] == pytest.approx(-right[0], abs=1e-9)
    assert left[1] == pytest.approx(right[1], abs=1e-9)
    contact = first_contact(shot)
    assert contact is not None
    assert contact.event is cluster
    assert shot.stop_reason is StopReason.AT_REST
