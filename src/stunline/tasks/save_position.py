"""Save a document in the library: whole or not at all, and never over another's change."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stunline.errors import Fault, InputError
from stunline.files.text_file import SIZE_LIMIT
from stunline.shot.position_file import parse_position
from stunline.tasks.document import toml_of
from stunline.tasks.library import Library, MissingPositionError, StoredPosition, read_own_file
from stunline.tasks.page_bounds import check_bounds
from stunline.tasks.save_durably import put, put_new
from stunline.tasks.save_names import clean_name, numbered, shown_name

_APART = ", kept apart"
_MOST_COPIES = 1000  # names tried; beyond it something else is wrong


@dataclass(frozen=True, slots=True)
class SavedPosition:
    """Where a position now stands.

    Attributes:
        position: as it stands in the library
        note: what the user should know, or ""
    """

    position: StoredPosition
    note: str = ""


class ChangedMeanwhileError(InputError):
    """The file is not the one that was opened.

    Attributes:
        mine: what was to be saved, now under a name of its own
        theirs: what stands under the name
    """

    def __init__(self, mine: SavedPosition, theirs: SavedPosition) -> None:
        self.mine, self.theirs = mine, theirs
        fault = Fault(
            "the position was changed elsewhere since it was opened here, and both are kept: "
            f"yours is now {shown_name(mine.position.name)}",
            given=shown_name(theirs.position.name),
            allowed="saving over the version that was opened",
            remedy="go on with yours, or open the other; delete the one that isn't wanted",
            key="revision",
        )
        super().__init__([fault])


def save_position(
    library: Library, name: str, document: Mapping[str, Any], revision: str | None
) -> SavedPosition:
    """Save under that name.

    Args:
        revision: of what was opened; None for a new position

    Raises:
        ChangedMeanwhileError: the name holds another revision; both are kept.
        InputError: the name, or the document, is not in order; or the folder takes no file.
    """
    check_bounds(document, library.folder)
    with library.locked():
        held = _held(library, name)
        if held is None:
            return _save_new(library, name, document, revision)
        text = _checked_text(document, _text_of(held), library.folder)
        if held.content == text:
            return SavedPosition(held)
        if held.revision != revision:
            raise _conflict(library, held, document)
        return _replace(library, held, text)


def _held(library: Library, name: str) -> StoredPosition | None:
    if not library.holds(name):
        return None
    return library.read(name)


def _save_new(
    library: Library, name: str, document: Mapping[str, Any], revision: str | None
) -> SavedPosition:
    """There is no file of that name: a new one, a shipped one's copy, or one that has gone."""
    base, note = "", ""
    try:
        shipped = library.read(name)
        base = shipped.text()
        note = "A copy of the shipped position was made in the library."
    except MissingPositionError:
        if revision is not None:
            note = "The file had gone from the library, and was made again."
    content = _checked_text(document, base, library.folder)
    stored = StoredPosition(clean_name(name), content)
    try:
        put_new(content, library.path(name))
    except FileExistsError:  # made by another program since we looked
        raise _conflict(library, library.read(name), document) from None
    return SavedPosition(stored, note)


def _replace(library: Library, held: StoredPosition, content: bytes) -> SavedPosition:
    path = library.path(held.name)
    if read_own_file(path) != held.content:  # an editor that knows no lock
        raise _conflict_of(library, library.read(held.name), content)
    put(content, path)
    return SavedPosition(StoredPosition(held.name, content))


def _text_of(held: StoredPosition) -> str:
    """Its text, to keep the comments of; "" where it has none that can be read."""
    try:
        return held.text()
    except InputError:
        return ""


def _checked_text(document: Mapping[str, Any], existing: str, folder: Path) -> bytes:
    """The document as a file's content, held to the very checks of a file."""
    text = toml_of(document, existing)
    parse_position(text, "", folder)
    content = text.encode()
    if len(content) > SIZE_LIMIT:
        fault = Fault(
            "the position is too large to be saved",
            given=f"{len(content):,} bytes".replace(",", " "),
            allowed="at most 1 MB",
            remedy="shorter notes",
        )
        raise InputError([fault])
    return content


def _conflict(
    library: Library, theirs: StoredPosition, document: Mapping[str, Any]
) -> ChangedMeanwhileError:
    content = _checked_text(document, _text_of(theirs), library.folder)
    return _conflict_of(library, theirs, content)


def _conflict_of(library: Library, theirs: StoredPosition, content: bytes) -> ChangedMeanwhileError:
    mine = _keep_apart(library, theirs.name, content)
    return ChangedMeanwhileError(SavedPosition(mine), SavedPosition(theirs))


def _keep_apart(library: Library, name: str, content: bytes) -> StoredPosition:
    """The content under the first free name beside that one; the same content only once."""
    for free in beside(name, _APART):
        with contextlib.suppress(FileExistsError):
            put_new(content, library.path(free))
            return StoredPosition(free, content)
        held = _content(library.path(free))
        if held == content:
            return StoredPosition(free, content)
    raise AssertionError("a thousand names were taken")


def beside(name: str, ending: str) -> list[str]:
    """Names to try beside one that is taken, the likeliest first."""
    first = name if name.endswith(ending) or not ending else _with(name, ending)
    more = [numbered(first, number) for number in range(2, _MOST_COPIES)]
    return [first, *more] if first != name else more


def _with(name: str, ending: str) -> str:
    """The name with those words behind it, shortened where it must be."""
    try:
        return clean_name(name + ending)
    except InputError:
        return clean_name(name[: len(name) // 2].rstrip(" .") + ending)


def _content(path: Path) -> bytes | None:
    try:
        return read_own_file(path)
    except (OSError, InputError):
        return None
