"""A strike's chance on the tables that this one may be: in words, and as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stunline.equipment.doubt import Doubt
from stunline.planning.table_doubt import TableChance
from stunline.tasks.doubt_shape import doubt_shape

Shape = dict[str, Any]
_PERCENT = 100.0
_WORTH_NAMING = 0.02  # a coefficient that spoils a smaller share of its values is left out [-]
_MOST_NAMED = 3


def basis_words(doubt: Doubt) -> str:
    """Whose doubt it is: "as its gauging of 2026-11-29 leaves it", or the assumption."""
    if doubt.gauging is None:
        return "as tables differ; assumed, this one was never gauged"
    date = f" of {doubt.gauging.date}" if doubt.gauging.date else ""
    return f"as its gauging{date} leaves it"


def table_rows(one: TableChance, meets: bool) -> Iterator[tuple[str, str]]:
    """What a player's scatter and the table's doubt do, each and together.

    Args:
        meets: whether the strike meets its goal on the table as it is thought to be; where it
            doesn't, no coefficient can be said to spoil it
    """
    yield "without error", f"meets the goal on {_of_all(one.alone.share)} of such tables"
    yield "with the player's errors", _both_words(one)
    if meets:
        yield "which coefficient counts", causes_words(one)


def table_line(one: TableChance) -> str:
    """The same in one line: "59 % of strokes (46 to 70 % from table to table); struck without
    error, on 93 % of the tables".
    """
    both = f"{_percent(one.both.share)} of strokes ({_span(one)} from table to table)"
    return f"{both}; struck without error, on {_of_all(one.alone.share)} of the tables"


def causes_words(one: TableChance) -> str:
    """ "sliding friction: 9 % of its likely values spoil it alone"."""
    named = [
        f"{name.replace('_', ' ')} {_percent(1.0 - share)}"
        for name, share in one.causes
        if 1.0 - share >= _WORTH_NAMING
    ][:_MOST_NAMED]
    if not named:
        return "none spoils it alone, within its likely values"
    return f"of its likely values these spoil it alone: {', '.join(named)}"


def _both_words(one: TableChance) -> str:
    if one.both.hits == 0:
        return "none of the strokes, on any of them"
    if round(_PERCENT * one.high) == 0:
        return f"{_percent(one.both.share)}, and none on nearly every table"
    return f"{_percent(one.both.share)}, from table to table {_span(one)}"


def _span(one: TableChance) -> str:
    return f"{_PERCENT * one.low:.0f} to {_PERCENT * one.high:.0f} %"


def _of_all(share: float) -> str:
    return "all" if share == 1.0 else "none" if share == 0.0 else _percent(share)


def _percent(share: float) -> str:
    """No share that is less than all of them is told as 100 %."""
    if 0.0 < share < 0.01:
        return "under 1 %"
    return "over 99 %" if 0.99 < share < 1.0 else f"{_PERCENT * share:.0f} %"


def table_shape(one: TableChance | None) -> Shape | None:
    """The JSON; null where nothing is in doubt, or when the plays were stopped before."""
    if one is None:
        return None
    return {
        "alone": one.alone.share,
        "both": one.both.share,
        "interval": [one.low, one.high],
        "plays": one.both.plays,
        "causes": {name: 1.0 - share for name, share in one.causes},
        "doubt": doubt_shape(one.doubt, one.tables),
    }
