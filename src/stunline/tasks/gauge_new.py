"""Start a record of gauging shots."""

from __future__ import annotations

from pathlib import Path

from stunline.calibration.record_writing import new_record
from stunline.equipment.based_on import STANDARD
from stunline.errors import Fault, InputError
from stunline.tasks.write_whole import write_whole


def record_text(full: bool = False, table: str | None = None) -> str:
    """The commented record file's text: three shots, or the full dozen.

    Raises:
        InputError: no such table.
    """
    return new_record(full, table or STANDARD)


def record_file(path: str, full: bool = False, table: str | None = None) -> None:
    """Write it; a file that exists stays as it is.

    Raises:
        InputError: the file exists, or can't be written; or there is no such table.
    """
    text = record_text(full, table)
    if Path(path).exists():
        fault = Fault(
            "a file of this name exists, and is not overwritten",
            given=f'"{path}"',
            allowed="a name that is free",
            remedy="another name, or move the old file away",
            key="FILE",
        )
        raise InputError([fault])
    write_whole(text.encode(), path, "FILE")
