"""Strokes before anything was seen: mostly as the player's are, now and then far off.

Each of aim, pace, height and side is off on its own. In nine strokes of ten by the player's own
deviation, in one of ten by four times as much, so that a bad stroke is rare but not argued away:
a contaminated normal distribution, after Tukey (1960), from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.player import Player
from stunline.mechanics import layout
from stunline.shot.position import Strike

Floats = NDArray[np.float64]

NUMBERS = ("aim", "pace", "height", "side")
# Assumptions: nobody has counted bad strokes.
OWN_SHARE = 0.9  # of strokes that are as the player's own [-]
BAD_TIMES = 4.0  # a bad one's deviation, of the player's own [-]


@dataclass(frozen=True, slots=True)
class StrokePrior:
    """Strokes about one that was meant.

    A stroke is told by how far off it is in the player's deviations: (N, 4) for aim, pace,
    height and side.

    Attributes:
        meant: the strike
        player: whose stroke it was
    """

    meant: Strike
    player: Player

    def draw(self, count: int, rng: np.random.Generator) -> Floats:
        """(count, 4) in deviations."""
        wide = np.where(rng.random((count, len(NUMBERS))) < OWN_SHARE, 1.0, BAD_TIMES)
        drawn: Floats = wide * rng.standard_normal((count, len(NUMBERS)))
        return drawn

    def log_density(self, off: Floats) -> Floats:
        """(N,) of strokes off by (N, 4) deviations, but for a constant."""
        own = OWN_SHARE * np.exp(-0.5 * off**2)
        bad = (1.0 - OWN_SHARE) / BAD_TIMES * np.exp(-0.5 * (off / BAD_TIMES) ** 2)
        density: Floats = np.log(np.maximum(own + bad, np.finfo(float).tiny)).sum(axis=1)
        return density

    def off(self, deviations: Floats) -> Floats:
        """(N, 4) off by how much: aim [rad], pace [-] of the one meant, height and side [m]."""
        player = self.player
        scaled: Floats = deviations * np.array(
            [player.aim, player.pace, player.height, player.side]
        )
        return scaled

    def rows(self, deviations: Floats) -> Floats:
        """(N, 5) strikes, as ``play_many`` has them; some may be beyond a miscue."""
        meant, off = self.meant, self.off(deviations)
        rows: Floats = np.empty((len(off), layout.STRIKE_COLUMNS))
        rows[:, layout.STRIKE_AIM] = meant.aim + off[:, 0]
        rows[:, layout.STRIKE_PACE] = meant.pace * (1.0 + off[:, 1])
        rows[:, layout.STRIKE_HEIGHT] = meant.height + off[:, 2]
        rows[:, layout.STRIKE_SIDE] = meant.side + off[:, 3]
        rows[:, layout.STRIKE_ELEVATION] = meant.elevation
        return rows


def told_off(off: float, name: str) -> float:
    """A number off in a reader's unit: degrees, per cent, millimetres."""
    if name == "aim":
        return math.degrees(off)
    return 100.0 * off if name == "pace" else 1000.0 * off
