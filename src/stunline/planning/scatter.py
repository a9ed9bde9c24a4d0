"""A player's strokes about the one that was meant, and the chance that they do what is asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.player import Player
from stunline.mechanics import layout
from stunline.planning.judge import Judge, Judgement
from stunline.planning.strike_space import struck
from stunline.shot.batch import Batch
from stunline.shot.setting_error import wilson_interval

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

SCATTERED = (
    layout.STRIKE_AIM,
    layout.STRIKE_PACE,
    layout.STRIKE_HEIGHT,
    layout.STRIKE_SIDE,
)


@dataclass(frozen=True, slots=True)
class Chance:
    """How often strokes did what was asked.

    Attributes:
        hits, plays: counted; strokes that miscue are among the plays
    """

    hits: int
    plays: int

    @property
    def share(self) -> float:
        """Between 0 and 1."""
        return self.hits / self.plays if self.plays else 0.0

    @property
    def interval(self) -> tuple[float, float]:
        """95 %, after Wilson (1927). For evenly spread draws it is on the wide side."""
        return wilson_interval(self.hits, self.plays) if self.plays else (0.0, 1.0)


def normal_draws(count: int, seed: int) -> Floats:
    """(count, 4) standard normal numbers for aim, pace, height and side, evenly spread.

    A scrambled Sobol sequence through the inverse of the normal distribution: for smooth
    shares it errs several times less than as many random numbers. ``count`` a power of two.
    """
    from scipy.special import ndtri
    from scipy.stats import qmc

    uniform = qmc.Sobol(len(SCATTERED), scramble=True, rng=seed).random(count)
    draws: Floats = ndtri(np.clip(uniform, 1e-12, 1.0 - 1e-12))
    return draws


def scattered(rows: Floats, player: Player, draws: Floats) -> Floats:
    """(K·M, 5): each of K strikes with each of M draws; those of one strike stand together.

    Aim, height and side are off by so many standard deviations; pace by that share of itself.
    """
    many: Floats = np.repeat(rows, len(draws), axis=0)
    off = np.tile(draws, (len(rows), 1))
    many[:, layout.STRIKE_AIM] += player.aim * off[:, 0]
    many[:, layout.STRIKE_PACE] *= 1.0 + player.pace * off[:, 1]
    many[:, layout.STRIKE_HEIGHT] += player.height * off[:, 2]
    many[:, layout.STRIKE_SIDE] += player.side * off[:, 3]
    return many


def play_struck(
    judge: Judge,
    rows: Floats,
    coefficients: Floats | None = None,
    *,
    cancelled: Callable[[], bool] | None = None,
    readouts: tuple[str, ...] = (),
    whole: bool = False,
) -> tuple[Flags, Batch, Judgement]:
    """Play the rows whose tip stays on the ball.

    Args:
        coefficients: of each row, the position's own when None
        whole: until rest, and not only until the goal is decided.

    Returns:
        (N,) which rows those are, and of these, in order, what they came to.
    """
    fine = struck(judge.position, rows)
    # A batch of nothing can't be played: the first row stands in and is not counted.
    chosen = rows[fine] if fine.any() else _harmless(rows[:1])
    if coefficients is not None:
        coefficients = coefficients[fine] if fine.any() else coefficients[:1]
    batch = judge.play(
        chosen, cancelled=cancelled, readouts=readouts, coefficients=coefficients, whole=whole
    )
    return fine, batch, judge.judge(batch)


def _harmless(rows: Floats) -> Floats:
    row = rows.copy()
    row[:, layout.STRIKE_HEIGHT : layout.STRIKE_SIDE + 1] = 0.0
    row[:, layout.STRIKE_PACE] = np.abs(row[:, layout.STRIKE_PACE]) + 0.1
    return row


def met_of(
    judge: Judge,
    rows: Floats,
    coefficients: Floats | None = None,
    *,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[Flags, Flags]:
    """(N,) whether each row meets the goal, a miscue never; and whether it was played at all."""
    fine, batch, judgement = play_struck(judge, rows, coefficients, cancelled=cancelled)
    met, played = np.zeros(len(rows), dtype=bool), ~fine
    if fine.any():
        met[fine] = judgement.met
        played[fine] = batch.played
    return met, played
