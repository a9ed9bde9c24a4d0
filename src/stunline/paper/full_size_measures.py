"""Distances from two nose lines, the same two on all pages, as a tape reads them. [mm]"""

from __future__ import annotations

from dataclasses import dataclass

from stunline.drawing.marks import Box, Point
from stunline.paper.full_size_region import bed
from stunline.paper.full_size_subject import Subject
from stunline.units import inches_text, metres

NO_BREAK = "\u00a0"  # a space at which no line ends


@dataclass(frozen=True, slots=True)
class Ground:
    """What is measured from: one side cushion and one end cushion, so that balls agree.

    Attributes:
        bed: between the nose lines
        from_right, from_far: which of the two cushions either way
        cushions: the game's words for the near, the right, the far and the left one
        in_inches: whether inches stand beside the millimetres
    """

    bed: Box
    from_right: bool
    from_far: bool
    cushions: tuple[str, str, str, str]
    in_inches: bool = False

    @property
    def side(self) -> str:
        """The side cushion's name."""
        return self.cushions[1 if self.from_right else 3]

    @property
    def end(self) -> str:
        """The end cushion's name."""
        return self.cushions[2 if self.from_far else 0]

    def across(self, point: Point) -> float:
        """From the side cushion."""
        return self.bed.right - point[0] if self.from_right else point[0] - self.bed.left

    def up(self, point: Point) -> float:
        """From the end cushion."""
        return self.bed.top - point[1] if self.from_far else point[1] - self.bed.bottom

    def lines(self, point: Point) -> tuple[str, str]:
        """Both, as they stand inside a ball: "150.0 left", "20 1/8 in, 511.2 head"."""
        return (
            f"{self.length(self.across(point))} {self.side}",
            f"{self.length(self.up(point))} {self.end}",
        )

    def row(self, point: Point) -> tuple[str, str]:
        """Both, unbroken, in a list; two lengths leave no room there for the cushions' names."""
        one, two = self.lines(point)
        if self.in_inches:
            one, two = (words.rpartition(" ")[0] for words in (one, two))
        return one.replace(" ", NO_BREAK), two.replace(" ", NO_BREAK)

    def whole_lines(self, point: Point) -> tuple[str, str]:
        """Both of a point on whole millimetres: "410 from left", "429 from top"."""
        return (
            f"{self._inches(self.across(point))}{_short(self.across(point))} from {self.side}",
            f"{self._inches(self.up(point))}{_short(self.up(point))} from {self.end}",
        )

    def length(self, length: float) -> str:
        """ "617.2", "24 5/16 in, 617.2"."""
        return f"{self._inches(length)}{length:.1f}"

    def length_words(self, length: float) -> str:
        """One with its unit: "12 mm", "15/32 in (12 mm)"."""
        return (
            f"{inches_text(metres(length))} ({length:.0f} mm)"
            if self.in_inches
            else (f"{length:.0f} mm")
        )

    def _inches(self, length: float) -> str:
        return f"{inches_text(metres(length))}, " if self.in_inches else ""


def ground_of(subject: Subject, middle: Point) -> Ground:
    """The two cushions nearest to the middle of what is printed."""
    whole = bed(subject)
    return Ground(
        whole,
        from_right=middle[0] > whole.centre[0],
        from_far=middle[1] > whole.centre[1],
        cushions=subject.shot.position.table.words.cushions,
        in_inches=subject.in_inches,
    )


def _short(length: float) -> str:
    """ "410", or "433.6" where the bed itself has no whole length."""
    return f"{length:.0f}" if abs(length - round(length)) < 0.05 else f"{length:.1f}"
