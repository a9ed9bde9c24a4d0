"""Bands that were found lately, for a strip that is asked for again."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass

from stunline.shot.ladder import Band
from stunline.shot.position import Position, StrikePlan
from stunline.tasks.live_request import StripOf

# What was found last stays: a strip comes again when a step is taken back, when the colours or the
# window's size change, when the page is loaded anew. Fewer, and a walk through undo plays again.
_MOST = 32


@dataclass(frozen=True, slots=True)
class Varied:
    """What a strip varies, from where to where. SI."""

    position: Position
    plan: StrikePlan
    vary: StripOf
    low: float
    high: float


class KeptBands:
    """The last bands that were found, each with all that they hang on."""

    def __init__(self) -> None:
        self._kept: deque[tuple[Varied, bool, tuple[Band, ...]]] = deque(maxlen=_MOST)

    def found(
        self, varied: Varied, moving: bool, find: Callable[[], tuple[Band, ...]]
    ) -> tuple[Band, ...]:
        """As kept; otherwise as ``find`` finds them, unless it raises.

        Args:
            moving: whether coarser ones will do
        """
        for one, coarse, bands in self._kept:
            if (one, coarse) == (varied, moving):
                return bands
        bands = find()
        self._kept.append((varied, moving, bands))
        return bands
