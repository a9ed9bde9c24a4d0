"""The JSON that says whose doubt stands behind an interval."""

from __future__ import annotations

from typing import Any

from stunline.equipment.coefficient_scales import KINDS
from stunline.equipment.doubt import Doubt

Shape = dict[str, Any]


def doubt_shape(doubt: Doubt, tables: int) -> Shape:
    """Where the doubt is from, and how many tables were drawn from it.

    ``deviations`` are on the scales named: 0.2 on "log" is about a fifth of the value.
    """
    gauging = doubt.gauging
    scales = {kind.name: kind.scale for kind in KINDS}
    return {
        "basis": "assumed" if gauging is None else "gauged",
        "date": None if gauging is None else gauging.date,
        "record": None if gauging is None else gauging.record,
        "measurements": None if gauging is None else gauging.measurements,
        "stated": list(doubt.stated),
        "tables": tables,
        "deviations": {
            name: {"scale": scales[name], "deviation": deviation}
            for name, deviation in zip(doubt.names, doubt.deviations().tolist(), strict=True)
        },
    }
