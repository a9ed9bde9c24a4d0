"""The same shot again with one thing changed: rungs, bands and the changes between them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from stunline.shot.aiming.root_search import last_true
from stunline.shot.outcome import Outcome
from stunline.shot.position import LadderPlan, LadderVariable, Position, StrikePlan
from stunline.shot.rung import Rung, RungPlayer, numbers_of

# Values tried over the range. Fewer could step over a band narrower than a 240th of it.
SCANNED = 241
# Changes are closed in to this part of the range.
CHANGE_TOLERANCE = 1e-4


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch of values with one outcome.

    Attributes:
        start, end: SI
        outcome: what every value in it comes to
    """

    start: float
    end: float
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class Change:
    """A value at which the outcome changes.

    Attributes:
        at: SI, within ``CHANGE_TOLERANCE`` of the range
        before, after: the outcomes below and above it
    """

    at: float
    before: Outcome
    after: Outcome


@dataclass(frozen=True, slots=True)
class Ladder:
    """Rungs as asked for, and what lies between them.

    Attributes:
        position, plan: the shot that is varied
        vary: what changes
        rungs: in the order of the file
        bands: over the whole range, in order; empty for tables and cloths
        changes: where one band passes into the next
        aim_held: whether one aim served all rungs; otherwise it was solved for each
    """

    position: Position
    plan: StrikePlan
    vary: LadderVariable
    rungs: tuple[Rung, ...]
    bands: tuple[Band, ...]
    changes: tuple[Change, ...]
    aim_held: bool


def climb(position: Position, plan: StrikePlan, ladder: LadderPlan) -> Ladder:
    """Play every rung, and find where the outcome changes between the first and last value.

    A pot, or a way of arriving, is solved again for each value; a contact or an aim is solved
    once and held. A pot that can't be made at a value is played along the aim of the nearest
    rung that pots, and counts as an outcome.

    Raises:
        UnsolvableShotError: when the shot can't be solved at all (a contact never reached).
    """
    player = RungPlayer(position, plan, ladder)
    rungs = player.rungs()
    bands: tuple[Band, ...] = ()
    numbers = numbers_of(position, plan, ladder)
    low, high = min(numbers, default=0.0), max(numbers, default=0.0)
    if low < high:
        bands = find_bands(player.outcomes_over(low, high), low, high)
    changes = tuple(
        Change(after.start, before.outcome, after.outcome) for before, after in pairwise(bands)
    )
    return Ladder(position, plan, ladder.vary, rungs, bands, changes, player.aim_held)


def find_bands(
    outcome_at: Callable[[float], Outcome],
    low: float,
    high: float,
    scanned: int = SCANNED,
    change_tolerance: float = CHANGE_TOLERANCE,
) -> tuple[Band, ...]:
    """Stretches of equal outcome over [low, high].

    Scans evenly, then closes in on each difference between neighbours, again from there to
    the right neighbour, so that several changes within one step are each found when the
    halving meets them.
    """
    step = (high - low) / (scanned - 1)
    values = [low + step * index for index in range(scanned - 1)] + [high]
    outcomes = [outcome_at(value) for value in values]
    tolerance = change_tolerance * (high - low)
    bands: list[Band] = []
    start, now = low, outcomes[0]
    for index in range(1, scanned):
        left = values[index - 1]
        while now != outcomes[index]:
            held = now
            edge = last_true(
                lambda value, held=held: outcome_at(value) == held,  # type: ignore[misc]
                left,
                values[index],
                tolerance,
            )
            beyond = min(edge + tolerance, values[index])
            after = outcome_at(beyond) if beyond < values[index] else outcomes[index]
            left = beyond
            if after != now:  # else something narrower than the tolerance was met
                bands.append(Band(start, edge, now))
                start, now = edge, after
    bands.append(Band(start, high, now))
    return tuple(bands)
