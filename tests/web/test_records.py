"""Records of gauging on the page: started, filled in, kept as typed, told what is wrong, fitted."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from stunline.calibration.menu import FULL
from stunline.calibration.record_file import read_open_record
from stunline.equipment.catalogue import load_table
from stunline.errors import InputError
from stunline.tasks.library import Library, TakenNameError, open_library
from stunline.tasks.library_list import list_positions
from stunline.tasks.page_gauge_fit import fit_for_page
from stunline.tasks.page_gauge_plan import shot_plan
from stunline.tasks.page_record_errors import ChangedRecordError
from stunline.tasks.page_records import (
    RecordWish,
    add_shots,
    change_head,
    list_records,
    open_record,
    play_again,
    save_entry,
    start_record,
)

Shape = dict[str, Any]
# An invented table's quick check; the same as in docs/gauging.md.
QUICK: tuple[Shape, ...] = (
    {"white_rest": ["891", "1540"], "time": "4.15"},
    {"white_rest": ["885", "2130"], "time": "5,25 s"},
    {
        "white_rest": ["1725", "2759"],
        "object_rest": ["157", "2445"],
        "white_cushion": {"cushion": "right", "at": "2719"},
    },
)


@pytest.fixture
def library(tmp_path: Path) -> Library:
    return open_library(str(tmp_path / "library"))


def wish(**changed: Any) -> RecordWish:
    asked = {"table": "snooker-12ft", "cloth": "match", "full": False, "gap": 0.0, "title": ""}
    return RecordWish(**{**asked, **changed})


def typed(library: Library, record: Shape, number: int, **entry: Any) -> Shape:
    return save_entry(library, record["name"], number, record["order"], entry)


def filled(library: Library) -> Shape:
    record = start_record(library, wish(title="Invented table"))
    for number, entry in enumerate(QUICK):
        record = typed(library, record, number, **entry)
    return record


def test_a_record_is_started_beside_another_and_listed(library: Library) -> None:
    first = start_record(library, wish(title="Harbour Lane: table 3"))
    second = start_record(library, wish(title="Harbour Lane: table 3", full=True, gap=30.0))
    assert first["name"] == f"harbour-lane-table-3-{first['date']}"
    assert second["name"] == f"{first['name']} 2"
    assert [len(one["plays"]) for one in (first, second)] == [3, 12]
    assert {(one["name"], one["plays"]) for one in list_records(library)["records"]} == {
        (first["name"], 3),
        (second["name"], 12),
    }
    # It is no position, and the list of those says where it is opened.
    left_out = dict(list_positions(library).left_out)
    assert "record of gauging" in left_out[first["name"] + ".toml"]


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"table": "no-such"}, "table"),
        ({"table": "../elsewhere.toml"}, "must stand in the library"),
        ({"cloth": "velvet"}, "the cloth is not known"),
        ({"gap": 52.0}, "the gap of the groove is too large"),
    ],
)
def test_a_record_that_can_not_be_is_refused_and_nothing_written(
    library: Library, changed: Shape, said: str
) -> None:
    with pytest.raises(InputError, match=said):
        start_record(library, wish(**changed))
    assert list(library.folder.glob("*.toml")) == []


def test_what_is_typed_stands_in_the_file_as_a_record_reads_it(library: Library) -> None:
    record = filled(library)
    assert [play["state"] for play in record["plays"]] == ["done"] * 3
    assert record["plays"][1]["entry"]["time"] == "5.25"
    path = library.path(record["name"])
    assert "# Mind:" in path.read_text("utf-8")  # comments are still there
    read = read_open_record(str(path))
    assert read.faults == ()
    assert [play.readings[0].values for play in read.record.plays] == [
        pytest.approx(values) for values in ((0.891, 1.540), (0.885, 2.130), (1.725, 2.759))
    ]
    record = typed(library, record, 0, time="")
    assert record["plays"][0]["entry"]["time"] == ""
    assert "time" not in tomllib.loads(path.read_text("utf-8"))["measured"][0]


def test_what_is_wrong_is_kept_and_told_by_its_key(library: Library) -> None:
    record = start_record(library, wish())
    record = typed(library, record, 0, white_rest=["35.0", "104.3"], time="-4.2")
    play = record["plays"][0]
    assert play["state"] == "faulty"
    told = {one["key"]: one for one in play["faults"]}
    assert told["white_rest"]["what"] == "white_rest looks like inches"
    assert told["time"]["what"] == "the time is negative"
    assert all(one["allowed"] and one["remedy"] for one in told.values())
    assert (play["entry"]["white_rest"], play["entry"]["time"]) == (["35", "104.3"], "-4.2")
    assert "left 889" in str(shot_plan(library, record["name"], 0, "light", 600.0)["rows"])
    record = typed(library, record, 0, white_rest=["35 in", "60 1/2 in"], time="four")
    play = open_record(library, record["name"])["plays"][0]
    assert [one["key"] for one in play["faults"]] == ["time"]
    assert play["entry"]["white_rest"] == ["35 in", "60 1/2 in"]
    assert record["plays"][1]["state"] == record["plays"][2]["state"] == "open"


def test_half_a_place_is_missing_not_wrong(library: Library) -> None:
    record = start_record(library, wish())
    record = typed(library, record, 2, white_rest=["889", ""], white_cushion={"at": "2719"})
    play = record["plays"][2]
    assert (play["state"], play["faults"]) == ("part", [])
    assert set(play["missing"]) == {"white_rest", "object_rest", "white_cushion"}
    assert play["entry"]["white_rest"] == ["889", ""]


def test_a_shot_is_played_again_and_old_numbers_are_not_taken_for_new(library: Library) -> None:
    first = typed(library, start_record(library, wish()), 0, white_rest=["891", "1540"])
    record = play_again(library, first["name"], 0, first["order"])
    assert [play["name"] for play in record["plays"]][:2] == ["roll-up", "roll-up (2)"]
    assert [play["state"] for play in record["plays"]] == ["done", "open", "open", "open"]
    with pytest.raises(ChangedRecordError, match="were changed elsewhere"):
        typed(library, first, 1, white_rest=["885", "2130"])
    record = typed(library, record, 1, white_rest=["889", "1533"])
    assert record["plays"][1]["state"] == "done"


def test_a_quick_check_goes_on_to_the_dozen(library: Library) -> None:
    record = typed(library, start_record(library, wish()), 2, white_rest=["1725", "2759"])
    grown = add_shots(library, record["name"], record["dozen"], record["order"])
    assert sorted(play["shot"] for play in grown["plays"]) == sorted(FULL)
    assert grown["dozen"] == []
    assert [play["state"] for play in grown["plays"]] == ["open", "open", "part", *["open"] * 9]
    read = read_open_record(str(library.path(record["name"])))
    assert {fault.what for fault in read.faults} == {"object_rest of half-ball is missing"}
    with pytest.raises(InputError, match="no such shot"):
        add_shots(library, record["name"], ["trick-shot"], grown["order"])


def test_what_the_record_rests_on_is_mended_in_its_own_lines(library: Library) -> None:
    record = start_record(library, wish(title="Before"))
    name, order = record["name"], record["order"]
    path = library.path(name)
    before = path.read_text("utf-8").splitlines()
    grown = change_head(library, name, order, "After", "club", "52")
    assert [one["key"] for one in grown["faults"]] == ["ramp.gap"]  # it would fall through
    assert (grown["title"], grown["cloth"], grown["gap"]) == ("After", "club", "52")
    assert change_head(library, name, order, "", "", "30")["faults"] == []
    after = path.read_text("utf-8").splitlines()
    changed = [line for old, line in zip(before, after, strict=True) if old != line]
    assert [line.split(" = ")[0] for line in changed] == ["title", "cloth", "gap"]
    assert read_open_record(str(path)).record.ramp.gap == pytest.approx(0.030)
    path.write_text('measured = [{ shot = "twirl" }]\n', "utf-8")
    bare = open_record(library, name)
    assert change_head(library, name, bare["order"], "By hand", "", "20")["gap"] == "20"


def test_a_set_up_of_ones_own_moves_the_plan(library: Library) -> None:
    record = start_record(library, wish())
    before = shot_plan(library, record["name"], 0, "light", 600.0)
    record = typed(library, record, 0, white=["889", "600"], drop="12")
    after = shot_plan(library, record["name"], 0, "light", 600.0)
    assert ["ramp’s foot", "left 889, baulk 428 mm"] in before["rows"]
    assert ["ramp’s foot", "left 889, baulk 600 mm"] in after["rows"]
    assert any("12 mm" in words for _, words in after["rows"])
    assert before["svg"] != after["svg"]
    left, bottom, right, top = after["window"]
    assert left < 0 < 1778 < right and bottom < 0 < 3569 < top
    record = typed(library, record, 0, white=["889", "9000"])
    assert shot_plan(library, record["name"], 0, "light", 600.0)["svg"] == ""


ODD = (
    "measured = []",
    "measured = [1, 2]",
    '[[measured]]\nshot = ["roll-up"]',
    '[[measured]]\nshot = "roll-down"\nwhite_rest = { x = 1 }\ntime = [4]\nwhite = 3\ndrop = "x"',
    '[[measured]]\nshot = "bend-screw"\nwhite_cushion = "right"\nobject_rest = [[1], {}]',
    'ramp = 3\ntitle = 4\ndate = 2026-11-29\n[[measured]]\nshot = "twirl"\nturns = nan',
)


@pytest.mark.parametrize("text", ODD)
def test_an_odd_record_is_shown_with_what_is_wrong(library: Library, text: str) -> None:
    library.path("odd").write_text(text + "\n", "utf-8")
    record = open_record(library, "odd")
    assert record["plays"] or record["faults"] or text == "measured = []"
    for play in record["plays"]:
        assert play["state"] == "faulty"
        shot_plan(library, "odd", play["number"], "light", 600.0)
        mended = typed(library, record, play["number"], **dict.fromkeys(play["read"], ""))
        assert mended["plays"][0]["read"] == []


def test_a_record_written_by_hand_is_filled_in_too(library: Library) -> None:
    path = library.path("by hand")
    path.write_text('measured = [{ shot = "twirl" }, { shot = "roll-up" }]\n', "utf-8")
    record = typed(library, open_record(library, "by hand"), 0, turns="31", time="6.2")
    assert record["plays"][0]["state"] == "done"
    assert shot_plan(library, "by hand", 0, "light", 600.0)["svg"] == ""
    with pytest.raises(InputError, match="no record of gauging"):
        open_record(library, "stay-on-the-black")


def test_the_fit_narrows_what_was_assumed_and_writes_a_table(library: Library) -> None:
    record = filled(library)
    told: list[tuple[str, float, Shape]] = []
    fit_for_page(library.folder, record["name"], "harbour-lane-3", lambda *one: told.append(one))
    shares = [done for _, done, _ in told]
    assert shares == sorted(shares) and shares[-1] == 1.0
    found = told[-1][2]
    assert (found["plays"], found["readings"], found["suspects"]) == (3, 7, [])
    assert found["revision"] == record["revision"]
    rows = {row["name"]: row for row in found["rows"]}
    assert rows["rolling resistance"]["told"] and not rows["spin deceleration"]["told"]
    for row in rows.values():
        width = [row[key][1] - row[key][0] for key in ("now", "prior")]
        assert width[0] <= width[1] * 1.001
        assert (width[0] <= 0.8 * width[1]) == row["told"]  # docs/gauging.md: 80 % of the doubt
    assert {one["play"] for one in found["misses"]} == {0, 1, 2}
    assert found["table"] == "harbour-lane-3.toml"
    gauged = load_table("harbour-lane-3.toml", library.folder)
    (cloth,) = gauged.cloths.values()
    told_value = float(rows["rolling resistance"]["value"])
    assert cloth.coefficients.rolling_resistance == pytest.approx(told_value, rel=1e-3)
    with pytest.raises(TakenNameError, match="nothing was written"):
        fit_for_page(library.folder, record["name"], "harbour-lane-3", lambda *_: None)


def test_a_blunder_is_named_with_its_play(library: Library) -> None:
    record = filled(library)
    # The object ball's rest read from the wrong cushion: 1778 − 157 mm.
    record = typed(library, record, 2, object_rest=["1621", "2445"])
    told: list[Shape] = []
    fit_for_page(library.folder, record["name"], "", lambda _words, _done, one: told.append(one))
    (suspect,) = told[-1]["suspects"]
    assert (suspect["play"], suspect["name"]) == (2, "half-ball")
    assert "object ball" in suspect["words"]
    assert told[-1]["table"] == ""


def test_a_fit_that_is_overtaken_ends_without_a_result(library: Library) -> None:
    record, told = filled(library), []
    fit_for_page(
        library.folder, record["name"], "never", lambda *one: told.append(one), lambda: True
    )
    assert [one[2]["fitted"] for one in told] == [False]
    assert not library.holds("never")
