"""Record files: what they may hold, and every mistake by its line."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from stunline.calibration.menu import BY_ID, FULL, MENU, QUICK
from stunline.calibration.record_file import parse_record
from stunline.calibration.record_writing import new_record
from stunline.equipment.based_on import table_names
from stunline.errors import InputError

DOCS = Path(__file__).resolve().parents[2] / "docs" / "gauging.md"

GOOD = """\
table = "snooker-12ft"
[[measured]]
shot = "roll-up"
white_rest = [889, 1540]
time = 4.2
[[measured]]
shot = "roll-up"
drop = "1 in"
timed_by = "frames"
white_rest = ["35 in", "60 1/2 in"]
time = 4.2
"""


def test_lengths_become_metres_and_repeated_shots_get_names() -> None:
    read = parse_record(GOOD)
    assert read.faults == ()
    first, second = read.record.plays
    assert (first.name, second.name) == ("roll-up", "roll-up (2)")
    assert first.readings[0].values == pytest.approx((0.889, 1.540))
    assert (first.readings[1].error, second.readings[1].error) == (0.15, 0.02)
    assert second.drop == pytest.approx(0.0254)
    assert second.readings[0].values == pytest.approx((0.889, 1.5367))  # 35 and 60.5 times 25.4 mm


BAD = [
    ("white_rest = [35.0, 104.3]", "white_rest looks like inches"),
    ("white_rest = [889, 4100]", "from the baulk cushion is too large"),
    ("white_rest = [-3, 410]", "from the left cushion is too small"),
    ("white_rest = [889]", "must be two lengths"),
    ('white_rest = "889, 410"', "must be two lengths"),
    ('white_rest = ["35 feet", 410]', "is not a unit of length"),
    ("white_rest = [nan, 410]", "is not a finite number"),
    ("time = -4.2", "the time is negative"),
    ("time = 4200", "the time is too large"),
    ('time = "4.2 s"', "the time must be a number"),
    ('timed_by = "sundial"\ntime = 4.2', "the way of timing is not known"),
    ("drop = 1.5\nwhite_rest = [889, 1500]", "the drop of the ball on the ramp is too small"),
    ("tme = 4.2", "there is no such key here"),
    ("object_rest = [889, 1500]", "roll-up has no object_rest"),
    ("time = 4.2", "white_rest of third is missing"),
]


@pytest.mark.parametrize(("lines", "said"), BAD)
def test_a_mistake_is_named_with_its_line_and_the_rest_is_read(lines: str, said: str) -> None:
    text = GOOD + f'[[measured]]\nshot = "roll-up"\nname = "third"\n{lines}\n'
    read = parse_record(text, "record.toml")
    found = [fault for fault in read.faults if said in fault.what]
    assert found, [fault.what for fault in read.faults]
    assert found[0].line is not None and found[0].line >= 11
    assert found[0].given and found[0].allowed and found[0].remedy
    assert [play.name for play in read.record.plays][:2] == ["roll-up", "roll-up (2)"]


def test_what_is_sound_in_a_faulty_measurement_is_kept() -> None:
    text = '[[measured]]\nshot = "roll-up"\nwhite_rest = [889, 4100]\ntime = 4.2\n'
    (play,) = parse_record(text).record.plays
    assert [one.kind for one in play.readings] == ["time"]


def test_a_shot_whose_set_up_is_not_known_says_nothing() -> None:
    text = GOOD + '[[measured]]\nshot = "cushion-square"\ndrop = 4\nwhite_rest = [889, 2000]\n'
    assert len(parse_record(text).record.plays) == 2


def test_two_balls_in_one_place() -> None:
    text = GOOD + (
        '[[measured]]\nshot = "full-ball"\nwhite_rest = [889, 2000]\nobject_rest = [889, 2010]\n'
    )
    read = parse_record(text)
    (fault,) = read.faults
    assert (fault.what, fault.line) == ("the two balls would stand in one another", 15)
    assert fault.given == "10 mm between their centres"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "measured = 3",
        "measured = [3]",
        '[[measured]]\nshot = "roll-up"\n',
        '[[measured]]\nshot = "rol-up"\ntime = 3.0\n',
        'table = "snooker-13ft"\n',
        "[[measured]\n",
    ],
)
def test_nothing_that_can_be_used_is_an_error_and_no_traceback(text: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_record(text, "record.toml")
    assert all(fault.what and fault.allowed and fault.remedy for fault in caught.value.faults)


@pytest.mark.parametrize("full", [False, True])
def test_a_new_record_is_read_without_a_fault_once_filled_in(full: bool) -> None:
    text = re.sub(r"^# (white_rest|object_rest|time|turns|white_cushion|object_cushion) =", r"\1 =",
                  new_record(full), flags=re.MULTILINE)  # fmt: skip
    text = text.replace("white_rest = [0, 0]", "white_rest = [900, 900]")
    text = text.replace("object_rest = [0, 0]", "object_rest = [400, 400]")
    text = text.replace("time = 0.0", "time = 5.0").replace("turns = 0", "turns = 30")
    read = parse_record(text)
    assert read.faults == ()
    assert tuple(play.shot.id for play in read.record.plays) == (FULL if full else QUICK)


@pytest.mark.parametrize("table", table_names())
def test_every_table_has_room_for_the_menu(table: str) -> None:
    text = new_record(True, table).replace("# white_rest = [0, 0]", "white_rest = [300, 300]")
    text = text.replace("# object_rest = [0, 0]", "object_rest = [500, 500]")
    assert parse_record(text).record.plays


def test_every_shot_says_all_that_a_coach_needs() -> None:
    assert len(FULL) == 12 and len(QUICK) == 3 and set(QUICK) <= set(FULL) <= set(BY_ID)
    for shot in MENU:
        words = (shot.title, shot.set_up, shot.do, shot.write_down, shot.tells, shot.caution)
        assert all(words), shot.id
        assert set(shot.needed) <= set(shot.readings)
        assert f"| `{shot.id}` |" in DOCS.read_text(encoding="utf-8")
