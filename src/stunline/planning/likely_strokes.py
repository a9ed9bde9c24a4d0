"""Which strokes are likely, given what was seen: on any of the tables that this may be."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.doubt import Doubt
from stunline.equipment.model import Coefficients
from stunline.equipment.player import Player
from stunline.planning.seen import Kinds, Seen, kinds_of
from stunline.planning.strike_space import strike_of, struck
from stunline.planning.stroke_prior import NUMBERS, StrokePrior
from stunline.planning.tempering import Crowd, led_over, moved_on
from stunline.shot.drawn_tables import doubt_of_position, rows_off
from stunline.shot.happened import Happened
from stunline.shot.position import Position, Strike

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

SEED = 1
FIRST = 16_384  # strokes of the first look, from before anything was seen
ROUNDS = 4  # of it, while too few strokes do what was plainly seen
CROWD = 4_096  # strokes that are led over to what was seen
_TRIED = 64  # strokes by whose events it is told how long one play takes
# Events of one first look, times the balls that each is looked for among: about what they cost.
# Where shots have more, as in a pack, there are fewer strokes.
_EVENTS = 1_000_000
_FEWEST = 512
# Plain facts that fewer of the first strokes than this do are looked for in another round.
_ENOUGH = 128
# Draws of one family are still alike: the crowd is moved on until it is worth so many independent
# strokes, which leaves the ends of its intervals off by a sixth of a deviation, or so often.
_WORTH = 200.0
_FURTHER, _FURTHER_MOVES = 2, 4
# The best play's misses together, as a share of such misses by chance, from which on what was
# seen is not explained: one right reading in ten thousand is as far off.
_EXPLAINED = 1e-4


@dataclass(frozen=True, slots=True)
class PlayedAsked:
    """What is asked.

    Attributes:
        position: where the balls stood
        meant: the strike
        player: whose stroke it was
        happened: what was seen
        object_ball: that the strike was meant to meet first, "" for none
        seed: of all that is drawn
    """

    position: Position
    meant: Strike
    player: Player
    happened: Happened
    object_ball: str = ""
    seed: int = SEED


@dataclass(frozen=True)
class LikelyStrokes:
    """Strokes, each as likely as another, or those nearest to what was seen.

    Attributes:
        asked: as asked
        doubt: of the table's coefficients
        strokes: (N, 4) off what was meant: aim [rad], pace [-], height and side [m]
        before: (M, 4) the same before anything was seen
        tables: (N, k) how far the table is off with each, on the scales of the doubt
        rests: (N, 2) where the white ends, NaN where it falls [m]
        fits: (N,) log-likelihoods; broken: (N,) plain facts that are otherwise
        densities: (N,) log-density of stroke and table before
        kinds: (N,) ways of the shot
        explained: whether any stroke does what was seen
        effective: how many independent strokes they are worth
        plays: in all
    """

    asked: PlayedAsked
    doubt: Doubt
    strokes: Floats = field(repr=False)
    before: Floats = field(repr=False)
    tables: Floats = field(repr=False)
    rests: Floats = field(repr=False)
    fits: Floats = field(repr=False)
    broken: NDArray[np.int64] = field(repr=False)
    densities: Floats = field(repr=False)
    kinds: Kinds = field(repr=False)
    explained: bool
    effective: float
    plays: int

    @cached_property
    def rows(self) -> Floats:
        """(N, 5) the strokes as strikes."""
        player = self.asked.player
        own = np.array([player.aim, player.pace, player.height, player.side])
        deviations = np.divide(self.strokes, own, out=np.zeros_like(self.strokes), where=own > 0.0)
        return StrokePrior(self.asked.meant, player).rows(deviations)

    def strike(self, number: int) -> Strike:
        """One of the strokes."""
        return strike_of(self.rows[number])

    def coefficients(self, number: int) -> Coefficients:
        """The table that it was played on."""
        return self.doubt.at(self.tables[number : number + 1])[0]

    @property
    def nearest(self) -> int:
        """The one that comes nearest to what was seen; they are in that order where none does."""
        return int(self.fits.argmax()) if np.isfinite(self.fits).any() else 0

    def best(self, among: Flags | None = None) -> int:
        """The likeliest of them all, or of some."""
        told = self.fits + self.densities
        chosen = told if among is None else np.where(among, told, -np.inf)
        return int(chosen.argmax())


class _Player:
    """Plays draws: four deviations of the stroke, then one standard number per coefficient."""

    def __init__(self, asked: PlayedAsked, doubt: Doubt) -> None:
        self.seen = Seen(asked.position, asked.happened, asked.object_ball)
        self.prior = StrokePrior(asked.meant, asked.player)
        self.doubt = doubt
        self.width = len(NUMBERS) + len(doubt.names)
        self.plays = 0

    def draw(self, count: int, rng: np.random.Generator) -> Floats:
        """(count, d) from before, of which the tip stays on the ball."""
        kept: list[Floats] = []
        while sum(map(len, kept)) < count:
            strokes = self.prior.draw(count, rng)
            tables = rng.standard_normal((count, len(self.doubt.names)))
            fine = struck(self.seen.position, self.prior.rows(strokes))
            kept.append(np.hstack([strokes, tables])[fine])
        return np.concatenate(kept)[:count]

    def log_before(self, draws: Floats) -> Floats:
        """(N,) log-density before anything was seen."""
        strokes, tables = draws[:, : len(NUMBERS)], draws[:, len(NUMBERS) :]
        density: Floats = self.prior.log_density(strokes) - 0.5 * (tables**2).sum(axis=1)
        return density

    def tables(self, draws: Floats) -> Floats:
        """(N, k) off on the scales of the doubt."""
        return self.doubt.root_times(draws[:, len(NUMBERS) :])

    def play(self, draws: Floats) -> tuple[Floats, Kinds]:
        """Log-likelihoods and ways; a miscue is impossible."""
        fits: Floats = np.full(len(draws), -np.inf)
        kinds: Kinds = np.zeros(len(draws), dtype=np.uint64)
        strikes = self.prior.rows(draws[:, : len(NUMBERS)])
        fine = struck(self.seen.position, strikes)
        if fine.any():
            rows = rows_off(self.seen.position, self.doubt, self.tables(draws[fine]))
            batch = self.seen.play(strikes[fine], rows)
            self.plays += int(fine.sum())
            fits[fine], kinds[fine] = self.seen.log_likelihood(batch), kinds_of(batch)
        return fits, kinds


def likely_strokes(asked: PlayedAsked) -> LikelyStrokes:
    """The strokes that what was seen leaves likely; the same ones every time."""
    rng = np.random.default_rng(asked.seed)
    doubt = doubt_of_position(asked.position)
    player = _Player(asked, doubt)
    share = _share_of_strokes(player, rng)
    first = _first_look(player, max(_FEWEST, int(FIRST * share)), rng)
    before = player.prior.off(first.draws[:, : len(NUMBERS)])
    if not np.isfinite(first.fits).any():
        return _told(asked, player, _nearest_to_facts(player, first), before, 0.0, False)
    size = max(_FEWEST // 2, int(CROWD * share))
    crowd = led_over(first, size, player.log_before, player.play, rng)
    for _ in range(_FURTHER if share == 1.0 else 0):
        if worth(crowd) >= _WORTH:
            break
        crowd = moved_on(crowd, _FURTHER_MOVES, player.log_before, player.play, rng)
    explained = _is_explained(player.seen, crowd)
    return _told(asked, player, crowd, before, worth(crowd), explained)


def _share_of_strokes(player: _Player, rng: np.random.Generator) -> float:
    """Fewer strokes where one takes long, by its events: the same on every machine."""
    draws = player.draw(_TRIED, rng)
    strikes = player.prior.rows(draws[:, : len(NUMBERS)])
    rows = rows_off(player.seen.position, player.doubt, player.tables(draws))
    events = float(player.seen.play(strikes, rows).events.mean()) * len(player.seen.position.balls)
    return min(1.0, _EVENTS / (FIRST * events))


def _first_look(player: _Player, count: int, rng: np.random.Generator) -> Crowd:
    """Strokes from before, more of them while too few do what was plainly seen."""
    draws, fits, kinds = [], [], []
    for _ in range(ROUNDS):
        draws.append(player.draw(count, rng))
        more = player.play(draws[-1])
        fits.append(more[0])
        kinds.append(more[1])
        if np.isfinite(np.concatenate(fits)).sum() >= _ENOUGH:
            break
    every = np.concatenate(draws)
    return Crowd(every, np.concatenate(fits), np.concatenate(kinds), np.arange(len(every)))


def _is_explained(seen: Seen, crowd: Crowd) -> bool:
    """Whether the best of them is as near as readings are."""
    from scipy.stats import chi2

    return bool(-2.0 * crowd.fits.max() <= chi2.isf(_EXPLAINED, max(1, seen.readings)))


def worth(crowd: Crowd) -> float:
    """How many independent draws the crowd is worth, by how alike draws of one family are.

    Kish's design effect (1965, from memory): N / (1 + (m − 1)ρ), m the size of the family that a
    draw stands in, ρ how much of the variance lies between families. Of pace and height the worse.
    """
    count = len(crowd.draws)
    names, inverse, sizes = np.unique(crowd.families, return_inverse=True, return_counts=True)
    mean_size = float((sizes.astype(float) ** 2).sum() / count)
    if len(names) < 2:
        return 1.0
    if len(names) == count:
        return float(count)
    least = float(count)
    for column in (1, 2):
        values = crowd.draws[:, column]
        means = np.bincount(inverse, values) / sizes
        within = float(((values - means[inverse]) ** 2).sum() / (count - len(names)))
        between = float((sizes * (means - values.mean()) ** 2).sum() / (len(names) - 1))
        typical = (count - mean_size) / (len(names) - 1)
        total = between + (typical - 1.0) * within
        alike = max(0.0, (between - within) / total) if total > 0.0 else 0.0
        least = min(least, count / (1.0 + (mean_size - 1.0) * alike))
    return least


def _nearest_to_facts(player: _Player, first: Crowd) -> Crowd:
    """Those of the first look that break the fewest plain facts, the nearest readings first."""
    strikes = player.prior.rows(first.draws[:, : len(NUMBERS)])
    rows = rows_off(player.seen.position, player.doubt, player.tables(first.draws))
    batch = player.seen.play(strikes, rows)
    broken = player.seen.broken(batch)
    off = np.nan_to_num((player.seen.misses(batch) ** 2).sum(axis=1), nan=np.inf)
    order = np.lexsort((off, broken))[:_TRIED]
    return Crowd(first.draws[order], first.fits[order], first.kinds[order], order)


def _told(
    asked: PlayedAsked,
    player: _Player,
    crowd: Crowd,
    before: Floats,
    effective: float,
    explained: bool,
) -> LikelyStrokes:
    deviations = crowd.draws[:, : len(NUMBERS)]
    tables = player.tables(crowd.draws)
    rows = rows_off(asked.position, player.doubt, tables)
    batch = player.seen.play(player.prior.rows(deviations), rows)
    return LikelyStrokes(
        asked, player.doubt, player.prior.off(deviations), before, tables,
        batch.rests[:, 0], crowd.fits, player.seen.broken(batch),
        player.log_before(crowd.draws), crowd.kinds, explained, effective, player.plays,
    )  # fmt: skip
