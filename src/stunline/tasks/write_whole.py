"""Write a file, the whole of it or nothing."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Sequence
from pathlib import Path

from stunline.errors import Fault, InputError


def check_ending(path: str, endings: Sequence[str], what: str, example: str, key: str) -> None:
    """Refuse a file whose ending says that it is something else.

    Args:
        endings: those that will do, the usual one first
        what: is wrong with another
        example: a name that would do, for a path that has none to keep
        key: the option or argument that named the file, for the message

    Raises:
        InputError: with what is allowed.
    """
    place = Path(path)
    if place.suffix.lower() in endings:
        return
    fault = Fault(
        what,
        given=f'"{path}"',
        allowed=", ".join(endings),
        remedy=f'"{place.with_suffix(endings[0])}"' if place.stem else f'"{example}"',
        key=key,
    )
    raise InputError([fault])


def check_folder(path: str, key: str) -> None:
    """Refuse a place where no file can be written, before anything is computed for it.

    Raises:
        InputError: its folder does not exist, or the path is a folder itself.
    """
    if not Path(path).parent.is_dir():
        raise _unwritable(path, key, "its folder does not exist")
    if Path(path).is_dir():
        raise _unwritable(path, key, "it is a folder")


def write_whole(content: bytes, path: str, key: str) -> None:
    """Write to a temporary file in the same folder, then rename it over the old one.

    Args:
        key: the option or argument that named the file, for the message

    Raises:
        InputError: the file can't be written, and why.
    """
    target = Path(path)
    temporary = ""
    try:
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name}-", dir=target.parent)
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(temporary, 0o666 & ~_umask())
        os.replace(temporary, target)
    except BaseException as error:  # an interrupt too must leave nothing behind
        if temporary:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
        if isinstance(error, OSError):
            raise _unwritable(path, key, (error.strerror or str(error)).lower()) from error
        raise


def _unwritable(path: str, key: str, reason: str) -> InputError:
    fault = Fault(
        f"the file can't be written: {reason}",
        given=f'"{path}"',
        allowed="a file in a folder that exists and that you may write to",
        remedy="another name or folder",
        key=key,
    )
    return InputError([fault])


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
