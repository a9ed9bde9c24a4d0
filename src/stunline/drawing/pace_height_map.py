"""What every pace and height does: paces across in m/s, heights up in millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor

from stunline.drawing.cell_map import CellMap, map_marks
from stunline.drawing.extent import extent
from stunline.drawing.face import FIGURE_GAP, GRID
from stunline.drawing.legend import sheet_text
from stunline.drawing.marks import Anchor, Box, Drawing, Layer, Line, Mark, Polygon, Role, Size
from stunline.drawing.outcome_legend import (
    MapWords,
    cross,
    heading_marks,
    legend_marks,
    ordered,
    rings,
)
from stunline.drawing.page import PIXELS_PER_MM, SCREEN, Medium, Page, sheet_margin
from stunline.drawing.typeface import CAPITAL_HEIGHT

WIDTH, HEIGHT = 560.0, 420.0  # of the map [px]
STEPS = (0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)  # between figures of pace [m s⁻¹]
MOST_FIGURES = 8
TICK = 6.0  # [px]


@dataclass(frozen=True, slots=True)
class PaceHeightMap:
    """What the map shows.

    Attributes:
        paces, heights: middles of the cells [m s⁻¹, mm]
        codes: rows from the lowest height, kinds of outcome by number, −1 off the map
        strike: pace and height that were meant [m s⁻¹, mm]
        scatter: a player's deviations of pace and height [m s⁻¹, mm]
        words: what stands round it
    """

    paces: Sequence[float]
    heights: Sequence[float]
    codes: Sequence[Sequence[int]]
    strike: tuple[float, float]
    scatter: tuple[float, float]
    words: MapWords


class _Scale:
    """Paces and heights to millimetres of the drawing."""

    def __init__(self, shown: PaceHeightMap, page: Page) -> None:
        self.cell = page.window.width / len(shown.paces), page.window.height / len(shown.heights)
        self._per = (
            self.cell[0] / (shown.paces[1] - shown.paces[0]),
            self.cell[1] / (shown.heights[1] - shown.heights[0]),
        )
        self._first = shown.paces[0], shown.heights[0]

    def at(self, pace: float, height: float) -> tuple[float, float]:
        """Place on the map. [mm]"""
        return (
            self.cell[0] / 2 + (pace - self._first[0]) * self._per[0],
            self.cell[1] / 2 + (height - self._first[1]) * self._per[1],
        )

    def size(self, deviations: tuple[float, float]) -> tuple[float, float]:
        """Lengths on the map. [mm]"""
        return deviations[0] * self._per[0], deviations[1] * self._per[1]


def map_of_paces(shown: PaceHeightMap, medium: Medium = SCREEN, name: str = "paces") -> Drawing:
    """The map with its rulers and its legend."""
    window = Box(0.0, 0.0, WIDTH / PIXELS_PER_MM, HEIGHT / PIXELS_PER_MM)
    page = Page(window, 1.0 / medium.pixel, medium)
    scale = _Scale(shown, page)
    codes, order = ordered(shown.codes, shown.words.kinds)
    has_scatter = min(shown.scatter) > 0.0
    at = scale.at(*shown.strike)
    marks: list[Mark] = [
        Polygon("ground", Layer.TABLE, Role.MAP_GROUND, window.corners),
        *map_marks(CellMap(0.0, 0.0, *scale.cell, codes)),
        Polygon("frame", Layer.FRAME, Role.FRAME, window.corners),
        *(rings(at, scale.size(shown.scatter)) if has_scatter else ()),
        *cross(page, at, "strike", Layer.CONTACTS),
        *_rulers(shown, scale, page),
        *heading_marks(page, shown.words),
        *legend_marks(page, shown.words, order, has_scatter),
    ]
    return Drawing(
        marks=tuple(marks),
        view=extent(
            [mark for mark in marks if not mark.id.startswith("scatter")], page.scale
        ).grown(page.mm(sheet_margin(medium))),
        scale=page.scale,
        title=f"{shown.words.title}: {shown.words.heading}",
        description=f"{shown.words.held}. " + "; ".join(one for one in shown.words.notes if one),
        windows={Layer.CONTACTS: window},
        name=name,
        pixel=medium.pixel,
    )


def _rulers(shown: PaceHeightMap, scale: _Scale, page: Page) -> Iterator[Mark]:
    """Heights to the left, paces below."""
    tick = page.mm(TICK)
    lowest, highest = shown.heights[0], shown.heights[-1]
    for number in range(ceil(lowest / GRID), floor(highest / GRID) + 1):
        _, up = scale.at(shown.paces[0], number * GRID)
        yield Line(f"tick-up-{up:.2f}", Layer.FRAME, Role.RULER, (-tick, up), (0.0, up))
        words = f"{number * GRID:+.0f}".replace("-", "−") if number else "0"
        at = (-FIGURE_GAP - TICK, -up * page.scale)
        yield sheet_text(page, f"height-{up:.2f}", Role.SHEET_NOTE, at, words, anchor=Anchor.END)
    slowest, fastest = shown.paces[0], shown.paces[-1]
    step = next((one for one in STEPS if (fastest - slowest) / one <= MOST_FIGURES), STEPS[-1])
    down = FIGURE_GAP + TICK + Size.SMALL.value * CAPITAL_HEIGHT / 2
    for number in range(ceil(slowest / step - 1e-9), floor(fastest / step + 1e-9) + 1):
        across, _ = scale.at(number * step, lowest)
        yield Line(f"tick-{number}", Layer.FRAME, Role.RULER, (across, -tick), (across, 0.0))
        decimals = 2 if step < STEPS[2] else 1
        words, at = f"{number * step:.{decimals}f}", (across * page.scale, down)
        yield sheet_text(page, f"pace-{number}", Role.SHEET_NOTE, at, words, anchor=Anchor.MIDDLE)
    at = (page.width / 2, down + 18.0)
    words = "pace (across), m/s; height of the contact (up), mm from the ball's centre"
    yield sheet_text(page, "axes", Role.SHEET_NOTE, at, words, anchor=Anchor.MIDDLE)
