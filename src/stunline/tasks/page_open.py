"""Open a position for the page: its document, its text, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stunline.errors import InputError
from stunline.shot.position_file import parse_position
from stunline.tasks.document import Document, document_of, toml_of
from stunline.tasks.library import Library, StoredPosition
from stunline.tasks.page_bounds import check_bounds


@dataclass(frozen=True, slots=True)
class OpenedPosition:
    """A position as the page gets it.

    Attributes:
        stored: as it stands
        document: its values; None when the text is not TOML
        text: of the file
        error: everything that is wrong with it, or None
    """

    stored: StoredPosition
    document: Document | None
    text: str
    error: InputError | None


def open_position(library: Library, name: str) -> OpenedPosition:
    """The position of that name, in order or not.

    Raises:
        MissingPositionError: there is none.
        InputError: its file can't be read as text.
    """
    stored = library.read(name)
    text = stored.text()
    try:
        document = document_of(text)
    except InputError as error:
        return OpenedPosition(stored, None, text, error)
    try:
        parse_position(text, "", library.folder)
        check_bounds(document, library.folder)
    except InputError as error:
        return OpenedPosition(stored, document, text, error)
    return OpenedPosition(stored, document, text, None)


def read_from_elsewhere(text: str, folder: Path) -> tuple[Document, str]:
    """A position that comes from no file of the library: as document and as text.

    Raises:
        InputError: with everything that is wrong with it, and the lines.
    """
    document = document_of(text)
    check_bounds(document, folder)
    parse_position(text, "", folder)
    return document, text


def read_packed(document: Mapping[str, Any], folder: Path) -> tuple[Document, str]:
    """The same of a position that comes as a document.

    Raises:
        InputError: with everything that is wrong with it.
    """
    check_bounds(document, folder)
    text = toml_of(document)
    parse_position(text, "", folder)
    return document_of(text), text
