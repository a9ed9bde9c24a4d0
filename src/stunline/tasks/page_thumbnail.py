"""A position in the list: the whole table with its balls, small."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from stunline.drawing.ball_marks import tint_of
from stunline.drawing.marks import Box, Circle, Drawing, Layer, Role
from stunline.drawing.screen_plan import page_of_window
from stunline.drawing.svg import svg
from stunline.drawing.table_marks import table_marks
from stunline.drawing.theme import THEMES
from stunline.shot.shot import Shot
from stunline.tasks.live_document import check_document, unplayed
from stunline.units import millimetres

HEIGHT = 112.0  # of the picture; shown a little smaller, so that its lines come out fine [px]
# Balls are at least so large: a true one would be a pixel wide, and could not be seen. [px]
_LEAST_RADIUS = 2.2
_MARGIN = 60.0  # of cushions round the playing area [mm]
# Beside balls of that size these would only be specks.
_TOO_FINE = (Role.SPOT, Role.CUSHION_BACK)


def thumbnail(document: Mapping[str, Any], folder: Path, theme: str) -> str:
    """The picture as SVG, whether or not the position is in order.

    Args:
        theme: "light" or "dark"
    """
    shot = unplayed(check_document(document, folder).position)
    table = shot.position.table
    window = Box(0.0, 0.0, millimetres(table.width), millimetres(table.length)).grown(_MARGIN)
    page = page_of_window(window, (HEIGHT * window.width / window.height, HEIGHT))
    pockets = shot.position.coefficients.pockets
    lines = (mark for mark in table_marks(table, page, pockets) if mark.role not in _TOO_FINE)
    marks = (*lines, *_balls(shot, page.mm(_LEAST_RADIUS)))
    title = shot.position.title or "Untitled position"
    drawing = Drawing(marks, page.window, page.scale, title, name="thumbnail")
    return svg(drawing, THEMES[theme], embed_font=False)


def _balls(shot: Shot, least: float) -> list[Circle]:
    """Every ball, the one that is struck on top. least: radius [mm]"""
    return [
        Circle(
            f"ball-{ball}",
            Layer.BALLS,
            tint_of(shot, ball),
            (millimetres(x), millimetres(y)),
            max(millimetres(shot.position.radius(ball)), least),
        )
        for ball, (x, y) in reversed(list(shot.position.balls.items()))
    ]
