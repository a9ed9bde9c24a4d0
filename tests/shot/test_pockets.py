"""Law 5, where a table ends: contact distances, jaws that join, drops, and what a pot allows."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from stunline.equipment.catalogue import load_table
from stunline.equipment.model import Jaw, Pocket, Point
from stunline.shot import compiled, plane
from stunline.shot.aiming.solve import solve
from stunline.shot.play import play
from stunline.shot.position import Position, PotAim, Strike, StrikePlan
from stunline.shot.shot import EventKind, Shot

TABLE = load_table("snooker-12ft")
MATCH = TABLE.default_cloth().coefficients
RADIUS = TABLE.balls["white"].radius
# [X] the nose is 2R/5 above the centre: R√(1 − 0.4²)
REACH = RADIUS * math.sqrt(1.0 - 0.4**2)
POCKETS = [pocket.name for pocket in TABLE.pockets]


def rolls(place: Point, aim: float, pace: float, **change: float) -> Shot:
    """The white alone, rolling off the tip."""
    coefficients = replace(MATCH, **change)  # type: ignore[arg-type]
    position = Position(TABLE, "match", coefficients, {"white": place})
    return play(position, Strike(aim, pace, height=0.4 * RADIUS))


def before(pocket: Pocket, distance: float, across: float = 0.0) -> Point:
    """On the pocket's axis, that far into the table from the middle of its mouth. [m]"""
    (x, y), (dx, dy) = pocket.mouth_middle, pocket.inward
    return x + distance * dx - across * dy, y + distance * dy + across * dx


def into(pocket: Pocket) -> float:
    """The direction along the pocket's axis into it. [rad]"""
    return math.atan2(-pocket.inward[1], -pocket.inward[0])


@pytest.mark.parametrize(
    ("radius", "nose_height", "millimetres"),
    [(0.02625, 0.03675, 24.059), (0.03075, 0.037, 30.11)],
)
def test_distance_from_the_nose_line_at_contact(
    radius: float, nose_height: float, millimetres: float
) -> None:
    # [X] the nose point lies on the ball: d² + (h − R)² = R²; snooker 7R/5, carom 37 mm on 61.5 mm
    reach = compiled.nose_reach(radius, nose_height)
    assert reach**2 + (nose_height - radius) ** 2 == pytest.approx(radius**2, rel=1e-12)
    assert 1000.0 * reach == pytest.approx(millimetres, abs=5e-3)


@pytest.mark.parametrize("pockets", [True, False])
def test_a_cushion_is_met_at_that_distance(pockets: bool) -> None:
    # [X]
    shot = rolls((0.9, 0.5), -0.5 * math.pi, 1.0, pockets=pockets)
    met = next(event for event in shot.events if event.kind is EventKind.CUSHION)
    assert (met.surface, met.at[1]) == ("baulk", pytest.approx(REACH, rel=1e-12))


@pytest.mark.parametrize("jaw", TABLE.jaws, ids=lambda jaw: jaw.pocket)
def test_a_jaw_goes_on_where_a_nose_ends_without_a_kink(jaw: Jaw) -> None:
    # [X] one end of the arc is an end of a nose, and there the arc's radius is the nose's normal
    ends = [jaw.middle - jaw.half_angle, jaw.middle + jaw.half_angle]
    places = [plane.moved(jaw.centre, (math.cos(a), math.sin(a)), jaw.radius) for a in ends]
    joins = [
        (nose, place)
        for nose in TABLE.noses
        for end in (nose.start, nose.end)
        for place in places
        if math.dist(end, place) < 1e-12
    ]
    assert len(joins) == 1
    nose, place = joins[0]
    radius, along = plane.between(jaw.centre, place), plane.between(nose.start, nose.end)
    assert plane.dot(plane.unit(radius), plane.unit(along)) == pytest.approx(0.0, abs=1e-12)
    assert plane.cross(along, radius) > 0.0  # the playing area is on the nose's left


@pytest.mark.parametrize("pocket", TABLE.pockets, ids=lambda pocket: pocket.name)
def test_the_mouth_is_as_wide_as_stated(pocket: Pocket) -> None:
    # [X] between two arcs: the distance of their centres less both radii; 86 and 92 mm assumed [A]
    first, second = (jaw for jaw in TABLE.jaws if jaw.pocket == pocket.name)
    gap = math.dist(first.centre, second.centre) - first.radius - second.radius
    assert gap == pytest.approx(pocket.mouth, rel=1e-12)
    assert gap == pytest.approx(0.092 if "middle" in pocket.name else 0.086, rel=1e-12)


