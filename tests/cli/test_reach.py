"""``stunline reach``: its text, JSON and pictures, what it refuses, and Ctrl-C."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from cli import schemas
from cli.command import run
from cli.interrupting import interrupted

POSITION = """\
title = "Black, then up the table"
table = "snooker-12ft"
[balls]
white = [1150.0, 2900.0]
black = "black"
blue = "blue"
[strike]
pot = { ball = "black", pocket = "top left" }
pace = 1.7
height = 5.0
[goal]
rest = { circle = [1200.0, 2000.0, 400.0] }
vary = { pace = [0.8, 2.5], height = [-8.0, 8.0] }
"""
AIMED = POSITION.replace('pot = { ball = "black", pocket = "top left" }', "aim = 120.0")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """With the position, and one that aims in a fixed direction."""
    (tmp_path / "black.toml").write_text(POSITION, encoding="utf-8")
    (tmp_path / "aimed.toml").write_text(AIMED, encoding="utf-8")
    return tmp_path


def test_text_tells_how_much_can_be_reached_and_by_what(folder: Path) -> None:
    done = run("reach", "black.toml", folder=folder)
    assert done.code == 0, done.err
    for words in (
        "Black, then up the table", "assumed, not measured", "The black to the top left pocket",
        "paces 0.80 to 2.50 m/s", "8.0 mm below centre to 8.0 mm above centre",
        "the white can rest on", "follow", "stun", "screw", "pass over", "strikes", "asks",
        "The weights are assumptions",
    ):  # fmt: skip
        assert words in " ".join(done.out.split()), words
    assert done.err == ""
    assert run("reach", "black.toml", folder=folder).out == done.out


def test_a_place_is_told_with_its_strike_and_that_strike_typed_back_rests_there(
    folder: Path,
) -> None:
    done = run("reach", "black.toml", "--at", "1300,2300", folder=folder)
    assert "1300 mm across, 2300 mm up:" in done.out
    assert "it rests" in done.out
    at = run("reach", "black.toml", "--at", "1300, 2300", "--json", folder=folder).shape["at"]
    assert at["there"] is True
    strike = at["strike"]
    typed = POSITION.split("[strike]")[0] + (
        f"[strike]\naim = {strike['aim']!r}\npace = {strike['pace']!r}\n"
        f"height = {strike['height']!r}\n"
    )
    (folder / "typed.toml").write_text(typed, encoding="utf-8")
    shot = run("shot", "typed.toml", "--json", folder=folder).shape
    assert shot["balls"]["black"]["potted"] == "top left"
    assert shot["balls"]["white"]["rest"] == pytest.approx(at["rests"], abs=0.01)
    assert shot["balls"]["white"]["rest"] == pytest.approx([1300.0, 2300.0], abs=3.0)


def test_a_place_that_is_not_reached_is_told_why(folder: Path) -> None:
    done = run("reach", "black.toml", "--at", "200,300", folder=folder)
    assert done.code == 0
    words = " ".join(done.out.split())
    assert "no strike found leaves the white there" in words
    assert "The nearest place is" in words
    blocked = run("reach", "black.toml", "--at", "889,1784", folder=folder)
    assert "where the blue stands" in " ".join(blocked.out.split())


def test_json_is_as_promised(folder: Path) -> None:
    for options in (["--at", "1300,2300"], [], ["--from", "--player", "match"]):
        shape = run("reach", "black.toml", *options, "--json", folder=folder).shape
        assert schemas.faults("reach", shape) == []
        assert schemas.unlisted(shape, schemas.SCHEMAS["reach"], "reach") == []
        assert shape["complete"] is True
        assert shape["vary"] == {"pace": [0.8, 2.5], "height": [-8.0, 8.0], "side": [0.0, 0.0]}


def test_every_cell_rests_in_itself_and_counts(folder: Path) -> None:
    shape = run("reach", "black.toml", "--cell", "40", "--json", folder=folder).shape
    assert shape["cell"] == 40.0
    rest = [cell for cell in shape["cells"] if cell["rests"] is not None]
    assert len(rest) == sum(shape["kinds"].values()) > 100
    off = np.array([np.subtract(cell["rests"], cell["at"]) for cell in rest])
    assert np.abs(off).max() <= 20.0 + 0.1
    assert all(0.8 <= cell["strike"]["pace"] <= 2.5 for cell in shape["cells"])
    assert all(-8.0 <= cell["strike"]["height"] <= 8.0 for cell in shape["cells"])


def test_from_tells_where_to_leave_the_white(folder: Path) -> None:
    done = run("reach", "black.toml", "--from", "--player", "match", folder=folder)
    assert done.code == 0, done.err
    words = " ".join(done.out.split())
    assert "A plain follow on the black meets the goal from" in words
    assert "aim 0.09° and the pace 4 % off" in words
    own = run("reach", "black.toml", "--from", "--aim-off", "0", "--pace-off", "0", "--json",
              folder=folder).shape  # fmt: skip
    assert own["margins"] == {"aim": 0.0, "pace": 0.0}
    assert all(place["safe"] for place in own["places"])
    assert own["middle"] is not None


@pytest.mark.parametrize("ending", ["svg", "png", "pdf"])
def test_the_picture_is_written(folder: Path, ending: str) -> None:
    done = run("reach", "black.toml", "-o", f"reach.{ending}", folder=folder)
    assert done.code == 0, done.err
    assert (folder / f"reach.{ending}").stat().st_size > 3_000
    if ending == "svg":
        text = (folder / "reach.svg").read_text(encoding="utf-8")
        for role in ("hatch-follow", "hatch-stun", "outer-edge", "region-edge"):
            assert f'class="{role}"' in text
        assert "can pass over" in text


def test_the_picture_of_a_place_shows_the_way_there(folder: Path) -> None:
    run("reach", "black.toml", "--at", "1300,2300", "-o", "there.svg", folder=folder)
    text = (folder / "there.svg").read_text(encoding="utf-8")
    assert 'class="rolling"' in text
    run("reach", "black.toml", "--from", "-o", "from.svg", folder=folder)
    assert "without margins" in (folder / "from.svg").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["black.toml", "--at", "5,5"], ["--at", "5,5", "25 to", "mm across"]),
        (["black.toml", "--at", "there"], ["--at", '"there"', "two numbers"]),
        (["black.toml", "--at", "1,nan"], ["--at", "two numbers"]),
        (["black.toml", "--cell", "1"], ["--cell", "1 mm", "10 to 200 mm"]),
        (["black.toml", "--from", "--pace-off", "99"], ["--pace-off", "99 %", "0 to 30 %"]),
        (["black.toml", "--from", "--aim-off", "-1"], ["--aim-off", "-1", "0 to 5"]),
        (["black.toml", "--from", "--player", "clubb"], ["clubb", '"club"']),
        (["black.toml", "--from", "--at", "900,900"], ["--at and --from"]),
        (["black.toml", "--player", "club"], ["--from"]),
        (["aimed.toml", "--from"], ["aimed.toml:8", "fixed aim", "a pot or a contact"]),
        (["nothing.toml"], ["nothing.toml"]),
    ],
)
def test_what_can_not_be_done_is_said(folder: Path, arguments: list[str], words: list[str]) -> None:
    done = run("reach", *arguments, folder=folder)
    assert done.code == 2
    assert done.out == ""
    assert "Traceback" not in done.err
    assert all(word in done.err for word in words), done.err


def test_an_interrupt_keeps_what_was_found(folder: Path) -> None:
    # So fine a raster that it takes long enough to be interrupted.
    done = interrupted("reach", "black.toml", "--from", "--json", "--cell", "10",
                       "--aim-off", "0", "--pace-off", "0", folder=folder)  # fmt: skip
    assert "Traceback" not in done.err
    assert done.code == 130
    shape = done.shape
    assert shape["complete"] is False
    assert "interrupted" in done.err
    assert schemas.faults("reach", shape) == []
