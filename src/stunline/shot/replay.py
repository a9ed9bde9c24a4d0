"""The digest of a played shot: equal digests are equal shots, to the last bit.

The same position, coefficients and strike give the same digest each time on one machine with one
engine. Another machine may round a last digit otherwise, so a digest is kept with the engine's
version and compared where it was made.
"""

from __future__ import annotations

import hashlib
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.shot.shot import Shot

_DIGITS = 16


def replay_digest(shot: Shot) -> str:
    """Sixteen hexadecimal digits, of everything that the engine wrote about the shot."""
    digest = hashlib.sha256()
    record = shot.record
    for array in (
        *_written_events(shot),
        record.phase_floats,
        record.phase_ints,
        record.places,
        record.motions,
    ):
        digest.update(np.ascontiguousarray(array).tobytes())
    return digest.hexdigest()[:_DIGITS]


def _written_events(shot: Shot) -> tuple[NDArray[Any], ...]:
    """The rows of events, with nought for what stands in a row only by chance.

    A row's second ball is filled in only where an event has one.
    """
    ints, floats = shot.record.event_ints, shot.record.event_floats.copy()
    kinds = ints[:, layout.EVENT_KIND]
    of_two = np.isin(
        kinds,
        (layout.EVENT_BALL, layout.EVENT_CLUSTER, layout.EVENT_PRESS, layout.EVENT_RELEASE),
    )
    floats[~of_two, layout.EVENT_B_AFTER :] = 0.0
    return ints, floats
