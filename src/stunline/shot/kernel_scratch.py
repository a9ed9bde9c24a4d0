"""The arrays that the kernels work in and write their record to."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.shot import compiled

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Scratch:
    """Arrays that ``play_many`` works in, in the order of its arguments.

    Attributes:
        state: balls as they stand and as they run, motions, pair times, members, contacts,
            holds, coefficients
        rows: of events and phases
    """

    state: tuple[Floats, Floats, Ints, Floats, Floats, Floats, Floats, Floats]
    rows: tuple[Floats, Ints, Floats, Ints]


@dataclass(frozen=True, slots=True)
class Rows:
    """Arrays that the engine writes its record into."""

    event_floats: Floats
    event_ints: Ints
    phase_floats: Floats
    phase_ints: Ints

    @classmethod
    def of(cls, events: int) -> Rows:
        """Rows for that many events, and for the phases between them."""
        phases = 2 * events + 64
        return cls(
            np.empty((events, layout.EVENT_FLOAT_COLUMNS)),
            np.empty((events, layout.EVENT_INT_COLUMNS), dtype=np.int64),
            np.empty((phases, layout.PHASE_FLOAT_COLUMNS)),
            np.empty((phases, layout.PHASE_INT_COLUMNS), dtype=np.int64),
        )


def scratch_arrays(balls: int) -> tuple[Floats, Floats, Floats, Floats]:
    """Pair times, members, contacts and holds for that many balls."""
    return (
        np.empty((balls, balls)),
        np.empty((balls, compiled.MEMBER_COLUMNS)),
        np.empty((balls * compiled.CONTACTS_PER_BALL, compiled.CONTACT_COLUMNS)),
        np.empty((balls * compiled.HOLDS_A_BALL, compiled.HOLD_COLUMNS)),
    )
