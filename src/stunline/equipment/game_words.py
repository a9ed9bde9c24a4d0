"""Reads what a game calls the parts of its table, so that files and sentences use its words."""

from __future__ import annotations

from dataclasses import replace

from stunline.equipment.model import Words
from stunline.files.toml_fields import Section
from stunline.files.words import shown

# The line across the near end, by the key that gives its place.
LINES = {"baulk_line": "baulk line", "head_string": "head string"}
_DEFAULT = Words()


def read_words(root: Section) -> Words:
    """The file's words; snooker's for what it leaves out. Faults are noted."""
    section = root.section("words", ("cushions", "pockets", "behind_line"), "[words]")
    markings = root.get("markings")
    line = next((LINES[key] for key in LINES if isinstance(markings, dict) and key in markings), "")
    if section is None:
        return replace(_DEFAULT, line=line)
    near, right, far, left = _names(section, "cushions", _DEFAULT.cushions)
    pockets = _names(section, "pockets", _DEFAULT.pockets)
    return Words(
        cushions=(near, right, far, left),
        pockets=(pockets[0], pockets[1], pockets[2], pockets[3], pockets[4], pockets[5]),
        line=line,
        behind_line=section.text("behind_line", "the area", "baulk") or _DEFAULT.behind_line,
    )


def _names(section: Section, key: str, default: tuple[str, ...]) -> tuple[str, ...]:
    """As many different names as the default has."""
    value = section.get(key)
    if value is None:
        return default
    good = isinstance(value, list) and all(isinstance(one, str) and one.strip() for one in value)
    if good and isinstance(value, list) and len(value) == len(default) == len(set(value)):
        return tuple(value)
    section.faults.add(
        section.at(key),
        f"{key} must be {len(default)} different names",
        given=shown(value),
        allowed=f"a list of {len(default)} texts, in the order of {shown(list(default))}",
        remedy=shown(list(default)),
    )
    return default
