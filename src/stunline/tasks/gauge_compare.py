"""Compare two gauged tables: new cloth, cleaned balls, or only noise."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import stunline
from stunline.calibration.comparing import Change, Comparison, compare
from stunline.equipment.catalogue import load_table
from stunline.equipment.gauging import Gauging
from stunline.errors import Fault, InputError
from stunline.tasks.lines import columns, wrapped

if TYPE_CHECKING:
    from stunline.tasks.shapes import Shape

_SURE = 0.05  # as ``Change.real``, for all coefficients together


@dataclass(frozen=True, slots=True)
class TablesCompared:
    """Two table files and what changed from one to the other.

    Attributes:
        names: of the files
        gaugings: of their cloths
        comparison: of these
    """

    names: tuple[str, str]
    gaugings: tuple[Gauging, Gauging]
    comparison: Comparison


def compare_tables(before: str, after: str) -> TablesCompared:
    """Compare the gauged cloths of two table files.

    Raises:
        InputError: a file can't be read, or holds no gauged cloth.
    """
    gaugings = _gauging(before), _gauging(after)
    return TablesCompared((before, after), gaugings, compare(*gaugings))


def _gauging(path: str) -> Gauging:
    found = [cloth.gauging for cloth in load_table(path).cloths.values() if cloth.gauging]
    if found:
        return found[0]
    fault = Fault(
        "no cloth of this table was gauged",
        given=f'"{path}"',
        allowed="a table file written by: stunline gauge fit FILE -o TABLE.toml",
        remedy="gauge it first: stunline gauge new",
    )
    raise InputError([fault], path)


def comparison_lines(result: TablesCompared) -> Iterator[str]:
    """What ``stunline gauge compare`` prints."""
    for name, gauging in zip(result.names, result.gaugings, strict=True):
        when = f", {gauging.date}" if gauging.date else ""
        yield f"{name}: {gauging.record}{when}, {gauging.measurements} measurements"
    yield ""
    yield from columns(_row(one) for one in result.comparison.changes)
    yield ""
    yield from wrapped(_verdict(result.comparison))


def _row(one: Change) -> list[str]:
    words = "more than noise" if one.real else "within noise"
    if not one.told:
        words = "not told by both"
    chance = f"{words} (noise alone: {_percent(one.chance)})" if one.told else words
    return [one.name.replace("_", " "), f"{one.before:.4g}", f"{one.after:.4g}", chance]


def _verdict(found: Comparison) -> str:
    changed = [one.name.replace("_", " ") for one in found.changes if one.real]
    together = f"noise alone makes differences as large in {_percent(found.chance)} of comparisons"
    if found.chance >= _SURE:
        return f"Taken together nothing changed for sure: {together}."
    which = f": {', '.join(changed)}" if changed else ", though in no single coefficient for sure"
    return f"The table has changed{which}; {together}."


def _percent(chance: float) -> str:
    return "under 0.1 %" if chance < 1e-3 else f"{100.0 * chance:.2g} %"


def comparison_shape(result: TablesCompared) -> Shape:
    """What ``stunline gauge compare --json`` prints."""
    return {
        "tables": [
            {
                "file": name,
                "record": gauging.record,
                "date": gauging.date,
                "measurements": gauging.measurements,
            }
            for name, gauging in zip(result.names, result.gaugings, strict=True)
        ],
        "changes": [
            {
                "name": one.name,
                "before": one.before,
                "after": one.after,
                "ratio_interval": [one.low, one.high],
                "chance": one.chance,
                "told": one.told,
                "real": one.real,
            }
            for one in result.comparison.changes
        ],
        "chance": result.comparison.chance,
        "changed": result.comparison.chance < _SURE,
        "engine": stunline.__version__,
    }
