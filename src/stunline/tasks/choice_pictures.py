"""The pictures of a choice: its ways on one plan, or their contact points on the white's face."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stunline.errors import Fault, InputError
from stunline.tasks.choose_strike import LETTERS, ChoiceResult
from stunline.tasks.goal_words import chance_words
from stunline.tasks.lines import fine_length_words
from stunline.tasks.pictures import medium_of
from stunline.tasks.titles import title_block

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing

CHOICE_PICTURES = ("plan", "face")
_SHOWN = 3  # ways on one plan; more would hide each other


def choice_picture(
    result: ChoiceResult, show: str = "plan", date: str = "", on_paper: bool = False
) -> Drawing:
    """One picture of a choice.

    Raises:
        InputError: no strike meets the goal, so there is nothing to draw.
    """
    options = result.choice.options[:_SHOWN]
    if not options:
        fault = Fault(
            "there is nothing to draw: no strike meets the goal",
            given=f"--show {show}",
            allowed="a goal that a strike within the ranges meets",
            remedy="leave -o out, and read what would help",
            key="-o",
        )
        raise InputError([fault])
    file = result.file
    medium = medium_of(on_paper, file.units)
    if show == "face":
        from stunline.drawing.face import face_of_rungs

        rungs = [(letter, one.strike) for letter, one in zip(LETTERS, options, strict=False)]
        return face_of_rungs(
            rungs, file.position.table, medium, lengths=lambda mm: fine_length_words(file, mm)
        )
    from stunline.drawing.choice_plan import ChoicePicture, Way, plan_of_choice
    from stunline.shot.play import Prepared

    prepared = Prepared(file.position)
    ways = tuple(
        Way(
            letter,
            prepared.play(one.strike),
            f"{letter}: {chance_words(one.chance)}",
            tuple(
                ((1000.0 * x, 1000.0 * y), bool(met))
                for (x, y), met in zip(one.rests.tolist(), one.successes, strict=True)
                if x == x
            ),
        )
        for letter, one in zip(LETTERS, options, strict=False)
    )
    block = title_block(file.position, date)
    player = result.choice.request.player
    block = replace(block, table=f"{block.table}; {player.title[0].lower()}{player.title[1:]}")
    return plan_of_choice(ChoicePicture(ways, result.choice.request.goal, block), medium)
