"""The JSON of an opened pack. Millimetres, m/s; additions only."""

from __future__ import annotations

from typing import Any

import numpy as np

import stunline
from stunline.shot.compiled import sources_hash
from stunline.shot.pack_study import OpenedPacks, Share, Spread
from stunline.shot.position import Lengths
from stunline.tasks.open_pack import PacePlays, PackResult
from stunline.units import degrees, millimetres

Shape = dict[str, Any]
_DECIMALS = 1  # of places: a tenth of a millimetre


def pack_shape(result: PackResult) -> Shape:
    """What ``stunline pack --json`` prints."""
    return {
        "rack": result.rack.rack,
        "balls": list(result.file.position.table.racks[result.rack.rack]),
        "gaps": millimetres(result.gaps),
        "racks": result.racks,
        "seed": result.seed,
        "complete": result.played == result.wanted,
        "paces": [_pace(result, one) for one in result.paces],
        "table": result.file.position.table.name,
        "cloth": result.file.position.cloth,
        "title": result.file.title,
        "engine": stunline.__version__,
        "kernels": sources_hash(),
    }


def _pace(result: PackResult, one: PacePlays) -> Shape:
    strike = one.strike
    return {
        "asked": f"{one.pace.value:g} lengths" if isinstance(one.pace, Lengths) else str(one.pace),
        "strike": None
        if strike is None
        else {
            "aim": degrees(strike.aim),
            "pace": strike.pace,
            "lengths": result.lengths(strike.pace),
            "height": millimetres(strike.height),
            "side": millimetres(strike.side),
            "elevation": degrees(strike.elevation),
        },
        "reason": one.reason or None,
        **_plays(one.packs),
        "by_point": [
            {"ball": ball or None, **_plays(part)}
            for ball, part in (one.packs.by_point() if one.packs else {}).items()
        ],
        "rests": [] if one.packs is None else _rests(one.packs),
    }


def _plays(packs: OpenedPacks | None) -> Shape:
    if packs is None:
        return {"plays": 0, "freed": None, "on": None, "stuck": None, "in_off": None}
    return {
        "plays": packs.plays,
        "freed": _spread(packs.freed_spread),
        "on": _spread(packs.on_spread),
        "stuck": _share(packs.stuck),
        "in_off": _share(packs.in_off),
    }


def _spread(spread: Spread) -> Shape:
    return {
        "mean": spread.mean,
        "interval": list(spread.interval),
        "quartiles": list(spread.quartiles),
    }


def _share(share: Share) -> Shape:
    return {"count": share.count, "interval": list(share.interval)}


def _rests(packs: OpenedPacks) -> list[list[float] | None]:
    places = np.round(1000.0 * packs.rests, _DECIMALS)
    return [None if np.isnan(x) else [x, y] for x, y in places.tolist()]
