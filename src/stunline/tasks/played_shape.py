"""The JSON of a stroke that was really played. Millimetres, degrees, per cent; additions only."""

from __future__ import annotations

from typing import Any

import numpy as np

import stunline
from stunline.planning.stroke_prior import BAD_TIMES, OWN_SHARE, told_off
from stunline.planning.stroke_ways import LEVEL, Estimate, StrokeWay
from stunline.shot.compiled import sources_hash
from stunline.shot.happened import Happened
from stunline.shot.reading_error import PLACE
from stunline.tasks.choice_shape import player_shape, strike_shape
from stunline.tasks.doubt_shape import doubt_shape
from stunline.tasks.played_stroke import PlayedResult
from stunline.tasks.played_words import sentences, way_words
from stunline.units import millimetres

Shape = dict[str, Any]
_DECIMALS = 1  # of places: a tenth of a millimetre
_KEPT = 256  # likely strokes that are told singly


def played_shape(result: PlayedResult) -> Shape:
    """What ``stunline played --json`` prints."""
    found = result.found
    position = result.file.position
    told = found.explained
    return {
        "meant": strike_shape(result.meant.strike),
        "seen": _seen(result.happened, found.asked.object_ball, position.table.words.cushions),
        "player": player_shape(found.asked.player),
        "prior": {"own_share": OWN_SHARE, "bad_times": BAD_TIMES},
        "explained": told,
        "sentences": list(sentences(result)),
        "level": LEVEL,
        "off": _numbers(result.whole) if told else None,
        "ways": [_way(result, way) for way in result.ways] if told else [],
        "nearest": None if told else _nearest(result),
        "strokes": _strokes(result) if told else [],
        "effective": found.effective,
        "plays": found.plays,
        "seed": found.asked.seed,
        "table_doubt": doubt_shape(found.doubt, len(found.strokes)),
        "table": position.table.name,
        "cloth": position.cloth,
        "title": result.file.title,
        "engine": stunline.__version__,
        "kernels": sources_hash(),
    }


def _numbers(way: StrokeWay) -> Shape:
    return {one.name: _number(one) for one in way.numbers}


def _number(one: Estimate) -> Shape:
    def told(off: float) -> float:
        return told_off(off, one.name)

    return {
        "value": told(one.value),
        "interval": [told(one.low), told(one.high)],
        "before": [told(one.before_low), told(one.before_high)],
        "told": one.told,
    }


def _way(result: PlayedResult, way: StrokeWay) -> Shape:
    return {
        "share": way.share,
        "words": way_words(result, way),
        "off": _numbers(way),
        "strike": strike_shape(result.found.strike(way.best)),
    }


def _nearest(result: PlayedResult) -> Shape:
    found = result.found
    number = found.nearest
    rest = np.round(1000.0 * found.rests[number], _DECIMALS)
    return {
        "strike": strike_shape(found.strike(number)),
        "rest": None if np.isnan(rest[0]) else rest.tolist(),
        "facts_otherwise": int(found.broken[number]),
    }


def _strokes(result: PlayedResult) -> list[Shape]:
    """Some of the likely strokes, evenly from all."""
    rows = result.found.rows
    chosen = np.linspace(0, len(rows) - 1, min(_KEPT, len(rows))).astype(int)
    return [strike_shape(result.found.strike(int(number))) for number in chosen]


def _seen(one: Happened, ball: str, cushions: tuple[str, ...]) -> Shape:
    met = one.cushion
    at = None if met is None or met.at is None else millimetres(met.at)
    return {
        "white_rest": _place(one.white_rest),
        "white_passed": _place(one.white_passed),
        "object_rest": _place(one.object_rest),
        "object_ball": ball or None,
        "white_met": list(one.met),
        "white_missed": list(one.missed),
        "white_cushion": None if met is None else {"cushion": cushions[met.number], "at": at},
        "potted": list(one.potted),
        "not_potted": list(one.not_potted),
        "in_off": one.in_off,
        "time": one.time,
        "reading_error": millimetres(PLACE),
    }


def _place(place: tuple[float, float] | None) -> list[float] | None:
    return None if place is None else [millimetres(place[0]), millimetres(place[1])]
