"""Table files that say only what differs from another table, and each game's own words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from stunline.equipment.based_on import shipped_table_path
from stunline.equipment.catalogue import load_table
from stunline.equipment.model import Words
from stunline.equipment.table_file import parse_table
from stunline.errors import InputError
from stunline.shot.ladder import climb
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.writing import to_toml

DOCS = Path(__file__).resolve().parents[2] / "docs" / "tables.md"
# Invented: a table that somebody has measured with a tape.
MEASURED = """
title = "The table at home"
based_on = "snooker-9ft"

[playing_area]
length = { value = 2600, unit = "mm", source = "measured with a tape [A]" }
width = { value = 1296, unit = "mm", source = "measured with a tape [A]" }
"""


def faults_of(text: str, folder: Path | None = None) -> list[str]:
    with pytest.raises(InputError) as raised:
        parse_table(text, "t", "t.toml", folder)
    for fault in raised.value.faults:
        assert fault.what and fault.given and fault.allowed and fault.remedy and fault.line
    return raised.value.messages()


def test_two_numbers_make_a_table() -> None:
    table, base = parse_table(MEASURED, "home"), load_table("snooker-9ft")
    assert (table.title, table.length, table.width) == ("The table at home", 2.6, 1.296)
    # [X] marks in units of the length follow it; balls, cue and cloths are the base's.
    assert table.baulk_line == pytest.approx(2.6 * 737 / 3569, abs=1e-6)
    assert table.spots["black"][1] == pytest.approx(2.6 * (1 - 324 / 3569), abs=1e-6)
    assert (table.balls, table.cue) == (base.balls, base.cue)
    assert [cloth.coefficients for cloth in table.cloths.values()] == [
        cloth.coefficients for cloth in base.cloths.values()
    ]


def test_what_is_taken_over_says_from_where() -> None:
    sources = parse_table(MEASURED, "home").sources
    assert sources["playing_area.length"].source == "measured with a tape [A]"
    assert sources["ball_sizes.snooker.diameter"].source.startswith("as snooker-9ft: 2 1/16 in")
    # Through two tables it is the one where the number stands that is named.
    assert sources["cue.mass"].source.startswith("as snooker-12ft: assumption")


def test_a_number_replaces_another_and_a_section_only_adds() -> None:
    text = (
        MEASURED
        + """
[cloths.match]
rolling_resistance = { value = 0.02, unit = "1", source = "measured [A]" }
ball_friction = { value = 0.06, unit = "1", source = "measured [A]" }
[cloths.mine]
title = "none"
"""
    )
    (fault, *others) = faults_of(text)
    assert "cloths.mine" in fault and all("cloths.mine" in other for other in others)
    good = parse_table(text.split("[cloths.mine]")[0], "home").default_cloth().coefficients
    assert (good.rolling_resistance, good.ball_friction, good.sliding_friction) == (0.02, 0.06, 0.2)


def test_sections_left_out_are_gone() -> None:
    text = MEASURED.replace("title", 'leave_out = ["pockets", "racks", "groups"]\ntitle', 1)
    table = parse_table(text, "home")
    assert (table.pockets, table.racks, table.groups) == ((), {}, {})
    assert len(table.balls) == 22


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"snooker-9ft"', '"snoker-9ft"', "3: based_on: there is no table of that name"),
        ('"snooker-9ft"', "9", "3: based_on: the table that this one is based on must be named"),
        ('"snooker-9ft"', '"../o.toml"', "3: based_on: the table that this one is based on must"),
        ("title", 'leave_out = ["balls", "legs"]\ntitle', "2: leave_out: what is left out must be"),
        ("title", 'leave_out = "balls"\ntitle', "2: leave_out: what is left out must be"),
        ("2600", '"long"', "6: playing_area.length.value: the length must be a number"),
        ("title", 'colour = "blue"\ntitle', "2: colour: there is no such key here"),
    ],
)
def test_faults_have_their_line(old: str, new: str, said: str) -> None:
    assert f"t.toml:{said}" in "\n".join(faults_of(MEASURED.replace(old, new, 1)))


def test_a_number_taken_over_that_no_longer_fits_is_said_where_the_base_is_named() -> None:
    # A ball of 30 mm under a nose of 37 mm: the nose stands in the base's file.
    text = """title = "Toy carom"
