"""Table files of one's own: other games, and files with faults."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import stunline.equipment
from stunline.equipment.catalogue import load_table
from stunline.equipment.pocket_geometry import PocketShape, boundary
from stunline.equipment.table_file import parse_table
from stunline.errors import InputError

SHIPPED = Path(stunline.equipment.__file__).parent / "data" / "snooker-12ft.toml"

# Invented numbers of a small table: two sizes of ball, no pockets, no baulk line.
SMALL_TABLE = """
title = "A small table without pockets"
game = "invented"
cue_ball = "white"
[playing_area]
length = { value = 2, unit = "m", source = "invented [A]" }
width = { value = 1000, unit = "mm", source = "invented [A]" }
[cushion]
nose_height = { value = 35, unit = "mm", source = "invented [A]" }
[spots.head]
across = { value = 0.5, unit = "width", source = "invented [A]" }
up = { value = 10, unit = "in", from = "top", source = "invented [A]" }
[ball_sizes.small]
diameter = { value = 48, unit = "mm", source = "invented [A]" }
mass = { value = 94, unit = "g", source = "invented [A]" }
[ball_sizes.large]
diameter = { value = 2, unit = "in", source = "invented [A]" }
mass = { value = 116, unit = "g", source = "invented [A]" }
[balls]
1 = { size = "large", letter = "1", tint = "red", spot = "head" }
white = { size = "small", letter = "W", tint = "white" }
[cue]
mass = { value = 500, unit = "g", source = "invented [A]" }
tip_restitution = { value = 0.7, unit = "1", source = "invented [A]" }
tip_radius = { value = 6, unit = "mm", source = "invented [A]" }
ball_to_end_mass = { value = 20, unit = "1", source = "invented [A]" }
safe_offset = { value = 0.4, unit = "R", source = "invented [A]" }
miscue_offset = { value = 0.5, unit = "R", source = "invented [A]" }
[cloths.only]
title = "the only cloth"
sliding_friction = { value = 0.2, unit = "1", source = "invented [A]" }
rolling_resistance = { value = 0.01, unit = "1", source = "invented [A]" }
spin_deceleration = { value = 10, unit = "rad/s²", source = "invented [A]" }
ball_restitution = { value = 0.95, unit = "1", source = "invented [A]" }
ball_friction = { value = 0.06, unit = "1", source = "invented [A]" }
cushion_restitution = { value = 0.9, unit = "1", source = "invented [A]" }
cushion_friction = { value = 0.2, unit = "1", source = "invented [A]" }
gravity = { value = 9.81, unit = "m/s²", source = "invented [A]" }
"""


def faults_of(text: str) -> list[str]:
    with pytest.raises(InputError) as raised:
        parse_table(text, "t", "t.toml")
    for fault in raised.value.faults:
        assert fault.what and fault.given and fault.allowed and fault.remedy and fault.line
    return raised.value.messages()


def test_a_table_of_another_game() -> None:
    table = parse_table(SMALL_TABLE, "small")
    assert list(table.balls) == ["white", "1"]  # the cue ball first
    assert table.balls["1"].radius == pytest.approx(0.0254, rel=1e-15)  # an inch
    assert table.balls["white"].mass == pytest.approx(0.094, rel=1e-15)
    assert table.spots["head"] == pytest.approx((0.5, 2 - 0.254), abs=1e-15)
    assert table.baulk_line is None and table.d_radius is None
    assert table.pockets == () and table.jaws == ()
    assert [nose.name for nose in table.noses] == ["baulk", "right", "top", "left"]
    assert [(n.start, n.end) for n in table.noses] == [(n.start, n.end) for n in table.plain_noses]
    assert table.default_cloth().coefficients.ball_friction == 0.06


def test_every_fault_of_a_table_file_is_reported_with_its_line() -> None:
    bad = SMALL_TABLE.replace('value = 35, unit = "mm"', 'value = true, unit = "ell"')
    bad = bad.replace('letter = "1", ', "").replace(
        'mass = { value = 500, unit = "g"', "mass = { a = 1"
    )
    messages = "\n".join(faults_of(bad))
    assert "t.toml:9: cushion.nose_height.value: the nose height must be a number" in messages
    assert 't.toml:9: cushion.nose_height.unit: the unit is not known; given "ell"' in messages
    assert "t.toml:20: balls.1.letter: the letter is missing" in messages
    assert "t.toml:23: cue.mass.a: there is no such key here" in messages


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('value = 35, unit = "mm"', 'value = 50, unit = "mm"', "above the top of a ball"),
        ('value = 10, unit = "in"', 'value = 99, unit = "in"', "not on the table"),
        ('spot = "head"', 'spot = "foot"', "spot is not on the table"),
        ('cue_ball = "white"', 'cue_ball = "wite"', "the cue ball is not known"),
        ("value = 0.95", "value = 1.2", "out of proportion"),
        ("value = 0.95", "value = 0", "too small"),
        ('size = "large"', 'size = "huge"', "the size is not known"),
        ("[cloths.only]", "[cloths]", "cloths.title"),
        ('game = "invented"', "", "game is missing"),
    ],
)
def test_faults_in_words(old: str, new: str, said: str) -> None:
    assert old in SMALL_TABLE
    assert said in "\n".join(faults_of(SMALL_TABLE.replace(old, new)))


def test_pockets_that_leave_no_cushion_are_a_fault() -> None:
    wide = SHIPPED.read_text("utf-8").replace("mouth = { value = 92", "mouth = { value = 3500")
    assert "leave no straight cushion" in "\n".join(faults_of(wide))


def test_rack_must_use_up_its_group() -> None:
    short = SHIPPED.read_text("utf-8").replace("rows = { value = 5", "rows = { value = 4")
    assert "does not fit its balls" in "\n".join(faults_of(short))


def test_only_corner_pockets() -> None:
    edge = boundary(3.0, 1.5, PocketShape(0.1, 0.05, 0.05), None)
    assert [pocket.name for pocket in edge.pockets] == [
        "bottom left",
        "bottom right",
        "top left",
        "top right",
    ]
    assert [nose.name for nose in edge.noses] == ["baulk", "right", "top", "left"]


def test_a_table_file_is_read_again_when_it_changes(tmp_path: Path) -> None:
    path = tmp_path / "small.toml"
    path.write_text(SMALL_TABLE, "utf-8")
    first = load_table("small.toml", tmp_path)
    assert load_table("small.toml", tmp_path) is first
    path.write_text(SMALL_TABLE.replace("A small table", "Another small table"), "utf-8")
    assert load_table("small.toml", tmp_path).title == "Another small table without pockets"


def test_unknown_table_suggests_the_nearest() -> None:
    with pytest.raises(InputError) as raised:
        load_table("snoker-12ft")
    assert raised.value.faults[0].remedy == '"snooker-12ft"'


@given(st.data())
def test_a_damaged_table_file_gives_an_input_error_or_a_table(data: st.DataObject) -> None:
    lines = SMALL_TABLE.splitlines()
    for _ in range(data.draw(st.integers(1, 3))):
        index = data.draw(st.integers(0, len(lines) - 1))
        junk = st.sampled_from(["", "x", "x = nan", "[balls.white]", "[[cloths]]", "cue = 3", "="])
        lines[index] = data.draw(junk | st.just(lines[index] + "#") | st.text(max_size=20))
    try:
        table = parse_table("\n".join(lines), "t")
    except InputError as error:
        assert error.faults
    else:
        assert table.cue_ball in table.balls
