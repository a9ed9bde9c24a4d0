"""The library: a folder of position files that the page lists, opens and saves.

Nothing that comes from the page leads out of the folder: a name is cleaned, and a link in the
folder is not followed. Shipped positions stand in the list; saving one makes a copy.
"""

from __future__ import annotations

import errno
import hashlib
import os
import stat
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from platformdirs import user_documents_path, user_state_path

from stunline.errors import Fault, InputError
from stunline.files.text_file import SIZE_LIMIT
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions
from stunline.tasks.save_durably import clear_temporaries, locked
from stunline.tasks.save_names import ENDING, clean_name, shown_name

_REVISION_LENGTH = 16  # hexadecimal digits of a hash: no two texts of one file share them


class MissingPositionError(InputError):
    """The library holds no position of that name."""


class TakenNameError(InputError):
    """The library holds another position of that name."""


@dataclass(frozen=True, slots=True)
class StoredPosition:
    """A position as it stands in the library, or as it is shipped.

    Attributes:
        name: the file's, without its ending
        content: of the file
        shipped: it comes with stunline, and the library holds none of that name
    """

    name: str
    content: bytes
    shipped: bool = False

    @property
    def revision(self) -> str:
        """Changes whenever the content does."""
        return hashlib.sha256(self.content).hexdigest()[:_REVISION_LENGTH]

    def text(self) -> str:
        """As text.

        Raises:
            InputError: it is not UTF-8.
        """
        try:
            return self.content.decode("utf-8-sig")
        except UnicodeDecodeError:
            fault = Fault(
                "this is not text in UTF-8",
                given=shown_name(self.name),
                allowed="a position file, saved as UTF-8",
                remedy="open it in a text editor and save it with the encoding UTF-8",
            )
            raise InputError([fault], self.name + ENDING) from None


@dataclass(frozen=True, slots=True)
class Library:
    """The folder, and where what belongs to it but not into it is kept.

    Attributes:
        folder: of the position files, without links in its path
        state: folder for the lock and for what the page wants to find again
    """

    folder: Path
    state: Path

    def path(self, name: str) -> Path:
        """Where a position of that name stands, or would.

        Raises:
            InputError: no file can have that name.
        """
        path = self.folder / (clean_name(name) + ENDING)
        return path if os.path.lexists(path) else self._other_spelling(path)

    def _other_spelling(self, path: Path) -> Path:
        """A file whose name has its accents apart, as some systems write them."""
        apart = unicodedata.normalize("NFD", path.name)
        other = self.folder / apart
        return other if apart != path.name and os.path.lexists(other) else path

    def holds(self, name: str) -> bool:
        """Whether there is anything of that name in the folder."""
        return os.path.lexists(self.path(name))

    def read(self, name: str) -> StoredPosition:
        """The position of that name, the library's own before a shipped one.

        Raises:
            MissingPositionError: there is none.
            InputError: its file can't be read.
        """
        path = self.path(name)
        name = clean_name(name)
        if not os.path.lexists(path):
            if name in shipped_positions():
                return StoredPosition(name, shipped_position_path(name).read_bytes(), shipped=True)
            raise missing(name)
        return StoredPosition(name, read_own_file(path))

    @contextmanager
    def locked(self) -> Iterator[None]:
        """Nobody else who uses stunline changes the folder meanwhile."""
        try:
            with locked(self.state / "lock"):
                yield
        except OSError as error:
            raise unwritable(error, str(self.folder)) from error


def open_library(folder: str | None) -> Library:
    """The library in that folder, made where it isn't there yet.

    Raises:
        InputError: the folder can't be made, or can't be written to.
    """
    asked = Path(folder) if folder is not None else user_documents_path() / "stunline"
    try:
        asked.mkdir(parents=True, exist_ok=True)
        real = asked.resolve(strict=True)
    except (OSError, ValueError) as error:
        raise unwritable(error, str(asked)) from error
    key = hashlib.sha256(os.fsencode(real)).hexdigest()[:_REVISION_LENGTH]
    library = Library(real, user_state_path("stunline", appauthor=False) / "libraries" / key)
    with library.locked():
        clear_temporaries(real)
    return library


def read_own_file(path: Path) -> bytes:
    """A file's content; a link is not followed, a pipe or a device not waited for.

    Raises:
        InputError: it is no plain file, too large, or can't be read.
    """
    try:
        handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
        with os.fdopen(handle, "rb") as stream:
            if not stat.S_ISREG(os.fstat(stream.fileno()).st_mode):
                raise _not_plain(path)
            content = stream.read(SIZE_LIMIT + 1)
    except OSError as error:
        if error.errno == errno.ELOOP:
            raise _not_plain(path) from None
        raise _unreadable(path, (error.strerror or str(error)).lower()) from error
    if len(content) > SIZE_LIMIT:
        raise _unreadable(path, "it is larger than 1 MB")
    return content


def missing(name: str) -> MissingPositionError:
    """There is no position of that name."""
    fault = Fault(
        "there is no position of that name in the library",
        given=shown_name(name),
        allowed="a name of the list",
        remedy="look through the list again: it may have been renamed or deleted",
        key="name",
    )
    return MissingPositionError([fault])


def taken(name: str) -> TakenNameError:
    """There is another position of that name."""
    fault = Fault(
        "the library already holds a position of that name, and nothing was changed",
        given=shown_name(name),
        allowed="a name that is free",
        remedy="another name",
        key="name",
    )
    return TakenNameError([fault])


def unwritable(error: OSError | ValueError, given: str) -> InputError:
    """The folder takes no file."""
    reason = getattr(error, "strerror", None) or str(error)
    fault = Fault(
        f"the library can't be written to: {reason.lower()}",
        given=shown_name(given),
        allowed="a folder that you may write to, on a disk with room",
        remedy="free some space, or another folder with --library",
        key="--library",
    )
    return InputError([fault])


def _not_plain(path: Path) -> InputError:
    fault = Fault(
        "this is a link or no plain file, and is not opened from the library",
        given=shown_name(path.name),
        allowed="a file that stands in the library's folder itself",
        remedy="put a copy of the file into the folder",
    )
    return InputError([fault], path.name)


def _unreadable(path: Path, reason: str) -> InputError:
    fault = Fault(
        f"the file can't be read: {reason}",
        given=shown_name(path.name),
        allowed="a position file of at most 1 MB that you may read",
        remedy="check the file and its permissions",
    )
    return InputError([fault], path.name)
