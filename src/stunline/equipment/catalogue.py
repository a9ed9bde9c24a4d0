"""The shipped tables, and tables from a file of one's own."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from stunline.equipment.based_on import (
    KEY,
    base_path,
    is_table_file,
    shipped_table_path,
    table_names,
    unknown_table,
)
from stunline.equipment.model import Table
from stunline.equipment.table_file import parse_table
from stunline.errors import InputError
from stunline.files.text_file import read_text_file
from stunline.files.toml_lines import parse_toml

_REMEMBERED = 32  # tables kept per process; more only costs reading them again
_Stamp = tuple[str, int, int]


def load_table(name_or_path: str, relative_to: Path | None = None) -> Table:
    """A shipped table by its name, or a table from a file.

    Args:
        name_or_path: "snooker-12ft", or a path that ends in .toml
        relative_to: folder that a relative path starts from; None: the current one

    Raises:
        InputError: no such table, or a file with faults (all of them, with their lines).
    """
    if is_table_file(name_or_path):
        path = (relative_to or Path()) / name_or_path
        return _load(str(path), path.stem, _stamps(path))
    if name_or_path not in table_names():
        raise InputError([unknown_table(name_or_path)])
    return _load(str(shipped_table_path(name_or_path)), name_or_path, ())


def _stamps(path: Path) -> tuple[_Stamp, ...]:
    """Changes when the file does, or one that it is based on: no remembered table is stale."""
    stamps: list[_Stamp] = []
    while str(path) not in [stamp[0] for stamp in stamps]:
        try:
            status = path.stat()
            stamps.append((str(path), status.st_mtime_ns, status.st_size))
            base = base_path(_based_on(*stamps[-1]), path.parent)
        except (OSError, ValueError, InputError):
            break  # reading it says what is wrong
        if not isinstance(base, Path):
            break
        path = base
    return tuple(stamps)


@lru_cache(maxsize=_REMEMBERED)
def _based_on(path: str, *stamp: int) -> object:
    del stamp  # only part of the key
    return parse_toml(read_text_file(path, "a table file"), path).get(KEY)


@lru_cache(maxsize=_REMEMBERED)
def _load(path: str, name: str, stamps: tuple[_Stamp, ...]) -> Table:
    del stamps  # only part of the key
    return parse_table(read_text_file(path, "a table file"), name, path, Path(path).parent)
