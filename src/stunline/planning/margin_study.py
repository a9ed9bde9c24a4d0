"""One strike under study: its margins, its chance in a player's hands, and what goes wrong."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.player import Player
from stunline.mechanics import layout
from stunline.planning.fault_kinds import MET_CODE, FaultKinds, decided
from stunline.planning.faults import fault_of
from stunline.planning.judge import Judge
from stunline.planning.margins import FirstFault, Margin, first_fault, margins_of
from stunline.planning.scatter import Chance, normal_draws, play_struck, scattered
from stunline.planning.table_doubt import TableChance, chance_on_tables
from stunline.shot.drawn_tables import doubt_of_position
from stunline.shot.goal import Goal
from stunline.shot.position import Position, Strike

Floats = NDArray[np.float64]
Codes = NDArray[np.int64]

PLAYS = 16_384  # powers of two, as the evenly spread draws ask for
FEWEST_PLAYS, MOST_PLAYS = 64, 1 << 20
SEED = 1
CLOUD = 1_024  # strokes whose resting places are kept: more dots only blacken a plan
_CLOUD_CHUNK = 256  # played between two looks at how far it has come


@dataclass(frozen=True, slots=True)
class MarginAsked:
    """What is studied.

    Attributes:
        position: where the balls stand
        strike: in numbers
        goal: what it is held to
        player: whose strokes they are
        plays: with the player's errors; a power of two
        seed: of the errors
    """

    position: Position
    strike: Strike
    goal: Goal
    player: Player
    plays: int = PLAYS
    seed: int = SEED

    def row(self) -> Floats:
        """(1, 5) the strike, as ``play_many`` has it."""
        one = self.strike
        row: Floats = np.empty((1, layout.STRIKE_COLUMNS))
        row[0, layout.STRIKE_AIM] = one.aim
        row[0, layout.STRIKE_PACE] = one.pace
        row[0, layout.STRIKE_HEIGHT] = one.height
        row[0, layout.STRIKE_SIDE] = one.side
        row[0, layout.STRIKE_ELEVATION] = one.elevation
        return row


@dataclass(frozen=True, slots=True)
class Kind:
    """What becomes of some of the plays.

    Attributes:
        words: "the black misses the pocket"
        chance: how often
    """

    words: str
    chance: Chance


@dataclass(frozen=True, slots=True)
class MarginStudy:
    """What the plays came to, as far as they were played.

    Attributes:
        asked: what is studied
        alone: what goes wrong without any error, "" where the strike meets its goal
        margins: by "aim", "pace", "height", "side"; None where the strike alone fails
        fault: the error that spoils it soonest
        words: of each kind of outcome, the goal met first
        codes: (plays so far,) kind of each
        on_tables: the same on tables that this one may be, once all plays are done; None before,
            and where nothing is in doubt
    """

    asked: MarginAsked
    alone: str
    margins: dict[str, Margin] | None
    fault: FirstFault | None
    words: tuple[str, ...]
    codes: Codes = field(repr=False)
    on_tables: TableChance | None = None

    @property
    def played(self) -> int:
        """Strokes so far; those that miscue are among them."""
        return len(self.codes)

    @property
    def chance(self) -> Chance:
        """Of the goal."""
        return Chance(int((self.codes == MET_CODE).sum()), self.played)

    def kinds(self) -> list[Kind]:
        """What goes wrong, the most frequent first."""
        counts = np.bincount(self.codes, minlength=len(self.words))
        order = sorted(range(1, len(self.words)), key=lambda code: -counts[code])
        return [
            Kind(self.words[code], Chance(int(counts[code]), self.played))
            for code in order
            if counts[code]
        ]


def study(
    asked: MarginAsked, judge: Judge, kinds: FaultKinds, cancelled: Callable[[], bool] | None = None
) -> Iterator[MarginStudy]:
    """The margins, then the plays, again and again as they grow, then the table's doubt.

    Args:
        judge: of the asked position and goal
        kinds: numbers what goes wrong, here and on maps of the same strike
        cancelled: asked often; once true, what was played until then is the last that is given
    """
    found = _margins(asked, judge, kinds)
    yield found
    rows = strokes(asked)
    while found.played < len(rows) and not (cancelled is not None and cancelled()):
        codes, _ = kinds.play(rows[found.played : found.played + kinds.chunk], cancelled)
        done = decided(codes)
        known = np.concatenate([found.codes, codes[:done]])
        found = replace(found, words=kinds.words, codes=known)
        yield found
        if done < len(codes):
            return
    if found.played == len(rows):
        doubt = doubt_of_position(asked.position)
        tables = chance_on_tables(
            judge, asked.row(), asked.player, doubt, asked.seed, cancelled=cancelled
        )
        yield replace(found, on_tables=tables)


@dataclass(frozen=True, slots=True)
class Cloud:
    """Where the white ends over the first of the plays.

    Attributes:
        codes: (N so far,) kind of each
        rests: (N so far, 2) NaN where it is off the table or was not struck [m]
        wanted: N
    """

    codes: Codes = field(repr=False)
    rests: Floats = field(repr=False)
    wanted: int


def cloud(
    asked: MarginAsked, kinds: FaultKinds, cancelled: Callable[[], bool] | None = None
) -> Iterator[Cloud]:
    """The first of the plays again, until everything rests; again and again as they grow."""
    rows = strokes(asked)[:CLOUD]
    codes: Codes = np.empty(0, dtype=np.int64)
    rests: Floats = np.empty((0, 2))
    for first in range(0, len(rows), _CLOUD_CHUNK):
        if cancelled is not None and cancelled():
            return
        more, ends = kinds.play(rows[first : first + _CLOUD_CHUNK], cancelled, whole=True)
        done = decided(more)
        codes, rests = np.concatenate([codes, more[:done]]), np.concatenate([rests, ends[:done]])
        yield Cloud(codes, rests, len(rows))
        if done < len(more):
            return


def strokes(asked: MarginAsked) -> Floats:
    """(plays, 5) the strike with the player's errors."""
    return scattered(asked.row(), asked.player, normal_draws(asked.plays, asked.seed))


def _margins(asked: MarginAsked, judge: Judge, kinds: FaultKinds) -> MarginStudy:
    """What the strike does alone, and how far each number may be off."""
    row = asked.row()
    _, batch, judgement = play_struck(judge, row)
    alone = "" if judgement.met[0] else fault_of(judge, batch, judgement, 0)
    margins = None if alone else margins_of(judge, row)[0]
    fault = None if margins is None else first_fault(margins, asked.player)
    return MarginStudy(asked, alone, margins, fault, kinds.words, np.empty(0, dtype=np.int64))
