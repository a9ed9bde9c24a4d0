"""Reads values out of TOML data by table-driven fields, and keeps every fault it meets.

Nothing here raises for a bad value: the fault is noted with its place, the value is
given back as None, and reading goes on, so that a user sees all faults at once.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from stunline.errors import Fault, InputError
from stunline.files.toml_lines import KeyPath, line_at, lines_of
from stunline.files.words import Limits, kind_of, listed, nearest_name, plain, quoted, shown
from stunline.units import length_from_text, metres

_UNKNOWN_KEYS_NAMED = 10  # unknown keys of one section reported singly; the rest are counted


class Faults:
    """The faults of one file, each with the path of the value that it is about.

    Args:
        otherwise: path whose line is given when a fault's own path is not in the file
    """

    def __init__(self, otherwise: KeyPath = ()) -> None:
        self._otherwise = otherwise
        self._found: list[tuple[KeyPath, Fault]] = []

    def __len__(self) -> int:
        return len(self._found)

    def add(self, path: KeyPath, what: str, *, given: str, allowed: str, remedy: str) -> None:
        """Notes a fault; all four facts are asked for, because a reader needs all four."""
        key = ".".join(part for part in path if isinstance(part, str))
        self._found.append(
            (path, Fault(what=what, given=given, allowed=allowed, remedy=remedy, key=key))
        )

    def error(self, text: str, source: str) -> InputError:
        """All faults, with their lines, in the order of the file."""
        lines = lines_of(text)
        placed = [
            Fault(fault.what, fault.given, fault.allowed, fault.remedy, fault.key, line)
            for path, fault in self._found
            for line in [line_at(lines, path, self._otherwise)]
        ]
        return InputError(sorted(placed, key=lambda fault: fault.line or 0), source)

    def by_key(self) -> tuple[Fault, ...]:
        """All faults in the order in which they were met, without lines: for values that are
        no text."""
        return tuple(fault for _, fault in self._found)

    def raise_if_any(self, text: str, source: str) -> None:
        """Raises every fault noted so far, if there is one."""
        if self._found:
            raise self.error(text, source)


@dataclass(frozen=True, slots=True)
class NumberField:
    """A number that a file may hold.

    Attributes:
        name: for messages, with its article: "the pace"
        limits: in the file's unit
        example: what a right value looks like
        or_else: what may stand there instead of a number, for messages, or ""
        within: limits in words that a later check knows better, or ""
        with_unit: a length of that kind as a text with its unit
    """

    name: str
    limits: Limits
    example: str
    or_else: str = ""
    within: str = ""
    with_unit: str = "11 5/8 in"

    def allowed(self) -> str:
        """The limits and what may stand there instead."""
        return (self.within or self.limits.words()) + (
            f"; or {self.or_else}" if self.or_else else ""
        )


def number(value: object, path: KeyPath, field: NumberField, faults: Faults) -> float | None:
    """The number in the file's unit, or None with a fault noted."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        _wrong_kind(value, path, field, faults)
        return None
    read = as_float(value)
    if not math.isfinite(read):
        faults.add(
            path,
            f"{field.name} is not a finite number",
            given=shown(value),
            allowed=field.allowed(),
            remedy=f"a number such as {field.example}",
        )
        return None
    if not field.limits.hold(read):
        faults.add(
            path,
            f"{field.name} is too {'small' if read <= field.limits.low else 'large'}",
            given=_with_unit(shown(value), field),
            allowed=field.allowed(),
            remedy=_with_unit(plain(field.limits.nearest(read)), field),
        )
        return None
    return read


def length(value: object, path: KeyPath, field: NumberField, faults: Faults) -> float | None:
    """A length in metres: the file holds millimetres, or a text with its unit."""
    if isinstance(value, str):
        try:
            value_mm = length_from_text(value)
        except ValueError as error:
            faults.add(
                path,
                f"{field.name} {error}",
                given=shown(value),
                allowed=f'{field.allowed()}; a number of mm, or a text such as "{field.with_unit}"',
                remedy=f'{field.example}, or the text "{field.with_unit}"',
            )
            return None
        read = number(value_mm, path, field, faults)
    else:
        read = number(value, path, field, faults)
    return None if read is None else metres(read)


def name_in(
    value: object, path: KeyPath, what: str, known: Sequence[str], faults: Faults
) -> str | None:
    """One of the known names, or None with a fault that suggests the nearest.

    Args:
        what: for messages, with its article: "the cloth"
    """
    if isinstance(value, str) and value in known:
        return value
    allowed = quoted(known) if len(known) <= 8 else listed(known)
    if not isinstance(value, str):
        faults.add(
            path,
            f"{what} must be a name, not {kind_of(value)}",
            given=shown(value),
            allowed=allowed,
            remedy=f'"{known[0]}"' if known else "leave it out",
        )
        return None
    near = nearest_name(value, known)
    faults.add(
        path,
        f"{what} is not known",
        given=shown(value),
        allowed=allowed,
        remedy=f'"{near}"' if near else "one of these names",
    )
    return None


def flag(value: object, path: KeyPath, what: str, faults: Faults) -> bool | None:
    """true or false, or None with a fault noted."""
    if isinstance(value, bool):
        return value
    faults.add(
        path,
        f"{what} must be true or false, not {kind_of(value)}",
        given=shown(value),
        allowed="true or false, without quotes",
        remedy="true" if value in (1, "true", "yes", "on") else "false",
    )
    return None


