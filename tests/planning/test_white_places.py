"""Where the white may stand: each place told meets the goal, with its margins, played by itself."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from planning.reach_positions import OPEN, POT, TABLE, asked, mirrored
from stunline.errors import UnsolvableShotError
from stunline.planning.examples import widest_circle, without_specks
from stunline.planning.strike_space import strike_of
from stunline.planning.white_places import WhitePlaces, white_places
from stunline.shot.batch_watch import Raster
from stunline.shot.goal import CircleArea, Goal, StrikeRange
from stunline.shot.play import play
from stunline.shot.position import ContactAim, DirectAim, Position, PotAim

AIM, PACE = math.radians(0.05), 0.02
PACES = StrikeRange((0.8, 2.5), None, None)
AREA = CircleArea((1.2, 2.0), 0.55)


@cache
def found() -> WhitePlaces:
    return white_places(asked(OPEN, POT, PACES, Goal(rest=AREA)), AIM, PACE, cell=0.07)


def does(places: WhitePlaces, cell: int, aim: float, pace: float) -> bool:
    """Whether the strike told for the cell, off by so much, pots and rests in the area."""
    position = places.request.position
    x, y = places.raster.middles()[cell].tolist()
    moved = Position(
        position.table, position.cloth, position.coefficients, {**position.balls, "white": (x, y)}
    )
    strike = strike_of(places.rows[cell])
    strike = replace(strike, aim=strike.aim + aim, pace=strike.pace * (1.0 + pace))
    shot = play(moved, strike)
    rest = shot.rest("white")
    inside = rest is not None and math.dist(rest[:2], AREA.centre) <= AREA.radius
    return shot.potted("black") == "top left" and inside


def test_every_place_told_meets_the_goal_and_the_safe_ones_with_every_margin() -> None:
    # [by an independent method] one shot after the other
    places = found()
    assert places.complete
    assert 10 < places.safe.sum() < places.met.sum() < places.tried.sum()
    for cell in np.flatnonzero(places.met)[::9]:
        assert does(places, int(cell), 0.0, 0.0)
    for cell in np.flatnonzero(places.safe)[::3]:
        for aim, pace in ((AIM, 0.0), (-AIM, 0.0), (0.0, PACE), (0.0, -PACE)):
            assert does(places, int(cell), aim, pace)


def test_wider_margins_leave_fewer_places_and_none_leaves_all_that_meet_it() -> None:
    # [a property]
    request = found().request
    none = white_places(request, 0.0, 0.0, cell=0.07)
    wide = white_places(request, 3.0 * AIM, 3.0 * PACE, cell=0.07)
    assert (none.safe == none.met).all()
    assert not (wide.safe & ~found().safe).any()
    assert wide.safe.sum() < found().safe.sum() < none.safe.sum()


def test_no_place_of_a_plain_search_is_missed() -> None:
    # [by an independent method] from every seventh place, each pot's aim solved by itself, at many
    # paces: where that meets the goal, the place is told
    from stunline.planning.demand import PLAIN_HEIGHT
    from stunline.shot.aiming.solve import Solver
    from stunline.shot.position import StrikePlan

    places = found()
    position = places.request.position
    height = PLAIN_HEIGHT * position.radius("white")
    seen = 0
    for cell in np.flatnonzero(places.tried)[::23]:
        x, y = places.raster.middles()[cell].tolist()
        balls = {**position.balls, "white": (x, y)}
        moved = Position(position.table, position.cloth, position.coefficients, balls)
        hits = 0
        for pace in np.linspace(0.8, 2.5, 24):
            try:
                strike = Solver(moved).solve(StrikePlan(POT, float(pace), height)).strike
            except UnsolvableShotError:
                continue
            rest = play(moved, strike).rest("white")
            hits += rest is not None and math.dist(rest[:2], AREA.centre) <= AREA.radius - 0.02
        if hits >= 3:
            assert places.met[cell]
            seen += 1
    assert seen >= 5


def test_a_mirrored_goal_has_the_mirrored_places() -> None:
    # [a property]
    area = CircleArea((TABLE.width - AREA.centre[0], AREA.centre[1]), AREA.radius)
    request = asked(mirrored(OPEN), PotAim("black", "top right"), PACES, Goal(rest=area))
    other = white_places(request, AIM, PACE, cell=TABLE.width / 25.0)
    one = white_places(found().request, AIM, PACE, cell=TABLE.width / 25.0)
    shape = (one.raster.rows, one.raster.columns)
    flipped = other.met.reshape(shape)[:, ::-1].ravel()
    # Places whose play comes within rounding of an edge may fall to either side.
    assert (flipped != one.met).mean() < 0.003


def test_a_contact_is_met_as_thick_as_asked_from_everywhere() -> None:
    contact = ContactAim("black", 0.5, "right")
    request = replace(asked(OPEN, POT, PACES), aim=contact, goal=Goal())
    places = white_places(request, 0.0, 0.0, cell=0.2)
    assert places.met.sum() > 20
    for cell in np.flatnonzero(places.met)[::7]:
        x, y = places.raster.middles()[cell].tolist()
        position = request.position
        moved = Position(
            position.table, position.cloth, position.coefficients,
            {**position.balls, "white": (x, y)},
        )  # fmt: skip
        shot = play(moved, strike_of(places.rows[cell]))
        met = next(e for e in shot.events if e.kind.value in ("ball", "cluster"))
        before = np.array(shot.place("white", met.time - 1e-5)[:2])
        at = np.array(shot.place("white", met.time)[:2])
        way = (at - before) / np.linalg.norm(at - before)
        line = np.array(OPEN["black"]) - at
        sine = (line[0] * way[1] - line[1] * way[0]) / np.linalg.norm(line)
        # [X] thickness 1 − sin φ; the ball's centre to the left of the way: its right side is met
        assert 1.0 - abs(sine) == pytest.approx(0.5, abs=1e-3)
        assert sine < 0.0


def test_a_fixed_aim_is_refused_with_the_reason() -> None:
    request = replace(asked(OPEN, POT, PACES), aim=DirectAim(1.0))
    with pytest.raises(UnsolvableShotError, match="fixed aim"):
        white_places(request, AIM, PACE)


def test_the_widest_circle_of_a_square_is_its_middle() -> None:
    # [by hand] 5 × 5 cells of 0.1 m inside: the middle cell, 0.25 m to the edge
    raster = Raster(0.1, 9, 9)
    inside = np.zeros((9, 9), dtype=bool)
    inside[2:7, 2:7] = True
    circle = widest_circle(raster, inside.ravel())
    assert circle is not None
    assert circle[0] == 4 * 9 + 4
    assert circle[1] == pytest.approx(0.25)
    assert widest_circle(raster, np.zeros(81, dtype=bool)) is None


def test_specks_go_to_what_is_round_them() -> None:
    # [by hand]
    raster = Raster(0.1, 6, 6)
    kinds = np.zeros((6, 6), dtype=np.int64)
    kinds[:, 3:] = 1
    kinds[1, 1] = 2
    kinds[4, 5] = -1
    cleared = without_specks(raster, kinds.ravel(), 3).reshape(6, 6)
    assert (cleared[:, :3] == 0).all()
    assert (cleared[:, 3:] == 1).all()
