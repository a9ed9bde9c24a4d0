"""``stunline pack``: its text, JSON and picture, what it refuses, and Ctrl-C."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli import schemas
from cli.command import POSITION, POSITIONS, run
from cli.interrupting import interrupted

BREAK = """\
title = "Break off the end red"
table = "snooker-12ft"
[balls]
white = [1050.0, 650.0]
reds = { rack = "triangle", gaps = 0.3, seed = 4 }
[strike]
contact = { ball = "red15", thickness = 0.25, on = "right" }
pace = 4.0
[ladder]
vary = "pace"
values = [3.0, 5.0]
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """With a file that racks a pack, and one that does not."""
    (tmp_path / "break.toml").write_text(BREAK, encoding="utf-8")
    (tmp_path / "black.toml").write_text(POSITION, encoding="utf-8")
    return tmp_path


def test_text_tells_each_pace_and_what_its_words_mean(folder: Path) -> None:
    done = run("pack", "break.toml", "--racks", "60", folder=folder)
    assert done.code == 0, done.err
    for words in (
        "gaps of up to 0.30 mm", "assumed, not measured", "At 3.00 m/s", "At 5.00 m/s",
        "60 plays", "all, every time by red 15 60 ", "on the table as it is thought to be",
        "The white ends about", "from the", "Freed:", "95 %",
    ):  # fmt: skip
        assert words in " ".join(done.out.split()), words
    assert done.err == ""
    again = run("pack", "break.toml", "--racks", "60", folder=folder)
    assert again.out == done.out


def test_json_is_as_promised(folder: Path) -> None:
    shape = run("pack", "break.toml", "--racks", "40", "--pace", "2.5 lengths", "--pace", "4",
                "--gaps", "0.5", "--seed", "9", "--json", folder=folder).shape  # fmt: skip
    assert schemas.faults("pack", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["pack"], "pack") == []
    assert (shape["gaps"], shape["seed"], shape["racks"]) == (0.5, 9, 40)
    assert shape["complete"] is True
    by_lengths, by_speed = shape["paces"]
    assert by_lengths["strike"]["lengths"] == pytest.approx(2.5, abs=1e-6)
    assert by_speed["strike"]["pace"] == 4.0
    for pace in shape["paces"]:
        assert pace["plays"] == len(pace["rests"]) == 40
        assert sum(point["plays"] for point in pace["by_point"]) == 40
        assert pace["freed"]["interval"][0] <= pace["freed"]["mean"] <= pace["freed"]["interval"][1]


def test_the_file_says_gaps_and_seed_unless_the_command_does(folder: Path) -> None:
    shape = run("pack", "break.toml", "--racks", "2", "--pace", "3", "--json", folder=folder).shape
    assert (shape["gaps"], shape["seed"]) == (pytest.approx(0.3), 4)


@pytest.mark.parametrize("ending", ["svg", "png", "pdf"])
def test_the_picture_is_written(folder: Path, ending: str) -> None:
    done = run("pack", "break.toml", "--racks", "30", "-o", f"white.{ending}", folder=folder)
    assert done.code == 0, done.err
    assert (folder / f"white.{ending}").stat().st_size > 3_000
    if ending == "svg":
        text = (folder / "white.svg").read_text(encoding="utf-8")
        assert text.count('id="plan-end-') == 30
        assert "30 plays at 3.00 m/s" in text


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["black.toml"], ["black.toml:2", "no pack is racked", 'reds = "triangle"']),
        (["break.toml", "--gaps", "-1"], ["--gaps", "-1 mm", "0 to 5 mm"]),
        (["break.toml", "--racks", "0"], ["--racks", "1 to 100,000"]),
        (["break.toml", "--pace", "hard"], ["--pace", '"hard"', "lengths"]),
        (["break.toml", "--pace", "99"], ["--pace", "15"]),
        (["nothing.toml"], ["nothing.toml"]),
    ],
)
def test_what_can_not_be_done_is_said(folder: Path, arguments: list[str], words: list[str]) -> None:
    done = run("pack", *arguments, folder=folder)
    assert done.code == 2
    assert done.out == ""
    assert all(word in done.err for word in words), done.err


def test_a_pace_that_can_not_be_played_is_told_beside_the_others() -> None:
    shape = run("pack", POSITIONS / "edge-of-the-pack.toml", "--racks", "5", "--pace", "0.2",
                "--pace", "1.7", "--json").shape  # fmt: skip
    softly, usual = shape["paces"]
    assert softly["strike"] is None
    assert softly["reason"]
    assert softly["plays"] == 0
    assert usual["plays"] == 5
    assert schemas.faults("pack", shape) == []


def test_an_interrupt_keeps_what_was_played(folder: Path) -> None:
    done = interrupted("pack", "break.toml", "--racks", "100000", "--json", folder=folder)
    assert done.code == 130
    assert "Traceback" not in done.err
    shape = done.shape
    assert shape["complete"] is False
    played = sum(pace["plays"] for pace in shape["paces"])
    assert 0 <= played < 200_000
    assert f"interrupted after {played:,} of 200,000 racks" in done.err
    assert schemas.faults("pack", shape) == []
