"""The arrays that a batch is played from: made, and checked row by row."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.model import Coefficients
from stunline.errors import Fault, InputError
from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.kernel_input import coefficient_vector
from stunline.shot.play import Prepared
from stunline.shot.position import Position, Strike

Floats = NDArray[np.float64]


def strike_rows(strikes: Sequence[Strike]) -> Floats:
    """(N, 5), columns ``STRIKE_`` of ``mechanics.layout``."""
    rows = [(one.aim, one.pace, one.height, one.side, one.elevation) for one in strikes]
    return np.array(rows, dtype=np.float64).reshape(len(rows), layout.STRIKE_COLUMNS)


def coefficient_rows(position: Position, each: Sequence[Coefficients]) -> Floats:
    """(N, COEFFICIENT_COUNT), for the position's table and these coefficients of N shots.

    Whether there are pockets and squirt is the position's own.
    """
    return np.stack([coefficient_vector(one, position.table) for one in each])


def rows_of(*arrays: Floats) -> int:
    """How many shots these arrays are for; an array of one row serves all.

    Raises:
        InputError: when two of them have several rows, and not as many.
    """
    counts = {len(array) for array in arrays} - {1}
    if len(counts) > 1:
        raise _wrong(
            "strikes, places and coefficients are for different numbers of shots",
            " and ".join(map(str, sorted(counts))) + " rows",
            "one row, or as many as the others",
            "repeat or leave out rows until they agree",
        )
    return counts.pop() if counts else 1


def checked_strikes(strikes: Sequence[Strike] | Floats, position: Position) -> Floats:
    """The strikes as rows.

    Raises:
        InputError: naming the first row that can't be struck.
    """
    given = strikes if isinstance(strikes, np.ndarray) else strike_rows(strikes)
    rows = _shaped(given, (-1, layout.STRIKE_COLUMNS), "strikes")
    radius = position.radius(position.names[0])
    limit = position.table.cue.miscue_offset * radius
    offset = np.hypot(rows[:, layout.STRIKE_HEIGHT], rows[:, layout.STRIKE_SIDE])
    elevation = rows[:, layout.STRIKE_ELEVATION]
    _check_rows(rows[:, layout.STRIKE_PACE] > 0.0, "the pace of strike", rows, "more than 0 m/s")
    _check_rows(
        offset <= limit * (1.0 + 1e-12),
        "the tip's offset of strike",
        rows,
        f"at most {1000.0 * limit:.2f} mm from the centre, where the tip would slip off",
    )
    _check_rows(
        (elevation >= 0.0) & (elevation < 0.5 * math.pi),
        "the elevation of strike",
        rows,
        "0 or more and less than π/2",
    )
    return rows


def checked_places(places: Floats | None, prepared: Prepared) -> Floats:
    """The balls' places, those of the position where none are given.

    Raises:
        InputError: for balls that overlap or are off the bed, naming row and balls.
    """
    if places is None:
        places = prepared.places()[None]
    names = prepared.position.names
    rows = _shaped(places, (-1, len(names), 2), "places")
    table = prepared.position.table
    bodies = prepared.bodies_and_boundary()[0]
    row, ball, other = compiled.first_misplaced(rows, bodies, table.width, table.length)
    if row >= 0:
        x, y = (1000.0 * rows[row, ball]).tolist()
        if other < 0:
            raise _wrong(
                f"the {names[ball]} of position {row} is off the bed or inside a cushion",
                f"({x:.3f}, {y:.3f}) mm",
                "centres that clear every nose line",
                "move it inwards",
            )
        raise _wrong(
            f"the {names[ball]} and the {names[other]} of position {row} overlap",
            f"({x:.3f}, {y:.3f}) mm",
            "balls that touch at most",
            "move one of them",
        )
    return rows


def checked_coefficients(rows: Floats | None, prepared: Prepared) -> Floats:
    """The coefficients, those of the position where none are given.

    Raises:
        InputError: for another shape, or numbers that are not finite.
    """
    if rows is None:
        position = prepared.position
        rows = coefficient_vector(position.coefficients, position.table)[None]
    return _shaped(rows, (-1, layout.COEFFICIENT_COUNT), "coefficients")


def _shaped(given: Floats, shape: tuple[int, ...], what: str) -> Floats:
    array = np.ascontiguousarray(given, dtype=np.float64)
    fits = array.ndim == len(shape) and all(
        wanted in (-1, size) for wanted, size in zip(shape, array.shape, strict=True)
    )
    if not fits or not len(array):
        told = ", ".join("N" if size < 0 else str(size) for size in shape)
        raise _wrong(
            f"{what} have another shape",
            str(array.shape),
            f"({told}), N at least 1",
            "one row for each shot",
        )
    bad = np.flatnonzero(~np.isfinite(array).reshape(len(array), -1).all(axis=1))
    if len(bad):
        raise _wrong(
            f"row {bad[0]} of {what} is not finite",
            str(array[bad[0]].tolist()),
            "finite numbers",
            "leave that row out",
        )
    return array


def _check_rows(fine: NDArray[np.bool_], what: str, rows: Floats, allowed: str) -> None:
    bad = np.flatnonzero(~fine)
    if len(bad):
        row = int(bad[0])
        raise _wrong(
            f"{what} {row} is out of bounds",
            str(rows[row].tolist()),
            allowed,
            f"leave it out, or correct it ({len(bad)} of {len(rows)} are like this)",
        )


def _wrong(what: str, given: str, allowed: str, remedy: str) -> InputError:
    return InputError([Fault(what, given, allowed, remedy)])
