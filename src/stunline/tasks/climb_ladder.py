"""Play the ladder of a position file."""

from __future__ import annotations

import os
from dataclasses import dataclass

from stunline.drawing.ladder_plan import plan_of_ladder
from stunline.drawing.marks import Drawing
from stunline.errors import Fault, InputError
from stunline.shot.ladder import Ladder, climb
from stunline.shot.pace import lengths_of
from stunline.shot.position_file import PositionFile, read_position_file
from stunline.tasks.pace_ruler import lengths_ruler
from stunline.tasks.shapes import Shape, ladder_shape
from stunline.tasks.titles import title_block


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


def climb_file(path: str | os.PathLike[str]) -> LadderResult:
    """Read the file and play its ladder.

    Raises:
        InputError: the file holds faults, or no [ladder].
        UnsolvableShotError: the shot can't be solved at all.
    """
    file = read_position_file(path)
    if file.ladder is None:
        raise InputError(
            [
                Fault(
                    "the file has no [ladder], so there is nothing to vary",
                    allowed='a section [ladder] with vary = "pace" and values = [1.0, 1.5, 2.0]',
                    remedy="add one, or use: stunline shot",
                    key="ladder",
                )
            ],
            os.fspath(path),
        )
    return LadderResult(file, climb(file.position, file.plan, file.ladder))
