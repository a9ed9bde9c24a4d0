"""Changes of a record file's text that leave every other line of it as it stands.

A value takes the place of the line that holds it, or of the line that ``gauge new`` wrote for it
behind a #. Comments are what makes a record readable, and what somebody else wrote in it stays.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from stunline.calibration.record_writing import toml_text
from stunline.errors import InputError
from stunline.files.toml_lines import lines_of, parse_toml

# A place, a touch, a number or a text, as a record file writes it.
Value = float | str | list[float | str] | dict[str, float | str]

_HEADER = re.compile(r"\s*\[")
_PLAY = re.compile(r"\s*\[\[\s*measured\s*\]\]")
_SET_UP = ("shot", "white", "object", "aim", "drop")  # what a play has before anything is read


class UnwrittenError(Exception):
    """The text is laid out in a way that isn't changed line by line."""


def with_values(text: str, number: int, values: Mapping[str, Value | None]) -> str:
    """The text with those keys of its ``[[measured]]`` of that number; None takes a key out.

    Raises:
        UnwrittenError: what came out wouldn't read back as meant.
    """
    lines = text.splitlines()
    for key, value in values.items():
        _put(lines, number, key, value)
    changed = _joined(lines)
    wanted = _entries(text)
    for key, value in values.items():
        if value is None:
            wanted[number].pop(key, None)
        else:
            wanted[number][key] = value
    return _checked(changed, wanted, text)


def with_head(text: str, values: Mapping[tuple[str, ...], Value]) -> str:
    """The text with other values above its plays, by their paths: ("ramp", "gap").

    Raises:
        UnwrittenError: a key isn't there yet, or what came out wouldn't read back as meant.
    """
    lines, places = text.splitlines(), lines_of(text)
    for path, value in values.items():
        if path not in places:
            raise UnwrittenError
        row = places[path] - 1
        lines[row] = f"{path[-1]} = {_written(value)}" + _remark(lines[row])
    changed = _joined(lines)
    wanted = with_values_at(parse_toml(text), values)
    if parse_toml(changed) != wanted:
        raise UnwrittenError
    return changed


def with_values_at(
    document: dict[str, Any], values: Mapping[tuple[str, ...], Value]
) -> dict[str, Any]:
    """A record's values with others at these paths, of one key or two."""
    changed = {**document}
    for (first, *rest), value in values.items():
        changed[first] = {**changed.get(first, {}), rest[0]: value} if rest else value
    return changed


def with_play_again(text: str, number: int) -> str:
    """The text with another play of the same shot, set up the same, behind that one.

    Raises:
        UnwrittenError: what came out wouldn't read back as meant.
    """
    lines = text.splitlines()
    start, end = _block(lines, number)
    places = lines_of(text)
    kept = {places[("measured", number, key)] - 1 for key in _SET_UP
            if ("measured", number, key) in places}  # fmt: skip
    again = ["", "# Played again.", *(lines[row] for row in range(start, end)
                                       if row == start or row in kept)]  # fmt: skip
    lines[end:end] = again
    changed = _joined(lines)
    entries = _entries(text)
    copy = {key: entries[number][key] for key in _SET_UP if key in entries[number]}
    entries.insert(number + 1, copy)
    return _checked(changed, entries, text)


def _checked(changed: str, entries: list[dict[str, object]], before: str) -> str:
    """The changed text, once it reads back as these plays and nothing else has changed."""
    try:
        as_meant = _entries(changed) == entries and _rest(changed) == _rest(before)
    except InputError:  # a value that runs over several lines, say
        as_meant = False
    if not as_meant:
        raise UnwrittenError
    return changed


def _put(lines: list[str], number: int, key: str, value: Value | None) -> None:
    """Write one key of a play, where it stands or where its line is kept for it."""
    start, end = _block(lines, number)
    found = lines_of("\n".join(lines)).get(("measured", number, key))
    written = "" if value is None else f"{key} = {_written(value)}"
    if found is not None:
        row = found - 1
        if value is None:
            lines[row] = f"# {lines[row].lstrip()}"
        else:
            lines[row] = written + _remark(lines[row])
        return
    if value is None:
        return
    kept = re.compile(rf"\s*#\s*{re.escape(key)}\s*=")
    for row in range(start + 1, end):
        if kept.match(lines[row]):
            lines[row] = written + _remark(re.sub(r"^\s*#\s*", "", lines[row]))
            return
    lines.insert(end, written)


def _block(lines: list[str], number: int) -> tuple[int, int]:
    """The rows of a play: from its header to behind its last line.

    Its last line is the one before the first blank line behind its last key, or before the next
    header: what ``gauge new`` writes above a block belongs to that block.
    """
    headers = [row for row, line in enumerate(lines) if _PLAY.match(line)]
    if number >= len(headers):
        raise UnwrittenError
    start = headers[number]
    behind = next(
        (row for row in range(start + 1, len(lines)) if _HEADER.match(lines[row])), len(lines)
    )
    last = start
    for row in range(start + 1, behind):
        if lines[row].strip() and not lines[row].lstrip().startswith("#"):
            last = row
    while last + 1 < behind and lines[last + 1].strip():
        last += 1
    return start, last + 1


def _remark(line: str) -> str:
    """What stands behind a value, with the blanks before its #; "" where there is none."""
    in_text = ""
    for place, sign in enumerate(line):
        if in_text:
            in_text = "" if sign == in_text else in_text
        elif sign in "\"'":
            in_text = sign
        elif sign == "#":
            before = line[:place]
            return " " * max(len(before) - len(before.rstrip()), 2) + line[place:]
    return ""


def _written(value: Value) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_written(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_written(one) for one in value) + "]"
    if isinstance(value, str):
        return toml_text(value)
    return repr(value)


def _entries(text: str) -> list[dict[str, object]]:
    found = parse_toml(text).get("measured")
    if not isinstance(found, list) or not all(isinstance(one, dict) for one in found):
        raise UnwrittenError
    return [dict(one) for one in found]


def _rest(text: str) -> dict[str, object]:
    return {key: value for key, value in parse_toml(text).items() if key != "measured"}


def _joined(lines: list[str]) -> str:
    return "\n".join(lines) + "\n"
