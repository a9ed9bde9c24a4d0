"""The tape list: typed back from the printed page it is the same shot."""

from __future__ import annotations

import re
from math import dist, sqrt
from random import Random

import pytest

from paper.sheet_pages import POSITIONS, SHIPPED, of_file, of_seed, of_text, typed_back
from stunline.equipment.catalogue import load_table
from stunline.paper.set_up import set_up
from stunline.paper.sheet_lengths import Lengths
from stunline.shot.position import Position
from stunline.shot.position_file import PositionFile, parse_position
from stunline.tasks.play_shot import ShotResult, play_shot
from stunline.tasks.read_position import ReadPosition, read_position

SEEDS = range(50)
ROUNDED_UP = 1.0  # of a ball that touches its cushion, so that it is never inside it [mm]
HALF = 0.5 + 1e-9  # what a list in whole millimetres may be off [mm]


def with_balls(text: str, typed: dict[str, tuple[float, float] | str]) -> str:
    """The file with its [balls] replaced by what was typed."""
    lines = [
        f'{name} = "{place}"' if isinstance(place, str) else f"{name} = [{place[0]}, {place[1]}]"
        for name, place in typed.items()
    ]
    return re.sub(r"(?s)\[balls\]\n.*?\n(?=\[)", "[balls]\n" + "\n".join(lines) + "\n\n", text)


def played(file: PositionFile, text: str) -> ShotResult:
    return play_shot(ReadPosition(file, text))


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_position_typed_back_from_its_sheet_is_the_same_shot(name: str) -> None:
    text = (POSITIONS / f"{name}.toml").read_text(encoding="utf-8")
    first = play_shot(read_position(name))
    typed = typed_back(of_file(name).page, first.file.position)
    again_text = with_balls(text, typed)
    assert typed
    again = played(parse_position(again_text), again_text)
    assert again.file.position.names == first.file.position.names
    assert again.outcome == first.outcome
    assert [(one.kind, one.balls, one.surface) for one in again.shot.events] == [
        (one.kind, one.balls, one.surface) for one in first.shot.events
    ]
    for one, two in zip(again.shot.events, first.shot.events, strict=True):
        assert one.time == pytest.approx(two.time, abs=2e-3)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_random_position_typed_back_is_half_a_millimetre_off_at_most(seed: int) -> None:
    """Legal too, but for balls that the list says to set by touching."""
    made, shot = of_seed(seed)
    position = shot.position
    typed = typed_back(made.page, position)
    assert set(typed) == set(position.names)
    rows = {row.ball.replace(" ", ""): row for row in made.sheet.set_up.balls}
    width, length = (1000.0 * one for one in (position.table.width, position.table.length))
    for name, (x, y) in position.balls.items():
        row, place = rows[name], typed[name]
        if isinstance(place, str):
            assert dist(position.table.spots[place], (x, y)) < 1e-4
            continue
        for typed_in, real, measured in zip(
            place, (1000.0 * x, 1000.0 * y), (row.across, row.up), strict=True
        ):
            most = ROUNDED_UP if measured.edge == "touching" else HALF
            assert abs(typed_in - real) <= most
            assert typed_in in (0.0, width, length) or float(measured.centre).is_integer()
    if not any(close in row.check for row in rows.values() for close in ("touching", "under 1 mm")):
        parse_position(_file_of(typed, position))


def _file_of(typed: dict[str, tuple[float, float] | str], position: Position) -> str:
    balls = "\n".join(f"{name} = [{place[0]}, {place[1]}]" for name, place in typed.items())
    return f'table = "{position.table.name}"\n[balls]\n{balls}\n[strike]\naim = 0.0\npace = 1.0\n'


def test_edges_are_a_radius_nearer_than_centres() -> None:
    # [X] 150 − 52.5/2 = 123.75 and 519 − 26.25 = 492.75, in whole millimetres; the balls of the
    # shipped position stand at 150 from the left and 3569 − 3050 = 519 from the top.
    page = of_file("edge-of-the-pack").page
    assert "white left 150 / 124 top 519 / 493 black 450, gap 398" in page.copied
    # [X] √(450² + 10²) = 450.11; less 52.5: 397.61
    assert dist((150, 3050), (600, 3060)) == pytest.approx(450.11, abs=0.005)


