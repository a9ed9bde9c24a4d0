"""``stunline choose``: its text, JSON and pictures, what it refuses, and Ctrl-C."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli import schemas
from cli.command import run
from cli.interrupting import interrupted
from stunline.equipment.catalogue import load_table
from stunline.shot.play import play
from stunline.shot.position import Strike
from stunline.shot.position_file import read_position_file
from stunline.tasks.choose_strike import LETTERS
from stunline.units import metres, radians

GOAL = """\
title = "Red, then the black"
table = "snooker-12ft"
[balls]
white = [600.0, 2400.0]
red1 = [400.0, 2900.0]
black = "black"
[strike]
pot = { ball = "red1", pocket = "top left" }
pace = 1.8
[goal]
next = { ball = "black", cut = [5.0, 45.0] }
vary = { pace = [0.6, 3.0], height = [-12.0, 12.0] }
"""
# Every play opens the pack, so that a search takes minutes.
PACK = """\
title = "Off the end red"
table = "snooker-12ft"
[balls]
white = [1050.0, 650.0]
reds = "triangle"
[strike]
contact = { ball = "red1", thickness = 0.8, on = "right" }
pace = 3.0
[goal]
rest = "baulk"
vary = { pace = [2.0, 5.0], height = [-12.0, 12.0] }
"""
MIRA = """\
title = "Mira"
source = "invented"
[scatter]
aim = 0.2
pace = 9.0
height = 2.0
side = 1.0
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """With a file that has a goal, and a pupil's scatter."""
    (tmp_path / "goal.toml").write_text(GOAL, encoding="utf-8")
    (tmp_path / "mira.toml").write_text(MIRA, encoding="utf-8")
    return tmp_path


def test_text_tells_the_goal_the_ways_and_how_much_they_forgive(folder: Path) -> None:
    done = run("choose", "goal.toml", "--strikes", "900", folder=folder)
    assert done.code == 0, done.err
    for words in (
        "pot red 1, top left", "the black can be potted next, cut 5 to 45°", "A club player",
        "an assumption", "A  ", "in 10 (", "aim may be", "° right,", "% soft,", "mm low,",
        "fails first", "assumed, not measured",
    ):  # fmt: skip
        assert words in done.out, words
    assert done.err == ""
    assert run("choose", "goal.toml", "--strikes", "900", folder=folder).out == done.out


def test_json_is_as_promised_and_typed_back_its_strike_meets_the_goal(folder: Path) -> None:
    shape = run("choose", "goal.toml", "--strikes", "900", "--player", "mira.toml", "--json",
                folder=folder).shape  # fmt: skip
    assert schemas.faults("choose", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["choose"], "choose") == []
    assert shape["player"]["title"] == "Mira"
    assert shape["options"]
    position = read_position_file(folder / "goal.toml").position
    for option in shape["options"]:
        one = option["strike"]
        low, high = option["chance_interval"]
        assert low <= option["chance"] <= high
        strike = Strike(
            radians(one["aim"]), one["pace"], metres(one["height"]), metres(one["side"]),
            radians(one["elevation"]),
        )  # fmt: skip
        assert play(position, strike).potted("red1") == "top left"


@pytest.mark.parametrize("ending", ["svg", "png", "pdf"])
def test_the_picture_is_written(folder: Path, ending: str) -> None:
    done = run("choose", "goal.toml", "--strikes", "400", "-o", f"ways.{ending}", folder=folder)
    assert done.code == 0, done.err
    assert (folder / f"ways.{ending}").stat().st_size > 3_000


def test_the_face_shows_the_ways_contacts(folder: Path) -> None:
    done = run("choose", "goal.toml", "--strikes", "400", "-o", "face.svg", "--show", "face",
               folder=folder)  # fmt: skip
    assert done.code == 0, done.err
    assert ">A</text>" in (folder / "face.svg").read_text(encoding="utf-8")


