"""Play the shot of a position file."""

from __future__ import annotations

import os
from dataclasses import dataclass

from stunline.drawing.marks import Drawing
from stunline.drawing.plan import plan_of_shot
from stunline.shot.outcome import Outcome, outcome
from stunline.shot.position_file import PositionFile, read_position_file
from stunline.shot.readouts import Readouts, readouts
from stunline.shot.shot import Shot
from stunline.shot.solve import Solution, Solver
from stunline.tasks.shapes import Shape, shot_shape
from stunline.tasks.titles import title_block


@dataclass(frozen=True, slots=True)
class ShotResult:
    """A file's shot, solved and played.

    Attributes:
        file: as read
        solution: the strike in numbers, and the window of aim of a pot
        shot: as played
        readouts: every number that a coach names
        outcome: what it came to
    """

    file: PositionFile
    solution: Solution
    shot: Shot
    readouts: Readouts
    outcome: Outcome

    def drawing(self, date: str = "") -> Drawing:
        """The plan."""
        return plan_of_shot(self.shot, title_block(self.file.position, date))

    def shape(self) -> Shape:
        """The JSON."""
        return shot_shape(self.shot, self.file.plan, self.solution.pot)


def play_file(path: str | os.PathLike[str]) -> ShotResult:
    """Read, solve, play.

    Raises:
        InputError: the file holds faults.
        UnsolvableShotError: no strike does what it asks for.
    """
    file = read_position_file(path)
    solver = Solver(file.position)
    solution = solver.solve(file.plan)
    shot = solver.prepared.play(solution.strike)
    return ShotResult(
        file,
        solution,
        shot,
        readouts(shot, file.plan, solution.pot),
        outcome(shot, file.plan),
    )
