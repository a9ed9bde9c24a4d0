"""Search the strikes for the goal of the page's document, telling how far it is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from stunline.equipment.player import load_player
from stunline.errors import Fault, InputError
from stunline.planning.choose import STRIKES
from stunline.shot.position_file import PositionFile
from stunline.tasks.choice_shape import strike_shape
from stunline.tasks.choose_strike import ChoiceResult, choose_strike
from stunline.tasks.goal_words import goal_words, ranges_words
from stunline.tasks.page_bounds import PLAYER_FILE, check_player
from stunline.tasks.page_options import told_options
from stunline.tasks.page_read import read_document, without_line
from stunline.tasks.tell_choice import relaxation_words

Grow = Callable[[str, float, dict[str, Any]], None]
# Which part of a search each of its stages is, about: where it begins and how far it goes. [-]
_STAGES = {
    "playing strikes": (0.0, 0.6),
    "refining": (0.6, 0.25),
    "looking for what would help": (0.6, 0.4),
    "playing the player's errors": (0.85, 0.15),
}
_KEY = "goal.player"


def choose_for_document(
    document: Mapping[str, Any],
    folder: Path,
    grow: Grow,
    stopped: Callable[[], bool] = lambda: False,
    strikes: int = STRIKES,
) -> None:
    """Search with the document's own goal and player.

    Args:
        folder: the library's, for table and player files
        grow: told what is being done, how much of it is, and what there is until then
        stopped: asked often; once true, what was found until then is told
        strikes: about so many are played without error

    Raises:
        InputError: the document is not in order, or has no goal, or its player is not known.
        UnsolvableShotError: nothing can be aimed as it asks.
    """
    read = read_document(document, folder)
    nothing: dict[str, Any] = {"found": False, "options": [], "help": []}

    def report(words: str, done: int, total: int) -> None:
        start, part = _STAGES.get(words, (0.0, 0.0))
        count = f": {done:,} of {total:,}" if words == "playing strikes" else ""
        grow(f"{words}{count}", start + part * done / max(total, 1), nothing)

    with without_line():
        player = player_of_document(read.file, folder)
        result = choose_strike(read, player, strikes, report=report, cancelled=stopped)
    grow(_count(result), 1.0, told(result))


def player_of_document(file: PositionFile, folder: Path) -> str | None:
    """A player file of the library by its whole path; None where a shipped name says who it is."""
    goal = file.goal
    if goal is None or not goal.player.endswith(PLAYER_FILE):
        return None
    check_player(goal.player, folder)
    path = folder / goal.player
    try:
        load_player(str(path))
    except InputError as error:
        first = error.faults[0]
        what = f"the player file {goal.player} is not in order: {first.what}"
        raise InputError([Fault(what, first.given, first.allowed, first.remedy, _KEY)]) from None
    return str(path)


def told(result: ChoiceResult) -> dict[str, Any]:
    """Plain data for the page: the ways, or what would help, in words."""
    choice, file = result.choice, result.file
    return {
        "found": True,
        "complete": choice.complete,
        "goal": goal_words(choice.request.goal, file),
        "searched": ranges_words(choice.request, file),
        "count": _count(result),
        "options": told_options(result),
        "more": choice.more,
        "help": [
            {
                "what": one.what,
                "words": relaxation_words(result, one),
                "strike": strike_shape(one.strike),
            }
            for one in choice.relaxations
        ],
    }


def _count(result: ChoiceResult) -> str:
    choice = result.choice
    return f"{choice.met:,} of {choice.tried:,} strikes meet the goal"
