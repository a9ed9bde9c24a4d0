"""Where the white can go: every strike told does what is told, and no place is overlooked."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from scipy.ndimage import binary_dilation

from planning.reach_positions import OPEN, POT, TABLE, WIDE, asked, mirrored
from stunline.errors import UnsolvableShotError
from stunline.planning.demand import demands_of
from stunline.planning.reach import Reach, places_for_white, reach
from stunline.planning.reach_at import NEAR, point_at
from stunline.planning.regions import KINDS
from stunline.planning.strike_space import strike_of
from stunline.shot.aiming.solve import Solver
from stunline.shot.goal import StrikeRange
from stunline.shot.play import play
from stunline.shot.position import PotAim, Strike, StrikePlan

R = TABLE.balls["white"].radius


@cache
def found() -> Reach:
    return reach(asked(OPEN, POT), strikes=4_000)


def told() -> Reach:
    """The same, with something in it."""
    one = found()
    assert one.complete
    assert one.reached.mean() > 0.3
    return one


def test_every_strike_told_for_a_place_played_by_itself_rests_in_its_cell_and_pots() -> None:
    # [by an independent method] one shot after the other, not the batch that found them
    one = told()
    position = one.request.position
    half = 0.5 * one.raster.cell
    random = np.random.default_rng(2)
    cells = random.choice(np.flatnonzero(one.reached), 150, replace=False)
    for cell in cells:
        shot = play(position, strike_of(one.rows[cell]))
        assert shot.potted("black") == "top left"
        rest = shot.rest("white")
        assert rest is not None
        assert np.abs(np.array(rest) - one.raster.middles()[cell]).max() <= half + 1e-9


def test_every_way_told_passes_over_its_cell_before_another_ball_is_met() -> None:
    # [by an independent method] the shot's own places at many times
    one = told()
    position = one.request.position
    cells = np.random.default_rng(3).choice(np.flatnonzero(one.passed), 60, replace=False)
    for cell in cells:
        shot = play(position, strike_of(one.passing[cell]))
        met = [e for e in shot.events if e.kind.value in ("ball", "cluster") and "white" in e.balls]
        until = met[1].time if len(met) > 1 else shot.duration
        times = np.linspace(met[0].time, until, 4_000)
        places = np.array([shot.place("white", float(time))[:2] for time in times])
        off = np.abs(places - one.raster.middles()[cell]).max(axis=1)
        assert off.min() <= 0.5 * one.raster.cell + 1e-6
        assert shot.potted("black") == "top left"


def test_no_place_that_brute_force_finds_is_missed_by_more_than_a_cell() -> None:
    # [by an independent method] every strike of a plain grid, each pot's aim solved by itself at
    # every third pace and height and held between; one shot after the other
    one = told()
    position = one.request.position
    solver = Solver(position)
    shape = (one.raster.rows, one.raster.columns)
    near = binary_dilation(one.reached.reshape(shape), np.ones((3, 3))).ravel()
    places, missed = 0, 0
    for pace in np.linspace(0.6, 3.0, 33):
        for height in np.linspace(-0.011, 0.011, 15):
            try:
                strike = solver.solve(StrikePlan(POT, float(pace), float(height))).strike
            except UnsolvableShotError:
                continue
            shot = play(position, strike)
            rest = shot.rest("white")
            if shot.potted("black") != "top left" or rest is None:
                continue
            (cell,) = one.raster.cells_at(np.array([rest[:2]]))
            places += 1
            missed += not near[cell]
    assert places > 300
    assert missed == 0


def test_a_mirrored_position_has_the_mirrored_reach() -> None:
    # [a property] left and right are alike; cells at an edge may differ by rounding
    one = told()
    other = reach(asked(mirrored(OPEN), PotAim("black", "top right")), strikes=4_000)
    shape = (one.raster.rows, one.raster.columns)
    # The raster starts at the left, and the table is no whole number of cells wide: the mirrored
    # place of a cell's middle lies in another cell's inside.
    middles = one.raster.middles()[one.reached]
    cells = one.raster.cells_at(np.stack([TABLE.width - middles[:, 0], middles[:, 1]], axis=1))
    near = binary_dilation(other.reached.reshape(shape), np.ones((3, 3))).ravel()
    assert near[cells[cells >= 0]].mean() > 0.995
    assert other.reached.sum() == pytest.approx(one.reached.sum(), rel=0.02)
    for kind in range(3):
        shares = [(each.kinds == kind).sum() / each.reached.sum() for each in (one, other)]
        assert shares[0] == pytest.approx(shares[1], abs=0.02)


def test_a_straight_stun_shot_leaves_the_white_where_it_met_the_ball() -> None:
    # [X] a full contact without spin: with restitution e the white keeps u = v(1 − e)/2 of its
    # speed, slides until it rolls at 5u/7 and rolls out, u²(12/(49 μ_s) + 25/(98 μ_r))/g in all:
    # at 2 m/s and e = 0.95 that is 7 mm, which a trace of screw takes away
    mouth = np.array(TABLE.pocket("top left").mouth_middle)
    ball = np.array([0.6, 2.9])
    way = (mouth - ball) / np.linalg.norm(mouth - ball)
    ghost = ball - 2.0 * R * way
    white = ghost - 0.35 * way
    balls = {"white": tuple(white), "black": tuple(ball)}
    one = reach(asked(balls, POT), strikes=4_000)  # type: ignore[arg-type]
    pointed = point_at(one, (float(ghost[0]), float(ghost[1])))
    assert pointed.away < 0.005
    assert abs(pointed.follow_ratio) < 0.25
    (cell,) = one.raster.cells_at(ghost[None])
    assert KINDS[int(one.kinds[cell])] == "stun"


def test_pointing_at_a_place_gives_a_strike_that_rests_there() -> None:
    one = told()
    position = one.request.position
    random = np.random.default_rng(5)
    there = 0
    for cell in random.choice(np.flatnonzero(one.reached), 12, replace=False):
        place = one.raster.middles()[cell] + random.uniform(-0.01, 0.01, 2)
        pointed = point_at(one, (float(place[0]), float(place[1])))
        assert pointed.strike is not None
        shot = play(position, pointed.strike)
        rest = shot.rest("white")
        assert rest is not None
        away = math.dist(rest[:2], place)
        assert away == pytest.approx(pointed.away, abs=1e-9)
        assert shot.potted("black") == "top left"
        there += away <= NEAR
        # [a property] the cell's own strike is one way, so the nearest is no farther than it
        assert away <= math.dist(one.rests[cell], place) + NEAR
    assert there >= 8


def test_the_aim_of_a_place_pointed_at_is_the_one_that_a_file_would_be_solved_to() -> None:
    one = told()
    pointed = point_at(one, (1.2, 1.5))
    assert pointed.is_there
    strike = pointed.strike
    assert strike is not None
    plan = StrikePlan(POT, strike.pace, strike.height, strike.side, strike.elevation)
    assert Solver(one.request.position).solve(plan).strike.aim == pytest.approx(
        strike.aim, abs=1e-9
    )


def test_where_only_the_pace_varies_the_places_lie_on_one_way() -> None:
    # [a property] each cell's strike has the height held, and their paces grow along the way
    vary = StrikeRange((0.8, 2.0), (0.003, 0.003), (0.0, 0.0))
    one = reach(asked(OPEN, POT, vary), strikes=2_000)
    rows = one.rows[one.reached]
    assert 20 < len(rows) < 600
    assert np.ptp(rows[:, 2]) == 0.0
    for cell in np.flatnonzero(one.reached)[::7]:
        rest = play(one.request.position, strike_of(one.rows[cell])).rest("white")
        assert rest is not None
        assert one.raster.cells_at(np.array([rest[:2]]))[0] == cell


def test_nothing_that_may_vary_leaves_one_place() -> None:
    vary = StrikeRange((1.5, 1.5), (0.003, 0.003), (0.0, 0.0))
    one = reach(asked(OPEN, POT, vary))
    assert one.reached.sum() == 1
    assert one.tried == 1


def test_side_reaches_what_no_height_does() -> None:
    # Common practice, no source: side is for places that follow and screw don't reach.
    vary = StrikeRange((0.6, 2.0), (-0.006, 0.006), (-0.006, 0.006))
    plain = reach(asked(OPEN, POT, StrikeRange(vary.pace, vary.height, (0.0, 0.0))), strikes=3_000)
    with_side = reach(asked(OPEN, POT, vary), strikes=6_000)
    assert with_side.reached.sum() > plain.reached.sum()
    assert (with_side.kinds == KINDS.index("side")).any()


def test_a_search_that_is_stopped_keeps_what_it_has() -> None:
    calls = []

    def cancelled() -> bool:
        calls.append(1)
        return len(calls) > 3

    stopped = reach(asked(OPEN, POT), strikes=8_000, cancelled=cancelled)
    assert not stopped.complete
    assert 0 < stopped.tried < 8_000
    assert stopped.reached.sum() <= stopped.made


def test_the_same_request_gives_the_same_bits() -> None:
    one, again = (reach(asked(OPEN, POT), strikes=1_000) for _ in range(2))
    assert one.rows.tobytes() == again.rows.tobytes()
    assert one.passing.tobytes() == again.passing.tobytes()


def test_a_plain_follow_at_a_moderate_pace_asks_nothing_and_the_rest_more() -> None:
    # [by hand] from the sentence in the docs: R/5 above centre, 0.89 to 1.9 m/s
    position = asked(OPEN, POT).position
    plain = [0.0, 1.5, 0.2 * R, 0.0, 0.0]
    faster = [0.0, 3.8, 0.2 * R, 0.0, 0.0]
    slower = [0.0, 0.445, 0.2 * R, 0.0, 0.0]
    raised = [0.0, 1.5, 0.2 * R, 0.0, math.radians(20.0)]
    rows = np.array([plain, faster, slower, raised, plain, plain, plain])
    follow = np.array([1.0, 1.0, 1.0, 1.0, 0.0, -0.5, 1.0])
    meets = np.array([False] * 6 + [True])
    expected = [0.0, 1.0, 1.0, 1.0, 0.25, 0.5, 1.0]
    assert demands_of(position, rows, follow, meets) == pytest.approx(expected, abs=1e-9)


def test_places_near_a_cushion_are_left_out_where_the_white_can_not_be() -> None:
    # [X] contact is made R·√(1 − (h/R − 1)²) from the nose line: 24.059 mm for R 26.25, h 7R/5
    one = told()
    fine = places_for_white(one.request.position, one.raster)
    x = one.raster.middles()[:, 0]
    assert not fine[x < 0.024059].any()
    assert fine[(x > 0.0241) & (x < 0.9) & (one.raster.middles()[:, 1] > 1.0)][:50].all()
    assert WIDE.pace is not None
    assert isinstance(strike_of(one.rows[np.flatnonzero(one.reached)[0]]), Strike)
