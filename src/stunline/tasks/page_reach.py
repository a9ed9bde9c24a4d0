"""Where the white of the page's document can go, drawn as it is found; a strike for each place."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import numpy as np

from stunline.mechanics import layout
from stunline.planning.reach import Reach
from stunline.planning.regions import KINDS
from stunline.tasks.page_goal import player_of_document
from stunline.tasks.page_read import read_document, without_line
from stunline.tasks.reach_pictures import reach_layer
from stunline.tasks.reach_places import ReachResult, reach_places

Grow = Callable[[str, float, dict[str, Any]], None]
# Which part of a search each of its stages is, about: where it begins and how far it goes. [-]
_STAGES = {
    "playing strikes": (0.0, 0.3),
    "filling the table": (0.3, 0.4),
    "looking at the edges": (0.7, 0.3),
}
_BETWEEN = 0.4  # two pictures; each takes a tenth of a second to draw [s]
_PERCENT, _MM = 100.0, 1000.0
# Decimals of a strike in mm, two more of its aim: where the white meets other balls on its way, a
# hundredth of a millimetre of height moves its end by hundreds.
_FINE = 7


def reach_for_document(
    document: Mapping[str, Any],
    theme: str,
    folder: Path,
    grow: Grow,
    stopped: Callable[[], bool] = lambda: False,
) -> None:
    """Search everywhere that the white can rest.

    Args:
        theme: that the regions are drawn in, "light" or "dark"
        folder: the library's, for table and player files
        grow: told what is being done, how much of it is, and what there is until then
        stopped: asked often; once true, what was found until then is told

    Raises:
        InputError: the document is not in order, or its player is not known.
        UnsolvableShotError: no strike of the range can be aimed as it asks.
    """
    read = read_document(document, folder)
    player = player_of_document(read.file, folder) or ""
    growing = _Growing(grow, theme)
    with without_line():
        found = reach_places(
            read, report=growing.report, cancelled=stopped, grow=growing.show, player=player
        )
    grow("done", 1.0, {**told(found, theme), "places": places(found.reach)})


class _Growing:
    """What is being done, and the picture every now and then."""

    def __init__(self, grow: Grow, theme: str) -> None:
        self._grow, self._theme = grow, theme
        self._words, self._done = "playing strikes", 0.0
        self._told: dict[str, Any] = {
            "layer": "",
            "shares": [],
            "tried": "",
            "kinds": list(KINDS),
            "places": [],
        }
        self._drawn_at = time.monotonic()

    def report(self, words: str, done: int, total: int) -> None:
        start, part = _STAGES.get(words, (0.0, 0.0))
        self._words = words
        self._done = max(self._done, start + part * done / max(total, 1))

    def show(self, result: ReachResult) -> None:
        if time.monotonic() - self._drawn_at >= _BETWEEN:
            self._told = {**told(result, self._theme), "places": []}
            self._drawn_at = time.monotonic()
            words = f"{self._words}: {self._told['tried']}"
            self._grow(words, self._done, self._told)


def told(result: ReachResult, theme: str) -> dict[str, Any]:
    """Plain data for the page: the layer as SVG, and shares in words."""
    reach = result.reach
    count = len(reach.kinds)
    shares = [
        [kind, f"{_PERCENT * (reach.kinds == number).sum() / count:.0f} %"]
        for number, kind in enumerate(KINDS)
        if (reach.kinds == number).any()
    ]
    return {
        "layer": reach_layer(result, theme),
        "shares": shares,
        "kinds": list(KINDS),
        "tried": f"{reach.made:,} of {reach.tried:,} strikes do what is aimed for",
    }


def places(reach: Reach) -> list[list[float]]:
    """The least demanding strike of every cell in which the white can rest.

    Returns:
        rows of where it rests, across and up [mm]; number among ``KINDS``; aim [°], pace [m/s],
        height, side [mm], elevation [°]
    """
    cells = np.flatnonzero(reach.reached)
    rows = reach.rows[cells]
    columns = [
        *np.round(_MM * reach.rests[cells], 1).T,
        reach.kinds[cells],
        np.round(np.degrees(rows[:, layout.STRIKE_AIM]), _FINE + 2),
        np.round(rows[:, layout.STRIKE_PACE], _FINE + 1),
        np.round(_MM * rows[:, layout.STRIKE_HEIGHT], _FINE),
        np.round(_MM * rows[:, layout.STRIKE_SIDE], _FINE),
        np.round(np.degrees(rows[:, layout.STRIKE_ELEVATION]), _FINE),
    ]
    table: list[list[float]] = np.column_stack(columns).tolist()
    return table
