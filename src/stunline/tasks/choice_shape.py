"""The JSON of a choice. Millimetres, degrees, m/s; additions only."""

from __future__ import annotations

from typing import Any

import numpy as np

import stunline
from stunline.equipment.player import Player
from stunline.planning.margins import FirstFault, Margin
from stunline.planning.option import Option
from stunline.planning.relax import Relaxation
from stunline.planning.request import Ranges
from stunline.shot.compiled import sources_hash
from stunline.shot.position import Strike
from stunline.tasks.choose_strike import LETTERS, ChoiceResult
from stunline.tasks.table_words import table_shape
from stunline.units import degrees, millimetres

Shape = dict[str, Any]
_DECIMALS = 1  # of places: a tenth of a millimetre


def choice_shape(result: ChoiceResult) -> Shape:
    """What ``stunline choose --json`` prints."""
    choice = result.choice
    return {
        "options": [
            _option(result, letter, one)
            for letter, one in zip(LETTERS, choice.options, strict=False)
        ],
        "tried": choice.tried,
        "met": choice.met,
        "more": choice.more,
        "relaxations": [_relaxation(one) for one in choice.relaxations],
        "ranges": ranges_shape(choice.request.ranges),
        "player": player_shape(choice.request.player),
        "demands": [*_demands(result)],
        "seed": result.seed,
        "complete": choice.complete,
        "table": result.file.position.table.name,
        "cloth": result.file.position.cloth,
        "title": result.file.title,
        "engine": stunline.__version__,
        "kernels": sources_hash(),
    }


def _demands(result: ChoiceResult) -> tuple[str, ...]:
    from stunline.planning.judge import Judge

    request = result.choice.request
    return Judge(request.position, request.goal).demands


def _option(result: ChoiceResult, letter: str, option: Option) -> Shape:
    low, high = option.chance.interval
    return {
        "letter": letter,
        "strike": strike_shape(option.strike),
        "lengths": result.lengths(option.strike.pace),
        "kind": option.kind,
        "follow_ratio": option.follow_ratio,
        "chance": option.chance.share,
        "chance_interval": [low, high],
        "plays": option.chance.plays,
        "on_tables": table_shape(option.on_tables),
        "margins": margins_shape(option.margins, option.strike.pace),
        "knife_edge": option.is_knife_edge(result.choice.request.player),
        "fault": fault_shape(option.fault, option.strike.pace),
        "strikes": option.strikes,
        "rests": [
            {"at": None if np.isnan(x) else [x, y], "met": bool(met)}
            for (x, y), met in zip(
                np.round(1000.0 * option.rests, _DECIMALS).tolist(), option.successes, strict=True
            )
        ],
    }


def strike_shape(strike: Strike) -> Shape:
    """As in every command's JSON."""
    return {
        "aim": degrees(strike.aim),
        "pace": strike.pace,
        "height": millimetres(strike.height),
        "side": millimetres(strike.side),
        "elevation": degrees(strike.elevation),
    }


def margins_shape(margins: dict[str, Margin], pace: float) -> Shape:
    """[minus, plus] of each number in its unit; null where nothing fails as far as was looked."""
    return {
        name: [None if off is None else _in_unit(name, off, pace) for off in (one.minus, one.plus)]
        for name, one in margins.items()
    }


def fault_shape(fault: FirstFault | None, pace: float) -> Shape | None:
    """The error that spoils a strike soonest."""
    if fault is None:
        return None
    return {"name": fault.name, "off": _in_unit(fault.name, fault.off, pace), "what": fault.what}


def _in_unit(name: str, off: float, pace: float) -> float:
    if name == "aim":
        return degrees(off)
    return off * pace if name == "pace" else millimetres(off)


def _relaxation(one: Relaxation) -> Shape:
    unit = {"pot": "°", "next": "°", "cushions": "cushions", "in_off": "", "pace": "m/s"}
    name = unit.get(one.what, "mm")
    by = degrees(one.by) if name == "°" else millimetres(one.by) if name == "mm" else one.by
    to = one.to if one.to is None or one.what == "pace" else millimetres(one.to)
    return {
        "what": one.what,
        "by": by,
        "unit": name,
        "to": to,
        "strike": strike_shape(one.strike),
    }


def ranges_shape(ranges: Ranges) -> Shape:
    """What was searched."""
    return {
        "pace": list(ranges.pace),
        "height": [millimetres(value) for value in ranges.height],
        "side": [millimetres(value) for value in ranges.side],
        "usual": ranges.usual,
    }


def player_shape(player: Player) -> Shape:
    """Standard deviations: degrees, per cent, mm."""
    return {
        "name": player.name,
        "title": player.title,
        "source": player.source,
        "aim": degrees(player.aim),
        "pace": 100.0 * player.pace,
        "height": millimetres(player.height),
        "side": millimetres(player.side),
    }