@pytest.mark.parametrize("name", SHIPPED)
def test_a_tape_list_has_no_parts_of_a_millimetre(name: str) -> None:
    """A tape reads whole millimetres; halves are rounded up."""
    printed = of_file(name).page.copied.split("Set it up")[1].split("Survives")[0]
    assert re.search(r"\d / \d", printed)
    assert re.findall(r"\d\.\d", printed) == []


def test_a_gap_of_less_than_half_a_millimetre_is_not_told_as_none() -> None:
    # [X] 52.5 + 0.3 mm between the centres of two balls of 52.5 mm
    text = """
table = "snooker-12ft"
[balls]
white = [400.0, 800.0]
red1 = [600.0, 1500.0]
red2 = [652.8, 1500.0]
[strike]
contact = { ball = "red1", thickness = "half", on = "left" }
pace = 1.0
"""
    rows = {
        row.ball: row for row in set_up(played(parse_position(text), text).shot, Lengths()).balls
    }
    assert rows["red 2"].check == "red 1 53, gap under 1 mm"


def test_a_ball_that_touches_another_or_a_cushion_is_said_to() -> None:
    # [X] The nose at height h meets a ball of radius 26.25 mm at √(26.25² − (h − 26.25)²) from its
    # line in plan.
    table = load_table("snooker-12ft")
    least = sqrt(26.25**2 - (1000.0 * table.nose_height - 26.25) ** 2)
    text = f"""
table = "snooker-12ft"
[balls]
white = [400.0, 800.0]
red1 = [{least:.6f}, 1500.0]
red2 = [600.0, 1500.0]
red3 = [637.123, 1537.123]
[strike]
contact = {{ ball = "red2", thickness = "half", on = "left" }}
pace = 1.0
"""
    file = parse_position(text)
    rows = {row.ball: row for row in set_up(played(file, text).shot, Lengths()).balls}
    assert rows["red 1"].across.edge == "touching"
    assert rows["red 3"].check == "touching red 2"
    # [X] 637.12 is 637 to the tape; what the tape can't set, touching does. 24.06 → 25, since a
    # ball typed in at 24 would stand in the cushion.
    assert rows["red 3"].across.centre == "637"
    assert rows["red 1"].across.centre == "25"
    assert list(rows) == ["white", "red 2", "red 1", "red 3"]


def test_inches_stand_in_parts_of_32_with_the_millimetres_behind_them() -> None:
    text = (POSITIONS / "edge-of-the-pack.toml").read_text(encoding="utf-8")
    page = of_text('units = "in"\n' + text).page
    # [X] 150/25.4 = 5.9055 = 5 29/32 (5.90625); 123.75/25.4 = 4.8720 = 4 7/8 (4.875)
    assert "left 5 29/32 / 4 7/8" in page.copied
    assert "150 / 124 mm" in page.copied


def test_each_ball_of_an_opened_rack_is_listed_by_itself() -> None:
    random = Random(5)
    reds = ", ".join(f"[{random.uniform(100, 1600):.1f}, {1500 + 60 * n:.1f}]" for n in range(15))
    text = f"""
table = "snooker-12ft"
[balls]
white = "brown"
reds = [{reds}]
[strike]
aim = 90.0
pace = 1.0
"""
    rows = set_up(played(parse_position(text), text).shot, Lengths())
    assert len(rows.balls) == 16 and rows.racks == ()


def test_a_rack_with_gaps_is_set_as_a_rack() -> None:
    # Nobody sets gaps of tenths of a millimetre by tape: the list says that it is a rack.
    text = (POSITIONS / "edge-of-the-pack.toml").read_text(encoding="utf-8")
    loose = text.replace('reds = "triangle"', 'reds = { rack = "triangle", gaps = 0.4, seed = 3 }')
    assert loose != text
    shot = played(parse_position(loose), loose).shot
    (rack,) = set_up(shot, Lengths("mm")).racks
    assert rack.balls == "reds"
    assert "triangle on its spot, as close as hands set it" in rack.words
    (exact,) = set_up(played(parse_position(text), text).shot, Lengths("mm")).racks
    assert "triangle on its spot, touching" in exact.words
