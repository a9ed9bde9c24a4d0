"""``stunline margin``: its text, JSON and pictures, what it refuses, and Ctrl-C."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli import schemas
from cli.command import POSITION, POSITIONS, run
from cli.interrupting import interrupted

GOAL = """\
[goal]
pot = { ball = "black", pocket = "top right" }
rest = { circle = [821.0, 2121.0, 500.0] }
player = "PLAYER"
"""
PUPIL = """\
title = "A pupil, invented"
[scatter]
aim = 0.1
pace = 5.0
height = 1.0
side = 1.0
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """With a file without a goal, one with, and players good and bad."""
    files = {
        "black": POSITION,
        "goal": POSITION + GOAL.replace("PLAYER", "pupil.toml"),
        "nobody": POSITION + GOAL.replace("PLAYER", "cleb"),
        "pupil": PUPIL,
        "bad": PUPIL.replace("aim = 0.1", "aim = -0.1").replace("side = 1.0", 'side = "much"'),
    }
    for name, text in files.items():
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    return tmp_path


def test_text_tells_chance_margins_and_what_goes_wrong(folder: Path) -> None:
    done = run("margin", "goal.toml", "--plays", "1000", folder=folder)
    assert done.code == 0, done.err
    for words in (
        "A pupil, invented", "assumed, not measured", "Chance:", "of 1,024 strokes meet it",
        "aim     to the right", "pace    softer", "height  lower", "side    to the left",
        "First to fail:", "What goes wrong", "95 %",
    ):  # fmt: skip
        assert words in done.out, words
    assert done.err == ""
    assert run("margin", "goal.toml", "--plays", "1000", folder=folder).out == done.out


def test_without_a_goal_it_says_what_the_strike_is_held_to(folder: Path) -> None:
    done = run("margin", "black.toml", "--plays", "256", folder=folder)
    assert done.code == 0, done.err
    assert "no [goal]: held to what the strike does" in " ".join(done.out.split())
    assert "A club player" in done.out


def test_json_is_as_promised(folder: Path) -> None:
    shape = run("margin", "goal.toml", "--plays", "512", "--seed", "5", "--json",
                folder=folder).shape  # fmt: skip
    assert schemas.faults("margin", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["margin"], "margin") == []
    assert (shape["plays"], shape["seed"], shape["complete"]) == (512, 5, True)
    assert shape["player"]["aim"] == pytest.approx(0.1)
    wrong = sum(kind["count"] for kind in shape["kinds"])
    assert round(shape["chance"] * 512) + wrong == 512
    low, high = shape["chance_interval"]
    assert low < shape["chance"] < high
    face = shape["face"]
    assert len(face["cells"]) == len(face["heights"])
    assert {len(row) for row in face["cells"]} == {len(face["sides"])}
    known = {code for row in face["cells"] for code in row if code is not None}
    assert max(known) < len(shape["outcomes"])
    assert len(shape["cloud"]) == 512


@pytest.mark.parametrize(("show", "ending"), [("face", "svg"), ("paces", "png"), ("cloud", "pdf")])
def test_the_pictures_are_written(folder: Path, show: str, ending: str) -> None:
    done = run("margin", "goal.toml", "--plays", "256", "--show", show, "-o", f"m.{ending}",
               folder=folder)  # fmt: skip
    assert done.code == 0, done.err
    assert (folder / f"m.{ending}").stat().st_size > 3_000
    assert f"Picture written to m.{ending}" in done.out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["black.toml", "--plays", "1"], ["--plays", "64"]),
        (["black.toml", "--seed", "-1"], ["--seed", "-1"]),
        (["black.toml", "--player", "cleb"], ["no player", '"cleb"', '"club"']),
        (["black.toml", "--player", "bad.toml"], ["bad.toml:3", "-0.1", "bad.toml:6", "much"]),
        (["black.toml", "--player", "none.toml"], ["none.toml"]),
        (["nobody.toml"], ["nobody.toml:12", '"cleb"', '"club"']),
        (["black.toml", "-o", "m.gif"], ["m.gif"]),
    ],
)
def test_what_can_not_be_done_is_said(folder: Path, arguments: list[str], words: list[str]) -> None:
    done = run("margin", *arguments, folder=folder)
    assert done.code == 2
    assert done.out == ""
    assert "Traceback" not in done.err
    assert all(word in done.err for word in words), done.err


def test_a_pot_that_can_not_be_made_is_refused_with_its_line(folder: Path) -> None:
    slow = POSITION.replace("pace = 1.7", "pace = 0.4")
    (folder / "slow.toml").write_text(slow, encoding="utf-8")
    done = run("margin", "slow.toml", folder=folder)
    assert done.code == 2
    assert "slow.toml:6" in done.err
    assert "too slow" in done.err


def test_an_interrupt_keeps_what_was_played() -> None:
    file = POSITIONS / "pool-open-the-rack.toml"
    done = interrupted("margin", file, "--plays", "1000000", "--json")
    assert done.code == 130
    assert "Traceback" not in done.err
    shape = done.shape
    assert shape["complete"] is False
    assert 0 <= shape["plays"] < 1_000_000
    assert f"interrupted after {shape['plays']:,} of" in done.err
    assert schemas.faults("margin", shape) == []


def test_a_strike_that_misses_its_goal_anyway_blames_no_coefficient(folder: Path) -> None:
    elsewhere = POSITION + GOAL.replace("PLAYER", "pupil.toml").replace(
        "821.0, 2121.0, 500.0", "300.0, 300.0, 100.0"
    )
    (folder / "elsewhere.toml").write_text(elsewhere, encoding="utf-8")
    done = run("margin", "elsewhere.toml", "--plays", "64", folder=folder)
    assert done.code == 0, done.err
    out = " ".join(done.out.split())
    assert "This strike misses the goal even without any error: rests" in out
    assert "none of 64 strokes meet the goal" in out
    assert "meets the goal on none of such tables" in out
    assert "coefficient counts" not in out and "0 to 0" not in out and "never," not in out
