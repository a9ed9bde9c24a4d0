"""One gauging shot for the page: its plan, and its set-up by tape."""

from __future__ import annotations

from stunline.calibration.predict import Predictor
from stunline.drawing.gauge_plan import gauge_plan
from stunline.drawing.svg import svg
from stunline.drawing.theme import THEMES
from stunline.paper.record_words import set_up_rows
from stunline.tasks.library import Library
from stunline.tasks.page_record_shape import Shape, read_record

_NAME = "gauge-plan"  # goes before every id of the picture


def shot_plan(library: Library, name: str, number: int, theme: str, height: float) -> Shape:
    """The plan as SVG with the part of the table it shows [mm], and the rows of the set-up.

    A twirl has none, nor has a play whose set-up is not in order.

    Args:
        number: of the play in its file
        theme: "light" or "dark"
        height: of the picture [px]

    Raises:
        InputError: no such record.
    """
    record = read_record(library.read(name), library.folder).record
    plays = (*record.plays, *record.unplayed, *record.faulty)
    play = next((one for one in plays if one.number == number), None)
    if play is None or play.shot.tool == "fingers":
        return {"svg": "", "window": [0.0, 0.0, 0.0, 0.0], "rows": []}
    shot = Predictor(record).expected(play)
    drawing = gauge_plan(shot, height, f"{play.shot.title}: set-up", _NAME)
    view = drawing.view
    return {
        "svg": svg(drawing, THEMES[theme], embed_font=False),
        "window": [view.left, view.bottom, view.right, view.top],
        "rows": set_up_rows(play, shot),
    }
