"""``stunline explain``: its sentences, table, JSON and picture, and what it refuses."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cli import schemas
from cli.command import POSITION, SHIPPED, Ran, run, shipped

CONTACTS = [name for name in SHIPPED if name != "up-and-down"]

SIDE = """\
title = "Half-ball with side"
table = "snooker-12ft"
units = "in"
[balls]
white = [889.0, 1500.0]
red1 = [889.0, 2100.0]
[strike]
contact = { ball = "red1", thickness = "half", on = "left" }
pace = 2.0
height = -9.0
side = 6.0
"""
EMPTY = """\
table = "snooker-12ft"
[balls]
white = [889.0, 1500.0]
red1 = [300.0, 2100.0]
[strike]
aim = 90.0
pace = 2.0
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """With a shot that has every cause, and one that meets nothing."""
    (tmp_path / "side.toml").write_text(SIDE, encoding="utf-8")
    (tmp_path / "empty.toml").write_text(EMPTY, encoding="utf-8")
    return tmp_path


def good(done: Ran) -> Ran:
    assert done.code == 0, done.err
    assert done.err == ""
    return done


@pytest.mark.parametrize("name", CONTACTS)
def test_json_is_as_promised_and_adds_up(name: str) -> None:
    shape = good(shipped("explain", name, "--json")).shape
    assert schemas.faults("explain", shape) == []
    assert schemas.unlisted(shape, schemas.SCHEMAS["explain"], "explain") == []
    for key in ("leaves", "ends", "along", "forward"):
        told = shape[key]
        if told is not None:
            for parts in (told["parts"], told["groups"]["parts"]):
                assert told["base"] + sum(parts.values()) == pytest.approx(told["whole"], abs=1e-9)


@pytest.mark.parametrize("name", CONTACTS)
def test_the_numbers_of_the_first_sentence_add_up_as_shown(name: str) -> None:
    # What gives less what takes back is the whole, to the rounding of what is shown.
    sentence = good(shipped("explain", name, "--json")).shape["sentences"][0]
    if "All of it is" in sentence:
        return
    found = re.search(r"Of these ([\d.]+)(?:°| mm), (.+)\.$", sentence)
    assert found is not None, sentence
    total = 0.0
    for part in found[2].split("; "):
        numbers = [float(one) for one in re.findall(r"([\d.]+)(?:°| mm)", part)]
        total += -sum(numbers) if part.endswith("back") else sum(numbers)
    assert total == pytest.approx(float(found[1]), abs=1.6 if "mm" in sentence else 0.26)


def test_text_says_each_cause_with_its_number(folder: Path) -> None:
    done = good(run("explain", "side.toml", folder=folder))
    for words in (
        "Half-ball with side", "assumed, not measured", "the tangent line, away from red 1's way",
        "screw gives", "Striking below centre gives", "Squirt turns the white",
        "0.354 in below", "0.236 in right", "falls with slip", "0.95", "together", "Shapley",
    ):  # fmt: skip
        assert words in " ".join(done.out.split()), words
    assert max(map(len, done.out.splitlines())) <= 96
    assert run("explain", "side.toml", folder=folder).out == done.out


def test_a_play_without_a_cause_can_be_typed_back(folder: Path) -> None:
    shape = good(run("explain", "side.toml", "--json", folder=folder)).shape
    without = shape["without"]["ball-friction"]
    strike, white = without["strike"], without["white"]
    text = SIDE.split("[strike]")[0].replace("[889.0, 1500.0]", str(white))
    text += "[strike]\n" + "\n".join(f"{key} = {value!r}" for key, value in strike.items())
    (folder / "typed.toml").write_text(
        f"{text}\n[coefficients]\nball_friction = 0.0\n", encoding="utf-8"
    )
    shot = good(run("shot", "typed.toml", "--json", folder=folder)).shape
    assert shot["balls"]["white"]["rest"] == pytest.approx(without["rest"], abs=1e-6)


def test_the_page_quotes_what_is_printed() -> None:
    page = (Path(__file__).resolve().parents[2] / "docs" / "explain.md").read_text(encoding="utf-8")
    quoted = re.search(r"```text\n(.+?)```", page, re.DOTALL)
    assert quoted is not None
    printed = " ".join(good(shipped("explain", "edge-of-the-pack-low")).out.split())
    for paragraph in quoted[1].strip().split("\n\n"):
        assert " ".join(paragraph.split()) in printed


def test_a_stop_shot_is_told_by_its_run() -> None:
    out = " ".join(good(shipped("explain", "pool-stop-for-the-nine")).out.split())
    assert "The 8 ball is met too full for the cue ball to leave along the tangent line." in out
    assert "so that it arrives as stun" in out
    assert "follow or screw stun 0 mm" in out


def test_a_straight_shot_is_told_back_or_onwards_and_never_as_not_to_be_shared(
    tmp_path: Path,
) -> None:
    # Screw with balls full: without screw the white runs on into something else.
    (tmp_path / "back.toml").write_text(
        'table = "snooker-12ft"\n[coefficients]\nball_restitution = 0.924635\n'
        "[balls]\nwhite = [889.0, 2000.0]\nred1 = [889.0, 2500.0]\n[strike]\n"
        'contact = { ball = "red1", thickness = "full" }\npace = 2.0\nheight = -13.0\n',
        encoding="utf-8",
    )
    out = " ".join(good(run("explain", "back.toml", folder=tmp_path)).out.split())
    assert re.search(r"The white comes back \d+ mm\. Of these", out)
    assert "next comes to something else, which the table names" in out
    assert "can't be shared out" not in out
    assert re.search(r"come to \d+ mm back instead of \d+ mm back\.", out)
    assert "− is back." in out
    assert "0.9246 " in out


@pytest.mark.parametrize("ending", ["svg", "png", "pdf"])
def test_the_picture_is_written(folder: Path, ending: str) -> None:
    done = good(run("explain", "side.toml", "-o", f"why.{ending}", folder=folder))
    assert f"Plan written to why.{ending}" in done.out
    assert (folder / f"why.{ending}").stat().st_size > 3_000
    if ending == "svg":
        text = (folder / "why.svg").read_text(encoding="utf-8")
        for words in ("as struck", "arriving as stun", "without a cause", "smooth balls"):
            assert words in text, words


def test_a_white_that_meets_nothing_is_refused_with_its_line(folder: Path) -> None:
    done = run("explain", "empty.toml", folder=folder)
    assert done.code == 2
    assert done.out == ""
    assert done.err.startswith("empty.toml:6: strike.aim: the white meets no ball")
    for words in ("given aim 90.000°", "allowed: a strike that meets a ball", "try: contact ="):
        assert words in done.err
    error = run("explain", "empty.toml", "--json", folder=folder).error
    assert error["reason"] == "no-contact"


def test_bad_input_is_refused_before_anything_is_played(folder: Path) -> None:
    (folder / "bad.toml").write_text(POSITION.replace("pace = 1.7", "pace = -1"), encoding="utf-8")
    for arguments in (["bad.toml"], ["missing.toml"], ["side.toml", "-o", "why.gif"]):
        done = run("explain", *arguments, folder=folder)
        assert done.code == 2
        assert "Traceback" not in done.err
        assert done.err.strip()
