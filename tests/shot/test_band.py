"""How far a shot is in doubt because its table's coefficients are."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import numpy as np
import pytest
from scipy.spatial import ConvexHull
from scipy.stats import norm

from stunline.equipment.catalogue import load_table
from stunline.equipment.coefficient_scales import COEFFICIENTS, KINDS, value_of, with_values
from stunline.equipment.gauging import Gauging
from stunline.equipment.model import Coefficients
from stunline.shot.aiming.solve import Solver
from stunline.shot.band import ShotBand, band_of_shot
from stunline.shot.central_part import central_hull, holds, hull, stations_along
from stunline.shot.drawn_ways import ways_on
from stunline.shot.play import Prepared
from stunline.shot.position import Position, Strike
from stunline.shot.position_file import PositionFile, read_position_file
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.shot.readouts import Readouts, readouts

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.cloths["match"]
ROLLING = next(kind for kind in KINDS if kind.name == "rolling_resistance")
NINETY = norm.ppf(0.95)


def read(name: str) -> PositionFile:
    return read_position_file(shipped_position_path(name))


def solved(file: PositionFile) -> Strike:
    return Solver(file.position).solve(file.plan).strike


def stated(coefficients: Coefficients) -> Coefficients:
    """The same but for a hair, so that every number counts as the file's own."""
    return with_values(
        coefficients, [0.999999 * value_of(coefficients, name) for name in COEFFICIENTS]
    )


def gauged(position: Position, share: float) -> Position:
    """On a cloth gauged so that each deviation is that share of what is assumed."""
    names = tuple(kind.name for kind in KINDS)
    covariance = tuple(
        tuple((share * one.width) ** 2 if one is other else 0.0 for other in KINDS) for one in KINDS
    )
    values = tuple(value_of(position.coefficients, name) for name in names)
    gauging = Gauging(
        "2026-11-29", "invented", 20, names, tuple(kind.scale for kind in KINDS), values,
        (True,) * len(names), covariance,
    )  # fmt: skip
    cloth = replace(position.table.cloths[position.cloth], gauging=gauging)
    table = replace(position.table, cloths={**position.table.cloths, position.cloth: cloth})
    return replace(position, table=table)


def test_a_ball_that_rolls_freely_ends_where_the_log_normal_of_its_resistance_says() -> None:
    """By hand: a ball rolls v²/(2·μ·g) far, and 90 % of the tables have a resistance within
    e^±1.645·0.25 of the profile's."""
    radius = TABLE.balls["white"].radius
    position = Position(TABLE, "match", CLOTH.coefficients, {"white": (0.9, 0.5)})
    pace = 0.4
    band = band_of_shot(position, Strike(0.5 * math.pi, pace, height=0.4 * radius))
    way = 1000.0 * pace**2 / (2.0 * 0.01 * CLOTH.coefficients.gravity)
    interval = band.rest_from_cushions["y"]
    ends = sorted(500.0 + way * math.exp(sign * NINETY * ROLLING.width) for sign in (-1, 1))
    assert (interval.low - 500.0, interval.high - 500.0) == pytest.approx(
        [end - 500.0 for end in ends], rel=0.03
    )
    assert band.rest_from_cushions["x"].width == pytest.approx(0.0, abs=1e-6)
    assert band.same == band.tables == 100


@pytest.mark.parametrize("name", ["edge-of-the-pack", "thin-contact-running-side"])
def test_with_nothing_in_doubt_the_band_has_no_width_and_its_numbers_are_the_shots(
    name: str,
) -> None:
    """The early-ended play and the whole one, read in two ways."""
    file = read(name)
    position = replace(file.position, coefficients=stated(file.position.coefficients))
    solver = Solver(position)
    strike = solver.solve(file.plan).strike
    band = band_of_shot(position, strike, file.plan)
    shot = solver.prepared.play(strike)
    told = readouts(shot, file.plan)
    assert band.tables == 1 and not band.others and not band.ribbon
    compared = {each.name for each in fields(Readouts)} & set(band.readouts)
    assert {"throw_deg", "run_to_5mm_off_mm", "next_met_speed_m_s", "duration_s"} <= compared
    for each in compared:
        interval = band.readouts[each]
        assert interval.width == 0.0
        assert interval.low == pytest.approx(getattr(told, each), rel=1e-9)
    assert told.white_rest_mm is not None
    at = band.rest_from_cushions
    assert (at["x"].low, at["y"].high) == pytest.approx(told.white_rest_mm)


def test_a_gauged_table_leaves_less_doubt() -> None:
    file = read("stay-on-the-black")
    strike = solved(file)
    assumed = band_of_shot(file.position, strike, file.plan)
    measured = band_of_shot(gauged(file.position, 0.25), strike, file.plan)
    assert measured.doubt.gauging is not None
    varied = [
        name for name, one in assumed.readouts.items() if one.width > 1e-6 and one.tables == 100
    ]
    assert len(varied) > 10
    for name in varied:
        assert measured.readouts[name].width < 0.6 * assumed.readouts[name].width, name
    assert _area(measured) < 0.3 * _area(assumed)


def _area(band: ShotBand) -> float:
    assert band.rest_region is not None
    return float(ConvexHull(band.rest_region).volume)


@pytest.mark.parametrize(
    "name", ["stay-on-the-black", "edge-of-the-pack", "thin-contact-running-side", "stun-and-hold"]
)
def test_the_ribbon_holds_about_nine_of_ten_fresh_ways_whole(name: str) -> None:
    """Tables from a generator of random numbers, not the evenly spread ones of the band."""
    file = read(name)
    strike = solved(file)
    band = band_of_shot(file.position, strike, file.plan)
    drawn = np.random.default_rng(20).standard_normal((300, len(band.doubt.names)))
    fresh = ways_on(
        Prepared(file.position),
        strike,
        band.doubt.at(band.doubt.root_times(drawn)),
    )
    whole = 0
    for way in fresh:
        places = np.concatenate([stations_along([leg])[0] for leg in way.legs])
        inside = np.zeros(len(places), dtype=bool)
        for piece in band.ribbon:
            inside |= holds(piece, places)
        whole += bool(inside.all())
    # A binomial of 300 scatters by 0.017; the rest is the shape of a hundred tables.
    assert 0.83 <= whole / len(fresh) <= 0.97


def test_where_the_white_ends_elsewhere_is_counted() -> None:
    file = read("edge-of-the-pack")
    band = band_of_shot(file.position, solved(file), file.plan)
    assert band.usual.meets == "red7"
    assert band.same + sum(count for _, count in band.others) == band.tables
    assert {outcome.meets for outcome, _ in band.others} >= {"red4", "red11"}
    # Each forks off: the ribbon reaches all of their meetings that are not rare.
    ends = np.array([way.end for way in band.ways if way.outcome.meets == "red11"])
    assert max(holds(piece, ends).sum() for piece in band.ribbon) > 0


def test_a_pack_that_asks_too_much_patience_has_no_resting_places() -> None:
    file = read("edge-of-the-pack")
    band = band_of_shot(file.position, solved(file), file.plan, tables=20, patience=100)
    assert band.whole is None and band.rest_region is None and not band.rest_from_cushions
    assert "duration_s" not in band.readouts and "next_met_speed_m_s" in band.readouts


def test_the_hull_is_that_of_an_independent_library() -> None:
    places = np.random.default_rng(3).standard_normal((200, 2))
    own = hull(places)
    other = places[ConvexHull(places).vertices]
    assert {tuple(one) for one in own.tolist()} == {tuple(one) for one in other.tolist()}
    middle = central_hull(places, 0.9)
    assert 180 <= holds(middle, places).sum() < 200
