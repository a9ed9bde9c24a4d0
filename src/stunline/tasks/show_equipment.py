"""List the tables, and show one with every number's unit and source."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import stunline
from stunline.equipment.based_on import table_names
from stunline.equipment.catalogue import load_table
from stunline.equipment.describe import describe
from stunline.equipment.model import Table
from stunline.files.words import listed
from stunline.tasks.lines import columns, wrapped

_NAME_WIDTH = 28  # characters; the longest names of the shipped data are a little shorter


def tables(name: str | None = None) -> tuple[Table, ...]:
    """Every shipped table; or only that one, shipped or from a file in this folder.

    Raises:
        InputError: no such table, or a file with faults.
    """
    if name is None:
        return tuple(load_table(one) for one in table_names())
    return (load_table(name, Path(os.curdir)),)


def equipment_lines(shown: tuple[Table, ...], every_number: bool) -> Iterator[str]:
    """What ``stunline equipment`` prints: tables and cloths, or every number of a table."""
    for table in shown:
        yield f"{table.name}: {table.title}"
        for cloth in table.cloths.values():
            yield from wrapped(f"cloth {cloth.name}: {cloth.title}. {cloth.note}", "  ", "    ")
        if every_number:
            yield from _name_lines(table)
            yield from _number_lines(table)


def names_of(table: Table) -> dict[str, tuple[str, ...]]:
    """What a position file may call the balls, spots and pockets of that table."""
    areas = ("D",) if table.d_radius and table.baulk_line else ()
    return {
        "balls": tuple(table.balls),
        "groups": tuple(table.groups),
        "racks": tuple(table.racks),
        "spots": tuple(table.spots),
        "pockets": tuple(pocket.name for pocket in table.pockets),
        "cushions": table.words.cushions,
        "areas": (*areas, *((table.words.behind_line,) if table.baulk_line else ())),
    }


def _name_lines(table: Table) -> Iterator[str]:
    """The game's own words, as a position file may use them."""
    yield ""
    yield "names in a position file"
    yield from columns((what, listed(names)) for what, names in names_of(table).items() if names)


def _number_lines(table: Table) -> Iterator[str]:
    part = ""
    for row in describe(table):
        if row.part != part:
            part = row.part
            yield ""
            yield part
        unit = "" if row.unit == "1" else f" {row.unit}"
        yield f"  {row.what:<{_NAME_WIDTH}} {row.value:>10g}{unit:<10} {row.source}"


def equipment_shape(shown: tuple[Table, ...]) -> dict[str, Any]:
    """The JSON: tables with their cloths and numbers."""
    return {
        "tables": [
            {
                "name": one.name,
                "title": one.title,
                "game": one.game,
                "names": {what: list(names) for what, names in names_of(one).items()},
                "cloths": [
                    {"name": cloth.name, "title": cloth.title, "note": cloth.note}
                    for cloth in one.cloths.values()
                ],
                "numbers": [
                    {
                        "part": row.part,
                        "what": row.what,
                        "value": row.value,
                        "unit": row.unit,
                        "source": row.source,
                    }
                    for row in describe(one)
                ],
            }
            for one in shown
        ],
        "engine": stunline.__version__,
    }
