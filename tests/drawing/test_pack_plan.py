"""The plan of an opened pack: what it shows of the table, and what its dots are."""

from __future__ import annotations

import re

import pytest

from stunline.drawing.marks import Circle, Drawing, Polygon, Role, Text
from stunline.drawing.pack_plan import PackPicture, plan_of_pack
from stunline.drawing.page import SCREEN
from stunline.drawing.plan import plan_of_shot, title_block_of
from stunline.drawing.svg import svg
from stunline.drawing.theme import THEMES
from stunline.equipment.catalogue import load_table
from stunline.shot.play import play
from stunline.shot.position import Position, Strike
from stunline.shot.shot import Shot

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()


def shot_from(y: float) -> Shot:
    balls = {"white": (0.889, y), "red1": (0.889, 2.7), "red2": (0.8626, 2.7455)}
    position = Position(TABLE, CLOTH.name, CLOTH.coefficients, balls)
    return play(position, Strike(1.58, 2.0))


def picture(shot: Shot, *ends: tuple[float, float]) -> PackPicture:
    return PackPicture(shot, ends, title_block_of(shot))


def words_of(drawing: Drawing, prefix: str) -> list[str]:
    return [
        mark.words for mark in drawing.marks
        if isinstance(mark, Text) and mark.id.startswith(prefix)
    ]  # fmt: skip


def crop_of(drawing: Drawing) -> Polygon:
    (crop,) = [one for one in drawing.marks if isinstance(one, Polygon) and one.id == "key-crop"]
    return crop


def test_a_crop_that_is_nearly_the_whole_table_becomes_it() -> None:
    """[X] The bed is 1778 by 3569 mm; the window holds it and its cushions."""
    whole = plan_of_pack(picture(shot_from(0.7), (500.0, 800.0), (900.0, 2900.0)))
    window = next(iter(whole.windows.values()))
    assert window.bottom <= 0.0 and window.top >= 3569.0
    assert crop_of(whole).title == "The plan shows the whole table"
    near = plan_of_pack(picture(shot_from(2.2), (800.0, 2500.0), (900.0, 2400.0)))
    window = next(iter(near.windows.values()))
    assert window.top - window.bottom < 3569.0 / 2


def test_the_ghost_ball_stands_where_the_white_meets_the_pack() -> None:
    """[X] Two balls of radius 26.25 mm touch at 52.5 mm."""
    shot = shot_from(0.7)
    drawing = plan_of_pack(picture(shot, (500.0, 800.0), (900.0, 900.0)))
    (ghost,) = [
        mark for mark in drawing.marks if isinstance(mark, Circle) and mark.role is Role.GHOST
    ]
    assert ghost.radius == pytest.approx(26.25)
    x, y = ghost.centre
    assert ((x - 889.0) ** 2 + (y - 2700.0) ** 2) ** 0.5 == pytest.approx(52.5, abs=1e-3)


def test_a_label_says_what_the_dots_are_and_how_many() -> None:
    apart = plan_of_pack(picture(shot_from(0.7), (500.0, 800.0), (900.0, 900.0), (400.0, 600.0)))
    (words,) = words_of(apart, "label-ends")
    assert words == "white rests, 3 plays"
    many = [(400.0 + number % 37, 700.0 + number % 41) for number in range(1500)]
    (words,) = words_of(plan_of_pack(picture(shot_from(0.7), *many)), "label-ends")
    assert words == "white rests, 1,000 of 1,500 plays"
    alone = plan_of_pack(picture(shot_from(0.7), (500.0, 800.0)))
    assert words_of(alone, "label-ends") == []


def test_the_key_says_which_part_is_shown_in_the_files_unit() -> None:
    shot = shot_from(2.2)
    for in_inches, unit in ((False, "mm"), (True, "in")):
        medium = SCREEN if not in_inches else type(SCREEN)(SCREEN.sizes, in_inches=True)
        drawing = plan_of_shot(shot, medium=medium)
        title = crop_of(drawing).title
        window = next(iter(drawing.windows.values()))
        figures = [float(one) for one in re.findall(r"[\d.]+(?= )", title)]
        millimetre = 25.4 if in_inches else 1.0
        assert figures[-1] == pytest.approx(window.top / millimetre, abs=0.5)
        assert f" {unit} " in title
        assert f"<title>{title}</title>" in svg(drawing, THEMES["light"], embed_font=False)
    assert words_of(drawing, "key-caption") == ["whole table"]


def test_lengths_of_a_file_in_inches_are_in_inches() -> None:
    """[X] 25.4 mm to the inch: the white stands 889 mm, 35.00 in, from the left cushion."""
    medium = type(SCREEN)(SCREEN.sizes, in_inches=True)
    drawing = plan_of_shot(shot_from(0.7), medium=medium)
    assert words_of(drawing, "title-unit") == ["lengths in inches"]
    (bar,) = words_of(drawing, "scale-bar-words")
    assert bar.endswith(" in")
    ends = [one for one in drawing.marks if one.id == "scale-bar"]
    length = ends[0].end[0] - ends[0].start[0]  # type: ignore[union-attr]
    assert length == pytest.approx(25.4 * float(bar.removesuffix(" in")), abs=1e-6)
    figures = " ".join(mark.words for mark in drawing.marks if isinstance(mark, Text))
    assert "35.00" in figures and "27.56" in figures  # 700 mm from the baulk cushion
