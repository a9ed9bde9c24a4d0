"""The page's document: a position file as plain data; to and from TOML, comments kept."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.container import Container
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AbstractTable, Item

from stunline.errors import InputError
from stunline.files.toml_lines import parse_toml

Document = dict[str, Any]
Holder = Container | AbstractTable


def document_of(text: str) -> Document:
    """The values of a position file's text, as JSON can carry them.

    Raises:
        InputError: not TOML; the fault carries the line.
    """
    return {key: _plain(value) for key, value in parse_toml(text).items()}


def _plain(value: object) -> Any:
    """What JSON lacks (dates, not a number) becomes text, which the checks then refuse."""
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_plain(one) for one in value]
    if isinstance(value, bool | str | int):
        return value
    if isinstance(value, float) and math.isfinite(value):
        return value
    return str(value)


def toml_of(document: Mapping[str, Any], existing: str = "") -> str:
    """The document as a position file's text.

    Args:
        existing: what stands in the file: its comments, its order and the writing of every
            value that is unchanged are kept
    """
    if existing:
        kept = _over(document, existing)
        if kept is not None:
            return kept
    return _afresh(document)


def _over(document: Mapping[str, Any], existing: str) -> str | None:
    """The existing text with the document's values; None where that doesn't come out right."""
    try:
        written = tomlkit.parse(existing)
        _lay_over(written, document)
        text = tomlkit.dumps(written)
        return text if _same(document_of(text), dict(document)) else None
    except (TOMLKitError, InputError, ValueError, TypeError, KeyError):
        return None  # text that one parser takes and the other doesn't


def _lay_over(holder: Holder, values: Mapping[str, Any]) -> None:
    for key in [key for key in holder if key not in values]:
        del holder[key]
    for key, value in values.items():
        old = holder.get(key)
        if isinstance(old, AbstractTable) and isinstance(value, Mapping):
            _lay_over(old, value)
        elif old is None or not _same(_unwrapped(old), value):
            holder[key] = _item(value, isinstance(holder, Container))


def _unwrapped(item: object) -> object:
    return item.unwrap() if isinstance(item, Item) else item


def _item(value: Any, at_top: bool) -> Any:
    """A value to be written: a section at the top, everything else on one line."""
    if isinstance(value, Mapping):
        table = tomlkit.table() if at_top else tomlkit.inline_table()
        for key, one in value.items():
            table.append(key, _item(one, at_top=False))
        return table
    if isinstance(value, list | tuple):
        array = tomlkit.array()
        for one in value:
            array.append(_item(one, at_top=False))
        return array
    return value


def _afresh(document: Mapping[str, Any]) -> str:
    """The same without a file to keep: plain values first, then a section each."""
    written = tomlkit.document()
    sections = {key for key, value in document.items() if isinstance(value, Mapping)}
    for key in sorted(document, key=lambda key: key in sections):
        if key in sections and len(written):
            written.add(tomlkit.nl())
        written.append(key, _item(document[key], at_top=True))
    return tomlkit.dumps(written)


def _same(one: object, other: object) -> bool:
    """Equal as values of a file: 1 and 1.0 are, true and 1 are not."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    return isinstance(one, bool) == isinstance(other, bool) and one == other
