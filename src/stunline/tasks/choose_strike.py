"""Choose the strike that meets a position file's goal."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from stunline.equipment.player import Player, load_player
from stunline.errors import Fault, InputError
from stunline.planning.choose import PLAYS, SEED, STRIKES, Choice, choose
from stunline.planning.request import Request, request
from stunline.planning.scan import Report
from stunline.shot.aiming.pace import lengths_of
from stunline.shot.goal import Goal
from stunline.shot.position_file import PositionFile
from stunline.tasks.read_position import ReadPosition, located_fault

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing
    from stunline.tasks.shapes import Shape

FEWEST_STRIKES, MOST_STRIKES = 100, 1_000_000
# Of the ways, on every plan: letters that no ball has (B is a black, C a cue ball).
LETTERS = "ADEFHJ"


@dataclass(frozen=True, slots=True)
class ChoiceResult:
    """What a search for a file's goal found.

    Attributes:
        file: as read
        choice: the ways to the goal
        seed: of the player's errors
    """

    file: PositionFile
    choice: Choice
    seed: int

    def lengths(self, pace: float) -> float:
        """A pace in lengths of this table and cloth."""
        return lengths_of(self.file.position, pace)

    def drawing(self, show: str = "plan", date: str = "", on_paper: bool = False) -> Drawing:
        """The plan with the ways A, D, E and where the white ends, or their faces."""
        from stunline.tasks.choice_pictures import choice_picture

        return choice_picture(self, show, date, on_paper)

    def shape(self) -> Shape:
        """The JSON."""
        from stunline.tasks.choice_shape import choice_shape

        return choice_shape(self)


def choose_strike(
    read: ReadPosition,
    player: str | None = None,
    strikes: int = STRIKES,
    seed: int = SEED,
    report: Report = lambda *_: None,
    cancelled: Callable[[], bool] = lambda: False,
) -> ChoiceResult:
    """Search the strikes that the file allows for those that meet its goal.

    Args:
        player: a shipped profile or a player file instead of the goal's
        strikes: about so many are played without error

    Raises:
        InputError: the file has no goal, the player is not known, a number is not allowed.
        UnsolvableShotError: nothing can be aimed as the file asks; with its line.
    """
    _check(strikes, seed)
    asked = request_of(read, player)
    with read.located():
        choice = choose(asked, strikes, PLAYS, seed, report, cancelled)
    return ChoiceResult(read.file, choice, seed)


def request_of(read: ReadPosition, player: str | None = None) -> Request:
    """The file's goal made whole, with the player at hand.

    Raises:
        InputError, UnsolvableShotError: as ``choose_strike``.
    """
    file = read.file
    who = player_of(read, player)
    with read.located():
        return request(file.position, file.plan, goal_of(read), who)


def goal_of(read: ReadPosition) -> Goal:
    """The file's goal.

    Raises:
        InputError: it has none.
    """
    if read.file.goal is not None:
        return read.file.goal
    fault = Fault(
        "the file has no [goal], so there is nothing to choose by",
        given="no [goal]",
        allowed="a section [goal] with rest, meet, through, next, touch, miss, cushions or in_off",
        remedy='next = { ball = "any red", cut = [0.0, 40.0] } under a line [goal]',
        key="goal",
    )
    raise InputError([fault], read.file.source)


def player_of(read: ReadPosition, player: str | None = None) -> Player:
    """The player named on the command line, else by the goal, else the usual one.

    Raises:
        InputError: there is none of that name, or its file has faults.
    """
    if player is not None:
        return load_player(player)
    goal = read.file.goal
    folder = Path(read.file.source).parent if read.file.source else None
    try:
        return load_player(goal.player if goal is not None else "", folder)
    except InputError as error:
        if error.source:
            raise
        raise located_fault(read, error.faults[0]) from None


def _check(strikes: int, seed: int) -> None:
    faults = []
    if not FEWEST_STRIKES <= strikes <= MOST_STRIKES:
        faults.append(
            Fault(
                "the number of strikes is out of bounds",
                given=f"{strikes}",
                allowed=f"{FEWEST_STRIKES} to {MOST_STRIKES:,}",
                remedy=f"{STRIKES}",
                key="--strikes",
            )
        )
    if seed < 0:
        faults.append(
            Fault(
                "the seed is negative",
                given=f"{seed}",
                allowed="0 or more",
                remedy=f"{SEED}",
                key="--seed",
            )
        )
    if faults:
        raise InputError(faults)
