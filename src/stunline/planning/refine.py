"""Moves strikes to where they forgive the most, by the chance over a player's errors.

A pattern search: every strike is compared with its neighbours in aim, pace, height and side
over the same errors, all strikes and neighbours in one batch, and moves to the best of them;
when none is better the steps are halved. R. Hooke and T. A. Jeeves, Journal of the ACM 8 (1961)
212; instead of its pattern move, the top of a parabola along every number is tried next.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.planning.judge import Judge
from stunline.planning.regions import kind_of
from stunline.planning.request import Request
from stunline.planning.scan import Cancelled, Report
from stunline.planning.scatter import met_of, normal_draws, play_struck, scattered

Floats = NDArray[np.float64]
Elevation = Callable[[float], float]  # the least that a height needs [m → rad]
_FIRST_STEP = 0.6  # in the player's deviations [-]
MOVED = (
    layout.STRIKE_AIM,
    layout.STRIKE_PACE,
    layout.STRIKE_HEIGHT,
    layout.STRIKE_SIDE,
)
_LEAST = (2e-4, 0.01, 3e-4, 3e-4)  # steps of a player without scatter [rad, share, m, m]


@dataclass(frozen=True, slots=True)
class Effort:
    """How many plays a refinement may take.

    Attributes:
        first_draws: to sort the candidates; a power of two, as the next
        draws: to compare neighbours
        ways: to the goal, of each of which the best candidate is moved
        kept: candidates that are moved in all
        rounds: moves of each
    """

    first_draws: int = 128
    draws: int = 256
    ways: int = 5
    kept: int = 7
    rounds: int = 6

    @classmethod
    def small(cls) -> Effort:
        """Where a play is much work."""
        return cls(32, 64, 3, 4, 3)


@dataclass(frozen=True, slots=True)
class Refined:
    """K strikes after the search.

    Attributes:
        rows: (K, 5)
        ranks: (chance, kind of stroke) of each
    """

    rows: Floats
    ranks: list[tuple[float, str]]


def refined(
    judge: Judge,
    asked: Request,
    elevation: Elevation,
    starts: Floats,
    ways: Sequence[int],
    effort: Effort,
    seed: int,
    report: Report,
    cancelled: Cancelled,
) -> Refined:
    """Move the most promising of these strikes (K, 5), which meet the goal, uphill.

    Args:
        ways: which way to the goal each belongs to
        elevation: the least with which the cue clears what lies behind the white, by height
    """
    rows = starts.copy()
    chances = _chances(judge, asked, rows, normal_draws(effort.first_draws, seed), cancelled)
    kept = _promising(chances, ways, effort)
    draws = normal_draws(effort.draws, seed)
    if not cancelled():
        rows[kept] = _moved(
            judge, asked, elevation, rows[kept], draws, effort.rounds, report, cancelled
        )
        chances[kept] = _chances(judge, asked, rows[kept], draws, cancelled)
    _, batch, _ = play_struck(judge, rows)
    follow = batch.readouts["follow_ratio"]
    sides = rows[:, layout.STRIKE_SIDE]
    ranks = [
        (float(chance), kind_of(float(ratio), float(side)))
        for chance, ratio, side in zip(chances, follow, sides, strict=True)
    ]
    return Refined(rows, ranks)


def _promising(chances: Floats, ways: Sequence[int], effort: Effort) -> list[int]:
    """Of the best ways the best candidate each, and then the next best ones of any of them."""
    order = np.argsort(-chances, kind="stable").tolist()
    firsts = list({ways[k]: k for k in reversed(order)}.values())
    firsts = sorted(firsts, key=order.index)[: effort.ways]
    best_ways = {ways[k] for k in firsts}
    others = [k for k in order if ways[k] in best_ways and k not in firsts]
    return (firsts + others)[: effort.kept]


def _moved(
    judge: Judge,
    asked: Request,
    elevation: Elevation,
    rows: Floats,
    draws: Floats,
    rounds: int,
    report: Report,
    cancelled: Cancelled,
) -> Floats:
    steps = np.full(len(rows), _FIRST_STEP)
    guesses = rows
    for turn in range(rounds):
        report("refining", turn, rounds)
        if cancelled():
            break
        tried = np.stack(
            [
                np.vstack([_neighbours(asked, elevation, row, step), guess])
                for row, step, guess in zip(rows, steps, guesses, strict=True)
            ]
        )
        flat = tried.reshape(-1, rows.shape[1])
        holds, _ = met_of(judge, flat, cancelled=cancelled)
        chances = _chances(judge, asked, flat, draws, cancelled)
        chances = np.where(holds, chances, -1.0).reshape(len(rows), -1)
        # The strike itself is the first: it stays unless another is better.
        best = chances.argmax(axis=1)
        guesses = np.stack(
            [_guess(elevation, one, each) for one, each in zip(tried, chances, strict=True)]
        )
        rows = tried[np.arange(len(rows)), best]
        steps = np.where(best == 0, 0.5 * steps, steps)
    return rows


def _guess(elevation: Elevation, tried: Floats, chances: Floats) -> Floats:
    """Where the chance is highest if it is a parabola along each number by itself."""
    row = tried[0]
    guess: Floats = row.copy()
    for axis, column in enumerate(MOVED):
        low, high = tried[1 + 2 * axis], tried[2 + 2 * axis]
        before, after = chances[1 + 2 * axis], chances[2 + 2 * axis]
        step = 0.5 * (high[column] - low[column])
        bend = before - 2.0 * chances[0] + after
        if step > 0.0 and bend < 0.0 and min(before, after) >= 0.0:
            share = 0.5 * (before - after) / bend
            guess[column] = row[column] + min(max(share, -1.0), 1.0) * step
        elif after != before:
            better = high if after > before else low
            guess[column] = better[column]
    guess[layout.STRIKE_ELEVATION] = elevation(float(guess[layout.STRIKE_HEIGHT]))
    return guess


def _neighbours(asked: Request, elevation: Elevation, row: Floats, step: float) -> Floats:
    """The strike, and those a step away along each number that may vary; the aim always may."""
    player, ranges = asked.player, asked.ranges
    pace = float(row[layout.STRIKE_PACE])
    moves = (
        (max(player.aim, _LEAST[0]), None),
        (max(player.pace, _LEAST[1]) * pace, ranges.pace),
        (max(player.height, _LEAST[2]), ranges.height),
        (max(player.side, _LEAST[3]), ranges.side),
    )
    many = [row]
    for column, (size, span) in zip(MOVED, moves, strict=True):
        for sign in (-1.0, 1.0):
            other = row.copy()
            other[column] += sign * step * size
            if span is not None:
                other[column] = min(max(other[column], span[0]), span[1])
            if column == layout.STRIKE_HEIGHT:
                other[layout.STRIKE_ELEVATION] = elevation(float(other[column]))
            many.append(other)
    return np.stack(many)


def _chances(
    judge: Judge, asked: Request, rows: Floats, draws: Floats, cancelled: Cancelled
) -> Floats:
    """(K,) shares of the player's strokes that meet the goal."""
    met, played = met_of(judge, scattered(rows, asked.player, draws), cancelled=cancelled)
    counted = np.maximum(played.reshape(len(rows), -1).sum(axis=1), 1)
    chances: Floats = met.reshape(len(rows), -1).sum(axis=1) / counted
    return chances
