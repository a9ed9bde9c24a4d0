"""How much the strike of a position file forgives, and how often a player brings it off."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stunline.errors import Fault, InputError
from stunline.planning.fault_kinds import FaultKinds
from stunline.planning.judge import Judge
from stunline.planning.margin_study import (
    FEWEST_PLAYS,
    MOST_PLAYS,
    PLAYS,
    SEED,
    Cloud,
    MarginAsked,
    MarginStudy,
    cloud,
    study,
)
from stunline.planning.outcome_grid import OutcomeGrid, face_grid, pace_height_grid
from stunline.planning.own_goal import goal_held
from stunline.shot.aiming.pace import lengths_of
from stunline.shot.aiming.solve import Solver
from stunline.shot.position import Strike
from stunline.shot.position_file import PositionFile
from stunline.tasks.choose_strike import player_of
from stunline.tasks.read_position import ReadPosition

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing
    from stunline.tasks.shapes import Shape

MARGIN_PICTURES = ("face", "paces", "cloud")
_MOST_SEED = 2**31 - 1


@dataclass(frozen=True, slots=True)
class MarginResult:
    """What is known of a strike so far.

    Attributes:
        file: as read
        own: whether the file has no goal, and the strike is held to what it does itself
        study: margins, chance, what goes wrong
        face, paces: maps, where asked for
        cloud: where the white ends, where asked for
        played, wanted: strokes and cells of maps, to tell how far it has come
        pictures: asked for
    """

    file: PositionFile
    own: bool
    study: MarginStudy
    face: OutcomeGrid | None = None
    paces: OutcomeGrid | None = None
    cloud: Cloud | None = None
    played: int = 0
    wanted: int = 0
    pictures: tuple[str, ...] = ()

    @property
    def asked(self) -> MarginAsked:
        """Strike, goal and player."""
        return self.study.asked

    @property
    def strike(self) -> Strike:
        """In numbers."""
        return self.study.asked.strike

    def lengths(self, pace: float) -> float:
        """A pace in lengths of this table and cloth."""
        return lengths_of(self.file.position, pace)

    def drawing(self, show: str = "face", date: str = "", on_paper: bool = False) -> Drawing:
        """One of ``MARGIN_PICTURES``, which must have been asked for."""
        from stunline.tasks.margin_pictures import margin_picture

        return margin_picture(self, show, date, on_paper)

    @property
    def complete(self) -> bool:
        """Whether all that was asked for was played."""
        return self.played == self.wanted and all(map(self.has, self.pictures))

    def has(self, show: str) -> bool:
        """Whether anything of that picture was played."""
        return getattr(self, show) is not None

    def shape(self) -> Shape:
        """The JSON."""
        from stunline.tasks.margin_shape import margin_shape

        return margin_shape(self)


def margin_of_strike(
    read: ReadPosition,
    player: str | None = None,
    plays: int = PLAYS,
    seed: int = SEED,
    pictures: Collection[str] = (),
    cancelled: Callable[[], bool] | None = None,
) -> Iterator[MarginResult]:
    """The margins; then the chance, and the maps asked for, again and again as they grow.

    Args:
        player: a shipped player or a file instead of the goal's, or of the usual one
        plays: with the player's errors; made up to the next power of two
        seed: of the errors
        pictures: of ``MARGIN_PICTURES``, what else is to be played
        cancelled: asked often; once true, what there is until then is the last that is given

    Raises:
        InputError: no such player, or a number is not allowed.
        UnsolvableShotError: no strike does what the file asks for; with its line.
    """
    _check(plays, seed)
    file = read.file
    who = player_of(read, player)
    with read.located():
        strike = Solver(file.position).solve(file.plan).strike
    goal = goal_held(file.position, strike, file.plan, file.goal)
    asked = MarginAsked(file.position, strike, goal, who, _power_of_two(plays), seed)
    judge = Judge(file.position, goal)
    kinds = FaultKinds(judge)
    growing = study(asked, judge, kinds, cancelled)
    named = tuple(pictures)
    result = MarginResult(
        file, file.goal is None, next(growing), wanted=asked.plays, pictures=named
    )
    yield result
    for found in growing:
        result = replace(result, study=found, played=found.played)
        yield result
    makers: dict[str, Callable[[], Iterator[OutcomeGrid] | Iterator[Cloud]]] = {
        "face": lambda: face_grid(asked, kinds, cancelled),
        "paces": lambda: pace_height_grid(asked, kinds, cancelled),
        "cloud": lambda: cloud(asked, kinds, cancelled),
    }
    for name in MARGIN_PICTURES:
        if name not in pictures or (cancelled is not None and cancelled()):
            continue
        played, wanted = result.played, result.wanted
        for grown in makers[name]():
            done = len(grown.codes) if isinstance(grown, Cloud) else grown.played
            result = _with(result, name, grown, played + done, wanted + grown.wanted)
            yield result


def _with(
    result: MarginResult, name: str, grown: OutcomeGrid | Cloud, played: int, wanted: int
) -> MarginResult:
    result = replace(result, played=played, wanted=wanted)
    if isinstance(grown, Cloud):
        return replace(result, cloud=grown)
    return replace(result, face=grown) if name == "face" else replace(result, paces=grown)


def _power_of_two(plays: int) -> int:
    return 1 << (plays - 1).bit_length()


def _check(plays: int, seed: int) -> None:
    faults = []
    if not FEWEST_PLAYS <= plays <= MOST_PLAYS:
        faults.append(
            Fault(
                "that is no number of plays for this",
                given=f"{plays:,}",
                allowed=f"{FEWEST_PLAYS:,} to {MOST_PLAYS:,}",
                remedy=f"{PLAYS}",
                key="--plays",
            )
        )
    if not 0 <= seed <= _MOST_SEED:
        faults.append(
            Fault(
                "a seed is a whole number from 0 up",
                given=str(seed),
                allowed=f"0 to {_MOST_SEED:,}",
                remedy=str(SEED),
                key="--seed",
            )
        )
    if faults:
        raise InputError(faults)
