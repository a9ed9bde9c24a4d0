"""Which strike: the ways to a goal, the most forgiving strike of each, ranked by its chance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stunline.planning.aim_field import AimField
from stunline.planning.judge import LONG_RUN, Judge
from stunline.planning.option import NEAR, Option, options_of
from stunline.planning.refine import Effort, Refined, refined
from stunline.planning.regions import KINDS, Region, regions_of
from stunline.planning.relax import Relaxation, relaxations
from stunline.planning.request import Request
from stunline.planning.scan import Cancelled, Report, scan_space
from stunline.planning.strike_space import strike_space

STRIKES = 40_000
PLAYS = 4_096  # a power of two, as the evenly spread draws ask for
FEWER_PLAYS = 1_024  # where a play is much work
MOST_OPTIONS = 5
SEED = 1
_FEWEST = 100  # strikes of a search


@dataclass(frozen=True, slots=True)
class Choice:
    """What a search found.

    Attributes:
        request: what was asked
        options: best first
        tried: strikes played without error
        met: how many of them meet the goal
        more: further ways that were found and not looked into
        relaxations: when nothing works, what would help
        complete: whether the search was left to end
    """

    request: Request
    options: tuple[Option, ...]
    tried: int
    met: int
    more: int
    relaxations: tuple[Relaxation, ...] = ()
    complete: bool = True


def choose(
    asked: Request,
    strikes: int = STRIKES,
    plays: int = PLAYS,
    seed: int = SEED,
    report: Report = lambda *_: None,
    cancelled: Cancelled = lambda: False,
) -> Choice:
    """Search, rank, and say how much each way forgives.

    Steps: aims are solved on a coarse lattice; strikes on a fine one are played without error
    and held against the goal; those that meet it and hang together are one way each; the most
    promising of every way move to where they forgive the most; their margins and chances are
    played. Where no strike meets the goal, what would help is looked for.

    Args:
        strikes: about so many are played without error
        plays: of each option with the player's errors; a power of two
        report: told what is being done, and how much of it
        cancelled: asked often; once true, what was found until then is given back

    Raises:
        UnsolvableShotError: nothing in the ranges can be aimed so.
    """
    judge = Judge(asked.position, asked.goal)
    aims = AimField(asked, asked.ranges)
    space = strike_space(asked.position, asked.ranges, aims, max(strikes, _FEWEST))
    scan = scan_space(judge, space, report, cancelled)
    regions = regions_of(space, scan.met, scan.follow, asked.player, 4 * MOST_OPTIONS)
    tried, met = int(scan.played.sum()), int(scan.met.sum())
    if not regions:
        found: tuple[Relaxation, ...] = ()
        if not cancelled():
            report("looking for what would help", 0, 1)
            found = relaxations(asked, judge, space, scan, strikes // 4)
        return Choice(asked, (), tried, met, 0, found, not cancelled())
    much = scan.mean_events > LONG_RUN and not judge.decided_early
    starts = [(number, row) for number, one in enumerate(regions) for row in one.candidates]
    effort = Effort.small() if much else Effort()
    best = refined(
        judge,
        asked,
        aims.elevation,
        space.rows[[row for _, row in starts]],
        [way for way, _ in starts],
        effort,
        seed,
        report,
        cancelled,
    )
    picked = _best_of_each(regions, starts, best)
    options = options_of(
        judge,
        asked.player,
        best.rows[picked],
        [regions[starts[k][0]].strikes for k in picked],
        min(plays, FEWER_PLAYS) if much else plays,
        seed,
        report,
        cancelled,
    )
    return Choice(asked, options, tried, met, len(regions) - len(picked), (), not cancelled())


def _best_of_each(
    regions: Sequence[Region], starts: Sequence[tuple[int, int]], best: Refined
) -> list[int]:
    """For each of the best ways the number of its strike, near-equal chances by their kind."""
    chosen: dict[int, int] = {}
    for number, (region, _) in enumerate(starts):
        other = chosen.get(region)
        if other is None or _before(best.ranks[number], best.ranks[other]):
            chosen[region] = number
    order = sorted(chosen.values(), key=lambda number: -best.ranks[number][0])
    return order[:MOST_OPTIONS]


def _before(one: tuple[float, str], other: tuple[float, str]) -> bool:
    """Whether the first is to be preferred: clearly better, or about as good and plainer."""
    if abs(one[0] - other[0]) > NEAR:
        return one[0] > other[0]
    mine, theirs = KINDS.index(one[1]), KINDS.index(other[1])
    return mine < theirs or (mine == theirs and one[0] > other[0])
