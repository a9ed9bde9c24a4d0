"""The second ruler of the pace strip: lengths of the table."""

from __future__ import annotations

from stunline.drawing.strip_layout import SecondRuler
from stunline.errors import UnsolvableShotError
from stunline.shot.aiming.pace import lengths_of, pace_of_lengths
from stunline.shot.position import Position

_STEPS = (0.1, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0)
_MOST_FIGURES = 9  # more would crowd the ruler


def lengths_ruler(position: Position, low: float, high: float) -> SecondRuler:
    """Round numbers of lengths at the paces that are worth them. low, high: [m s⁻¹]"""
    first, last = lengths_of(position, low), lengths_of(position, high)
    step = next((one for one in _STEPS if (last - first) / one <= _MOST_FIGURES), _STEPS[-1])
    places = []
    for index in range(int(first / step) + 1, int(last / step) + 1):
        try:
            places.append((pace_of_lengths(position, index * step), f"{index * step:g}"))
        except UnsolvableShotError:
            continue  # past the fastest pace that a file may ask for
    return SecondRuler("lengths", tuple(places))
