"""What every contact on the white's face does: heights and sides in millimetres.

Frame: as the face's, the ball's centre is the origin, ``x`` is side and ``y`` is height.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from stunline.drawing.cell_map import CellMap, map_marks
from stunline.drawing.extent import extent
from stunline.drawing.face import FIGURE_GAP, GRID
from stunline.drawing.legend import sheet_text
from stunline.drawing.marks import (
    Anchor,
    Box,
    Circle,
    Drawing,
    Layer,
    Line,
    Mark,
    Point,
    Role,
    Size,
)
from stunline.drawing.outcome_legend import (
    MapWords,
    cross,
    heading_marks,
    legend_marks,
    ordered,
    rings,
)
from stunline.drawing.page import PIXELS_PER_MM, SCREEN, Medium, Page, sheet_margin
from stunline.drawing.story import MILLIMETRES
from stunline.drawing.typeface import CAPITAL_HEIGHT

if TYPE_CHECKING:
    from stunline.equipment.model import Table

WIDTH = 520.0  # of the map [px]
NARROW = 290.0  # of one beside a plan [px]
BELOW_FIGURES = 56.0  # from such a map to its legend [px]
RIM = 0.4  # round the miscue limit [mm]


@dataclass(frozen=True, slots=True)
class FaceMap:
    """What the map shows.

    Attributes:
        table: gives the ball and its limits
        axis: middles of the cells, along both ways [mm]
        codes: rows from the lowest, kinds of outcome by number, −1 off the map
        strike: side and height of the contact that was meant [mm]
        scatter: a player's deviations of side and height [mm]
        words: what stands round it
    """

    table: Table
    axis: Sequence[float]
    codes: Sequence[Sequence[int]]
    strike: Point
    scatter: tuple[float, float]
    words: MapWords


def map_of_face(
    shown: FaceMap, medium: Medium = SCREEN, name: str = "face", narrow: bool = False
) -> Drawing:
    """The face out to the miscue limit, much enlarged.

    Args:
        narrow: its legend stands below it, and it has no heading: for a column beside a plan
    """
    radius = shown.table.balls[shown.table.cue_ball].radius * MILLIMETRES
    limit = shown.table.cue.miscue_offset * radius
    reach = limit + RIM
    page = Page(
        Box(-reach, -reach, reach, reach),
        PIXELS_PER_MM * 2 * reach / ((NARROW if narrow else WIDTH) * medium.pixel),
        medium,
    )
    codes, order = ordered(shown.codes, shown.words.kinds)
    step = shown.axis[1] - shown.axis[0]
    start = shown.axis[0] - step / 2
    has_scatter = min(shown.scatter) > 0.0
    corner = (0.0, BELOW_FIGURES) if narrow else None
    marks: list[Mark] = [
        Circle("ground", Layer.TABLE, Role.MAP_GROUND, (0.0, 0.0), limit),
        *map_marks(CellMap(start, start, step, step, codes)),
        *face_limits(shown.table, radius),
        *(rings(shown.strike, shown.scatter) if has_scatter else ()),
        *cross(page, shown.strike, "strike", Layer.CONTACTS),
        *face_figures(page, limit),
        *(() if narrow else heading_marks(page, shown.words)),
        *legend_marks(page, shown.words, order, has_scatter, corner),
    ]
    return Drawing(
        marks=tuple(marks),
        view=extent(marks, page.scale).grown(page.mm(sheet_margin(medium))),
        scale=page.scale,
        title=f"{shown.words.title}: {shown.words.heading}",
        description=f"{shown.words.held}. " + "; ".join(note for note in shown.words.notes if note),
        windows={Layer.CONTACTS: page.window},
        name=name,
        pixel=medium.pixel,
    )


def face_limits(table: Table, radius: float) -> Iterator[Mark]:
    """Where it is safe to strike, where the tip slips off, and both axes."""
    for role, offset in (
        (Role.SAFE, table.cue.safe_offset),
        (Role.MISCUE, table.cue.miscue_offset),
    ):
        yield Circle(f"{role.value}-limit", Layer.CONTACTS, role, (0.0, 0.0), offset * radius)
    reach = table.cue.miscue_offset * radius
    for name, start, end in (
        ("level", (-reach, 0.0), (reach, 0.0)),
        ("upright", (0.0, -reach), (0.0, reach)),
    ):
        yield Line(f"centre-{name}", Layer.PATHS, Role.FACE_CENTRE, start, end)


def face_figures(page: Page, limit: float) -> Iterator[Mark]:
    """Heights to the left, sides below, with ticks."""
    half, tick = page.window.width / 2, page.mm(6.0)
    count = ceil(limit / GRID) - 1
    down = FIGURE_GAP + 8.0 + Size.SMALL.value * CAPITAL_HEIGHT / 2
    for line in range(-count, count + 1):
        place = line * GRID
        ends = (-half - tick, place), (-half, place)
        yield Line(f"tick-up-{line + count}", Layer.FRAME, Role.RULER, *ends)
        ends = (place, -half - tick), (place, -half)
        yield Line(f"tick-across-{line + count}", Layer.FRAME, Role.RULER, *ends)
        words = f"{place:+.0f}".replace("-", "−") if line else "0"
        at = (-FIGURE_GAP - 8.0, -(place + half) * page.scale)
        yield sheet_text(
            page, f"height-{line + count}", Role.SHEET_NOTE, at, words, anchor=Anchor.END
        )
        words = f"{abs(place):.0f} {'left' if line < 0 else 'right'}" if line else "0"
        at = ((place + half) * page.scale, down)
        yield sheet_text(
            page, f"side-{line + count}", Role.SHEET_NOTE, at, words, anchor=Anchor.MIDDLE
        )
    at = (half * page.scale, down + 18.0)
    words = "height (up) and side of the contact, mm from the ball's centre"
    yield sheet_text(page, "axes", Role.SHEET_NOTE, at, words, anchor=Anchor.MIDDLE)
