"""Play the ladder of a position file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.shot.aiming.pace import lengths_of
from stunline.shot.ladder import Ladder, climb
from stunline.shot.position_file import PositionFile
from stunline.tasks.read_position import ReadPosition
from stunline.tasks.shapes import Shape, ladder_shape

if TYPE_CHECKING:  # a ladder that is only told needs no drawing
    from stunline.drawing.marks import Drawing


@dataclass(frozen=True, slots=True)
class LadderResult:
    """A file's ladder, played.

    Attributes:
        file: as read
        ladder: rungs, bands, changes
    """

    file: PositionFile
    ladder: Ladder

    def drawing(self, date: str = "") -> Drawing:
        """The plan, with the strip of outcomes below it."""
        from stunline.drawing.ladder_plan import plan_of_ladder
        from stunline.tasks.pace_ruler import lengths_ruler
        from stunline.tasks.titles import title_block

        second = None
        if self.ladder.vary == "pace" and self.ladder.bands:
            low, high = self.ladder.bands[0].start, self.ladder.bands[-1].end
            second = lengths_ruler(self.file.position, low, high)
        return plan_of_ladder(self.ladder, title_block(self.file.position, date), second)

    def lengths(self, pace: float) -> float:
        """A pace in lengths of this table and cloth."""
        return lengths_of(self.file.position, pace)

    def shape(self) -> Shape:
        """The JSON."""
        return ladder_shape(self.ladder)


def climb_ladder(read: ReadPosition) -> LadderResult:
    """Play the file's ladder.

    Raises:
        InputError: the file holds no [ladder].
        UnsolvableShotError: the shot can't be solved at all; with its line.
    """
    plan = read.ladder()
    with read.located():
        return LadderResult(read.file, climb(read.file.position, read.file.plan, plan))
