"""Rename, duplicate and delete positions of the library, and undo a deletion."""

from __future__ import annotations

import contextlib
import os
import re
import secrets
import time
from pathlib import Path

from stunline.errors import Fault, InputError
from stunline.tasks.library import Library, MissingPositionError, StoredPosition, taken
from stunline.tasks.save_durably import flush_folder, move_without_replacing, put_new
from stunline.tasks.save_names import ENDING, clean_name, shown_name
from stunline.tasks.save_position import SavedPosition, beside

_TRASH = ".deleted"  # hidden, inside the library: on the same disk, so that moving is one step
_TOKEN_BYTES = 12
_TOKEN = re.compile(rf"[0-9a-f]{{{2 * _TOKEN_BYTES}}}")
_KEPT_FOR = 30 * 24 * 3600.0  # s; what was deleted longer ago is gone


def rename_position(library: Library, name: str, to: str) -> SavedPosition:
    """Give a position another name.

    Raises:
        MissingPositionError: there is no position of that name.
        TakenNameError: the other name is taken.
        InputError: a file can't have that name; the position is shipped.
    """
    with library.locked():
        held = _own(library, name)
        source, target = library.path(name), library.path(to)
        if clean_name(to) != held.name:
            try:
                move_without_replacing(source, target)
            except FileExistsError:
                raise taken(to) from None
            flush_folder(library.folder)
    return SavedPosition(StoredPosition(clean_name(to), held.content))


def duplicate_position(library: Library, name: str, to: str | None = None) -> SavedPosition:
    """Make a copy under another name; without one, under a number behind the same name.

    Raises:
        MissingPositionError: there is no position of that name.
        TakenNameError: the other name is taken.
        InputError: a file can't have that name.
    """
    with library.locked():
        held = library.read(name)
        for free in [clean_name(to)] if to is not None else beside(held.name, ""):
            with contextlib.suppress(FileExistsError):
                put_new(held.content, library.path(free))
                return SavedPosition(StoredPosition(free, held.content))
    raise taken(to or name)


def delete_position(library: Library, name: str) -> str:
    """Move a position into the hidden folder of deleted ones.

    Returns:
        What ``undo_delete`` asks for.

    Raises:
        MissingPositionError: there is no position of that name.
        InputError: the position is shipped.
    """
    with library.locked():
        held = _own(library, name)
        trash = _trash(library)
        _forget_old(trash)
        token = secrets.token_hex(_TOKEN_BYTES)
        os.rename(library.path(name), trash / f"{token} {held.name}{ENDING}")
        flush_folder(trash)
        flush_folder(library.folder)
    return token


def undo_delete(library: Library, token: str) -> SavedPosition:
    """Put a deleted position back, beside one that has taken its name meanwhile.

    Raises:
        MissingPositionError: nothing deleted goes by that token.
    """
    with library.locked():
        trash = _trash(library)
        path = _deleted(trash, token)
        name = path.name.removeprefix(f"{token} ").removesuffix(ENDING)
        for free in [name, *beside(name, "")]:
            with contextlib.suppress(FileExistsError):
                move_without_replacing(path, library.path(free))
                flush_folder(library.folder)
                note = "" if free == name else "Its name had been taken meanwhile."
                return SavedPosition(library.read(free), note)
    raise taken(name)


def _own(library: Library, name: str) -> StoredPosition:
    """The library's own position of that name."""
    held = library.read(name)
    if not held.shipped:
        return held
    fault = Fault(
        "this position comes with stunline, and stays as it is",
        given=shown_name(name),
        allowed="a position of your own",
        remedy="duplicate it first",
        key="name",
    )
    raise InputError([fault])


def _trash(library: Library) -> Path:
    trash = library.folder / _TRASH
    trash.mkdir(exist_ok=True)
    if trash.is_symlink():
        fault = Fault(
            "the folder of deleted positions is a link, and nothing is moved through it",
            given=shown_name(_TRASH),
            allowed="a folder",
            remedy=f"remove the link {_TRASH} from the library",
        )
        raise InputError([fault])
    return trash


def _deleted(trash: Path, token: str) -> Path:
    if _TOKEN.fullmatch(token):
        for path in trash.iterdir():
            if path.name.startswith(f"{token} "):
                return path
    fault = Fault(
        "nothing deleted goes by that token",
        given=shown_name(token),
        allowed="what deleting gave back, within 30 days and once",
        remedy=f"look into the folder {_TRASH} of the library",
        key="token",
    )
    raise MissingPositionError([fault])


def _forget_old(trash: Path) -> None:
    for path in trash.iterdir():
        with contextlib.suppress(OSError):
            if time.time() - path.lstat().st_ctime > _KEPT_FOR:
                path.unlink()
