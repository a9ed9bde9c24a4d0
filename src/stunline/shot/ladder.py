"""The same shot again with one thing changed: rungs, bands and the changes between them."""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise

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
    """Stretches of equal outcome over [low, high]; values are tried one by one.

    Scans evenly, then closes in on each difference between neighbours, again from there to
    the right neighbour, so that several changes within one step are each found when the
    halving meets them.
    """
    return find_bands_at_once(
        lambda values: [outcome_at(value) for value in values],
        low, high, scanned, change_tolerance,
    )  # fmt: skip


def find_bands_at_once(
    outcomes_at: Callable[[Sequence[float]], Sequence[Outcome]],
    low: float,
    high: float,
    scanned: int = SCANNED,
    change_tolerance: float = CHANGE_TOLERANCE,
) -> tuple[Band, ...]:
    """The same, many values at once: first the scan, then one for each change that is closed in on.

    The values tried are those of ``find_bands``, in another order.
    """
    step = (high - low) / (scanned - 1)
    values = [low + step * index for index in range(scanned - 1)] + [high]
    outcomes = outcomes_at(values)
    tolerance = change_tolerance * (high - low)
    searches = [
        _changes(left, right, before, after, tolerance)
        for (left, before), (right, after) in pairwise(zip(values, outcomes, strict=True))
        if before != after
    ]
    bands: list[Band] = []
    start, now = low, outcomes[0]
    for edge, after in chain.from_iterable(_together(searches, outcomes_at)):
        bands.append(Band(start, edge, now))
        start, now = edge, after
    bands.append(Band(start, high, now))
    return tuple(bands)


_Found = list[tuple[float, Outcome]]
_Search = Generator[float, Outcome, _Found]


def _changes(left: float, right: float, now: Outcome, last: Outcome, tolerance: float) -> _Search:
    """Asks for outcomes between two that differ; gives each change and the outcome after it."""
    found: _Found = []
    while now != last:
        edge, beyond = left, right
        while beyond - edge > tolerance:
            middle = 0.5 * (edge + beyond)
            if middle in (edge, beyond):
                break
            if (yield middle) == now:
                edge = middle
            else:
                beyond = middle
        left = min(edge + tolerance, right)
        after = (yield left) if left < right else last
        if after != now:  # else something narrower than the tolerance was met
            found.append((edge, after))
            now = after
    return found


def _together(
    searches: Sequence[_Search], outcomes_at: Callable[[Sequence[float]], Sequence[Outcome]]
) -> list[_Found]:
    """Run searches side by side: in each round the values that all of them ask for."""
    found: list[_Found] = [[] for _ in searches]
    asked = {number: next(search) for number, search in enumerate(searches)}
    while asked:
        outcomes = outcomes_at(list(asked.values()))
        for number, one in zip(list(asked), outcomes, strict=True):
            try:
                asked[number] = searches[number].send(one)
            except StopIteration as ended:
                found[number] = ended.value
                del asked[number]
    return found
