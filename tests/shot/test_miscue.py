"""How often a tip slips off, and who is told."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from scipy.integrate import dblquad

from stunline.equipment.player import load_player
from stunline.shot.miscue import miscue_chance, miscue_words
from stunline.shot.notes import notes
from stunline.shot.position_file import parse_position
from stunline.tasks.check_file import check_files
from stunline.tasks.play_shot import play_shot
from stunline.tasks.read_position import ReadPosition, read_position

TEXT = """
table = "snooker-12ft"
[balls]
white = [889.0, 700.0]
[strike]
aim = 90.0
pace = 1.0
height = {height}
"""
LIMIT = 26.25 / 2  # [P] half the radius of a snooker ball of 52.5 mm


def read(height: str) -> ReadPosition:
    text = TEXT.format(height=height)
    return ReadPosition(parse_position(text), text)


@pytest.mark.parametrize("name", ["novice", "club", "match"])
@pytest.mark.parametrize(("height", "side"), [(0.0, 0.0), (11.8, 0.0), (-9.0, 5.0), (12.9, 0.0)])
def test_the_share_that_slips_off_is_the_integral_beyond_the_circle(
    name: str, height: float, side: float
) -> None:
    player = load_player(name)
    up, across = 1000.0 * player.height, 1000.0 * player.side

    def density(y: float, x: float) -> float:
        far = ((y - height) / up) ** 2 + ((x - side) / across) ** 2
        return math.exp(-0.5 * far) / (2.0 * math.pi * up * across)

    # [X] the same integral over the disc, by scipy's adaptive rule
    kept, _ = dblquad(
        density, -LIMIT, LIMIT,
        lambda x: -math.sqrt(LIMIT**2 - x * x), lambda x: math.sqrt(LIMIT**2 - x * x),
    )  # fmt: skip
    found = miscue_chance(read("0").file.position, height / 1000.0, side / 1000.0, player)
    assert found == pytest.approx(1.0 - kept, abs=2e-3)


@pytest.mark.parametrize(
    ("height", "told"),
    [
        ("10.5", None),  # one stroke in ten: within the advised limit, and not worth a word
        ('"max screw"', "slips off past 13.1 mm: a club player's does on 27 %"),
        ("-12.3", "past the advised limit of 11.8 mm and short of 13.1 mm"),
    ],
)
def test_a_tip_far_out_is_told_by_shot_and_check(
    height: str, told: str | None, tmp_path: Path
) -> None:
    said = " ".join(notes(play_shot(read(height)).shot))
    path = str(tmp_path) + "/p.toml"
    with open(path, "w", encoding="utf-8") as file:
        file.write(TEXT.format(height=height))
    (line,) = check_files([path]).in_order
    for words in (said, line):
        assert ("The tip is" not in words) if told is None else (told in words)


def test_check_tells_of_a_goal_whose_heights_go_too_far(tmp_path: Path) -> None:
    path = str(tmp_path) + "/p.toml"
    goal = "[goal]\nin_off = false\nvary = { height = [-13.0, 11.0] }\n"
    with open(path, "w", encoding="utf-8") as file:
        file.write(TEXT.format(height="0") + goal)
    (line,) = check_files([path]).in_order
    assert "The goal's heights go past the advised limit of 11.8 mm." in line


def test_the_shipped_goals_stay_within_what_is_advised() -> None:
    (line,) = check_files(["stay-on-the-black"]).in_order
    assert "advised" not in line
    assert miscue_words(read_position("stay-on-the-black").file.position, 0.0118, 0.0)
