"""The table that a position file names: a shipped one, or a file beside the position."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

from stunline.equipment.based_on import STANDARD, is_table_file, table_names, unknown_table
from stunline.equipment.catalogue import load_table
from stunline.equipment.missing_table import missing_table
from stunline.equipment.model import Table
from stunline.errors import InputError
from stunline.files.toml_fields import Faults
from stunline.files.toml_lines import KeyPath
from stunline.files.words import kind_of, quoted, shown


def read_table(value: object, path: KeyPath, folder: Path | None, faults: Faults) -> Table | None:
    """The table; None with its faults noted.

    Args:
        value: as it stands in the file
        path: of the value
        folder: that the position file stands in; None when it is no file, and then only
            shipped tables can be named
    """
    if not isinstance(value, str):
        faults.add(
            path,
            f"the table must be named, not {kind_of(value)}",
            given=shown(value),
            allowed=f"{quoted(table_names())}, or a table file beside this one",
            remedy=f'"{STANDARD}"',
        )
        return None
    if not is_table_file(value):
        return _shipped(value, path, faults)
    if folder is None or not _stands_beside(value):
        faults.add(
            path,
            "a table file must stand beside the position file",
            given=shown(value),
            allowed="the name of a file in the same folder, or in one inside it",
            remedy=f'"{PurePosixPath(value).name[:60]}" beside the position, or a shipped table: '
            f"{quoted(table_names())}",
        )
        return None
    return _from_file(value, path, folder, faults)


def _shipped(name: str, path: KeyPath, faults: Faults) -> Table | None:
    if name in table_names():
        return load_table(name)
    fault = unknown_table(name)
    faults.add(path, fault.what, given=fault.given, allowed=fault.allowed, remedy=fault.remedy)
    return None


def _stands_beside(name: str) -> bool:
    """Whether a path leads nowhere but into the position's own folder."""
    return not name.startswith(("/", "\\", "~")) and ".." not in name and ":" not in name


def _from_file(name: str, path: KeyPath, folder: Path, faults: Faults) -> Table | None:
    """A table file's own faults are passed on, each with the line in that file."""
    gone = missing_table(name, folder)
    if gone is not None:
        faults.add(path, gone.what, given=gone.given, allowed=gone.allowed, remedy=gone.remedy)
        return None
    try:
        return load_table(name, folder)
    except InputError as error:
        for fault in error.faults:
            file = Path(error.source).name or name  # the table's, or the one that it is based on
            place = f"{file}, line {fault.line}" if fault.line else file
            about = f"{fault.key}: " if fault.key else ""
            faults.add(
                path,
                f"in {place}: {about}{fault.what}",
                given=fault.given,
                allowed=fault.allowed,
                remedy=fault.remedy,
            )
        return None
