"""The shipped 12 ft table against the rules of the game and the geometry of its pockets.

Sources of the expected numbers stand beside them: [R] restated from the rules of the game,
section 1; [M] from memory; [X] exact, derived here.
"""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import pytest

import stunline.equipment
from stunline.equipment.based_on import table_names
from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import ball_contact_distance, nose_contact_distance
from stunline.equipment.describe import describe
from stunline.equipment.model import SpeedDependentFriction, Table

R = 0.02625  # half of 52.5 mm [R]


@pytest.fixture(scope="module")
def table() -> Table:
    return load_table("snooker-12ft")


def test_playing_area_and_markings(table: Table) -> None:
    assert (table.length, table.width) == (3.569, 1.778)  # [R]
    assert (table.baulk_line, table.d_radius) == (0.737, 0.292)  # [R]
    assert table.nose_height == pytest.approx(7 * R / 5, rel=1e-15)  # [M]


@pytest.mark.parametrize(
    ("spot", "place_mm"),
    [
        ("brown", (889, 737)),  # middle of the baulk line [R]
        ("yellow", (889 + 292, 737)),  # right end of the D seen from baulk [R]
        ("green", (889 - 292, 737)),  # left end [R]
        ("blue", (889, 3569 / 2)),  # midway [R]
        ("pink", (889, 3 * 3569 / 4)),  # midway between blue and top cushion [R]
        ("black", (889, 3569 - 324)),  # 324 from the top cushion [R]
    ],
)
def test_spots(table: Table, spot: str, place_mm: tuple[float, float]) -> None:
    assert [1000 * x for x in table.spots[spot]] == pytest.approx(place_mm, abs=1e-9)


def test_the_set_is_fifteen_reds_six_colours_and_the_white_first(table: Table) -> None:
    names = list(table.balls)
    assert names[0] == table.cue_ball == "white"
    assert names[1:16] == [f"red{number}" for number in range(1, 16)]
    assert names[16:] == ["yellow", "green", "brown", "blue", "pink", "black"]
    assert {ball.radius for ball in table.balls.values()} == {R}
    assert {ball.mass for ball in table.balls.values()} == {0.1406}  # [M]


def test_every_ball_looks_different(table: Table) -> None:
    looks = [(ball.letter, ball.tint) for ball in table.balls.values()]
    assert len(set(looks)) == 22


def test_match_cloth_is_the_default(table: Table) -> None:
    match = table.default_cloth()
    assert (match.name, list(table.cloths)) == ("match", ["match", "worn", "club"])
    numbers = match.coefficients
    assert numbers.sliding_friction == 0.20  # [S, informal]
    assert numbers.rolling_resistance == 0.010  # [S, informal]
    assert numbers.spin_deceleration == 10.0  # [M]
    assert numbers.ball_restitution == 0.95  # [M]
    assert (numbers.cushion_restitution, numbers.cushion_friction) == (0.98, 0.14)  # [S]
    assert numbers.ball_friction == SpeedDependentFriction(0.00995, 0.108, 1.088)  # [M]


def test_assumed_profiles_say_so(table: Table) -> None:
    for name in ("worn", "club"):
        cloth = table.cloths[name]
        assert "Assumptions throughout" in cloth.note
        assert all(
            "assumption" in source.source
            for key, source in cloth.sources.items()
            if key != "gravity"
        )
        match = table.default_cloth().coefficients
        assert cloth.coefficients.rolling_resistance > match.rolling_resistance


def test_triangle_touches_exactly_and_its_apex_is_towards_baulk(table: Table) -> None:
    places = list(table.racks["triangle"].values())
    assert len(places) == 15
    pink_x, pink_y = table.spots["pink"]
    assert places[0] == pytest.approx((pink_x, pink_y + 0.0535), abs=1e-15)
    assert [place[1] for place in places] == sorted(place[1] for place in places)
    for row in range(5):
        first = row * (row + 1) // 2
        in_row = [place[0] for place in places[first : first + row + 1]]
        assert in_row == sorted(in_row)
    gaps = [
        math.dist(one, other) - 2 * R for i, one in enumerate(places) for other in places[i + 1 :]
    ]
    assert min(gaps) > -1e-15  # [X] rows R√3 apart, balls 2R apart
    assert sum(gap < 1e-15 for gap in gaps) == 30  # 10 in rows, 20 between rows [X]


def test_cushions_have_snookers_names(table: Table) -> None:
    assert [nose.name for nose in table.noses] == ["baulk", "right", "right", "top", "left", "left"]
    assert [nose.name for nose in table.plain_noses] == ["baulk", "right", "top", "left"]


@pytest.mark.parametrize(("kind", "mouth"), [("middle", 0.092), ("corner", 0.086)])
def test_mouths(table: Table, kind: str, mouth: float) -> None:
    found = {pocket.mouth for pocket in table.pockets if kind == "middle" and kind in pocket.name}
    found |= {one.mouth for one in table.pockets if kind == "corner" and "middle" not in one.name}
    assert found == {mouth}  # [A], corners inside the 83–89 mm often quoted [M]


def test_contact_distances() -> None:
    # R√(1 − 0.4²) = 24.0585 mm at h = 7R/5 [X]
    assert 1000 * nose_contact_distance(R, 7 * R / 5) == pytest.approx(24.0585, abs=1e-4)
    # English pool's 50.8 and 47.6 mm balls: 49.174 mm [X]
    assert 1000 * ball_contact_distance(0.0254, 0.0238) == pytest.approx(49.174, abs=5e-4)
    assert ball_contact_distance(R, R) == 2 * R


# --- the data behind the table -------------------------------------------------------


def test_every_number_of_the_file_has_a_unit_and_a_marked_source(table: Table) -> None:
    path = Path(stunline.equipment.__file__).parent / "data" / "snooker-12ft.toml"
    bare: list[str] = []
    entries: list[dict[str, object]] = []

    def walk(value: object, key: str) -> None:
        if isinstance(value, dict) and "value" in value:
            entries.append(value)
        elif isinstance(value, dict):
            for name, inner in value.items():
                walk(inner, f"{key}.{name}")
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            bare.append(key)

    walk(tomllib.loads(path.read_text("utf-8")), "")
    assert bare == []
    marks = ("[R]", "[S", "[M]", "[X]", "[P]", "[A]")
    assert all(entry["unit"] and any(m in str(entry["source"]) for m in marks) for entry in entries)
    described = [row for row in describe(table) if row.part != "derived"]
    assert len(described) == len(entries)


def test_describe_gives_what_the_file_says(table: Table) -> None:
    rows = {(row.part, row.what): row for row in describe(table)}
    length = rows[("playing area", "length")]
    assert (length.value, length.unit) == (3569.0, "mm")
    assert "[R]" in length.source
    assert rows[("cloth club", "rolling resistance")].value == 0.014
    contact = rows[("derived", "centre to nose line at contact, ball of 52.5 mm")]
    assert contact.value == pytest.approx(24.0585, abs=1e-4)  # R√(1 − 0.4²) [X]


def test_shipped_tables_are_remembered() -> None:
    assert "snooker-12ft" in table_names()
    assert load_table("snooker-12ft") is load_table("snooker-12ft")
