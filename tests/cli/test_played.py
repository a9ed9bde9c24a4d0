"""``stunline played``: its sentences, table, JSON and pictures, and what it refuses."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli import schemas
from cli.command import Ran, run

POSITION = """\
title = "Blue with follow"
table = "snooker-12ft"
units = "in"
[balls]
white = [889.0, 1300.0]
blue = "blue"
[strike]
contact = { ball = "blue", thickness = 0.6, on = "left" }
pace = 1.8
height = 6.0
"""
SEEN = """\
[played]
white_rest = [640.0, 3420.0]
white_cushion = "left"
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A position with what happened, and one without."""
    made = tmp_path_factory.mktemp("played")
    (made / "seen.toml").write_text(POSITION + SEEN, encoding="utf-8")
    (made / "unseen.toml").write_text(POSITION, encoding="utf-8")
    return made


def good(done: Ran) -> Ran:
    assert done.code == 0, done.err
    assert done.err == ""
    return done


def test_json_is_as_promised_with_a_picture_beside_it(folder: Path) -> None:
    done = good(run("played", "seen.toml", "--json", "-o", "plan.svg", folder=folder))
    shape = done.shape
    assert schemas.faults("played", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["played"], "played") == []
    assert shape["explained"] and shape["nearest"] is None
    for number in shape["off"].values():
        low, high = number["interval"]
        assert low <= number["value"] <= high
    assert 0.9 < sum(way["share"] for way in shape["ways"]) <= 1.0
    picture = (folder / "plan.svg").read_text(encoding="utf-8")
    assert "white seen at rest" in picture
    assert "as it was meant" in picture


def test_text_is_in_inches_and_says_what_it_rests_on(folder: Path) -> None:
    done = good(run("played", "seen.toml", "--show", "face", "-o", "face.png", folder=folder))
    told = " ".join(done.out.split())
    for words in (
        "Blue with follow", "assumed, not measured", "You struck it", "25.20 in from the left",
        "then at the left cushion", "in low to", "90 %", "before", "not gauged", "independent",
    ):  # fmt: skip
        assert words in told, words
    assert " mm high" not in told
    assert max(map(len, done.out.splitlines())) <= 96
    assert (folder / "face.png").stat().st_size > 10_000


def test_what_no_stroke_does_is_told_with_the_nearest(folder: Path) -> None:
    # Behind the baulk line on the far side: the white would have to come back through the blue.
    shape = good(
        run("played", "unseen.toml", "--rest", "1700,60", "--missed", "blue", "--cushion", "left",
            "--json", folder=folder)
    ).shape  # fmt: skip
    assert schemas.faults("played", shape) == []
    assert not shape["explained"]
    assert shape["off"] is None
    assert shape["nearest"]["facts_otherwise"] >= 1
    assert "No stroke near the one that was meant does what was seen" in shape["sentences"][0]
    assert "written down right" in shape["sentences"][1]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["unseen.toml"], ["played:", "nothing is told", "white_rest ="]),
        (
            ["unseen.toml", "--rest", "1900,500"],
            [
                "--rest:",
                "cannot be there",
                "24 to 1754 mm from the left",
                "baulk",
                "fell: --in-off",
            ],
        ),
        (["unseen.toml", "--rest", "67 feet,500"], ["--rest:", "feet", "11 5/8 in"]),
        (["unseen.toml", "--met", "red3"], ["--met:", "not on the table"]),
        (["unseen.toml", "--cushion", "rihgt"], ["--cushion:", 'try: "right"']),
        (["unseen.toml", "--time", "-3"], ["--time:", "too small", "0.1 to 120 s"]),
        (["seen.toml", "--in-off"], ["--in-off:", "both rest on the table and have gone in"]),
        (["seen.toml", "--player", "clubb"], ["there is no player", '"club"']),
        (["unseen.toml", "--rest", "900,900", "--seed", "-1"], ["--seed:", "out of bounds"]),
    ],
)
def test_refusals_name_the_option_and_what_to_try(
    folder: Path, arguments: list[str], words: list[str]
) -> None:
    done = run("played", *arguments, folder=folder)
    assert done.code == 2
    assert done.out == ""
    for one in words:
        assert one in done.err, done.err
    assert "Traceback" not in done.err
