"""Records of gauging shots in the library: listed, started, filled in. Nothing typed is lost."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from stunline.calibration.menu import BY_ID, TIME, TURNS
from stunline.calibration.record_editing import (
    UnwrittenError,
    Value,
    with_head,
    with_play_again,
    with_values,
    with_values_at,
)
from stunline.calibration.record_file import parse_open_record
from stunline.calibration.record_writing import new_record, with_shots
from stunline.errors import Fault, InputError
from stunline.files.text_file import SIZE_LIMIT
from stunline.paper.record_words import CAUTIONS
from stunline.tasks.document import document_of, toml_of
from stunline.tasks.library import Library, StoredPosition, read_own_file, taken
from stunline.tasks.page_bounds import check_bounds
from stunline.tasks.page_record_errors import ChangedRecordError
from stunline.tasks.page_record_shape import Shape, record_shape
from stunline.tasks.save_durably import put, put_new
from stunline.tasks.save_names import ENDING, clean_name, shown_name
from stunline.tasks.save_position import beside

MOST_PLAYS = 60  # of a record on the page; a dozen takes half an hour
_TRIES = 3  # at a file that an editor, which knows no lock, writes at the same moment
_LONGEST_NAME = 60  # of the title's part
_NUMBER = re.compile(r"[+-]?\d{1,12}(?:[.,]\d{1,12})?|[+-]?[.,]\d{1,12}")
_WITH_SECONDS = re.compile(r"(.*\d)\s*(?:s|sec|seconds)\.?", re.IGNORECASE)

Typed = str | list[str] | Mapping[str, str]


@dataclass(frozen=True, slots=True)
class RecordWish:
    """A record to start.

    Attributes:
        table: shipped, or a file of the library
        cloth: the profile that comes nearest
        full: the dozen, not the quick check
        gap: of the ramp's groove, 0 for a flat chute [mm]
        title: of the record
    """

    table: str
    cloth: str
    full: bool
    gap: float
    title: str


def list_records(library: Library) -> Shape:
    """The library's records, last changed first, with how many of their plays are done; and what
    to mind before one is begun."""
    found = []
    for path in library.folder.glob(f"*{ENDING}"):
        with contextlib.suppress(InputError, OSError):
            shape = record_shape(library.read(path.name), library.folder)
            states = [play["state"] for play in shape["plays"]]
            told = {key: shape[key] for key in ("name", "title", "date")}
            done = sum(state != "open" for state in states)
            row = {**told, "table": shape["table"]["title"], "done": done, "plays": len(states)}
            found.append((path.stat().st_mtime, row))
    records = [row for _, row in sorted(found, key=lambda one: -one[0])]
    return {"records": records, "cautions": list(CAUTIONS)}


def start_record(library: Library, wish: RecordWish) -> Shape:
    """Write a new record under a name of title and date; an old one is never written over.

    Raises:
        InputError: the table, the cloth or the gap is not in order; or the folder takes no file.
    """
    check_bounds({"table": wish.table}, library.folder)
    today = date.today().isoformat()
    text = new_record(
        wish.full, wish.table, title=wish.title, date=today, cloth=wish.cloth, gap=wish.gap,
        folder=library.folder,
    )  # fmt: skip
    read = parse_open_record(text, "", library.folder)
    if read.faults:
        raise InputError(read.faults)
    name = clean_name(f"{_plain(wish.title or read.record.table.title)}-{today}")
    with library.locked():
        for free in [name, *beside(name, "")]:
            with contextlib.suppress(FileExistsError):
                put_new(text.encode(), library.path(free))
                return record_shape(StoredPosition(free, text.encode()), library.folder)
    raise taken(name)


def open_record(library: Library, name: str) -> Shape:
    """A record as it stands.

    Raises:
        MissingPositionError: there is none of that name.
        InputError: it is no record.
    """
    return record_shape(library.read(name), library.folder)


def save_entry(
    library: Library, name: str, number: int, order: str, typed: Mapping[str, Typed]
) -> Shape:
    """Write what was typed for one play, right or wrong; every other line stays.

    Args:
        order: of the plays as they were when it was typed
        typed: texts by the keys of a record file; an empty one takes the key out

    Raises:
        ChangedRecordError: the play of that number is another one now.
        InputError: no such record or play; or the folder takes no file.
    """
    values = {key: value_of(key, one) for key, one in typed.items()}

    def change(text: str) -> str:
        try:
            return with_values(text, number, values)
        except UnwrittenError:
            document = document_of(text)
            entry = {**document["measured"][number], **values}
            kept = {key: value for key, value in entry.items() if value is not None}
            document["measured"][number] = kept
            return toml_of(document, text)

    return _changed(library, name, number, order, change)


def play_again(library: Library, name: str, number: int, order: str) -> Shape:
    """Add another play of the same shot, set up the same, behind that one.

    Raises:
        ChangedRecordError, InputError: as ``save_entry``; or there are too many plays.
    """

    def change(text: str) -> str:
        entries = document_of(text)["measured"]
        if len(entries) >= MOST_PLAYS:
            raise InputError([_too_many(len(entries))])
        try:
            return with_play_again(text, number)
        except UnwrittenError:
            document = document_of(text)
            again = {"shot": document["measured"][number]["shot"]}
            document["measured"].insert(number + 1, again)
            return toml_of(document, text)

    return _changed(library, name, number, order, change)


def change_head(library: Library, name: str, order: str, title: str, cloth: str, gap: str) -> Shape:
    """Write what stands above the plays, right or wrong.

    Args:
        title, cloth: as in a record file; an empty one stays as it is
        gap: of the ramp's groove as it was typed, in mm

    Raises:
        ChangedRecordError, InputError: as ``save_entry``.
    """
    values: dict[tuple[str, ...], Value] = {("ramp", "gap"): _number_or_text(gap.strip() or "0")}
    values |= {(key,): one.strip() for key, one in (("title", title), ("cloth", cloth)) if one}

    def change(text: str) -> str:
        try:
            return with_head(text, values)
        except UnwrittenError:
            return toml_of(with_values_at(document_of(text), values), text)

    return _changed(library, name, None, order, change)


def add_shots(library: Library, name: str, shots: Sequence[str], order: str) -> Shape:
    """Add more shots of the menu at the record's end.

    Raises:
        ChangedRecordError: as ``save_entry``.
        InputError: no such shot or record; or there are too many plays.
    """
    unknown = [one for one in shots if one not in BY_ID]
    if unknown:
        raise InputError([_no_shot(unknown[0])])

    def change(text: str) -> str:
        count = len(document_of(text)["measured"]) + len(shots)
        if count > MOST_PLAYS:
            raise InputError([_too_many(count)])
        table = parse_open_record(text, "", library.folder).record.table
        return with_shots(text, shots, table)

    return _changed(library, name, None, order, change)


def value_of(key: str, typed: Typed) -> Value | None:
    """What was typed, as a record file writes it; None when nothing was."""
    if isinstance(typed, str):
        text = typed.strip()
        if key in (TIME, TURNS):
            text = _WITH_SECONDS.sub(r"\1", text)
        return _number_or_text(text) if text else None
    if isinstance(typed, Mapping):
        touch: dict[str, float | str] = {
            "cushion": typed.get("cushion", "").strip(),
            "at": _number_or_text(typed.get("at", "").strip()),
        }
        return touch if any(one != "" for one in touch.values()) else None
    parts = [one.strip() for one in typed]
    return [_number_or_text(one) for one in parts] if any(parts) else None


def _number_or_text(text: str) -> float | str:
    if not _NUMBER.fullmatch(text):
        return text
    number = float(text.replace(",", "."))
    return int(number) if number.is_integer() else number


def _changed(
    library: Library, name: str, number: int | None, order: str, change: Callable[[str], str]
) -> Shape:
    """The record after that change of its text, safely on the disk."""
    with library.locked():
        for _ in range(_TRIES):
            held = library.read(name)
            shape = record_shape(held, library.folder)
            if shape["order"] != order:
                raise ChangedRecordError(name)
            if number is not None and number not in {one["number"] for one in shape["plays"]}:
                raise InputError([_no_play(number)])
            content = change(held.text()).encode()
            if len(content) > SIZE_LIMIT:
                raise InputError([_too_many(len(shape["plays"]))])
            if _replaced(library.path(held.name), held.content, content):
                return record_shape(StoredPosition(held.name, content), library.folder)
    raise ChangedRecordError(name)


def _replaced(path: Path, before: bytes, content: bytes) -> bool:
    """Whether the file was still as it was read, and is now as wanted."""
    if content == before:
        return True
    if read_own_file(path) != before:
        return False
    put(content, path)
    return True


def _plain(title: str) -> str:
    """A title as part of a file's name."""
    words = re.sub(r"[^\w]+", "-", title.lower().replace("_", "-"))
    return words.strip("-")[:_LONGEST_NAME].rstrip("-") or "record"


def _no_play(number: int) -> Fault:
    return Fault(
        "the record has no play of that number",
        given=f"{number + 1}",
        allowed="one of its [[measured]]",
        remedy="load the record again",
        key="number",
    )


def _no_shot(name: str) -> Fault:
    return Fault(
        "the menu has no such shot",
        given=shown_name(name),
        allowed=", ".join(BY_ID),
        remedy="one of these",
        key="shots",
    )


def _too_many(count: int) -> Fault:
    return Fault(
        "the record holds as many plays as the page takes",
        given=f"{count} plays",
        allowed=f"up to {MOST_PLAYS} plays and 1 MB",
        remedy="start another record for this table",
    )


def check_size(plays: int) -> None:
    """Refuse a record that would keep the page busy for minutes.

    Raises:
        InputError: it holds too many plays.
    """
    if plays > MOST_PLAYS:
        raise InputError([_too_many(plays)])
