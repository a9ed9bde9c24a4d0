"""Which strike: the ways to a goal, the most forgiving strike of each, ranked by its chance."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.planning.aim_field import AimField
from stunline.planning.judge import Judge, Judgement
from stunline.planning.margins import FirstFault, Margin, first_fault, margins_of
from stunline.planning.refine import refined
from stunline.planning.regions import KINDS, kind_of, regions_of
from stunline.planning.relax import Relaxation, relaxations
from stunline.planning.request import Request
from stunline.planning.scatter import Chance, normal_draws, play_struck, scattered
from stunline.planning.strike_space import StrikeSpace, strike_of, strike_space
from stunline.shot.batch import Batch
from stunline.shot.position import Strike

Floats = NDArray[np.float64]
Report = Callable[[str, int, int], None]

STRIKES = 40_000
PLAYS = 4_096  # a power of two, as the evenly spread draws ask for
MOST_OPTIONS = 5
SEED = 1
# Chances that differ by less are near enough equal for the plainer stroke to be preferred. [-]
NEAR = 0.03
_CHUNK = 4_000  # strikes played between two looks at whether to stop


@dataclass(frozen=True, slots=True)
class Option:
    """One way to the goal.

    Attributes:
        strike: the most forgiving one
        kind: "follow", "stun", "screw" or "side"
        chance: of the player's strokes
        margins: by "aim", "pace", "height", "side"
        fault: the error that spoils it soonest
        strikes: how many of those searched belong to this way
        rests: (plays, 2) where the white ends over the player's strokes, NaN where in-off [m]
        successes: (plays,) which of them meet the goal
        follow_ratio: on arrival, without error [-]
    """

    strike: Strike
    kind: str
    chance: Chance
    margins: dict[str, Margin]
    fault: FirstFault | None
    strikes: int
    rests: Floats = field(repr=False)
    successes: NDArray[np.bool_] = field(repr=False)
    follow_ratio: float = float("nan")


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
    cancelled: Callable[[], bool] = lambda: False,
) -> Choice:
    """Search, rank, and say how much each way forgives.

    Args:
        strikes: about so many are played without error
        plays: of each option with the player's errors; a power of two
        report: told what is being done, and how much of it
        cancelled: asked often; once true, what was found until then is ranked quickly

    Raises:
        UnsolvableShotError: nothing in the ranges can be aimed so.
    """
    judge = Judge(asked.position, asked.goal)
    aims = AimField(asked, asked.ranges)
    space = strike_space(asked.position, asked.ranges, aims, strikes)
    scan = _scan(judge, space, report, cancelled)
    regions = regions_of(space, scan.met, scan.follow, asked.player, 4 * MOST_OPTIONS)
    tried, met = int(scan.played.sum()), int(scan.met.sum())
    if not regions:
        found: tuple[Relaxation, ...] = ()
        if not cancelled():
            report("looking for what would help", 0, 1)
            found = relaxations(asked, judge, space, scan, strikes // 4)
        return Choice(asked, (), tried, met, 0, found, not cancelled())
    rows = [(k, row) for k, one in enumerate(regions) for row in one.candidates]
    options = _options(judge, asked, aims, space, rows, regions, plays, seed, report, cancelled)
    return Choice(
        asked, options, tried, met, len(regions) - len(options), (), not cancelled()
    )


@dataclass(frozen=True, slots=True)
class Scan:
    """A lattice of strikes, played. All of length N.

    Attributes:
        played, met: which were, and which meet the goal
        follow: ratios on arrival [-]
        holds, shortfalls: demand → as in ``Judgement``
    """

    played: NDArray[np.bool_]
    met: NDArray[np.bool_]
    follow: Floats
    holds: dict[str, NDArray[np.bool_]]
    shortfalls: dict[str, Floats]

    def all_but(self, demand: str) -> NDArray[np.bool_]:
        """Whether every other demand holds."""
        return Judgement(self.met, self.holds, self.shortfalls).all_but(demand) & self.played


def scan_space(
    judge: Judge, space: StrikeSpace, report: Report, cancelled: Callable[[], bool]
) -> Scan:
    """Play every strike of the space that can be struck."""
    count = len(space.rows)
    scan = Scan(
        np.zeros(count, dtype=bool),
        np.zeros(count, dtype=bool),
        np.full(count, np.nan),
        {name: np.zeros(count, dtype=bool) for name in judge.demands},
        {name: np.full(count, np.inf) for name in judge.demands},
    )
    # In an order that covers the whole space early, so that a stop leaves something of it all.
    order = np.random.default_rng(0).permutation(np.flatnonzero(space.struck))
    for first in range(0, len(order), _CHUNK):
        report("playing strikes", first, len(order))
        if cancelled():
            break
        rows = order[first : first + _CHUNK]
        batch = judge.play(space.rows[rows], cancelled=cancelled)
        _keep(scan, rows, batch, judge.judge(batch))
    return scan


_scan = scan_space


def _keep(scan: Scan, rows: NDArray[np.int64], batch: Batch, judgement: Judgement) -> None:
    scan.played[rows] = batch.played
    scan.met[rows] = judgement.met
    scan.follow[rows] = batch.readouts["follow_ratio"]
    for name, held in judgement.holds.items():
        scan.holds[name][rows] = held
        scan.shortfalls[name][rows] = judgement.shortfalls[name]


def _options(
    judge: Judge,
    asked: Request,
    aims: AimField,
    space: StrikeSpace,
    rows: list[tuple[int, int]],
    regions: list,
    plays: int,
    seed: int,
    report: Report,
    cancelled: Callable[[], bool],
) -> tuple[Option, ...]:
    report("refining", 0, len(rows))
    starts = space.rows[[row for _, row in rows]]
    best = refined(judge, asked, starts, seed, report, cancelled)
    # One strike for each way: that with the best chance, near-equal ones by their kind.
    chosen: dict[int, int] = {}
    for number, (region, _) in enumerate(rows):
        other = chosen.get(region)
        if other is None or _before(best.ranks[number], best.ranks[other]):
            chosen[region] = number
    order = sorted(chosen, key=lambda one: -best.ranks[chosen[one]][0])[:MOST_OPTIONS]
    picked = best.rows[[chosen[region] for region in order]]
    draws = normal_draws(plays, seed)
    margins = margins_of(judge, picked)
    found = []
    for k, region in enumerate(order):
        report("playing the player's errors", k, len(order))
        row = picked[k : k + 1]
        fine, batch, judgement = play_struck(judge, scattered(row, asked.player, draws), cancelled)
        counted = int(batch.played.sum() + (~fine).sum()) if fine.any() else len(fine)
        hits = int(judgement.met.sum()) if fine.any() else 0
        _, alone, _ = play_struck(judge, row)
        follow = float(alone.readouts["follow_ratio"][0])
        strike = strike_of(row[0])
        found.append(
            Option(
                strike,
                kind_of(follow, strike.side),
                Chance(hits, counted),
                margins[k],
                first_fault(margins[k], asked.player),
                regions[region].strikes,
                batch.rests[:, 0],
                judgement.met,
                follow,
            )
        )
    return tuple(ranked(found))


def _before(one: tuple[float, str], other: tuple[float, str]) -> bool:
    """Whether the first is to be preferred: clearly better, or about as good and plainer."""
    if abs(one[0] - other[0]) > NEAR:
        return one[0] > other[0]
    return KINDS.index(one[1]) < KINDS.index(other[1]) or (one[1] == other[1] and one[0] > other[0])


def ranked(options: list[Option]) -> list[Option]:
    """Best chance first; of those within ``NEAR`` of the best that is left, the plainest first."""
    left = sorted(options, key=lambda one: -one.chance.share)
    order = []
    while left:
        best = left[0].chance.share
        near = [one for one in left if best - one.chance.share <= NEAR]
        first = min(near, key=lambda one: KINDS.index(one.kind))
        order.append(first)
        left = [one for one in left if one is not first]
    return order



