"""Pictures as data: marks in table millimetres, then a theme, then SVG or PNG."""

from stunline.drawing.ladder_plan import LadderPicture, RungPicture, plan_of_ladder, plan_of_rungs
from stunline.drawing.marks import Drawing
from stunline.drawing.plan import plan_of_shot
from stunline.drawing.png import png
from stunline.drawing.strip import drawing_of_strip
from stunline.drawing.strip_layout import SecondRuler, Strip, StripBand, StripMark
from stunline.drawing.svg import fragment, svg
from stunline.drawing.theme import PAPER, SCREEN_DARK, SCREEN_LIGHT, THEMES, Theme
from stunline.drawing.title_block import TitleBlock

__all__ = [
    "PAPER",
    "SCREEN_DARK",
    "SCREEN_LIGHT",
    "THEMES",
    "Drawing",
    "LadderPicture",
    "RungPicture",
    "SecondRuler",
    "Strip",
    "StripBand",
    "StripMark",
    "Theme",
    "TitleBlock",
    "drawing_of_strip",
    "fragment",
    "plan_of_ladder",
    "plan_of_rungs",
    "plan_of_shot",
    "png",
    "svg",
]
