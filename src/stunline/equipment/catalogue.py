"""The shipped tables, and tables from a file of one's own."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from stunline.equipment.model import Table
from stunline.equipment.table_file import parse_table
from stunline.errors import Fault, InputError
from stunline.files.text_file import read_text_file
from stunline.files.words import nearest_name, quoted

_SHIPPED = Path(__file__).parent / "data"
_SUFFIX = ".toml"
_REMEMBERED = 32  # tables kept per process; more only costs reading them again


def table_names() -> tuple[str, ...]:
    """Names of the shipped tables, in alphabetical order."""
    return tuple(sorted(path.stem for path in _SHIPPED.glob(f"*{_SUFFIX}")))


def is_table_file(name_or_path: str) -> bool:
    """Whether the words name a file rather than a shipped table."""
    return name_or_path.endswith(_SUFFIX) or "/" in name_or_path or "\\" in name_or_path


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
        return _load(str(path), path.stem, _stamp(path))
    if name_or_path not in table_names():
        raise InputError([unknown_table(name_or_path)])
    path = _SHIPPED / f"{name_or_path}{_SUFFIX}"
    return _load(str(path), name_or_path, _stamp(path))


def unknown_table(name: str) -> Fault:
    """The fault of a name that is no shipped table's."""
    near = nearest_name(name, table_names())
    return Fault(
        what="there is no table of that name",
        given=f'"{name[:60]}"',
        allowed=f"{quoted(table_names())}, or the path of a table file ending in .toml",
        remedy=f'"{near or table_names()[0]}"',
        key="table",
    )


def _stamp(path: Path) -> tuple[int, int]:
    """Changes when the file does, so that a remembered table is never stale."""
    try:
        status = path.stat()
    except (OSError, ValueError):
        return (0, 0)  # reading it says what is wrong
    return (status.st_mtime_ns, status.st_size)


@lru_cache(maxsize=_REMEMBERED)
def _load(path: str, name: str, stamp: tuple[int, int]) -> Table:
    del stamp  # only part of the key
    return parse_table(read_text_file(path, "a table file"), name, path)
