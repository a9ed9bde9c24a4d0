"""Explain the shot of a position file: why the white goes where it goes after contact."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.planning.explaining import Explanation, explain
from stunline.tasks.play_shot import ShotResult, play_shot
from stunline.tasks.read_position import ReadPosition

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing
    from stunline.tasks.shapes import Shape


@dataclass(frozen=True, slots=True)
class ExplainResult:
    """A file's shot, and its white's way taken apart.

    Attributes:
        played: the shot, solved and played
        explanation: each cause's share of the way
    """

    played: ShotResult
    explanation: Explanation

    def drawing(self, show: str = "plan", date: str = "", on_paper: bool = False) -> Drawing:
        """The plan with the ways that the white takes without each cause."""
        from stunline.tasks.explain_picture import explain_picture

        return explain_picture(self, date, on_paper)

    def shape(self) -> Shape:
        """The JSON."""
        from stunline.tasks.explain_shape import explain_shape

        return explain_shape(self)


def explain_shot(read: ReadPosition) -> ExplainResult:
    """Solve, play, and take apart.

    Raises:
        UnsolvableShotError: no strike does what the file asks for, or the white meets no ball;
            with its line.
    """
    played = play_shot(read)
    with read.located():
        return ExplainResult(played, explain(played.shot))
