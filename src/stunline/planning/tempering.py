"""Draws from what is likely after something was seen, however folded it is.

Sequential Monte Carlo after Del Moral, Doucet & Jasra (2006): a crowd of draws from what was
likely before is led over in stages. In each the reading counts for more, draws that fit badly give
way to copies of better ones, and all are moved by differences of other draws (differential
evolution, ter Braak, 2006), as long and as slanting as the crowd itself. Both from memory.

Two moves of three stay within one kind of draw, where what is seen is a smooth function of the
draw, and take their size from draws of that kind: so each fold has steps of its own. The third
leads from kind to kind.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Kinds = NDArray[np.uint64]
# (N, d) draws → (N,) log-likelihoods and (N,) kinds
Evaluate = Callable[[Floats], tuple[Floats, Kinds]]
# draws and their kinds, others and theirs → draws to be tried, and what is added to their gain
Propose = Callable[[Floats, Kinds, Floats, Kinds, np.random.Generator], tuple[Floats, Floats]]

KEPT = 0.5  # of the crowd's effective size, from stage to stage [-]
MOVES = 3  # of each draw in a stage
LAST_MOVES = 12  # after the last stage
_MOST_STAGES = 60
# Of the step that is best for a normal distribution, 2.38/√(2d): up to that, often much less,
# since kinds are curved. [-]
_LEAST_STEP = 0.1
_LEAST_TURN = 0.15  # of a draw's standard place in the crowd [-]
_ENOUGH_LIKE = 5  # draws for each number, to know how they lie
_JITTER = 1e-4  # added to every step, so that no draw is out of reach [-]


@dataclass(frozen=True, slots=True)
class Crowd:
    """Draws, each as likely as another.

    Attributes:
        draws: (N, d)
        fits: (N,) log-likelihoods
        kinds: (N,)
        families: (N,) number of the first draw that each comes from
    """

    draws: Floats
    fits: Floats
    kinds: Kinds
    families: Ints


def led_over(
    first: Crowd,
    size: int,
    log_before: Callable[[Floats], Floats],
    evaluate: Evaluate,
    rng: np.random.Generator,
) -> Crowd:
    """From draws of what was likely before to draws of what is likely now.

    Args:
        first: draws from before, with their fits; one at least must be possible
        size: of the crowd
        log_before: (N, d) → (N,) log-density before
        evaluate: plays draws; −∞ for what is impossible
    """
    crowd, weight = first, 0.0
    for _ in range(_MOST_STAGES):
        kept = KEPT * min(size, len(crowd.draws))
        step = _next_step(crowd.fits, 1.0 - weight, kept)
        chosen = _resampled(step * crowd.fits, size, rng)
        crowd = _taken(crowd, chosen)
        weight = min(1.0, weight + step)
        moves = MOVES if weight < 1.0 else LAST_MOVES
        crowd = moved_on(crowd, moves, log_before, evaluate, rng, weight)
        if weight == 1.0:
            break
    return crowd


def moved_on(
    crowd: Crowd,
    moves: int,
    log_before: Callable[[Floats], Floats],
    evaluate: Evaluate,
    rng: np.random.Generator,
    weight: float = 1.0,
) -> Crowd:
    """Every draw moved so often; ``weight``: how much of what was seen counts."""
    for number in range(moves):
        proposed, within = _MOVES_IN_TURN[number % len(_MOVES_IN_TURN)]
        crowd = _moved(crowd, weight, log_before, evaluate, rng, proposed, within)
    return crowd


def effective_size(log_weights: Floats) -> float:
    """Of draws with these weights, as if all were equal: (Σw)²/Σw²."""
    weights = np.exp(log_weights - log_weights.max())
    return float(weights.sum() ** 2 / (weights**2).sum())


def _next_step(fits: Floats, most: float, kept: float) -> float:
    """How much more the reading may count so that so many draws are left, in effect."""
    possible = fits[np.isfinite(fits)]
    if effective_size(most * possible) >= kept:
        return most
    low, high = 0.0, most
    for _ in range(60):
        middle = 0.5 * (low + high)
        if effective_size(middle * possible) >= kept:
            low = middle
        else:
            high = middle
    # Where so few are possible that no step keeps as many, the reading counts a little more.
    return max(low, 1e-6 * most)


def _resampled(log_weights: Floats, size: int, rng: np.random.Generator) -> Ints:
    """(size,) indices, drawn systematically by weight."""
    weights = np.exp(log_weights - log_weights.max())
    edges = np.cumsum(weights) / weights.sum()
    places = (rng.random() + np.arange(size)) / size
    return np.minimum(np.searchsorted(edges, places), len(weights) - 1)


def _taken(crowd: Crowd, rows: Ints) -> Crowd:
    return Crowd(crowd.draws[rows], crowd.fits[rows], crowd.kinds[rows], crowd.families[rows])


def _moved(
    crowd: Crowd,
    weight: float,
    log_before: Callable[[Floats], Floats],
    evaluate: Evaluate,
    rng: np.random.Generator,
    proposed: Propose,
    within: bool,
) -> Crowd:
    """Every draw moved once: one half by what the other is like, then the other way round.

    Args:
        within: whether each stays of its kind, and moves as the others of its kind lie
    """
    order = rng.permutation(len(crowd.draws))
    halves = np.array_split(order, 2)
    draws, fits, kinds = crowd.draws.copy(), crowd.fits.copy(), crowd.kinds.copy()
    for half, others in (halves, halves[::-1]):
        told = kinds if within else np.zeros_like(kinds)
        tried, gain = proposed(draws[half], told[half], draws[others], told[others], rng)
        tried_fits, tried_kinds = evaluate(tried)
        gain += log_before(tried) - log_before(draws[half])
        with np.errstate(invalid="ignore"):
            gain += weight * (tried_fits - fits[half])
        taken = np.log(rng.random(len(half))) < gain
        if within:
            taken &= tried_kinds == kinds[half]
        rows = half[taken]
        draws[rows], fits[rows], kinds[rows] = tried[taken], tried_fits[taken], tried_kinds[taken]
    return Crowd(draws, fits, kinds, crowd.families)


def _stepped(
    draws: Floats, kinds: Kinds, others: Floats, their_kinds: Kinds, rng: np.random.Generator
) -> tuple[Floats, Floats]:
    """Moved by the difference of two of the others, of the same kind where there are enough."""
    count, width = draws.shape
    order = np.argsort(their_kinds, kind="stable")
    sorted_kinds = their_kinds[order]
    low = np.searchsorted(sorted_kinds, kinds, side="left")
    high = np.searchsorted(sorted_kinds, kinds, side="right")
    alone = high - low < 2
    low, high = np.where(alone, 0, low), np.where(alone, len(others), high)
    one = low + np.floor(rng.random(count) * (high - low)).astype(np.int64)
    shift = 1 + np.floor(rng.random(count) * (high - low - 1)).astype(np.int64)
    two = low + (one - low + shift) % (high - low)
    scale = np.exp(rng.uniform(math.log(_LEAST_STEP), 0.0, count)) * 2.38 / math.sqrt(2.0 * width)
    steps: Floats = scale[:, None] * (others[order[one]] - others[order[two]])
    tried: Floats = draws + steps + _JITTER * rng.standard_normal((count, width))
    return tried, np.zeros(count)


def _turned(
    draws: Floats, kinds: Kinds, others: Floats, their_kinds: Kinds, rng: np.random.Generator
) -> tuple[Floats, Floats]:
    """Moved towards the middle of the others of its kind and out again, any way as they lie.

    x' = m + √(1 − s²)(x − m) + s·C^½ξ leaves the normal distribution of mean m and covariance C
    as it is (after Neal, 1998, from memory); what the crowd differs from it is in the second
    value, to be added to the gain. Kinds of too few others step instead.
    """
    tried, gain = _stepped(draws, kinds, others, their_kinds, rng)
    width = draws.shape[1]
    for kind in np.unique(kinds):
        like = others[their_kinds == kind]
        if len(like) < _ENOUGH_LIKE * width:
            continue
        rows = np.flatnonzero(kinds == kind)
        middle = like.mean(axis=0)
        squares, axes = np.linalg.eigh(np.cov(like.T) + _JITTER**2 * np.eye(width))
        root = axes * np.sqrt(np.maximum(squares, _JITTER**2))
        flat = np.linalg.inv(root)
        size = np.exp(rng.uniform(math.log(_LEAST_TURN), 0.0, len(rows)))[:, None]
        standard = (draws[rows] - middle) @ flat.T
        moved = np.sqrt(1.0 - size**2) * standard + size * rng.standard_normal(standard.shape)
        tried[rows] = middle + moved @ root.T
        gain[rows] = 0.5 * ((moved**2).sum(axis=1) - (standard**2).sum(axis=1))
    return tried, gain


# In turn, each with whether it stays within a kind: the first is the better one for what is nearly
# normal, the second for what is bent, the third leads from fold to fold.
_MOVES_IN_TURN: tuple[tuple[Propose, bool], ...] = (
    (_turned, True),
    (_stepped, True),
    (_stepped, False),
)