@pytest.mark.parametrize("pace", [0.5, 2.0, 6.0])
@pytest.mark.parametrize("name", POCKETS)
def test_on_the_pocket_s_axis_a_ball_drops_without_touching(name: str, pace: float) -> None:
    # [X] by symmetry, where half the mouth is wider than the contact distance
    pocket = TABLE.pocket(name)
    shot = rolls(before(pocket, 0.7), into(pocket), pace)
    assert [event.kind for event in shot.events] == [EventKind.STRIKE, EventKind.POCKET]
    assert shot.potted("white") == name
    fell = shot.events[-1].at
    assert math.dist(fell, pocket.drop_centre) == pytest.approx(pocket.drop_radius, rel=1e-12)
    assert fell == pytest.approx(pocket.mouth_middle, abs=1e-12)


@pytest.mark.parametrize("name", POCKETS)
def test_beside_the_axis_it_is_the_gap_less_the_contact_distance_that_counts(name: str) -> None:
    # [X] parallel to the axis a centre passes the jaws' narrowest gap when it is less than
    # mouth/2 − reach beside it: 18.9 mm (corner), 21.9 mm (middle)
    pocket = TABLE.pocket(name)
    clear = 0.5 * pocket.mouth - REACH
    for side in (1.0, -1.0):
        through = rolls(before(pocket, 0.5, side * (clear - 1e-6)), into(pocket), 1.5)
        assert EventKind.JAW not in {event.kind for event in through.events}
        touching = rolls(before(pocket, 0.5, side * (clear + 1e-6)), into(pocket), 1.5)
        assert EventKind.JAW in {event.kind for event in touching.events}


@pytest.mark.parametrize("name", POCKETS)
def test_a_smooth_jaw_throws_a_ball_back_by_its_arc_s_normal(name: str) -> None:
    # [X] no friction at nose or cloth, nothing lost: v' = v − 2(v·n)n, n from the arc's centre
    pocket = TABLE.pocket(name)
    smooth = {"cushion_restitution": 1.0, "cushion_friction": 0.0, "sliding_friction": 1e-9}
    shot = rolls(before(pocket, 0.5, 0.035), into(pocket), 1.0, **smooth)
    event = next(event for event in shot.events if event.kind is EventKind.JAW)
    jaw = min(
        (jaw for jaw in TABLE.jaws if jaw.pocket == name),
        key=lambda one: abs(math.dist(one.centre, event.at) - one.radius - REACH),
    )
    assert math.dist(jaw.centre, event.at) == pytest.approx(jaw.radius + REACH, rel=1e-12)
    normal = plane.unit(plane.between(jaw.centre, event.at))
    vx, vy = shot.motion_before("white", event).velocity
    turn = 2.0 * (vx * normal[0] + vy * normal[1])
    mirrored = (vx - turn * normal[0], vy - turn * normal[1])
    assert event.after["white"].velocity == pytest.approx(mirrored, abs=1e-6)


def straight_pot(white_to_ghost: float, ball_to_pocket: float) -> float:
    """Half the window of aim of a straight pot into a corner, smooth balls. [rad]"""
    pocket = TABLE.pocket("top right")
    balls = {
        "white": before(pocket, ball_to_pocket + 2.0 * RADIUS + white_to_ghost),
        "red1": before(pocket, ball_to_pocket),
    }
    position = Position(TABLE, "match", replace(MATCH, ball_friction=0.0), balls)
    solution = solve(position, StrikePlan(PotAim("red1", "top right"), 1.5))
    assert solution.pot is not None
    return solution.pot.half_width


def test_the_margin_of_a_straight_pot_falls_with_both_distances() -> None:
    # [S: published geometry] half-margin 2R·x/(l·L), l from the white to the ghost ball, L from the
    # ball to the pocket, x what the pocket accepts on either side. Small angles: within 3 %.
    accepted = []
    for white_to_ghost in (0.4, 0.8):
        for ball_to_pocket in (0.4, 0.8, 1.2):
            half = straight_pot(white_to_ghost, ball_to_pocket)
            accepted.append(half * white_to_ghost * ball_to_pocket / (2.0 * RADIUS))
    assert max(accepted) / min(accepted) < 1.03
    # Off the jaws a little more goes in than the clear 18.9 mm, never more than the mouth holds.
    clear = 0.5 * TABLE.pocket("top right").mouth - REACH
    assert clear < min(accepted)
    assert max(accepted) < 0.5 * TABLE.pocket("top right").mouth


def test_the_longer_pot_has_the_smaller_margin() -> None:
    # [property] at one distance of the white
    margins = [straight_pot(0.6, distance) for distance in (0.3, 0.6, 0.9, 1.2)]
    assert all(near > far for near, far in pairwise(margins))
