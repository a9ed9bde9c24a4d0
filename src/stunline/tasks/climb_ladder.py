"""Play the ladder of a position file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.shot.aiming.pace import lengths_of
from stunline.shot.ladder import Ladder, climb
from stunline.shot.ladder_band import LadderBand, band_of_ladder
from stunline.shot.position_file import PositionFile
from stunline.tasks.read_position import ReadPosition
from stunline.tasks.shapes import Shape, ladder_shape

if TYPE_CHECKING:  # a ladder that is only told needs no drawing
    from stunline.drawing.marks import Drawing
    from stunline.drawing.strip_layout import SecondRuler


@dataclass(frozen=True, slots=True)
class LadderResult:
    """A file's ladder, played.

    Attributes:
        file: as read
        ladder: rungs, bands, changes
        band: the rungs on tables drawn from the doubt, where that is wanted
    """

    file: PositionFile
    ladder: Ladder
    band: LadderBand | None = None

    def drawing(self, show: str = "plan", date: str = "", on_paper: bool = False) -> Drawing:
        """One of its pictures, as ``tasks.pictures`` makes them: the plan with its strip."""
        from stunline.tasks.pictures import ladder_picture

        return ladder_picture(self, show, date, on_paper)

    def second_ruler(self) -> SecondRuler | None:
        """The paces in lengths, for a ladder over pace."""
        from stunline.tasks.pace_ruler import lengths_ruler

        if self.ladder.vary != "pace" or not self.ladder.bands:
            return None
        low, high = self.ladder.bands[0].start, self.ladder.bands[-1].end
        return lengths_ruler(self.file.position, low, high)

    def lengths(self, pace: float) -> float:
        """A pace in lengths of this table and cloth."""
        return lengths_of(self.file.position, pace)

    def shape(self) -> Shape:
        """The JSON."""
        return ladder_shape(self.ladder, self.band)


def climb_ladder(read: ReadPosition, with_doubt: bool = False) -> LadderResult:
    """Play the file's ladder.

    Args:
        with_doubt: whether the rungs are played as well on tables drawn from the doubt of the
            coefficients, the same for all rungs

    Raises:
        InputError: the file holds no [ladder].
        UnsolvableShotError: the shot can't be solved at all; with its line.
    """
    plan = read.ladder()
    with read.located():
        ladder = climb(read.file.position, read.file.plan, plan)
        return LadderResult(read.file, ladder, band_of_ladder(ladder) if with_doubt else None)