based_on = "carom-10ft"
[ball_sizes.carom]
diameter = { value = 30, unit = "mm", source = "invented [A]" }
"""
    (message,) = faults_of(text)
    assert message.startswith("t.toml:2: cushion.nose_height: the nose is above the top of a ball")


def test_own_tables_may_be_based_on_one_another(tmp_path: Path) -> None:
    (tmp_path / "house.toml").write_text(MEASURED, "utf-8")
    short = 'title = "The same, worn"\nbased_on = "house.toml"\n'
    (tmp_path / "worn.toml").write_text(short, "utf-8")
    first = load_table("worn.toml", tmp_path)
    assert (first.title, first.length) == ("The same, worn", 2.6)
    assert load_table("worn.toml", tmp_path) is first
    (tmp_path / "house.toml").write_text(MEASURED.replace("2600", "2601"), "utf-8")
    assert load_table("worn.toml", tmp_path).length == 2.601
    (tmp_path / "p.toml").write_text(
        'table = "worn.toml"\n[balls]\nwhite = [500, 500]\n[strike]\naim = 90\npace = 1\n', "utf-8"
    )
    assert read_position_file(tmp_path / "p.toml").position.table.length == 2.601


def test_a_ladder_holds_a_shot_against_a_table_of_ones_own(tmp_path: Path) -> None:
    (tmp_path / "home.toml").write_text(MEASURED, "utf-8")
    path = tmp_path / "p.toml"
    path.write_text(
        'table = "home.toml"\n[balls]\nwhite = [500, 500]\n[strike]\naim = 90\npace = 1\n'
        '[ladder]\nvary = "table"\nvalues = ["home.toml", "snooker-9ft"]\n',
        "utf-8",
    )
    file = read_position_file(path)
    assert file.ladder is not None
    first, second = climb(file.position, file.plan, file.ladder).rungs
    assert (first.shot.position.table.length, second.shot.position.table.length) == (2.6, 2.6768)
    path.write_text(to_toml(file), "utf-8")  # which names the files again as it found them
    assert read_position_file(path) == file


def test_a_table_based_on_itself_is_refused(tmp_path: Path) -> None:
    for name, other in (("a", "b"), ("b", "a"), ("c", "c")):
        (tmp_path / f"{name}.toml").write_text(f'title = "x"\nbased_on = "{other}.toml"\n', "utf-8")
    for name in ("a", "c"):
        with pytest.raises(InputError) as raised:
            load_table(f"{name}.toml", tmp_path)
        assert "can't be based on itself" in str(raised.value)


def test_a_missing_base_is_named(tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_text(
        'table = "t.toml"\n[balls]\nwhite = [500, 500]\n[strike]\naim = 90\npace = 1\n', "utf-8"
    )
    (tmp_path / "t.toml").write_text('title = "x"\nbased_on = "house.toml"\n', "utf-8")
    with pytest.raises(InputError) as raised:
        read_position_file(tmp_path / "p.toml")
    assert "there is no such file" in str(raised.value)
    assert "house.toml" in str(raised.value)


# --- words -------------------------------------------------------------------------------------


def test_words_name_cushions_pockets_and_lines() -> None:
    table = load_table("pool-9ft")
    assert [nose.name for nose in table.plain_noses] == ["head", "right", "foot", "left"]
    names = [pocket.name for pocket in table.pockets]
    assert names == [
        "head left",
        "head right",
        "side left",
        "side right",
        "foot left",
        "foot right",
    ]
    for name, pocket in zip(names, table.pockets, strict=True):
        x, y = pocket.mouth_middle
        assert ("left" in name) == (x < table.width / 2)
        assert ("head" in name, "foot" in name) == (y < 0.4 * table.length, y > 0.6 * table.length)
    assert {jaw.pocket for jaw in table.jaws} == set(names)
    assert load_table("english-pool-7ft").words == Words()


def test_places_are_counted_from_the_games_own_cushions() -> None:
    text = shipped_table_path("carom-10ft").read_text("utf-8")
    moved = re.sub(
        r"(\[spots\.foot\].*?up = \{ value = )0\.75(, unit = \"length\")",
        r'\g<1>0.25\2, from = "foot"',
        text,
        flags=re.DOTALL,
    )
    assert parse_table(moved, "t").spots["foot"] == load_table("carom-10ft").spots["foot"]
    messages = "\n".join(faults_of(moved.replace('from = "foot"', 'from = "top"')))
    assert "this place is not on the table" in messages
    assert "from head, foot or centre" in messages


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ('cushions = ["head", "right", "foot"]', "cushions must be 4 different names"),
        ('cushions = ["a", "a", "b", "c"]', "cushions must be 4 different names"),
        ('pockets = "six"', "pockets must be 6 different names"),
        ('behind_line = ""', "the area must be a text"),
        ('line = "balk line"', "there is no such key here"),
    ],
)
def test_faulty_words(words: str, said: str) -> None:
    assert said in "\n".join(faults_of(f"{MEASURED}\n[words]\n{words}\n"))


def test_one_line_across_the_near_end() -> None:
    both = MEASURED + '\n[markings]\nhead_string = { value = 500, unit = "mm", source = "x [A]" }\n'
    assert "a table has one line across its near end" in "\n".join(faults_of(both))


def test_a_rack_is_filled_once() -> None:
    both = MEASURED + '\n[racks.triangle]\nballs = ["red1"]\n'
    assert "a rack is filled with a group, or with balls" in "\n".join(faults_of(both))
    few = MEASURED.replace("title", 'leave_out = ["racks"]\ntitle', 1) + (
        '\n[racks.three]\nballs = ["red1", "red2", "red3"]\napex_spot = "pink"\n'
        'rows = { value = 2, unit = "rows", source = "x [A]" }\n'
        'apex_above_spot = { value = 0, unit = "mm", source = "x [A]" }\n'
    )
    assert list(parse_table(few, "t").racks["three"]) == ["red1", "red2", "red3"]


# --- the page about tables ------------------------------------------------------------------------


def test_the_examples_of_the_page_are_tables(tmp_path: Path) -> None:
    examples = re.findall(r"```toml\n(.*?)```", DOCS.read_text("utf-8"), re.DOTALL)
    assert len(examples) >= 2
    for number, text in enumerate(examples):
        (tmp_path / f"{number}.toml").write_text(text, "utf-8")
        assert load_table(f"{number}.toml", tmp_path).balls
