"""Files that are whole whenever the power goes: written beside, flushed, then put in place."""

from __future__ import annotations

import contextlib
import fcntl
import os
import stat
import tempfile
from collections.abc import Iterator
from pathlib import Path

_TEMPORARY = ".saving-"  # hidden, and told from any position's name


def put(content: bytes, target: Path) -> None:
    """Write the file, over an old one where there is one.

    Raises:
        OSError: it can't be written; what was there is still there.
    """
    with _beside(content, target) as temporary:
        os.replace(temporary, target)
    flush_folder(target.parent)


def put_new(content: bytes, target: Path) -> None:
    """Write the file where there is none.

    Raises:
        FileExistsError: there is one, and it is left as it was.
        OSError: it can't be written.
    """
    with _beside(content, target) as temporary:
        move_without_replacing(temporary, target)
    flush_folder(target.parent)


def move_without_replacing(source: Path, target: Path) -> None:
    """Give a file a new name, unless that is taken.

    Raises:
        FileExistsError: the name is taken; nothing has changed.
    """
    try:
        os.link(source, target, follow_symlinks=False)  # the one step that refuses a taken name
    except FileExistsError:
        raise
    except OSError:  # a file system without links
        if os.path.lexists(target):
            raise FileExistsError(str(target)) from None
        os.rename(source, target)
    else:
        os.unlink(source)


@contextlib.contextmanager
def _beside(content: bytes, target: Path) -> Iterator[Path]:
    """A flushed temporary file in the same folder, gone afterwards if it is still there."""
    handle, name = tempfile.mkstemp(prefix=_TEMPORARY, dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fchmod(stream.fileno(), _mode_of(target))
            os.fsync(stream.fileno())
        yield Path(name)
    finally:
        with contextlib.suppress(FileNotFoundError):
            os.unlink(name)


def _mode_of(target: Path) -> int:
    """The permissions that the file has, or that a new one gets."""
    try:
        return stat.S_IMODE(os.lstat(target).st_mode)
    except FileNotFoundError:
        return 0o644


def flush_folder(folder: Path) -> None:
    """Have the folder's own entries written out, so that a new name outlives a power cut."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def clear_temporaries(folder: Path) -> None:
    """Remove what a killed process left half written. Call with the lock held."""
    for path in folder.glob(f"{_TEMPORARY}*"):
        with contextlib.suppress(OSError):
            path.unlink()


@contextlib.contextmanager
def locked(lock: Path) -> Iterator[None]:
    """Wait for, and hold, what only one process and one thread may hold at a time."""
    lock.parent.mkdir(parents=True, exist_ok=True)
    handle = os.open(lock, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)  # which lets go of it, as the death of the process does
