"""How values, limits and lists of names read in a message."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

_LONGEST_GIVEN = 60  # characters of a value shown in a message; the rest tells nobody anything
_LONGEST_NAME = 40  # characters of a name compared with the known ones


# What people at other tables call the same thing: the words to look for instead, in order.
_ALSO_CALLED = {
    "centre": ("middle", "side"),
    "center": ("centre", "middle", "side"),
    "middle": ("side", "centre"),
    "side": ("middle",),
    "bottom": ("baulk", "foot"),
    "cueball": ("white", "cue ball"),
    "cue ball": ("white",),
    "whiteball": ("white", "cue ball"),
    "white ball": ("white", "cue ball"),
    "white": ("cue ball",),
}
_SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Limits:
    """The values that a number may have, both ends included unless said otherwise.

    Attributes:
        low, high: in ``unit``
        unit: as written in a message, "" for a plain number
        above_low: whether ``low`` itself is excluded
    """

    low: float = -math.inf
    high: float = math.inf
    unit: str = ""
    above_low: bool = False

    def hold(self, number: float) -> bool:
        """Whether the number lies within."""
        enough = number > self.low if self.above_low else number >= self.low
        return enough and number <= self.high

    def words(self) -> str:
        """ "0.02 to 15 m/s", "more than 0, up to 1"."""
        unit = f" {self.unit}" if self.unit else ""
        low, high = plain(self.low), plain(self.high)
        if math.isinf(self.low) and math.isinf(self.high):
            return f"any number of {self.unit}" if self.unit else "any number"
        if math.isinf(self.high):
            return f"more than {low}{unit}" if self.above_low else f"{low}{unit} or more"
        if self.above_low:
            return f"more than {low}, up to {high}{unit}"
        return f"{low} to {high}{unit}"

    def nearest(self, number: float) -> float:
        """The allowed end nearest to a number outside, a tenth of the range in when excluded."""
        if number > self.high:
            return self.high
        if not self.above_low:
            return self.low
        return self.low + (self.high - self.low) / 10 if math.isfinite(self.high) else self.low + 1


def plain(number: float) -> str:
    """A number as people write it: "15", "0.02", "13.125"."""
    text = f"{number:.10g}"
    return "0" if text == "-0" else text


def shown(value: object, depth: int = 2) -> str:
    """A value of a file as its writer would recognise it, shortened when long."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _cut('"' + value[: _LONGEST_GIVEN * 2].replace("\n", "\\n") + '"')
    if isinstance(value, int):
        few = abs(value) < 10**_LONGEST_GIVEN
        return str(value) if few else "a number of more than sixty digits"
    if isinstance(value, (list, dict)) and depth == 0:
        return "[…]" if isinstance(value, list) else "{…}"
    if isinstance(value, list):
        inside = ", ".join(shown(item, depth - 1) for item in value[:20])
        return _cut(f"[{inside}]")
    if isinstance(value, dict):
        pairs = list(value.items())[:10]
        inside = ", ".join(f"{_cut(key)} = {shown(item, depth - 1)}" for key, item in pairs)
        return _cut(f"{{ {inside} }}")
    return _cut(str(value))


def kind_of(value: object) -> str:
    """What a value is, with its article: "a text", "a list"."""
    kinds: list[tuple[type, str]] = [
        (bool, "true or false"),
        (int, "a number"),
        (float, "a number"),
        (str, "a text"),
        (list, "a list"),
        (dict, "a table of keys"),
    ]
    return next((words for kind, words in kinds if isinstance(value, kind)), "a date or a time")


def listed(names: Iterable[str], joined: str = ", ") -> str:
    """Names in a row, numbered runs drawn together: "black, red1 to red15"."""
    runs: list[list[str]] = []
    for name in names:
        if runs and _follows(runs[-1][-1], name):
            runs[-1].append(name)
        else:
            runs.append([name])
    return joined.join(
        f"{run[0]} to {run[-1]}" if len(run) > 2 else joined.join(run) for run in runs
    )


def quoted(names: Iterable[str]) -> str:
    """Names in quotes: "match", "worn" or "club"."""
    words = [f'"{name}"' for name in names]
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} or {words[-1]}"


def nearest_name(name: str, known: Sequence[str]) -> str | None:
    """The known name that was probably meant, or None.

    Words that mean the same come before letters that look the same, the first of a numbered
    row before the row's own name, and a left or right in the name is kept.
    """
    tidy = _tidy(name)
    by_tidy = {_tidy(one): one for one in known}
    turned = " ".join(reversed(tidy.split()))
    for candidate in (tidy, *_said_otherwise(tidy), f"{tidy}1", tidy.replace(" ", ""), turned):
        if candidate in by_tidy:
            return by_tidy[candidate]
    sides = [side for side in _SIDES if side in tidy.split()]
    kept = [one for one in by_tidy if all(side in one.split() for side in sides)]
    near = difflib.get_close_matches(tidy, kept or list(by_tidy), n=1)
    return by_tidy[near[0]] if near else None


def _tidy(name: str) -> str:
    words = name[:_LONGEST_NAME].lower().replace("-", " ").replace("_", " ").split()
    return " ".join(words)


def _said_otherwise(tidy: str) -> list[str]:
    """The name with each of its words, or the whole, called as other people call it."""
    words = tidy.split()
    whole = list(_ALSO_CALLED.get(tidy, ()))
    return whole + [
        " ".join([*words[:index], other, *words[index + 1 :]])
        for index, word in enumerate(words)
        for other in _ALSO_CALLED.get(word, ())
    ]


def _follows(first: str, second: str) -> bool:
    """Whether ``second`` is ``first`` with its number one higher."""
    one, two = (re.fullmatch(r"(\D*)(\d{1,6})", name) for name in (first, second))
    return bool(one and two and one[1] == two[1] and int(one[2]) + 1 == int(two[2]))


def _cut(text: str) -> str:
    return text if len(text) <= _LONGEST_GIVEN else text[: _LONGEST_GIVEN - 1] + "…"
