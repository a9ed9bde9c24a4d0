"""A lattice of strikes, every one played without error and held against the goal."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.planning.judge import Judge, Judgement
from stunline.planning.strike_space import StrikeSpace
from stunline.shot.batch import Batch

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Report = Callable[[str, int, int], None]
Cancelled = Callable[[], bool]

_CHUNK = 4_000  # strikes played between two looks at whether to stop


@dataclass(frozen=True, slots=True)
class Scan:
    """What the strikes of a space came to. All of length N.

    Attributes:
        played, met: which were played, and which meet the goal
        follow: ratios on arrival [-]
        events: of each run
        holds, shortfalls: demand → as in ``Judgement``
    """

    played: Flags
    met: Flags
    follow: Floats
    events: NDArray[np.int64]
    holds: dict[str, Flags]
    shortfalls: dict[str, Floats]

    def all_but(self, demand: str) -> Flags:
        """Whether every other demand holds."""
        return Judgement(self.met, self.holds, self.shortfalls).all_but(demand) & self.played

    @property
    def mean_events(self) -> float:
        """Of those played: how much work a play is. [-]"""
        return float(self.events[self.played].mean()) if self.played.any() else 0.0


def scan_space(judge: Judge, space: StrikeSpace, report: Report, cancelled: Cancelled) -> Scan:
    """Play every strike of the space that can be struck, until cancelled."""
    count = len(space.rows)
    scan = Scan(
        np.zeros(count, dtype=bool),
        np.zeros(count, dtype=bool),
        np.full(count, np.nan),
        np.zeros(count, dtype=np.int64),
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


def _keep(scan: Scan, rows: NDArray[np.int64], batch: Batch, judgement: Judgement) -> None:
    scan.played[rows] = batch.played
    scan.met[rows] = judgement.met
    scan.follow[rows] = batch.readouts["follow_ratio"]
    scan.events[rows] = batch.events
    for name, held in judgement.holds.items():
        scan.holds[name][rows] = held
        scan.shortfalls[name][rows] = judgement.shortfalls[name]
