"""What a document from the page may ask for, beyond the checks of a file.

The page plays as something is dragged and never asks twice: a document that would keep the
engine busy for minutes, or that names a file outside the library, is refused here.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from stunline.equipment.based_on import KEY, is_table_file, table_names
from stunline.equipment.catalogue import load_table
from stunline.equipment.player import player_names
from stunline.errors import Fault, InputError
from stunline.files.toml_lines import parse_toml
from stunline.files.words import listed
from stunline.tasks.library import read_own_file
from stunline.tasks.save_names import shown_name

# Of a pack that is opened from the page; the command line takes more.
MOST_PAGE_RACKS = 20_000
WIDEST_PAGE_GAPS = 5.0  # [mm]
PLAYER_FILE = ".toml"
MOST_BALLS = 22  # a whole frame of snooker
MOST_RUNGS = 40  # of a ladder; the file's own limit is for a longer wait
# Below these a ball rolls for minutes and meets thousands of cushions, which a file may ask
# for and a page that plays a hundred times for a strip may not.
LEAST_COEFFICIENTS = {
    "sliding_friction": 0.02,
    "rolling_resistance": 0.002,
    "gravity": 1.0,
}
_MOST_FILES = 8  # that are based on one another


def check_bounds(document: Mapping[str, Any], folder: Path) -> None:
    """Refuse what the page may not ask for.

    Raises:
        InputError: with every such thing.
    """
    faults = list(_table_faults(document, folder))
    if not faults:  # otherwise its racks would be read from where it may not stand
        faults += _count_faults(document, folder)
    faults += _coefficient_faults(document)
    if faults:
        raise InputError(faults)


def _table_faults(document: Mapping[str, Any], folder: Path) -> Iterator[Fault]:
    ladder = document.get("ladder")
    values = ladder.get("values") if isinstance(ladder, Mapping) else None
    by_table = isinstance(ladder, Mapping) and ladder.get("vary") == "table"
    varied = values if isinstance(values, list) and by_table else []
    for key, name in [("table", document.get("table")), *(("ladder.values", v) for v in varied)]:
        if isinstance(name, str) and name not in table_names() and is_table_file(name):
            yield from _file_fault(key, name, folder)


def _file_fault(key: str, name: str, folder: Path) -> Iterator[Fault]:
    """A table file must stand in the library itself, and so must what it is based on."""
    asked = name
    for _ in range(_MOST_FILES):
        reason = _reason_against(name, folder)
        if reason:
            yield Fault(
                f"a table file must stand in the library: {reason}",
                given=shown_name(asked),
                allowed=f"{listed(table_names())}, or a table file in the library's folder",
                remedy="put the table file into the folder, and name it without a path",
                key=key,
            )
            return
        try:
            base = parse_toml(read_own_file(folder / name).decode("utf-8-sig")).get(KEY)
        except (InputError, ValueError):
            return  # reading it as a table says what is wrong
        if not isinstance(base, str) or base in table_names() or not is_table_file(base):
            return
        name = base


def check_player(name: str, folder: Path) -> None:
    """Refuse a player file that does not stand in the library itself.

    Raises:
        InputError: where it stands elsewhere.
    """
    reason = _reason_against(name, folder) if name.endswith(PLAYER_FILE) else ""
    if reason:
        fault = Fault(
            f"a player file must stand in the library: {reason}",
            given=shown_name(name),
            allowed=f"{listed(player_names())}, or a player file in the library's folder",
            remedy="put the player file into the folder, and name it without a path",
            key="goal.player",
        )
        raise InputError([fault])


def _reason_against(name: str, folder: Path) -> str:
    if os.path.basename(name) != name or "\\" in name or "\0" in name or name.startswith("."):
        return "this leads elsewhere"
    if os.path.islink(folder / name):
        return "this is a link"
    return ""


def _count_faults(document: Mapping[str, Any], folder: Path) -> Iterator[Fault]:
    balls = document.get("balls")
    count = 0
    if isinstance(balls, Mapping):
        racks = _racks(document.get("table"), folder)
        count = sum(_balls_of(value, racks) for value in balls.values())
    if count > MOST_BALLS:
        yield Fault(
            "these are more balls than the page plays",
            given=f"{count}",
            allowed=f"at most {MOST_BALLS}",
            remedy="take some off the table",
            key="balls",
        )
    ladder = document.get("ladder")
    values = ladder.get("values") if isinstance(ladder, Mapping) else None
    if isinstance(values, list) and len(values) > MOST_RUNGS:
        yield Fault(
            "these are more rungs than the page plays",
            given=f"{len(values)}",
            allowed=f"at most {MOST_RUNGS}",
            remedy="fewer values, or stunline ladder on the command line",
            key="ladder.values",
        )


def _racks(table: object, folder: Path) -> Mapping[str, int]:
    """How many balls each rack of that table sets; reading it says what is wrong with it."""
    if not isinstance(table, str):
        return {}
    try:
        return {name: len(places) for name, places in load_table(table, folder).racks.items()}
    except InputError:
        return {}


def _balls_of(value: object, racks: Mapping[str, int]) -> int:
    """Balls that one entry places: one, a rack, or a list of places."""
    if isinstance(value, Mapping):
        value = value.get("rack")
    if isinstance(value, str):
        return racks.get(value, 1)
    if isinstance(value, list) and any(isinstance(one, list | str) for one in value):
        return len(value)
    return 1


def _coefficient_faults(document: Mapping[str, Any]) -> Iterator[Fault]:
    own = document.get("coefficients")
    for key, least in LEAST_COEFFICIENTS.items():
        value = own.get(key) if isinstance(own, Mapping) else None
        if isinstance(value, bool) or not isinstance(value, int | float):
            continue
        if 0 < value < least:
            yield Fault(
                "the balls would roll for too long for a page that plays while you drag",
                given=f"{value:g}",
                allowed=f"at least {least:g}",
                remedy=f"{least:g}, or stunline shot on the command line",
                key=f"coefficients.{key}",
            )
