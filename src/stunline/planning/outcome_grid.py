"""Maps of one strike: what becomes of it with two of its numbers changed, cell by cell.

The cue's direction is held: a cell says what the stroke does when it comes off so while another
was meant. Nothing but the two numbers differs from the strike.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.planning.fault_kinds import NOT_PLAYED, FaultKinds
from stunline.planning.margin_study import MarginAsked
from stunline.planning.strike_space import struck
from stunline.shot.aiming.pace import FASTEST, SLOWEST
from stunline.shot.aiming.strike_limits import tip_limits

Floats = NDArray[np.float64]
Codes = NDArray[np.int64]

FACE_STEP = 0.25e-3  # between cells of the face [m]
PACES, HEIGHTS = 96, 72  # cells of the other map
# Round the pace meant, where the goal does not say how far it may vary. [-]
_PACE_SPAN = (0.5, 1.5)


@dataclass(frozen=True, slots=True)
class OutcomeGrid:
    """A map, as far as it was played.

    Attributes:
        across, up: values at the middles of the cells, evenly spaced; sides or paces, and
            heights [m, m s⁻¹]
        codes: (up, across) kinds of outcome by number, ``NOT_PLAYED`` off the face and where
            it is not known yet
        words: of each kind, the goal met first
        wanted: cells to play
        played: of them, so far
    """

    across: Floats
    up: Floats
    codes: Codes = field(repr=False)
    words: tuple[str, ...]
    wanted: int
    played: int


def face_grid(
    asked: MarginAsked, kinds: FaultKinds, cancelled: Callable[[], bool] | None = None
) -> Iterator[OutcomeGrid]:
    """Heights and sides of contact out to the miscue limit, at the strike's pace."""
    position = asked.position
    _, limit = tip_limits(position)
    count = int(limit / FACE_STEP)
    axis: Floats = FACE_STEP * np.arange(-count, count + 1, dtype=np.float64)
    columns = (layout.STRIKE_SIDE, layout.STRIKE_HEIGHT)
    yield from _grown(asked, kinds, columns, (axis, axis), cancelled)


def pace_height_grid(
    asked: MarginAsked, kinds: FaultKinds, cancelled: Callable[[], bool] | None = None
) -> Iterator[OutcomeGrid]:
    """Paces and heights: those that the goal lets vary, or round the pace, over all heights."""
    position, vary = asked.position, asked.goal.vary
    _, limit = tip_limits(position)
    low, high = vary.pace or tuple(asked.strike.pace * share for share in _PACE_SPAN)
    low, high = min(low, asked.strike.pace), max(high, asked.strike.pace)
    paces: Floats = np.linspace(max(low, SLOWEST), min(high, FASTEST), PACES)
    heights: Floats = np.linspace(-limit, limit, HEIGHTS)
    columns = (layout.STRIKE_PACE, layout.STRIKE_HEIGHT)
    yield from _grown(asked, kinds, columns, (paces, heights), cancelled)


def _grown(
    asked: MarginAsked,
    kinds: FaultKinds,
    columns: tuple[int, int],
    axes: tuple[Floats, Floats],
    cancelled: Callable[[], bool] | None,
) -> Iterator[OutcomeGrid]:
    """The map, again and again as its cells are played, in an order that covers it early."""
    across, up = np.meshgrid(*axes)
    rows: Floats = np.repeat(asked.row(), across.size, axis=0)
    rows[:, columns[0]], rows[:, columns[1]] = across.ravel(), up.ravel()
    codes: Codes = np.full(len(rows), NOT_PLAYED, dtype=np.int64)
    inside = np.flatnonzero(struck(asked.position, rows))
    order = np.random.default_rng(0).permutation(inside)
    played = first = 0
    while first < len(order) and not (cancelled is not None and cancelled()):
        some = order[first : first + kinds.chunk]
        first += len(some)
        codes[some], _ = kinds.play(rows[some], cancelled)
        played = int((codes[inside] != NOT_PLAYED).sum())
        grid = codes.reshape(across.shape).copy()
        yield OutcomeGrid(*axes, grid, kinds.words, len(order), played)
        if played < first:
            return
