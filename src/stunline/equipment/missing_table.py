"""The fault of a table file that isn't there: which folder was looked in, and what is near."""

from __future__ import annotations

import difflib
from pathlib import Path

from stunline.errors import Fault

_SUFFIX = ".toml"


def missing_table(name: str, folder: Path) -> Fault | None:
    """The fault; None where there is something of that name.

    Args:
        name: a table file's, as it was given
        folder: that it was looked for in
    """
    path = folder / name
    if path.exists():
        return None
    place = path.parent if path.parent.is_dir() else folder
    return Fault(
        f"there is no such file {folder_words(folder)}, where it is looked for",
        given=f'"{name[:60]}"',
        allowed="the name of a table file there, or a shipped table's",
        remedy=_remedy(path.name, folder, place),
        key="table",
    )


def folder_words(folder: Path) -> str:
    """ "in the folder mine", "in this folder"."""
    return "in this folder" if str(folder) == "." else f"in the folder {folder}"


def _remedy(name: str, folder: Path, place: Path) -> str:
    if (folder / name).is_file():
        return f'"{name}", which is there'
    beside = sorted(path.stem for path in place.glob(f"*{_SUFFIX}"))
    near = difflib.get_close_matches(name.removesuffix(_SUFFIX), beside, n=1)
    if not near:
        return "check the name, or put the table file there"
    found = (place / f"{near[0]}{_SUFFIX}").relative_to(folder)
    return f'"{found.as_posix()}", which is there'
