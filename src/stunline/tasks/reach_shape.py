"""The JSON of a reach, and of places to play from. Millimetres, degrees, m/s; additions only."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

import stunline
from stunline.planning.examples import widest_circle
from stunline.planning.reach_at import Pointed
from stunline.planning.regions import KINDS
from stunline.planning.request import Request
from stunline.planning.strike_space import strike_of
from stunline.shot.aiming.pace import lengths_of
from stunline.shot.batch_watch import Raster
from stunline.shot.compiled import sources_hash
from stunline.shot.position import Position, Strike
from stunline.tasks.reach_places import FromResult, ReachResult
from stunline.units import degrees, millimetres

Shape = dict[str, Any]
Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_DECIMALS = 1  # of places: a tenth of a millimetre


def reach_shape(result: ReachResult) -> Shape:
    """What ``stunline reach --json`` prints."""
    reach = result.reach
    cells = np.flatnonzero(reach.passed | reach.reached)
    position = result.file.position
    return {
        "mode": "reach",
        **_searched(reach.request, reach.raster, reach.complete),
        "strikes": {"tried": reach.tried, "made": reach.made},
        "kinds": _counts(reach.kinds),
        "cells": [_cell(result, int(cell)) for cell in cells],
        "examples": [_cell(result, cell) for cell in result.examples],
        "at": None if result.pointed is None else _pointed(position, result.pointed),
        **_file(result),
    }


def from_shape(result: FromResult) -> Shape:
    """What ``stunline reach --from --json`` prints."""
    places = result.places
    position = result.file.position
    middles = 1000.0 * places.raster.middles()
    circle = widest_circle(places.raster, places.safe)
    return {
        "mode": "from",
        **_searched(places.request, places.raster, places.complete),
        "strikes": {"tried": places.plays, "made": None},
        "margins": {"aim": degrees(places.aim_off), "pace": places.pace_off},
        "player": places.request.player.name,
        "places": [
            {
                "at": np.round(middles[cell], _DECIMALS).tolist(),
                "safe": bool(places.safe[cell]),
                "strike": strike_shape(position, strike_of(places.rows[cell])),
            }
            for cell in np.flatnonzero(places.met)
        ],
        "tried": int(places.tried.sum()),
        "middle": None
        if circle is None
        else {
            "at": np.round(middles[circle[0]], _DECIMALS).tolist(),
            "radius": millimetres(circle[1]),
        },
        **_file(result),
    }


def strike_shape(position: Position, strike: Strike) -> Shape:
    """A strike in numbers."""
    return {
        "aim": degrees(strike.aim),
        "pace": strike.pace,
        "lengths": lengths_of(position, strike.pace),
        "height": millimetres(strike.height),
        "side": millimetres(strike.side),
        "elevation": degrees(strike.elevation),
    }


def _searched(asked: Request, raster: Raster, complete: bool) -> Shape:
    ranges = asked.ranges
    return {
        "complete": complete,
        "cell": millimetres(raster.cell),
        "columns": raster.columns,
        "rows": raster.rows,
        "vary": {
            "pace": list(ranges.pace),
            "height": [millimetres(one) for one in ranges.height],
            "side": [millimetres(one) for one in ranges.side],
        },
    }


def _file(result: ReachResult | FromResult) -> Shape:
    file = result.file
    return {
        "table": file.position.table.name,
        "cloth": file.position.cloth,
        "title": file.title,
        "engine": stunline.__version__,
        "kernels": sources_hash(),
    }


def _counts(kinds: Ints) -> Shape:
    return {name: int((kinds == number).sum()) for number, name in enumerate(KINDS)}


def _cell(result: ReachResult, cell: int) -> Shape:
    """One cell: what rests there, or else what passes over it."""
    reach = result.reach
    middle = np.round(1000.0 * reach.raster.middles()[cell], _DECIMALS).tolist()
    if not reach.reached[cell]:
        return {
            "at": middle,
            "rests": None,
            "kind": None,
            "demand": float(reach.passing_demands[cell]),
            "strike": _plain(strike_of(reach.passing[cell])),
        }
    return {
        "at": middle,
        "rests": np.round(1000.0 * reach.rests[cell], _DECIMALS).tolist(),
        "kind": KINDS[int(reach.kinds[cell])],
        "demand": float(reach.demands[cell]),
        "strike": _plain(strike_of(reach.rows[cell])),
    }


def _plain(strike: Strike) -> Shape:
    """A strike among thousands: its lengths are left out."""
    return {
        "aim": degrees(strike.aim),
        "pace": strike.pace,
        "height": millimetres(strike.height),
        "side": millimetres(strike.side),
        "elevation": degrees(strike.elevation),
    }


def _pointed(position: Position, pointed: Pointed) -> Shape:
    finite = np.isfinite(pointed.away)
    return {
        "place": [millimetres(one) for one in pointed.place],
        "there": pointed.is_there,
        "rests": None if pointed.rest is None else [millimetres(one) for one in pointed.rest],
        "away": millimetres(pointed.away) if finite else None,
        "demand": pointed.demand if finite else None,
        "strike": strike_shape(position, pointed.strike) if pointed.strike and finite else None,
        "meets": pointed.meets or None,
        "over": None if pointed.over is None else strike_shape(position, pointed.over),
    }
