"""What a coach asks for is what happens: pots, contacts, ways of arriving, paces."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from stunline.equipment.catalogue import load_table
from stunline.errors import UnsolvableShotError
from stunline.shot.aiming.pace import lengths_of, pace_of_lengths
from stunline.shot.aiming.solve import solve
from stunline.shot.contact import first_contact
from stunline.shot.play import play
from stunline.shot.position import (
    Arrive,
    ContactAim,
    DirectAim,
    Lengths,
    PocketWeight,
    Position,
    PotAim,
    Strike,
    StrikePlan,
)
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
EDGE_OF_THE_PACK = read_position_file(shipped_position_path("edge-of-the-pack"))


def position_of(**balls: tuple[float, float]) -> Position:
    return Position(TABLE, CLOTH.name, CLOTH.coefficients, balls)


LONG_BLUE = position_of(white=(0.889, 0.9), blue=(0.7, 1.7845))


@pytest.mark.parametrize("thickness", [1.0, 0.75, 0.5, 0.25, 0.125])
@pytest.mark.parametrize("on", ["left", "right"])
@pytest.mark.parametrize(("side", "elevation"), [(0.0, 0.0), (0.008, 0.0), (-0.006, 0.15)])
def test_a_contact_is_met_as_asked(thickness, on, side, elevation):
    # Property: thickness = 1 − sin(cut angle) [X], after squirt and swerve.
    plan = StrikePlan(ContactAim("blue", thickness, on), 2.0, 0.004, side, elevation)
    contact = first_contact(play(LONG_BLUE, solve(LONG_BLUE, plan).strike))
    assert contact is not None
    assert contact.ball == "blue"
    assert contact.thickness == pytest.approx(thickness, abs=1e-8)
    assert thickness == 1.0 or contact.on == on


def test_sides_are_as_seen_along_the_whites_way():
    # By hand: straight up the table, a white left of the blue's centre meets its left side.
    position = position_of(white=(0.889, 0.9), blue=(0.899, 1.7845))
    shot = play(position, Strike(aim=0.5 * math.pi, pace=2.0))
    contact = first_contact(shot)
    assert contact is not None
    assert contact.on == "left"
    # sin φ = 10 mm over the distance of centres, 52.5 mm.
    assert math.sin(contact.cut_angle) == pytest.approx(10.0 / 52.5, rel=1e-12)


@pytest.mark.parametrize("ratio", [-0.5, -0.2, 0.0, 0.3, 0.7, 1.0])
def test_it_arrives_as_asked(ratio):
    plan = StrikePlan(ContactAim("blue", 0.5, "left"), 4.0, Arrive(ratio))
    solution = solve(LONG_BLUE, plan)
    contact = first_contact(play(LONG_BLUE, solution.strike))
    assert contact is not None
    assert contact.follow_ratio == pytest.approx(ratio, abs=1e-6)


def test_arriving_rolling_needs_two_fifths_of_the_radius():
    # 2R/5 above centre rolls at once [S: Coriolis 1835].
    solution = solve(LONG_BLUE, StrikePlan(ContactAim("blue", 0.5, "left"), 2.0, Arrive(1.0)))
    assert solution.strike.height == pytest.approx(0.4 * 0.02625, rel=1e-12)


def test_no_height_screws_a_slow_ball_over_a_long_way():
    plan = StrikePlan(ContactAim("blue", 0.5, "left"), 0.9, Arrive(-0.9))
    with pytest.raises(UnsolvableShotError) as caught:
        solve(LONG_BLUE, plan)
    assert caught.value.reason == "no-height"
    assert "follow ratio -0.9" in str(caught.value)


@pytest.mark.parametrize("pace", [1.0, 1.7, 2.95])
def test_a_pot_goes_in_over_its_whole_window_and_not_beyond(pace):
    file = EDGE_OF_THE_PACK
    solution = solve(file.position, replace(file.plan, pace=pace))
    window = solution.pot
    assert window is not None
    assert window.aim == pytest.approx(0.5 * (window.low + window.high), abs=1e-12)
    inside = (window.low, window.aim, window.high)
    beyond = 0.02 * window.half_width
    for aim in inside:
        shot = play(file.position, replace(solution.strike, aim=aim))
        assert shot.potted("black") == "top right"
    for aim in (window.low - beyond, window.high + beyond):
        shot = play(file.position, replace(solution.strike, aim=aim))
        assert shot.potted("black") is None


def test_the_window_narrows_as_published_geometry_says():
    # Straight pot: aim half-margin 2R·x/(l·L), x the half-margin at the pocket, L from object
    # ball to pocket, l from white to ghost ball [S: published geometry]. The ratio of two
    # distances l, all else the same, is free of x: 0.4 m against 0.8 m halves the window.
    diagonal = (math.sqrt(0.5), math.sqrt(0.5))
    mouth = TABLE.pocket("top right").mouth_middle
    windows = []
    for way in (0.4, 0.8):
        blue = (mouth[0] - 0.8 * diagonal[0], mouth[1] - 0.8 * diagonal[1])
        white = tuple(c - (way + 0.0525) * d for c, d in zip(blue, diagonal, strict=True))
        solution = solve(
            position_of(white=white, blue=blue), StrikePlan(PotAim("blue", "top right"), 1.5)
        )
        assert solution.pot is not None
        windows.append(solution.pot.half_width)
    assert windows[0] / windows[1] == pytest.approx(2.0, rel=0.03)


def test_a_straight_pot_has_the_published_margin():
    # The same formula with x from the geometry of the jaws: the object ball passes the mouth,
    # 86 mm between arcs, with x = 43 mm − 24.06 mm to spare before it touches a jaw; a touch
    # may still drop, so the window is at least that and less than the whole mouth's.
    mouth = TABLE.pocket("top right").mouth_middle
    d = math.sqrt(0.5)
    blue = (mouth[0] - 0.8 * d, mouth[1] - 0.8 * d)
    white = (blue[0] - 0.6525 * d, blue[1] - 0.6525 * d)
    solution = solve(
        position_of(white=white, blue=blue), StrikePlan(PotAim("blue", "top right"), 1.5)
    )
    assert solution.pot is not None
    clear = 0.0525 * (0.043 - 0.024059) / (0.6 * 0.8)
    whole = 0.0525 * 0.043 / (0.6 * 0.8)
    assert clear * 0.97 < solution.pot.half_width < whole


REFUSED = {
    "cut-too-thin": (position_of(white=(1.5, 3.0), blue=(0.9, 2.0)), "top right", 2.0),
    "way-blocked": (
        position_of(white=(0.5, 0.9), blue=(0.7, 1.7845), pink=(0.6, 1.35)),
        "middle right",
        2.0,
    ),
    "too-slow": (position_of(white=(0.5, 1.5), blue=(0.7, 1.9)), "top right", 0.3),
    "pocket-closed": (position_of(white=(0.027, 0.5), blue=(0.027, 1.0)), "middle left", 1.0),
}


@pytest.mark.parametrize("reason", REFUSED)
def test_a_pot_that_cannot_be_made_says_why(reason):
    position, pocket, pace = REFUSED[reason]
    with pytest.raises(UnsolvableShotError) as caught:
        solve(position, StrikePlan(PotAim("blue", pocket), pace))
    assert caught.value.reason == reason
    assert caught.value.fault.allowed
    assert caught.value.fault.remedy
    assert reason != "way-blocked" or "pink" in str(caught.value)


def test_a_length_is_the_tables_length_of_run():
    # By definition (common practice, no source): straight up from the brown spot, the whole
    # run over the playing length. Below the pace that reaches the top cushion it is exact:
    # slide 12v²/(49μg), then roll (5v/7)²/(2μ_r g) [X].
    position = EDGE_OF_THE_PACK.position
    c = position.coefficients
    pace = 0.9
    slide = 12 * pace**2 / (49 * c.sliding_friction * c.gravity)
    roll = (5 * pace / 7) ** 2 / (2 * c.rolling_resistance * c.gravity)
    assert slide + roll < TABLE.length - TABLE.spots["brown"][1] - 0.03
    assert lengths_of(position, pace) == pytest.approx((slide + roll) / TABLE.length, rel=1e-9)


@pytest.mark.parametrize("lengths", [0.5, 1.0, 2.5, 4.0])
def test_lengths_and_paces_convert_back(lengths):
    position = EDGE_OF_THE_PACK.position
    pace = pace_of_lengths(position, lengths)
    assert lengths_of(position, pace) == pytest.approx(lengths, abs=1e-6)
    solution = solve(position, StrikePlan(ContactAim("black", 0.5, "right"), Lengths(lengths)))
    assert solution.strike.pace == pytest.approx(pace, rel=1e-12)


def test_pocket_weight_just_drops():
    file = EDGE_OF_THE_PACK
    plan = replace(file.plan, pace=PocketWeight())
    solution = solve(file.position, plan)
    assert play(file.position, solution.strike).potted("black") == "top right"
    # A pace 3 % lower stops short: the ball is 1.27 m from the mouth and arrives slowly.
    with pytest.raises(UnsolvableShotError) as caught:
        solve(file.position, replace(plan, pace=0.97 * solution.strike.pace))
    assert caught.value.reason == "too-slow"


def test_an_aim_is_left_alone():
    plan = StrikePlan(DirectAim(1.234), 1.5, 0.003, -0.004)
    solution = solve(LONG_BLUE, plan)
    assert solution.strike == Strike(1.234, 1.5, 0.003, -0.004)
    assert solution.pot is None