class Section:
    """One table of a file: its values by key, each with its path, unknown keys reported."""

    def __init__(
        self, values: Mapping[str, object], path: KeyPath, faults: Faults, known: Sequence[str]
    ) -> None:
        self.path = path
        self.faults = faults
        self.known = tuple(known)
        self._values = values
        self._misspelt: set[str] = set()
        self._report_unknown_keys()

    def __contains__(self, key: str) -> bool:
        return key in self._values

    def __getitem__(self, key: str) -> object:
        return self._values[key]

    def __iter__(self) -> Iterator[str]:
        return (key for key in self._values if key in self.known)

    def get(self, key: str) -> object:
        """The value as it stands, or None."""
        return self._values.get(key)

    def at(self, key: str) -> KeyPath:
        """The path of a key."""
        return (*self.path, key)

    def number(self, key: str, field: NumberField) -> float | None:
        """The number in the file's unit; None when it is absent or faulty."""
        return number(self[key], self.at(key), field, self.faults) if key in self else None

    def length(self, key: str, field: NumberField) -> float | None:
        """The length in metres; None when it is absent or faulty."""
        return length(self[key], self.at(key), field, self.faults) if key in self else None

    def flag(self, key: str, what: str) -> bool | None:
        """true or false; None when it is absent or faulty."""
        return flag(self[key], self.at(key), what, self.faults) if key in self else None

    def name(self, key: str, what: str, known: Sequence[str]) -> str | None:
        """One of the known names; None when it is absent or faulty."""
        return name_in(self[key], self.at(key), what, known, self.faults) if key in self else None

    def text(self, key: str, what: str, example: str) -> str | None:
        """A text; None when it is absent or faulty."""
        if key not in self:
            return None
        value = self[key]
        if isinstance(value, str) and value.strip():
            return value
        self.faults.add(
            self.at(key),
            f"{what} must be a text"
            + ("" if isinstance(value, str) else f", not {kind_of(value)}"),
            given=shown(value),
            allowed="some words in double quotes",
            remedy=f'"{example}"',
        )
        return None

    def section(self, key: str, known: Sequence[str], example: str) -> Section | None:
        """The table under a key; None when it is absent or no table."""
        if key not in self:
            return None
        value = self[key]
        if isinstance(value, dict):
            return Section(value, self.at(key), self.faults, known)
        self.faults.add(
            self.at(key),
            f"{key} must be a table of keys, not {kind_of(value)}",
            given=shown(value),
            allowed=f"the keys {listed(known)}",
            remedy=example,
        )
        return None

    def named(self, key: str, example: str) -> Section | None:
        """The table under a key whose own keys are names that the file chooses."""
        value = self.get(key)
        return self.section(key, tuple(value) if isinstance(value, dict) else ("names",), example)

    def tables(self, key: str, known: Sequence[str], example: str) -> dict[str, Section]:
        """The tables inside the table under a key, by the names that the file chooses."""
        outer = self.named(key, example)
        if outer is None:
            return {}
        inner = {name: outer.section(name, known, example) for name in outer}
        return {name: section for name, section in inner.items() if section is not None}

    def require(self, key: str, what: str, allowed: str, remedy: str) -> None:
        """Notes a fault when the key is missing, unless it is there with its name misspelt."""
        if key not in self and key not in self._misspelt:
            self.faults.add(
                self.at(key), f"{what} is missing", given="nothing", allowed=allowed, remedy=remedy
            )

    def _report_unknown_keys(self) -> None:
        unknown = [key for key in self._values if key not in self.known]
        for key in unknown[:_UNKNOWN_KEYS_NAMED]:
            near = nearest_name(key, self.known)
            self._misspelt.add(near or "")
            self.faults.add(
                self.at(key),
                "there is no such key here",
                given=f"{shown(key)[1:-1]} = {shown(self._values[key])}",
                allowed=listed(self.known),
                remedy=f"the key {near}" if near else "leave it out, or correct its name",
            )
        if len(unknown) > _UNKNOWN_KEYS_NAMED:
            self.faults.add(
                self.at(unknown[_UNKNOWN_KEYS_NAMED]),
                "there are more keys that are not known here",
                given=f"{len(unknown) - _UNKNOWN_KEYS_NAMED} more",
                allowed=listed(self.known),
                remedy="check that this is the file you meant",
            )


def as_float(value: float) -> float:
    """The number as a float; one too large for a float counts as infinite."""
    try:
        return float(value)
    except OverflowError:
        return math.inf if value > 0 else -math.inf


def _wrong_kind(value: object, path: KeyPath, field: NumberField, faults: Faults) -> None:
    remedy = f"a number such as {field.example}"
    if isinstance(value, str):
        remedy = f"{_leading_number(value) or field.example}, without quotes or unit"
    faults.add(
        path,
        f"{field.name} must be a number, not {kind_of(value)}",
        given=shown(value),
        allowed=field.allowed(),
        remedy=remedy,
    )


def _leading_number(text: str) -> str | None:
    """The number that a text such as "1.7 m/s" begins with."""
    word = text.split()[0] if text.split() else ""
    try:
        return plain(float(word)) if math.isfinite(float(word)) else None
    except ValueError:
        return None


def _with_unit(text: str, field: NumberField) -> str:
    return f"{text} {field.limits.unit}" if field.limits.unit else text
