"""Each game's numbers against those of its rules, the source and its mark beside each.

[R] restated from the rules or specification named · [M] from memory · [X] exact, derived here.
A band's mark is that of its source: [M] bands are held here only to catch slips of the pen.
"""

from __future__ import annotations

import math
import tomllib
from itertools import pairwise

import pytest

from stunline.equipment.based_on import shipped_table_path, table_names
from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.describe import describe
from stunline.equipment.model import Table

TABLES = {name: load_table(name) for name in table_names()}
POOL = ("pool-9ft", "pool-8ft", "pool-7ft")
SMALLER_SNOOKER = {"snooker-10ft": 10, "snooker-9ft": 9, "snooker-8ft": 8, "snooker-6ft": 6}
MM = 1000.0


def mm(length: float) -> float:
    return MM * length


def diameters_mm(table: Table) -> set[float]:
    return {round(mm(2.0 * ball.radius), 6) for ball in table.balls.values()}


def masses_g(table: Table) -> set[float]:
    return {round(MM * ball.mass, 6) for ball in table.balls.values()}


# Playing area, length × width in mm.
AREAS = {
    "snooker-12ft": (3569.0, 1778.0),  # rules of snooker, section 1, each ± 13 [R]
    "billiards-12ft": (3569.0, 1778.0),  # the same table [R]
    "pool-9ft": (2540.0, 1270.0),  # world body's equipment specification, ± 3.2 [R]
    "pool-8ft": (2235.0, 1117.5),  # often quoted [M]
    "pool-7ft": (1981.0, 990.5),  # often quoted [M]
    "carom-10ft": (2840.0, 1420.0),  # world body's article 2, ± 5 [R]
    "english-pool-7ft": (2133.6, 1066.8),  # world body's specification, at most [R]
}


@pytest.mark.parametrize("name", AREAS)
def test_playing_area(name: str) -> None:
    table = TABLES[name]
    assert (mm(table.length), mm(table.width)) == pytest.approx(AREAS[name], abs=1e-9)


def test_every_shipped_table_is_held_to_something_here() -> None:
    assert set(AREAS) | set(SMALLER_SNOOKER) == set(TABLES)


# --- snooker and English billiards -----------------------------------------------------------


@pytest.mark.parametrize("name", ["snooker-12ft", "billiards-12ft"])
def test_a_full_sized_table(name: str) -> None:
    table = TABLES[name]
    # Rules of snooker, section 1 [R]: line 737 from the baulk cushion, D of 292, balls 52.5 ± 0.05
    assert (table.baulk_line, table.d_radius) == (0.737, 0.292)
    assert diameters_mm(table) == {52.5}
    assert len(masses_g(table)) == 1  # [R] a set within 3 g
    assert table.words.line == "baulk line"


def test_billiards_has_three_balls_and_its_own_spots() -> None:
    table, snooker = TABLES["billiards-12ft"], TABLES["snooker-12ft"]
    assert list(table.balls) == ["white", "yellow", "red"]
    # The same places under the names of the game [R].
    same = {"baulk": "brown", "D left": "green", "D right": "yellow"}
    same |= {"centre": "blue", "pyramid": "pink", "billiard": "black"}
    assert table.spots == {name: snooker.spots[other] for name, other in same.items()}
    assert table.balls["red"].spot == "billiard"


@pytest.mark.parametrize("name", SMALLER_SNOOKER)
def test_smaller_snooker_tables_are_in_proportion(name: str) -> None:
    table, full = TABLES[name], TABLES["snooker-12ft"]
    share = SMALLER_SNOOKER[name] / 12.0  # [A] of the length; marks in proportion to it [X]
    assert table.length / full.length == pytest.approx(share, abs=2e-5)  # rounded to 0.1 mm
    exact = table.length / full.length
    assert table.baulk_line == pytest.approx(exact * 0.737, abs=1e-6)
    assert table.d_radius == pytest.approx(exact * 0.292, abs=1e-6)
    for spot, (x, y) in full.spots.items():
        assert table.spots[spot] == pytest.approx((exact * x, exact * y), abs=1e-4)
    ball = table.balls["white"].radius / full.balls["white"].radius
    for pocket, other in zip(table.pockets, full.pockets, strict=True):
        assert pocket.mouth == pytest.approx(ball * other.mouth, rel=1e-5)  # [A]
        assert pocket.drop_radius == pytest.approx(ball * other.drop_radius, rel=1e-5)  # [A]
    assert "in proportion" in table.note


