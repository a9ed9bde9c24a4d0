"""A plan of the table as a drawing: its marks within the window, the foot below them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from stunline.drawing.foot import foot_height, foot_marks
from stunline.drawing.marks import Drawing, Layer

if TYPE_CHECKING:
    from stunline.drawing.foot import Foot
    from stunline.drawing.marks import Box, Disc, Mark
    from stunline.drawing.page import Page

PLAN_LAYERS = (
    Layer.DOUBT,
    Layer.TABLE,
    Layer.DIMENSIONS,
    Layer.PATHS,
    Layer.BALLS,
    Layer.CONTACTS,
    Layer.LABELS,
)


def framed_plan(
    page: Page,
    marks: Iterable[Mark],
    foot: Foot,
    description: str,
    name: str,
    windows: Mapping[Layer, Box | Disc] | None = None,
) -> Drawing:
    """The drawing of a plan; its title is that of the foot's title block.

    Args:
        page: the window on the table, its scale and medium
        marks: what stands in the window
        description: the picture in words, for those who don't see it
        name: goes before every id in the SVG
        windows: of layers that have another window than the plan's
    """
    return Drawing(
        marks=(*marks, *foot_marks(page, foot)),
        view=page.view(foot_height(page, foot)),
        scale=page.scale,
        title=foot.block.title,
        description=description,
        windows={**dict.fromkeys(PLAN_LAYERS, page.window), **(windows or {})},
        name=name,
        pixel=page.medium.pixel,
    )
