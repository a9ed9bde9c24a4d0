"""On every plan: no words on words, on balls or cut off, and no letter too small.

All shipped positions, fifty random ones and a table with 22 balls, for a screen and on paper.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from random import Random

import pytest

from drawing.words_on_plans import faults, words_of
from random_positions import random_shot
from stunline.drawing import LadderPicture, RungPicture, plan_of_ladder, plan_of_rungs, plan_of_shot
from stunline.drawing.ladder_plan import strip_of_ladder
from stunline.drawing.marks import Box, Circle, Drawing, Role, Size
from stunline.drawing.page import PIXELS_PER_MM, SCREEN, Furniture, Medium
from stunline.drawing.plan import title_block_of
from stunline.drawing.strip import drawing_of_strip
from stunline.drawing.typeface import text_width
from stunline.equipment.catalogue import load_table
from stunline.shot.play import play
from stunline.shot.position import Position, Strike
from stunline.shot.position_file.shipped import shipped_positions
from stunline.shot.shot import Shot
from stunline.tasks.climb_ladder import LadderResult, climb_ladder
from stunline.tasks.play_shot import ShotResult, play_shot
from stunline.tasks.read_position import read_position

MM = PIXELS_PER_MM
HALF_PAGE = Medium(((116 * MM, 78 * MM), (116 * MM, 110 * MM)), 1.0, Size.SMALL, Furniture.COMPACT)
ACROSS = Medium(((180 * MM, 100 * MM),), 1.0, Size.SMALL, Furniture.COMPACT, measures_object=True)
LARGE_PRINT = Medium(((86 * MM, 90 * MM),), 1.35, Size.SMALL, Furniture.COMPACT)
COLUMN = Medium(((46 * MM, 96 * MM),), 1.0, Size.SMALL, Furniture.COMPACT)
TINY = Medium(((60 * MM, 45 * MM),), 1.0, Size.SMALL, Furniture.NONE)
MEDIA = {
    "screen": SCREEN,
    "half page": HALF_PAGE,
    "across": ACROSS,
    "large print": LARGE_PRINT,
    "column": COLUMN,
    "tiny": TINY,
}
ROOMY = pytest.mark.parametrize(  # five long labels need not fit into the size of a stamp
    "medium",
    [medium for medium in MEDIA.values() if medium not in (TINY, COLUMN)],
    ids=[name for name in MEDIA if name not in ("tiny", "column")],
)
EACH_MEDIUM = pytest.mark.parametrize("medium", MEDIA.values(), ids=MEDIA.keys())
PAPER_SMALLEST = 9.0  # points of 1/72 inch; a pixel of 1/96 inch is three quarters of a point
SEEDS = range(50)
PARTS = (0.5, 0.8, 1.0, 1.2)  # of the random strike's pace, in a ladder
FULL_TABLE_SEEDS = range(6)


@cache
def shipped_shot(name: str) -> ShotResult:
    return play_shot(read_position(name))


@cache
def shipped_ladder(name: str) -> LadderResult:
    return climb_ladder(read_position(name))


WITH_LADDER = [name for name in shipped_positions() if read_position(name).file.ladder]


@EACH_MEDIUM
@pytest.mark.parametrize("name", shipped_positions())
def test_the_words_of_shipped_shots(name: str, medium: Medium) -> None:
    drawing = plan_of_shot(shipped_shot(name).shot, medium=medium)
    assert list(faults(drawing, medium)) == []


@EACH_MEDIUM
@pytest.mark.parametrize("numbered", [False, True], ids=["values", "numbers"])
@pytest.mark.parametrize("name", WITH_LADDER)
def test_the_words_of_shipped_ladders(name: str, numbered: bool, medium: Medium) -> None:
    ladder = shipped_ladder(name).ladder
    is_wide = medium is SCREEN
    drawing = plan_of_ladder(ladder, medium=medium, with_strip=is_wide, numbered=numbered)
    assert list(faults(drawing, medium)) == []
    said = {words.text.words for words in words_of(drawing)}
    if numbered and medium is not TINY:
        assert {str(number) for number in range(1, 1 + len(ladder.rungs))} <= said


@pytest.mark.parametrize("width", [960.0, 660.0, 430.0])
@pytest.mark.parametrize("numbered", [False, True], ids=["values", "numbers"])
@pytest.mark.parametrize("name", WITH_LADDER)
def test_the_words_of_shipped_strips(name: str, numbered: bool, width: float) -> None:
    strip = strip_of_ladder(shipped_ladder(name).ladder, numbered=numbered)
    if strip is None:
        pytest.skip("a ladder over names has no strip")
    drawing = drawing_of_strip(strip, width, medium=HALF_PAGE)
    assert list(faults(drawing, HALF_PAGE)) == []
    said = {words.text.words for words in words_of(drawing)}
    assert {band.words for band in strip.bands} <= said


@cache
def random_shots(seed: int) -> tuple[Shot, ...]:
    """The random strike at four paces."""
    position, strike = random_shot(seed)
    return tuple(play(position, replace(strike, pace=strike.pace * part)) for part in PARTS)


@EACH_MEDIUM
@pytest.mark.parametrize("seed", SEEDS)
def test_the_words_of_random_shots(seed: int, medium: Medium) -> None:
    drawing = plan_of_shot(random_shots(seed)[PARTS.index(1.0)], medium=medium)
    assert list(faults(drawing, medium)) == []


@EACH_MEDIUM
@pytest.mark.parametrize("seed", SEEDS)
def test_the_words_of_random_ladders(seed: int, medium: Medium) -> None:
    drawing = random_ladder(seed, medium)
    assert list(faults(drawing, medium)) == []


def random_ladder(seed: int, medium: Medium) -> Drawing:
    """The random strike at four paces."""
    position, strike = random_shot(seed)
    shots = [
        play(position, replace(strike, pace=strike.pace * part)) for part in (0.5, 0.8, 1, 1.2)
    ]
    rungs = tuple(RungPicture(f"{shot.strike.pace:.2f}", shot) for shot in shots)
    picture = LadderPicture(rungs, title_block_of(shots[0]), numbered=bool(seed % 2))
    return plan_of_rungs(picture, medium=medium)


@EACH_MEDIUM
@pytest.mark.parametrize("seed", FULL_TABLE_SEEDS)
def test_the_words_of_a_full_table(seed: int, medium: Medium) -> None:
    shot = play(full_table(seed), Strike(aim=1.3, pace=2.0))
    table = shot.position.table
    crop = Box(0.0, 0.0, table.width * 1000, table.length * 1000)
    drawing = plan_of_shot(shot, crop=crop, medium=medium)
    assert list(faults(drawing, medium)) == []
    balls = [mark for mark in drawing.marks if isinstance(mark, Circle)]
    shown = {mark.id for mark in balls if mark.id.startswith("ball-")}
    assert shown == {f"ball-{name}" for name in shot.position.balls}


def full_table(seed: int) -> Position:
    """All 22 balls spread over the table."""
    table = load_table("snooker-12ft")
    cloth, random = table.default_cloth(), Random(seed)
    places: dict[str, tuple[float, float]] = {}
    radius = table.balls["white"].radius
    while len(places) < len(table.balls):
        x = random.uniform(2 * radius, table.width - 2 * radius)
        y = random.uniform(2 * radius, table.length - 2 * radius)
        if all((x - u) ** 2 + (y - v) ** 2 > 4 * radius**2 for u, v in places.values()):
            places[list(table.balls)[len(places)]] = (x, y)
    return Position(table, cloth.name, cloth.coefficients, places)


@ROOMY
@pytest.mark.parametrize("seed", SEEDS)
def test_what_the_shot_does_is_never_left_out(seed: int, medium: Medium) -> None:
    said = [words.text.words for words in words_of(random_ladder(seed, medium))]
    numbers = [str(number) for number in range(1, 1 + len(PARTS))]
    paces = [f"{shot.strike.pace:.2f}" for shot in random_shots(seed)]
    assert all(words in said for words in (numbers if seed % 2 else paces))


def test_the_check_finds_what_it_looks_for() -> None:
    # By hand: every text of a plan moved onto one place is a fault, and so is one on a ball.
    drawing = plan_of_shot(shipped_shot("edge-of-the-pack").shot)
    labels = [mark for mark in words_of(drawing) if mark.text.role is Role.LABEL]
    moved = replace(labels[0].text, at=labels[1].text.at, angle=labels[1].text.angle)
    on_white = replace(labels[0].text, at=(150.0, 3050.0))  # where the file puts the white
    marks = (*drawing.marks, moved, on_white)
    found = list(faults(replace(drawing, marks=marks), SCREEN))
    assert any("lies on ball-white" in fault for fault in found)
    assert any(f'lies on "{moved.words}"' in fault for fault in found)
    small = [fault for fault in faults(drawing, HALF_PAGE) if "px high" in fault]
    assert text_width("1", 1.0) > 0 and not small  # at 1 : 5 even ball letters are larger


def test_the_smallest_letter_on_paper_is_nine_points() -> None:
    # [X] 12 px of 1/96 inch = 12 · 72/96 points.
    for medium in (HALF_PAGE, ACROSS, LARGE_PRINT, TINY):
        assert medium.smallest.value * medium.pixel * 72 / 96 >= PAPER_SMALLEST
