"""The pictures that several tests look at."""

from __future__ import annotations

from drawing.hand_shots import TABLE, hand_shot, rest_of_the_balls
from stunline.drawing import (
    Drawing,
    LadderPicture,
    RungPicture,
    SecondRuler,
    Strip,
    StripBand,
    StripMark,
    TitleBlock,
    drawing_of_strip,
    plan_of_rungs,
    plan_of_shot,
)
from stunline.drawing.contact_figure import contact_of_shot
from stunline.drawing.face import face_of, face_of_rungs
from stunline.drawing.marks import Size
from stunline.drawing.page import PIXELS_PER_MM, Furniture, Medium
from stunline.drawing.story import playing_area
from stunline.shot.position import Strike

MM = PIXELS_PER_MM
ON_A_PAGE = Medium(((116 * MM, 78 * MM), (116 * MM, 110 * MM)), 1.0, Size.SMALL, Furniture.COMPACT)
TINY = Medium(((60 * MM, 45 * MM),), 1.0, Size.SMALL, Furniture.NONE)
SPEEDS = (0.2, 0.3, 0.4, 0.5)  # at which the white leaves the contact [m s⁻¹]

STRIP = Strip(
    title="What each pace does",
    unit="m/s",
    start=0.8,
    end=3.2,
    bands=(
        StripBand(0.8, 0.86, "short of the pink"),
        StripBand(0.86, 1.4, "red 2"),
        StripBand(1.4, 1.45, "red 5"),
        StripBand(1.45, 1.5, "red 7, left"),
        StripBand(1.5, 2.6, "right cushion"),
        StripBand(2.6, 3.2, "misses & runs on"),
    ),
    marks=tuple(StripMark(value, f"{value:.2f}") for value in (1.0, 1.45, 1.48, 3.2)),
    second=SecondRuler("lengths", ((1.0, "0.8"), (2.0, "1.5"), (3.0, "2.1"))),
)

# Thirteen bands, most too narrow for their words, as where a ball is just met or just missed.
NARROW_STRIP = Strip(
    title="What each height does",
    unit="mm",
    start=-10.0,
    end=10.0,
    bands=(
        StripBand(-10.0, -4.0, "left cushion"),
        *(
            StripBand(start / 4, (start + 1) / 4, f"red {start % 5 + 2}, thin on its right")
            for start in range(-16, -6)
        ),
        StripBand(-1.5, 8.0, "meets nothing more"),
        StripBand(8.0, 10.0, "top cushion"),
    ),
    marks=tuple(
        StripMark(value, "", f"{number}")
        for number, value in enumerate((-10, -3.1, -2.9, 0, 10), 1)
    ),
)


def shot_picture() -> Drawing:
    return plan_of_shot(hand_shot())


def ladder_picture() -> Drawing:
    rungs = tuple(RungPicture(f"{speed:.1f}", hand_shot(speed), "rests") for speed in SPEEDS)
    block = TitleBlock('Red & white, <"half-ball">', "Snooker, 12 ft, match cloth", date="1 May")
    return plan_of_rungs(LadderPicture(rungs, block, STRIP, chosen=1))


def numbered_ladder() -> Drawing:
    rungs = tuple(RungPicture(f"{speed:.1f}", hand_shot(speed), "rests") for speed in SPEEDS)
    block = TitleBlock("Red 1 up the table", "Snooker, 12 ft, match cloth")
    return plan_of_rungs(LadderPicture(rungs, block, numbered=True), "numbers", ON_A_PAGE)


def full_table() -> Drawing:
    shot = hand_shot(title="Red 1 on a full table", others=rest_of_the_balls())
    return plan_of_shot(shot, crop=playing_area(shot), name="full", medium=ON_A_PAGE)


def tiny_window() -> Drawing:
    return plan_of_shot(hand_shot(), name="tiny", medium=TINY)


def narrow_bands() -> Drawing:
    return drawing_of_strip(NARROW_STRIP, 680.0, medium=ON_A_PAGE)


def strip_picture() -> Drawing:
    return drawing_of_strip(STRIP)


def face_picture() -> Drawing:
    return face_of(Strike(0.0, 1.7, height=0.0105), TABLE)


def side_ladder_face() -> Drawing:
    sides = (-0.010, -0.004, 0.0, 0.002, 0.002, 0.004)
    rungs = [(f"{n}", Strike(0.0, 1.7, 0.002, side)) for n, side in enumerate(sides, 1)]
    return face_of_rungs(rungs, TABLE)


def contact_picture() -> Drawing:
    drawing = contact_of_shot(hand_shot())
    assert drawing is not None
    return drawing


PICTURES = {
    "shot": shot_picture,
    "ladder": ladder_picture,
    "ladder-on-paper": numbered_ladder,
    "full-table-on-paper": full_table,
    "tiny-window": tiny_window,
    "strip": strip_picture,
    "strip-of-narrow-bands": narrow_bands,
    "face": face_picture,
    "face-side-ladder": side_ladder_face,
    "contact": contact_picture,
}
