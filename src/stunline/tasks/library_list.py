"""What the library holds, as the page lists it; a shipped position until there is an own one."""

from __future__ import annotations

import os
import stat
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from stunline.errors import Fault, InputError
from stunline.shot.position_file import parse_position
from stunline.shot.position_file.shipped import shipped_positions
from stunline.tasks.document import Document, document_of
from stunline.tasks.library import Library, StoredPosition
from stunline.tasks.save_names import ENDING, clean_name

_REMEMBERED = 4_000  # files whose reading is kept; more only costs reading them again
_TABLE_FILE = Fault("this is a table file: positions can name it as their table")
_RECORD_FILE = Fault("this is a record of gauging shots: open it under “Gauge this table”")
_OF_RECORDS = "measured"  # another
_OF_TABLES = ("playing_area", "based_on", "cue_ball")  # keys that no position file has


@dataclass(frozen=True, slots=True)
class Listed:
    """A position in the list.

    Attributes:
        name, title, table: as they stand in the file; "" where it has none
        changed: when the file was last changed; None: it is shipped
        revision: of its content
        fault: one sentence where it is not in order, or ""
    """

    name: str
    title: str
    table: str
    changed: datetime | None
    revision: str
    fault: str


@dataclass(frozen=True, slots=True)
class Listing:
    """The library's positions, last changed first, and the files that are none, with why."""

    positions: tuple[Listed, ...]
    left_out: tuple[tuple[str, str], ...]


def list_positions(library: Library, search: str = "") -> Listing:
    """Positions whose name or title holds every word of the search.

    Raises:
        OSError: the folder can't be read.
    """
    found, left_out = [], []
    for path in sorted(library.folder.glob(f"*{ENDING}")):
        try:
            found.append(_own(library, path))
        except InputError as error:
            left_out.append((path.name, error.faults[0].what))
    names = {one.name for one in found}
    found.sort(key=lambda one: one.changed.timestamp() if one.changed else 0.0, reverse=True)
    found += [_listed(library.read(name), library.folder, None)
              for name in shipped_positions() if name not in names]  # fmt: skip
    words = _folded(search).split()
    kept = [one for one in found if all(word in _folded(one.name + " " + one.title)
                                        for word in words)]  # fmt: skip
    return Listing(tuple(kept), tuple(left_out) if not words else ())


def _folded(text: str) -> str:
    """Without differences of case and accent."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(one for one in apart if not unicodedata.combining(one))


def _own(library: Library, path: Path) -> Listed:
    name = clean_name(path.name)
    status = os.lstat(path)
    key = (status.st_mtime_ns, status.st_size, status.st_ino, status.st_mode)
    if not stat.S_ISREG(status.st_mode):
        library.read(name)  # which says why not
    return _remembered(library, name, key)


@lru_cache(maxsize=_REMEMBERED)
def _remembered(library: Library, name: str, key: tuple[int, int, int, int]) -> Listed:
    changed = datetime.fromtimestamp(key[0] / 1e9).astimezone()
    return _listed(library.read(name), library.folder, changed)


def _listed(stored: StoredPosition, folder: Path, changed: datetime | None) -> Listed:
    text = stored.text()
    document, fault = _summary(text, folder)
    if any(key in document for key in _OF_TABLES):
        raise InputError([_TABLE_FILE])
    if _OF_RECORDS in document:
        raise InputError([_RECORD_FILE])
    title, table = (_text(document, key) for key in ("title", "table"))
    return Listed(stored.name, title, table, changed, stored.revision, fault)


def _summary(text: str, folder: Path) -> tuple[Document, str]:
    """Its values, none where it isn't TOML, and what is first wrong with it."""
    try:
        document = document_of(text)
        if not any(key in document for key in _OF_TABLES):
            parse_position(text, "", folder)
    except InputError as error:
        first = error.faults[0]
        where = f"line {first.line}: " if first.line else ""
        try:
            return document_of(text), where + first.sentence()
        except InputError:
            return {}, where + first.sentence()
    return document, ""


def _text(document: Document, key: str) -> str:
    value = document.get(key)
    return value if isinstance(value, str) else ""


def own_tables(library: Library) -> Iterator[str]:
    """Names of the files in the library that look like tables."""
    for path in sorted(library.folder.glob(f"*{ENDING}")):
        try:
            document = document_of(library.read(path.name).text())
        except InputError:
            continue
        if any(key in document for key in _OF_TABLES):
            yield path.name