def test_smaller_tables_have_smaller_balls_of_one_material() -> None:
    # [M] 52.5, 2 1/16, 2 and 1 7/8 in, to a tenth of a millimetre; weights by the cube [X]
    found = [diameters_mm(TABLES[name]).pop() for name in SMALLER_SNOOKER]
    assert found == [52.5, 52.4, 50.8, 47.6]
    assert found[1:] == [round(inches * 25.4, 1) for inches in (2.0625, 2.0, 1.875)]
    for name, diameter in zip(SMALLER_SNOOKER, found, strict=True):
        (mass,) = masses_g(TABLES[name])
        assert mass == pytest.approx(140.6 * (diameter / 52.5) ** 3, abs=0.06)


# --- American pool ---------------------------------------------------------------------------


@pytest.mark.parametrize("name", POOL)
def test_pool(name: str) -> None:
    # World body's equipment specification [R]: ball 57.15 ± 0.127 mm of 156–170 g, nose at
    # 62.5–64.5 % of the diameter; mouths: corner 114.3–117.5, side 127–130.2 mm [M]
    table = TABLES[name]
    assert diameters_mm(table) == {57.15}
    (mass,) = masses_g(table)
    assert 156.0 <= mass <= 170.0
    assert 0.625 <= table.nose_height / 0.05715 <= 0.645
    for pocket in table.pockets:
        low, high = (127.0, 130.2) if "side" in pocket.name else (114.3, 117.5)
        assert low <= mm(pocket.mouth) <= high
    assert table.baulk_line == pytest.approx(table.length / 4.0, rel=1e-14)  # head string [M]
    assert table.words.line == "head string"
    for spot, share in (("head", 0.25), ("centre", 0.5), ("foot", 0.75)):  # [M]
        place = (table.width / 2.0, share * table.length)
        assert table.spots[spot] == pytest.approx(place, rel=1e-14)


@pytest.mark.parametrize("name", POOL)
def test_pools_racks(name: str) -> None:
    table = TABLES[name]
    assert list(table.balls) == ["cue-ball", *(str(number) for number in range(1, 16))]
    radius = table.balls["1"].radius
    triangle, diamond = table.racks["triangle"], table.racks["diamond"]
    # [M] the 8 in the middle of the third row, two kinds in the far corners; the 1 ahead and
    # the 9 in the middle of the diamond; both with the apex ball on the foot spot
    assert (list(triangle)[4], sorted(triangle, key=int)) == ("8", list(table.balls)[1:])
    corners = list(triangle)[10], list(triangle)[14]
    assert sorted(corner in table.groups["solids"] for corner in corners) == [False, True]
    assert (next(iter(diamond)), list(diamond)[4]) == ("1", "9")
    assert set(diamond) == {str(number) for number in range(1, 10)}
    for rack, touching in ((triangle, 30), (diamond, 16)):
        places = list(rack.values())
        assert places[0] == pytest.approx(table.spots["foot"], abs=1e-15)
        gaps = [
            math.dist(one, other) - 2.0 * radius
            for index, one in enumerate(places)
            for other in places[index + 1 :]
        ]
        # [X] nothing overlaps; 10 + 20 pairs touch in the triangle, 4 + 12 in the diamond
        assert min(gaps) > -1e-15
        assert sum(gap < 1e-15 for gap in gaps) == touching
    assert diamond["9"] == pytest.approx(
        (table.width / 2.0, 0.75 * table.length + 2.0 * math.sqrt(3.0) * radius), abs=1e-12
    )