def test_when_nothing_works_it_says_what_would_help_and_draws_nothing(folder: Path) -> None:
    text = GOAL.replace("pace = [0.6, 3.0]", "pace = [0.9, 1.2]").replace(
        'next = { ball = "black", cut = [5.0, 45.0] }', 'rest = "D"'
    )
    (folder / "hard.toml").write_text(text, encoding="utf-8")
    done = run("choose", "hard.toml", "--strikes", "400", "-o", "no.svg", folder=folder)
    assert done.code == 0, done.err
    assert "No strike of these meets the goal" in done.out
    assert "rest  the area " in done.out
    assert " mm larger; then " in done.out
    assert "was not written" in done.err
    assert not (folder / "no.svg").exists()


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("[goal]\n", "[goals]\n", "goals"),
        (GOAL[GOAL.index("[goal]") :], "", "the file has no [goal]"),
        ("vary =", 'player = "clbu"\nvary =', "there is no player of that name"),
        ("vary =", 'player = "nobody.toml"\nvary =', "nobody.toml"),
        ("[0.6, 3.0]", "[3.0, 0.6]", "the range runs backwards"),
        ('ball = "black", cut', 'ball = "green", cut', "green"),
        ("vary =", 'touch = ["black"]\nmiss = ["black"]\nvary =', "to be met and to be missed"),
    ],
)
def test_what_is_wrong_is_said_with_its_line(folder: Path, old: str, new: str, said: str) -> None:
    assert old in GOAL
    (folder / "bad.toml").write_text(GOAL.replace(old, new, 1), encoding="utf-8")
    done = run("choose", "bad.toml", folder=folder)
    assert done.code == 2
    assert said in done.err
    assert "bad.toml" in done.err or "nobody.toml" in done.err
    assert "Traceback" not in done.err
    assert done.out == ""


def test_a_player_file_is_checked_number_by_number(folder: Path) -> None:
    text = MIRA.replace("aim = 0.2", "aim = -0.2").replace("side = 1.0", "sied = 1.0")
    (folder / "bad.toml").write_text(text, encoding="utf-8")
    done = run("choose", "goal.toml", "--player", "bad.toml", folder=folder)
    assert done.code == 2
    assert (
        "bad.toml:4: scatter.aim: the scatter of aim is too small; given -0.2 degrees" in done.err
    )
    assert "bad.toml:7: scatter.sied" in done.err
    named = run("choose", "goal.toml", "--player", "clbu", folder=folder)
    assert named.code == 2
    assert 'try: "club"' in named.err


@pytest.mark.parametrize(("option", "value"), [("--strikes", "3"), ("--seed", "-1")])
def test_numbers_out_of_bounds_are_refused(folder: Path, option: str, value: str) -> None:
    done = run("choose", "goal.toml", option, value, folder=folder)
    assert done.code == 2
    assert option in done.err
    assert f"given {value}" in done.err


def test_an_interrupt_keeps_what_was_found(folder: Path) -> None:
    (folder / "pack.toml").write_text(PACK, encoding="utf-8")
    done = interrupted("choose", "pack.toml", "--strikes", "1000000", folder=folder)
    assert "Traceback" not in done.err
    assert done.code == 130
    assert "strikes meet the goal" in " ".join(done.out.split())
    assert "interrupted" in done.err


def test_a_way_that_forgives_nothing_is_called_a_knife_edge(folder: Path) -> None:
    # The white is to stop within 4 mm: a little height or pace moves it as far.
    text = GOAL.replace(
        'next = { ball = "black", cut = [5.0, 45.0] }', "rest = { circle = [506.0, 2950.0, 4.0] }"
    )
    narrow = text.replace("[0.6, 3.0]", "[1.7, 1.9]").replace("[-12.0, 12.0]", "[-9.5, -7.5]")
    (folder / "edge.toml").write_text(narrow, encoding="utf-8")
    (folder / "wide.toml").write_text(text.replace(", 4.0]", ", 600.0]"), encoding="utf-8")
    edge = run("choose", "edge.toml", "--strikes", "3000", folder=folder)
    wide = run("choose", "wide.toml", "--strikes", "900", folder=folder)
    assert "A  " in edge.out and "knife-edge" in edge.out, edge.out
    assert "A  " in wide.out and "knife-edge" not in wide.out.split("\nD  ")[0]
    assert "0.00°" not in edge.out and "0.0 mm" not in edge.out.split("A  ")[1]


def test_a_tip_past_what_is_advised_is_told(folder: Path) -> None:
    text = GOAL.replace("height = [-12.0, 12.0]", "height = -12.5")
    (folder / "far.toml").write_text(text, encoding="utf-8")
    done = run("choose", "far.toml", "--strikes", "400", folder=folder)
    assert "past the advised limit of 11.8 mm; slips off on" in done.out, done.out
    reach = run("reach", "far.toml", folder=folder)
    assert "(past the advised limit)" in reach.out and "a club player's does on" in reach.out


@pytest.mark.parametrize(
    "name", ["snooker-12ft", "billiards-12ft", "pool-9ft", "carom-10ft", "english-pool-7ft"]
)
def test_no_way_has_the_letter_of_a_ball(name: str) -> None:
    letters = {ball.letter for ball in load_table(name).balls.values()}
    assert letters and not set(LETTERS) & letters
