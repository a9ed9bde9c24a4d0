"""Draws from what is likely after something was seen, however folded it is.

Sequential Monte Carlo after Del Moral, Doucet & Jasra (2006): a crowd of draws from what was
likely before is led over in stages. In each the reading counts for more, draws that fit badly give
way to copies of better ones, and all are moved by differences of other draws (differential
evolution, ter Braak, 2006), which are as long and as slanting as the crowd itself. Both from memory.

Differences are taken, and moves accepted, within one kind of draw only: where what is seen is a
smooth function of the draw. So each fold has steps of its own size; how much each fold weighs is
settled by the stages.
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

KEPT = 0.5  # of the crowd's effective size, from stage to stage [-]
MOVES = 2  # of each draw in a stage
LAST_MOVES = 6  # after the last stage
_MOST_STAGES = 60
# Of the step that is best for a normal distribution, 2.38/√(2d): up to that, often much less,
# since kinds are curved. [-]
_LEAST_STEP = 0.1
_JITTER = 1e-4  # added to every step, so that no draw is out of reach [-]


@dataclass(frozen=True, slots=True)
class Crowd:
    """Draws, each as likely as another.

    Attributes:
        draws: (N, d)
        fits: (N,) log-likelihoods
        kinds: (N,)
        families: (N,) number of the first draw that each comes from
        moved: share of the last moves that were accepted
        stages: it took
    """

    draws: Floats
    fits: Floats
    kinds: Kinds
    families: Ints
    moved: float = 0.0
    stages: int = 0


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
    crowd, weight, stages = first, 0.0, 0
    while weight < 1.0 and stages < _MOST_STAGES:
        kept = KEPT * min(size, len(crowd.draws))
        step = _next_step(crowd.fits, 1.0 - weight, kept)
        chosen = _resampled(step * crowd.fits, size, rng)
        crowd = _taken(crowd, chosen)
        weight, stages = min(1.0, weight + step), stages + 1
        moves = MOVES if weight < 1.0 else LAST_MOVES
        for _ in range(moves):
            crowd = _moved(crowd, weight, log_before, evaluate, rng)
    return Crowd(crowd.draws, crowd.fits, crowd.kinds, crowd.families, crowd.moved, stages)


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
) -> Crowd:
    """Every draw moved once: one half by differences of the other, then the other way round."""
    order = rng.permutation(len(crowd.draws))
    halves = np.array_split(order, 2)
    draws, fits, kinds = crowd.draws.copy(), crowd.fits.copy(), crowd.kinds.copy()
    accepted = 0
    for half, others in (halves, halves[::-1]):
        tried = draws[half] + _steps(kinds[half], draws[others], kinds[others], rng)
        tried_fits, tried_kinds = evaluate(tried)
        gain = log_before(tried) - log_before(draws[half])
        with np.errstate(invalid="ignore"):
            gain += weight * (tried_fits - fits[half])
        taken = (np.log(rng.random(len(half))) < gain) & (tried_kinds == kinds[half])
        rows = half[taken]
        draws[rows], fits[rows] = tried[taken], tried_fits[taken]
        accepted += int(taken.sum())
    return Crowd(draws, fits, kinds, crowd.families, accepted / len(draws))


def _steps(kinds: Kinds, others: Floats, their_kinds: Kinds, rng: np.random.Generator) -> Floats:
    """(N, d) differences of two of the others, of the same kind where there are enough."""
    count, width = len(kinds), others.shape[1]
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
    return steps + _JITTER * rng.standard_normal((count, width))
