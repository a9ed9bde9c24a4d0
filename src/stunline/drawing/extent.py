"""How far marks reach: the upright rectangle round them, line widths left out."""

from __future__ import annotations

from collections.abc import Iterable

from stunline.drawing.marks import Anchor, Arc, Box, Circle, Curve, Line, Mark, Text, box_round
from stunline.drawing.typeface import CAPITAL_HEIGHT, DESCENT, text_width

_BACK = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}


def extent(marks: Iterable[Mark], scale: float) -> Box:
    """Round all of them; ``scale`` is the drawing's [px mm⁻¹]. A turned text counts as level."""
    return box_round([_box(mark, scale) for mark in marks])


def text_box(text: Text, scale: float) -> Box:
    """Round a level text, from the feet of its letters to the capitals' height. [mm]"""
    size = text.size.value / scale
    width = text_width(text.words, size, text.bold)
    left = text.at[0] - _BACK[text.anchor] * width
    bottom, top = text.at[1] - DESCENT * size, text.at[1] + CAPITAL_HEIGHT * size
    return Box(left, bottom, left + width, top)


def _box(mark: Mark, scale: float) -> Box:
    if isinstance(mark, Text):
        return text_box(mark, scale)
    if isinstance(mark, Circle | Arc):
        x, y = mark.centre
        return Box(x, y, x, y).grown(mark.radius)
    if isinstance(mark, Curve):
        points: tuple[tuple[float, float], ...] = (mark.start, mark.control, mark.end)
    elif isinstance(mark, Line):
        points = (mark.start, mark.end)
    else:
        points = mark.points
    across, up = [point[0] for point in points], [point[1] for point in points]
    return Box(min(across), min(up), max(across), max(up))
