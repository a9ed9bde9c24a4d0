"""Play the shot of a position file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.shot.aiming.solve import Solution, Solver
from stunline.shot.band import ShotBand, band_of_shot
from stunline.shot.outcome import Outcome, outcome
from stunline.shot.position_file import PositionFile
from stunline.shot.readouts import Readouts, readouts
from stunline.shot.shot import Shot
from stunline.tasks.read_position import ReadPosition
from stunline.tasks.shapes import Shape, shot_shape

if TYPE_CHECKING:  # a shot that is only told needs no drawing
    from stunline.drawing.marks import Drawing


@dataclass(frozen=True, slots=True)
class ShotResult:
    """A file's shot, solved and played.

    Attributes:
        file: as read
        solution: the strike in numbers, and the window of aim of a pot
        shot: as played
        readouts: every number that a coach names
        outcome: what it came to
        band: the strike on tables drawn from the doubt, where that is wanted
    """

    file: PositionFile
    solution: Solution
    shot: Shot
    readouts: Readouts
    outcome: Outcome
    band: ShotBand | None = None

    def drawing(self, show: str = "plan", date: str = "", on_paper: bool = False) -> Drawing:
        """One of its pictures, as ``tasks.pictures`` makes them."""
        from stunline.tasks.pictures import shot_picture

        return shot_picture(self, show, date, on_paper)

    def shape(self) -> Shape:
        """The JSON."""
        return shot_shape(self.shot, self.file.plan, self.solution.pot, self.band)


def play_shot(read: ReadPosition, with_doubt: bool = False) -> ShotResult:
    """Solve and play.

    Args:
        with_doubt: whether the strike is played as well on tables drawn from the doubt of the
            coefficients

    Raises:
        UnsolvableShotError: no strike does what the file asks for; with its line.
    """
    file = read.file
    with read.located():
        solver = Solver(file.position)
        solution = solver.solve(file.plan)
        shot = solver.prepared.play(solution.strike)
        numbers = readouts(shot, file.plan, solution.pot)
        band = band_of_shot(file.position, solution.strike, file.plan) if with_doubt else None
    return ShotResult(file, solution, shot, numbers, outcome(shot, file.plan), band)
