"""Moves strikes to where they forgive the most, by the chance over a player's errors.

A pattern search: every strike is compared with its neighbours in aim, pace, height and side
over the same errors, all strikes and neighbours in one batch, and moves to the best of them;
when none is better the steps are halved. R. Hooke and T. A. Jeeves, Journal of the ACM 8 (1961)
212, without its pattern move.
"""

from __future__ import annotations

from collections.abc import Callable
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
_LEAST = (2e-4, 0.01, 3e-4, 3e-4)  # steps of a player without scatter [rad, share, m, m]


@dataclass(frozen=True, slots=True)
class Effort:
    """How many plays a refinement may take.

    Attributes:
        first_draws: to sort the candidates; a power of two, as the next
        draws: to compare neighbours
        kept: candidates that are moved
        rounds: moves of each
    """

    first_draws: int = 128
    draws: int = 256
    kept: int = 8
    rounds: int = 5

    @classmethod
    def small(cls) -> Effort:
        """Where a play is much work."""
        return cls(32, 64, 4, 3)


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
    effort: Effort,
    seed: int,
    report: Report,
    cancelled: Cancelled,
) -> Refined:
    """Move the most promising of these strikes (K, 5), which meet the goal, uphill.

    Args:
        elevation: the least with which the cue clears what lies behind the white, by height
    """
    rows = starts.copy()
    chances = _chances(judge, asked, rows, normal_draws(effort.first_draws, seed), cancelled)
    kept = np.argsort(-chances, kind="stable")[: effort.kept]
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
    for turn in range(rounds):
        report("refining", turn, rounds)
        if cancelled():
            break
        neighbours = np.stack(
            [
                _neighbours(asked, elevation, row, step)
                for row, step in zip(rows, steps, strict=True)
            ]
        )
        flat = neighbours.reshape(-1, rows.shape[1])
        holds, _ = met_of(judge, flat, cancelled)
        chances = _chances(judge, asked, flat, draws, cancelled)
        chances = np.where(holds, chances, -1.0).reshape(len(rows), -1)
        # The strike itself is the first: it stays unless another is better.
        best = chances.argmax(axis=1)
        rows = neighbours[np.arange(len(rows)), best]
        steps = np.where(best == 0, 0.5 * steps, steps)
    return rows


def _neighbours(asked: Request, elevation: Elevation, row: Floats, step: float) -> Floats:
    """The strike, and those a step away along each number that may vary; the aim always may."""
    player, ranges = asked.player, asked.ranges
    pace = float(row[layout.STRIKE_PACE])
    moves = (
        (layout.STRIKE_AIM, max(player.aim, _LEAST[0]), None),
        (layout.STRIKE_PACE, max(player.pace, _LEAST[1]) * pace, ranges.pace),
        (layout.STRIKE_HEIGHT, max(player.height, _LEAST[2]), ranges.height),
        (layout.STRIKE_SIDE, max(player.side, _LEAST[3]), ranges.side),
    )
    many = [row]
    for column, size, span in moves:
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
    met, played = met_of(judge, scattered(rows, asked.player, draws), cancelled)
    counted = np.maximum(played.reshape(len(rows), -1).sum(axis=1), 1)
    chances: Floats = met.reshape(len(rows), -1).sum(axis=1) / counted
    return chances
