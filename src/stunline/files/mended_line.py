"""A line of a file that can't be read, as its writer probably meant it."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass

_LONGEST = 200  # characters of a line that is looked at
_NUMBER = r"[-+]?[0-9]+(?:\.[0-9]+)?"
_INCH = rf"{_NUMBER}(?:[ -][0-9]+/[0-9]+)?|[0-9]+/[0-9]+"
_WORDS = r"[A-Za-z][A-Za-z0-9-]*(?:[ ]+[A-Za-z0-9-]+)*"
# A text in quotes is matched first, and left as it is.
_QUOTED = r"\"[^\"]*\"|'[^']*'"


@dataclass(frozen=True, slots=True)
class Mended:
    """What was wrong with a line, and the line put right."""

    what: str
    row: str


def mend(row: str) -> Mended | None:
    """The line put right, when what is wrong with it is one of the usual slips."""
    if len(row) > _LONGEST or "=" not in row:
        return None
    parted = re.fullmatch(rf"((?:{_QUOTED}|[^#\"'])*)(#.*)", row)
    row, comment = parted.groups() if parted else (row, "")
    wrong: list[str] = []
    for what, put_right in (
        ("a name with a blank in it", _key),
        ("a place without its brackets", _pair),
        ("a comma inside a number, which is written with a point", _commas),
        ("a unit outside quotes", _units),
        ("a text without quotes", _texts),
    ):
        better = put_right(row)
        if better != row:
            wrong.append(what)
            row = better
    if not wrong or not _readable(row):
        return None
    return Mended(f"there is {' and '.join(wrong)}", row + comment)


def _readable(row: str) -> bool:
    try:
        tomllib.loads(row)
    except (ValueError, RecursionError):
        return False
    return True


def _key(row: str) -> str:
    """ "cue ball = …" → "cue-ball = …", "red 1 = …" → "red1 = …"."""
    key, equals, value = row.partition("=")
    if not re.fullmatch(rf"\s*{_WORDS}\s*", key) or " " not in key.strip():
        return row
    joined = re.sub(r" +(?=[0-9])", "", key.strip())
    return f"{re.sub(' +', '-', joined)} {equals}{value}"


def _pair(row: str) -> str:
    """ "red1 = 1550, 3250" → "red1 = [1550, 3250]"; "1,5" is one number."""
    one = rf"{_NUMBER}(?:\s*mm)?"
    apart = rf"^([^=\"'\[{{]*=\s*)({one},\s+{one}|[0-9]{{2,}},[0-9]{{3,}})(\s*)$"
    return re.sub(apart, r"\1[\2]\3", row)


def _commas(row: str) -> str:
    """ "pace = 1,5" → "pace = 1.5"; inside brackets a comma parts two values."""
    return re.sub(r"^([^=\"'\[{]*=\s*[-+]?[0-9]+),([0-9]+)(?=\s|$)", r"\1.\2", row)


def _units(row: str) -> str:
    """Millimetres, degrees and m/s go without their unit; inches and lengths in quotes."""
    key, equals, value = row.partition("=")
    value = re.sub(
        rf"{_QUOTED}|({_NUMBER})\s*(?:mm|m/s|°|degrees|deg)(?![\w/])",
        lambda found: found[1] or found[0],
        value,
    )
    value = re.sub(
        rf"{_QUOTED}|(({_INCH})\s*(?:inches|inch|in|lengths?)(?!\w))",
        lambda found: f'"{found[1]}"' if found[1] else found[0],
        value,
    )
    return key + equals + value


def _texts(row: str) -> str:
    """ "pace = pocket weight" → "pace = \"pocket weight\""; true and false stay."""
    key, equals, value = row.partition("=")
    value = re.sub(
        rf"{_QUOTED}|(?<![\w.])({_WORDS})(?!\s*=|[\w-])",
        lambda found: (
            f'"{found[1]}"'
            if found[1] and found[1] not in ("true", "false", "nan", "inf")
            else found[0]
        ),
        value,
    )
    return key + equals + value