# --- carom ----------------------------------------------------------------------------------


def test_carom() -> None:
    # World body's article 2 [R]: balls 61–61.5 mm, 205–220 g; nose 37 ± 1 mm; no pockets
    table = TABLES["carom-10ft"]
    (diameter,), (mass,) = diameters_mm(table), masses_g(table)
    assert 61.0 <= diameter <= 61.5
    assert 205.0 <= mass <= 220.0
    assert 36.0 <= mm(table.nose_height) <= 38.0
    assert (table.pockets, table.jaws) == ((), ())
    assert list(table.balls) == ["white", "yellow", "red"]
    # [X] R√(1 − (h/R − 1)²) = 30.11 mm
    radius = table.balls["white"].radius
    assert mm(nose_contact_distance(radius, table.nose_height)) == pytest.approx(30.11, abs=5e-3)
    left, head, right = (table.spots[name] for name in ("head left", "head", "head right"))
    assert [mm(other[0] - one[0]) for one, other in pairwise((left, head, right))] == (
        pytest.approx([182.5, 182.5], abs=1e-9)  # [M]
    )


# --- English pool ---------------------------------------------------------------------------


def test_english_pool() -> None:
    # World body's specification [R]: object balls 50.8 mm, 116 g; white 47.6 mm, 94 g; baulk
    # line one fifth of the length
    table = TABLES["english-pool-7ft"]
    for name, ball in table.balls.items():
        size = (47.6, 94.0) if name == "white" else (50.8, 116.0)
        assert (mm(2.0 * ball.radius), MM * ball.mass) == pytest.approx(size, rel=1e-12)
    assert table.baulk_line == pytest.approx(table.length / 5.0, rel=1e-14)
    counts = {group: len(names) for group, names in table.groups.items()}
    assert counts == {"reds": 7, "yellows": 7, "rack": 15}
    rack = table.racks["triangle"]
    assert set(rack) == set(table.groups["rack"])
    # [M] the black on its spot, where the lines from both top pockets to the middle ones cross
    assert rack["black"] == pytest.approx(table.spots["black"], abs=1e-7)
    assert table.spots["black"] == (table.width / 2.0, 0.75 * table.length)


# --- the data behind the tables ----------------------------------------------------------------


@pytest.mark.parametrize("name", table_names())
def test_every_number_has_a_unit_and_a_marked_source(name: str) -> None:
    marks = ("[R]", "[S", "[M]", "[X]", "[P]", "[A]")
    rows = describe(TABLES[name])
    assert all(row.unit and any(mark in row.source for mark in marks) for row in rows)
    assert len(rows) > 30


@pytest.mark.parametrize("name", table_names())
def test_no_number_stands_bare(name: str) -> None:
    bare: list[str] = []

    def walk(value: object, key: str) -> None:
        if isinstance(value, dict) and "value" not in value:
            for part, inner in value.items():
                walk(inner, f"{key}.{part}")
        elif isinstance(value, dict):
            assert {"unit", "source"} <= set(value), key
        elif isinstance(value, int | float):
            bare.append(key)

    walk(tomllib.loads(shipped_table_path(name).read_text("utf-8")), name)
    assert bare == []


@pytest.mark.parametrize("name", table_names())
def test_balls_differ_in_name_and_look(name: str) -> None:
    balls = TABLES[name].balls.values()
    assert len({(ball.letter, ball.tint) for ball in balls}) == len(balls) <= 22


@pytest.mark.parametrize("name", table_names())
def test_a_length_is_counted_from_a_spot_of_the_table(name: str) -> None:
    table = TABLES[name]
    assert table.length_from in table.spots
    assert table.spots[table.length_from][1] < 0.3 * table.length  # at the near end
