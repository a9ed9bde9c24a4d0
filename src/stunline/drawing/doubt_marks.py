"""How far a shot may be off because its table is in doubt: a ribbon and where the white rests.

They lie under everything else, the table's own lines too, as a quiet tint.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.drawing import story
from stunline.drawing.marks import Box, Layer, Mark, Point, Polygon, Role

if TYPE_CHECKING:
    from stunline.shot.band import ShotBand

Corners = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class DoubtPicture:
    """What is drawn of it.

    Attributes:
        ribbon: convex polygons that together hold the white's ways [mm]
        regions: where it ends, convex polygons [mm]
        words: whose doubt, for the legend
    """

    ribbon: Sequence[Corners]
    regions: Sequence[Corners]
    words: str

    def box(self) -> Box | None:
        """Round all of it. [mm]"""
        points = [point for corners in (*self.ribbon, *self.regions) for point in corners]
        return story.box_of(points, 0.0) if points else None


def doubt_of_shot(band: ShotBand, words: str) -> DoubtPicture:
    """Of one shot: the ribbon to its next ball or its rest, and there where it rests."""
    region = None if band.own.second_ball else band.rest_region
    return DoubtPicture(
        [_millimetres(piece.tolist()) for piece in band.ribbon],
        [_millimetres(region.tolist())] if region is not None and len(region) > 1 else [],
        words,
    )


def doubt_of_ladder(bands: Sequence[ShotBand], words: str) -> DoubtPicture:
    """Of a ladder: where each rung rests. Ribbons would cover it, and where a ball is met next the
    places lie close along that ball."""
    from stunline.shot.ladder_band import end_region

    regions = [_millimetres(end_region(rung)) for rung in bands if not rung.own.second_ball]
    return DoubtPicture([], [region for region in regions if len(region) > 1], words)


def _millimetres(places: Sequence[Sequence[float]]) -> Corners:
    return tuple(story.millimetres(tuple(place)) for place in places)


def doubt_marks(picture: DoubtPicture | None) -> Iterator[Mark]:
    """The region below the ribbon, its edge above all of it."""
    if picture is None:
        return
    for number, region in enumerate(picture.regions, 1):
        yield Polygon(f"doubt-ground-{number}", Layer.DOUBT, Role.DOUBT, region)
    for number, piece in enumerate(picture.ribbon, 1):
        yield Polygon(f"doubt-ribbon-{number}", Layer.DOUBT, Role.DOUBT, piece)
    for number, region in enumerate(picture.regions, 1):
        yield Polygon(f"doubt-rest-{number}", Layer.DOUBT, Role.DOUBT_EDGE, region)
