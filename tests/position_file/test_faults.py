"""Every fault of a position file: its line, the value given, what is allowed, what to try."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from stunline.errors import Fault, InputError
from stunline.shot.position_file import parse_position

GOOD = """\
table = "snooker-12ft"
[coefficients]
gravity = 9.81
[balls]
white = [150.0, 3050.0]
black = [600.0, 3060.0]
reds = "triangle"
[strike]
pot = { ball = "black", pocket = "top right" }
pace = 1.7
height = 10.5
"""


def faults_of(text: str, folder: Path | None = None) -> tuple[Fault, ...]:
    with pytest.raises(InputError) as raised:
        parse_position(text, "p.toml", folder)
    for fault in raised.value.faults:
        assert fault.what and fault.given and fault.allowed and fault.remedy, fault
        assert fault.line is not None and 1 <= fault.line <= text.count("\n") + 1
        assert "\n" not in fault.sentence()
    return raised.value.faults


def only_fault(old: str, new: str) -> Fault:
    """The one fault that replacing this text in a good file makes."""
    assert old in GOOD
    (fault,) = faults_of(GOOD.replace(old, new))
    return fault


CASES = tomllib.loads(Path(__file__).with_name("faults.toml").read_text("utf-8"))


@pytest.mark.parametrize(
    "case", CASES["changed"], ids=[f"{case['key']}: {case['what']}" for case in CASES["changed"]]
)
def test_a_fault_says_where_what_and_what_to_try(case: dict[str, Any]) -> None:
    fault = only_fault(case["old"], case["new"])
    assert (fault.line, fault.key) == (case["line"], case["key"])
    for part in ("what", "given", "allowed", "remedy"):
        assert case[part] in getattr(fault, part)


@pytest.mark.parametrize("case", CASES["added"], ids=[case["what"] for case in CASES["added"]])
def test_faults_of_strike_ladder_and_goal(case: dict[str, Any]) -> None:
    head = 'table = "snooker-12ft"\n[balls]\nwhite = [500, 2000]\nblack = "black"\n'
    (fault,) = faults_of(f"{head}[strike]\npace = 1\n{case['lines']}")
    assert case["what"] in fault.what
    assert case["remedy"] in fault.remedy


def test_all_faults_come_at_once_in_the_order_of_the_file() -> None:
    bad = GOOD.replace("9.81", "nan").replace("[600.0, 3060.0]", "[600.0]").replace("1.7", "99")
    bad = bad.replace("top right", "top") + "[ladder]\nvary = 'pace'\nvalues = [1, true]\n"
    assert [fault.line for fault in faults_of(bad)] == [3, 6, 9, 10, 14]


def test_a_fault_in_a_long_list_has_its_own_line() -> None:
    reds = "reds = [\n[300, 300],\n# a comment\n[400, 300],\n[500, true],\n]"
    assert only_fault('reds = "triangle"', reds).line == 11


def test_hundreds_of_unknown_keys_are_counted_not_listed() -> None:
    faults = faults_of("\n".join(f"key{number} = 1" for number in range(500)) + "\n" + GOOD)
    assert len(faults) == 11
    assert faults[-1].given == "490 more"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (GOOD.replace("[balls]", "[balls"), 4),
        (GOOD.replace("pace = 1.7", "pace = "), 10),
        (GOOD.replace("pace = 1.7", "pace = 1.7\npace = 2"), 11),
        (GOOD + 'title = "never closed', 12),
        (GOOD + "x = " + "[" * 5000 + "]" * 5000, 1),
        (GOOD + "x = " + "1" * 5000, 1),
    ],
)
def test_broken_toml_names_its_line(text: str, line: int) -> None:
    (fault,) = faults_of(text)
    assert fault.line == line


@pytest.mark.parametrize("name", ["/etc/table.toml", "../table.toml", "C:\\table.toml", "~/t.toml"])
def test_a_table_file_must_stand_beside(name: str, tmp_path: Path) -> None:
    (fault,) = faults_of(GOOD.replace('"snooker-12ft"', f"'{name}'"), tmp_path)
    assert "must stand beside" in fault.what


def test_faults_of_a_table_file_are_passed_on_with_its_line(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text("title = 3\n", "utf-8")
    faults = faults_of(GOOD.replace("snooker-12ft", "own.toml"), tmp_path)
    assert {fault.line for fault in faults} == {1}
    assert any("in own.toml, line 1: title: the title must be a text" in f.what for f in faults)
    (missing,) = faults_of(GOOD.replace("snooker-12ft", "onw.toml"), tmp_path)
    assert '"own.toml", which is there' in missing.remedy
    assert "no such file in the folder" in missing.what
