"""A position in the list: the whole table with its balls, small."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from stunline.drawing.ball_marks import tint_of
from stunline.drawing.marks import Box, Circle, Drawing, Layer
from stunline.drawing.screen_plan import page_of_window
from stunline.drawing.svg import svg
from stunline.drawing.table_marks import table_marks
from stunline.drawing.theme import THEMES
from stunline.shot.shot import Shot
from stunline.tasks.live_document import check_document, unplayed
from stunline.units import millimetres

HEIGHT = 400.0  # of the picture; shown smaller, so that its lines come out fine [px]
_MARGIN = 60.0  # of cushions round the playing area [mm]


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
    marks = (*table_marks(table, page, pockets), *_balls(shot))
    title = shot.position.title or "Untitled position"
    drawing = Drawing(marks, page.window, page.scale, title, name="thumbnail")
    return svg(drawing, THEMES[theme], embed_font=False)


def _balls(shot: Shot) -> list[Circle]:
    return [
        Circle(
            f"ball-{ball}",
            Layer.BALLS,
            tint_of(shot, ball),
            (millimetres(x), millimetres(y)),
            millimetres(shot.position.radius(ball)),
        )
        for ball, (x, y) in shot.position.balls.items()
    ]
