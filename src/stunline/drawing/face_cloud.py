"""The white's face with many contacts: where a stroke is likely to have been struck.

Frame: as the face's, the ball's centre is the origin, ``x`` is side and ``y`` is height. [mm]
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.drawing.extent import extent
from stunline.drawing.face_map import RIM, WIDTH, face_figures, face_limits
from stunline.drawing.legend import sheet_line, sheet_text
from stunline.drawing.marks import Box, Circle, Drawing, Layer, Mark, Point, Role
from stunline.drawing.outcome_legend import (
    GAP,
    LINE,
    ROW,
    SAMPLE_CELL,
    SAMPLE_COLUMNS,
    WORDS_GAP,
    cross,
    heading_marks,
    rings,
    wrapped_words,
)
from stunline.drawing.page import PIXELS_PER_MM, SCREEN, Medium, Page, sheet_margin

if TYPE_CHECKING:
    from stunline.drawing.outcome_legend import MapWords
    from stunline.equipment.model import Table

DOT = 1.5  # of one contact [px]
BELOW_FIGURES = 56.0  # from a narrow face to its legend [px]
NARROW = 290.0  # of one beside a plan [px]
MILLIMETRES = 1000.0


@dataclass(frozen=True, slots=True)
class FaceCloud:
    """What the face shows.

    Attributes:
        table: gives the ball and its limits
        contacts: sides and heights [mm]
        meant: the contact that was meant [mm]
        scatter: a player's deviations of side and height [mm]
        words: its title and heading; of its ``kinds`` the first is what a dot is
    """

    table: Table
    contacts: Sequence[Point]
    meant: Point
    scatter: tuple[float, float]
    words: MapWords


def cloud_on_face(
    shown: FaceCloud, medium: Medium = SCREEN, name: str = "face", narrow: bool = False
) -> Drawing:
    """The face out to the miscue limit, much enlarged; ``narrow``: for a column beside a plan."""
    radius = shown.table.balls[shown.table.cue_ball].radius * MILLIMETRES
    limit = shown.table.cue.miscue_offset * radius
    reach = limit + RIM
    width = NARROW if narrow else WIDTH
    page = Page(
        Box(-reach, -reach, reach, reach),
        PIXELS_PER_MM * 2 * reach / (width * medium.pixel),
        medium,
    )
    has_scatter = min(shown.scatter) > 0.0
    marks: list[Mark] = [
        Circle("ground", Layer.TABLE, Role.MAP_MET, (0.0, 0.0), limit),
        *_dots(shown, page),
        *face_limits(shown.table, radius),
        *(rings(shown.meant, shown.scatter) if has_scatter else ()),
        *cross(page, shown.meant, "strike", Layer.CONTACTS),
        *face_figures(page, limit),
        *(() if narrow else heading_marks(page, shown.words)),
        *_legend(page, shown.words, has_scatter, narrow),
    ]
    return Drawing(
        marks=tuple(marks),
        view=extent(marks, page.scale).grown(page.mm(sheet_margin(medium))),
        scale=page.scale,
        title=f"{shown.words.title}: {shown.words.heading}",
        description=f"{shown.words.held}. {shown.words.kinds[0]}",
        windows={Layer.CONTACTS: page.window},
        name=name,
        pixel=medium.pixel,
    )


def _dots(shown: FaceCloud, page: Page) -> Iterator[Mark]:
    for number, at in enumerate(shown.contacts):
        yield Circle(f"contact-{number}", Layer.PATHS, Role.END, at, page.mm(DOT))


def _legend(page: Page, words: MapWords, has_scatter: bool, narrow: bool) -> Iterator[Mark]:
    """What dots, cross and rings are: to the right of the face, or below a narrow one."""
    left, down = (0.0, BELOW_FIGURES) if narrow else (
        page.width + GAP, -page.window.height * page.scale
    )  # fmt: skip
    down += ROW / 2
    width = SAMPLE_COLUMNS * SAMPLE_CELL
    for part in (0.25, 0.5, 0.75):
        at = page.below(left + part * width, down)
        yield Circle(f"legend-dot-{part:g}", Layer.TITLE, Role.END, at, page.mm(DOT))
    rows = [words.kinds[0], words.strike, *([words.scatter] if has_scatter else [])]
    for number, told in enumerate(rows):
        if number == 1:
            yield from cross(page, page.below(left + width / 2, down), "legend-strike", Layer.TITLE)
        if number == 2:
            yield sheet_line(
                page, "legend-scatter", Role.SCATTER, (left, down), (left + width, down)
            )
        lines = wrapped_words(told)
        for line, words_of_line in enumerate(lines):
            place = (left + width + WORDS_GAP, down + line * LINE)
            role = Role.SHEET_TEXT if line == 0 else Role.SHEET_NOTE
            yield sheet_text(page, f"legend-{number}-{line}", role, place, words_of_line)
        down += max(ROW, len(lines) * LINE + 8.0)
