"""One way to a goal: its most forgiving strike, and how much that forgives."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.player import Player
from stunline.planning.judge import Judge
from stunline.planning.margins import FirstFault, Margin, first_fault, margins_of
from stunline.planning.regions import KINDS, kind_of
from stunline.planning.scan import Cancelled, Report
from stunline.planning.scatter import Chance, normal_draws, play_struck, scattered
from stunline.planning.strike_space import strike_of
from stunline.planning.table_doubt import TableChance, TableEffort, chance_on_tables
from stunline.shot.drawn_tables import doubt_of_position
from stunline.shot.position import Strike

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

# Chances that differ by less are near enough equal for the plainer stroke to be preferred. [-]
NEAR = 0.03
# A number that may be off by less than this, from one end of what is forgiven to the other, is no
# better than luck. [standard deviations of the player] Chosen here, no source.
KNIFE_EDGE = 0.2
# Strokes whose resting places are kept, where a play that decides the goal need not go to rest.
_RESTS = 256


@dataclass(frozen=True, slots=True)
class Option:
    """One way to the goal.

    Attributes:
        strike: the most forgiving one
        kind: "follow", "stun", "screw" or "side"
        chance: of the player's strokes
        margins: by "aim", "pace", "height", "side"
        fault: the error that spoils it soonest, None when none does
        strikes: how many of those searched belong to this way
        follow_ratio: on arrival, without error [-]
        rests: (M, 2) where the white ends over the player's strokes, NaN where in-off [m]
        successes: (M,) which of these meet the goal
        on_tables: the chance on tables that this one may be, None where nothing is in doubt
    """

    strike: Strike
    kind: str
    chance: Chance
    margins: dict[str, Margin]
    fault: FirstFault | None
    strikes: int
    follow_ratio: float
    rests: Floats = field(repr=False)
    successes: Flags = field(repr=False)
    on_tables: TableChance | None = None

    def is_knife_edge(self, player: Player) -> bool:
        """Whether one number may be off by next to nothing, both ways taken together."""
        deviations = player.deviations
        return any(
            one.minus is not None
            and one.plus is not None
            and one.minus + one.plus < KNIFE_EDGE * deviations[name]
            for name, one in self.margins.items()
        )

    @property
    def overall(self) -> float:
        """The chance with the player's errors and the table's doubt together. [-]"""
        return self.chance.share if self.on_tables is None else self.on_tables.both.share


def options_of(
    judge: Judge,
    player: Player,
    rows: Floats,
    sizes: list[int],
    plays: int,
    seed: int,
    report: Report,
    cancelled: Cancelled,
) -> tuple[Option, ...]:
    """The options that these strikes (K, 5) are, ranked; those that fail when played to rest are
    left out.

    Args:
        sizes: strikes that belong to each way
        plays: of each with the player's errors; a power of two
    """
    _, alone, judgement = play_struck(judge, rows, whole=True)
    sure = np.flatnonzero(judgement.met)
    if not len(sure):
        return ()
    follows = alone.readouts["follow_ratio"]
    margins = margins_of(judge, rows[sure])
    draws = normal_draws(plays, seed)
    doubt = doubt_of_position(judge.position)
    found = []
    for number, k in enumerate(sure):
        report("playing the player's errors", number, len(sure))
        strokes = scattered(rows[k : k + 1], player, draws)
        fine, batch, held = play_struck(judge, strokes, cancelled=cancelled)
        chance = Chance(int(held.met[batch.played].sum()), int(batch.played.sum() + (~fine).sum()))
        if judge.decided_early:
            _, batch, held = play_struck(judge, strokes[:_RESTS], cancelled=cancelled, whole=True)
        strike = strike_of(rows[k])
        found.append(
            Option(
                strike,
                kind_of(float(follows[k]), strike.side),
                chance,
                margins[number],
                first_fault(margins[number], player),
                sizes[k],
                float(follows[k]),
                batch.rests[batch.played, 0],
                held.met[batch.played],
                chance_on_tables(
                    judge, rows[k : k + 1], player, doubt, seed, TableEffort.small(), cancelled
                ),
            )
        )
    return tuple(ranked(found))


def ranked(options: list[Option]) -> list[Option]:
    """Best chance first, the table's doubt counted; of those within ``NEAR`` of the best that is
    left, the plainest first.
    """
    left = sorted(options, key=lambda one: -one.overall)
    order = []
    while left:
        best = left[0].overall
        near = [one for one in left if best - one.overall <= NEAR]
        first = min(near, key=lambda one: KINDS.index(one.kind))
        order.append(first)
        left = [one for one in left if one is not first]
    return order
