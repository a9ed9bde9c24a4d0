"""Distances from the two nearest nose lines, as a tape reads them. [mm]"""

from __future__ import annotations

from dataclasses import dataclass

from stunline.drawing.marks import Box, Point
from stunline.paper.full_size_region import bed
from stunline.paper.full_size_subject import Subject


@dataclass(frozen=True, slots=True)
class Ground:
    """What is measured from.

    Attributes:
        bed: between the nose lines
        cushions: the game's words for the near, the right, the far and the left one
    """

    bed: Box
    cushions: tuple[str, str, str, str]

    def across(self, point: Point) -> tuple[float, str]:
        """From the nearer of the side cushions, with its name."""
        _, right, _, left = self.cushions
        from_left, from_right = point[0] - self.bed.left, self.bed.right - point[0]
        return (from_left, left) if from_left <= from_right else (from_right, right)

    def up(self, point: Point) -> tuple[float, str]:
        """From the nearer of the end cushions, with its name."""
        near, _, far, _ = self.cushions
        from_near, from_far = point[1] - self.bed.bottom, self.bed.top - point[1]
        return (from_near, near) if from_near <= from_far else (from_far, far)

    def lines(self, point: Point) -> tuple[str, str]:
        """Both, as they stand inside a ball: "150.0 left", "519.0 top"."""
        (x, side), (y, end) = self.across(point), self.up(point)
        return f"{x:.1f} {side}", f"{y:.1f} {end}"

    def whole_lines(self, point: Point) -> tuple[str, str]:
        """Both of a point on whole millimetres: "410 from left", "429 from top"."""
        (x, side), (y, end) = self.across(point), self.up(point)
        return f"{_short(x)} from {side}", f"{_short(y)} from {end}"


def ground_of(subject: Subject) -> Ground:
    """The table's."""
    return Ground(bed(subject), subject.shot.position.table.words.cushions)


def _short(length: float) -> str:
    """ "410", or "433.6" where the bed itself has no whole length."""
    return f"{length:.0f}" if abs(length - round(length)) < 0.05 else f"{length:.1f}"
