"""The JSON of an explanation. Millimetres, degrees, m/s; additions only."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import stunline
from stunline.planning.attribution import Attribution
from stunline.planning.causes import Cause
from stunline.planning.explaining import Explanation
from stunline.shot.compiled import sources_hash
from stunline.shot.outcome import outcome
from stunline.shot.position import Strike
from stunline.tasks.explain_shot import ExplainResult
from stunline.tasks.explain_words import explain_sentences
from stunline.tasks.shapes import coefficients_shape
from stunline.units import degrees, millimetres

Shape = dict[str, Any]
Unit = Callable[[float], float]


def explain_shape(result: ExplainResult) -> Shape:
    """What ``stunline explain --json`` prints."""
    told, read, shot = result.explanation, result.played.readouts, result.played.shot
    turned = told.turned
    return {
        "strike": _strike(shot.strike),
        "contact": {
            "ball": told.contact.ball,
            "thickness": told.contact.thickness,
            "on": told.contact.on,
            "cut_angle": degrees(told.contact.cut_angle),
            "arrival_speed": told.contact.white_before.speed,
            "follow_ratio": told.contact.follow_ratio,
            "tangent_direction": read.tangent_direction_deg,
        },
        "straight": told.is_straight,
        "held": told.held or None,
        "plays": len(told.cases),
        "things_met": told.meets,
        "leaves": _attribution(told, told.leaves, degrees),
        "ends": _attribution(told, told.ends, degrees),
        "turned": None if turned is None else degrees(turned),
        "along": _attribution(told, told.along, millimetres),
        "forward": _attribution(told, told.forward, millimetres),
        "without": {cause: _without(told, cause) for cause in told.causes},
        "without_squirt": told.without_squirt,
        "sentences": list(explain_sentences(result)),
        "coefficients": coefficients_shape(shot.position.coefficients),
        "table": shot.position.table.name,
        "cloth": shot.position.cloth,
        "title": result.played.file.title,
        "engine": stunline.__version__,
        "kernels": sources_hash(),
    }


def _strike(strike: Strike) -> Shape:
    return {
        "aim": degrees(strike.aim),
        "pace": strike.pace,
        "height": millimetres(strike.height),
        "side": millimetres(strike.side),
        "elevation": degrees(strike.elevation),
    }


def _attribution(told: Explanation, one: Attribution | None, unit: Unit) -> Shape | None:
    if one is None:
        return None
    names = [str(cause) for cause in told.causes]
    groups = [str(group) for group in told.groups]
    return {
        "whole": unit(one.whole),
        "base": unit(one.base),
        "parts": _named(names, one.causes.parts, unit),
        "alone": _named(names, one.causes.alone, unit),
        "taken_away": _named(names, one.causes.taken_away, unit),
        "groups": {
            "parts": _named(groups, one.groups.parts, unit),
            "alone": _named(groups, one.groups.alone, unit),
            "taken_away": _named(groups, one.groups.taken_away, unit),
        },
        "interaction": unit(one.interaction),
        "pairs": [
            {"groups": [groups[two], groups[k]], "value": unit(float(one.pairs[k, two]))}
            for k in range(len(groups))
            for two in range(k)
        ],
    }


def _named(names: Sequence[str], numbers: Sequence[float], unit: Unit) -> Shape:
    return {name: unit(number) for name, number in zip(names, numbers, strict=True)}


def _without(told: Explanation, cause: Cause) -> Shape:
    """The play in which only that cause is missing: typed back, it is the same shot."""
    shot = told.without(cause)
    white = shot.position.names[0]
    rest, start = shot.rest(white), shot.position.balls[white]
    return {
        "strike": _strike(shot.strike),
        "white": [millimetres(start[0]), millimetres(start[1])],
        "coefficients": coefficients_shape(shot.position.coefficients),
        "outcome": outcome(shot).words(),
        "rest": None if rest is None else [millimetres(rest[0]), millimetres(rest[1])],
    }
