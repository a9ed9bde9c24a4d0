"""The JSON of a strike's margins and chance. Millimetres, degrees, m/s; additions only."""

from __future__ import annotations

from typing import Any

import numpy as np

import stunline
from stunline.planning.margin_study import Cloud
from stunline.planning.margins import Margin
from stunline.planning.outcome_grid import OutcomeGrid
from stunline.shot.compiled import sources_hash
from stunline.tasks.choice_shape import fault_shape, margins_shape, player_shape, strike_shape
from stunline.tasks.goal_words import goal_words
from stunline.tasks.margin_of_strike import MarginResult
from stunline.tasks.table_words import table_shape

Shape = dict[str, Any]
_DECIMALS = 1  # of places: a tenth of a millimetre
_FINE = 4  # of cells' middles


def margin_shape(result: MarginResult) -> Shape:
    """What ``stunline margin --json`` prints."""
    study, strike = result.study, result.strike
    return {
        "strike": strike_shape(strike),
        "lengths": result.lengths(strike.pace),
        "goal": {"own": result.own, "words": goal_words(result.asked.goal, result.file)},
        "player": player_shape(result.asked.player),
        "alone": study.alone or None,
        "margins": None if study.margins is None else margins_shape(study.margins, strike.pace),
        "beyond": None if study.margins is None else _beyond(study.margins),
        "fault": fault_shape(study.fault, strike.pace),
        "plays": study.played,
        "seed": study.asked.seed,
        "complete": result.complete,
        "chance": study.chance.share if study.played else None,
        "chance_interval": list(study.chance.interval) if study.played else None,
        "on_tables": table_shape(study.on_tables),
        "kinds": [
            {
                "what": kind.words,
                "count": kind.chance.hits,
                "interval": list(kind.chance.interval),
            }
            for kind in study.kinds()
        ],
        "outcomes": list(_words(result)),
        "face": _grid(result.face, "sides"),
        "paces": _grid(result.paces, "paces"),
        "cloud": None if result.cloud is None else _cloud(result.cloud),
        "table": result.file.position.table.name,
        "cloth": result.file.position.cloth,
        "title": result.file.title,
        "engine": stunline.__version__,
        "kernels": sources_hash(),
    }


def _beyond(margins: dict[str, Margin]) -> Shape:
    """What goes wrong just outside of each margin."""
    return {
        name: [one.fault_minus or None, one.fault_plus or None] for name, one in margins.items()
    }


def _words(result: MarginResult) -> tuple[str, ...]:
    """Of all kinds; those of the part that came last know the most."""
    grids = [one.words for one in (result.face, result.paces) if one is not None]
    return max([result.study.words, *grids], key=len)


def _grid(grid: OutcomeGrid | None, across: str) -> Shape | None:
    if grid is None:
        return None
    factor = 1000.0 if across == "sides" else 1.0
    return {
        across: np.round(factor * grid.across, _FINE).tolist(),
        "heights": np.round(1000.0 * grid.up, _FINE).tolist(),
        "cells": [[None if code < 0 else code for code in row] for row in grid.codes.tolist()],
    }


def _cloud(cloud: Cloud) -> list[Shape]:
    places = np.round(1000.0 * cloud.rests, _DECIMALS)
    return [
        {"at": None if np.isnan(x) else [x, y], "outcome": code}
        for (x, y), code in zip(places.tolist(), cloud.codes.tolist(), strict=True)
    ]
