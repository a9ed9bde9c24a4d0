"""Names of positions in the library: what a user may type, made safe to be a file's name.

A name is the file's name without its ending. It can't lead out of the folder, hide the file,
or be one that another system reserves, so that a folder can be carried anywhere.
"""

from __future__ import annotations

import re
import unicodedata

from stunline.errors import Fault, InputError

ENDING = ".toml"
MOST_CHARACTERS = 100
MOST_BYTES = 200  # in UTF-8; file systems take 255, and a temporary name needs the rest
_REFUSED_SIGNS = '/\\:*?"<>|'
# Devices of one widespread system, whatever ending they carry.
_RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\..*)?", re.IGNORECASE)
_ALLOWED = f"up to {MOST_CHARACTERS} letters, figures and signs, none of {' '.join(_REFUSED_SIGNS)}"


def clean_name(given: str) -> str:
    """The name as it will stand, in one spelling of its accents.

    Raises:
        InputError: it can't be a file's name, and why.
    """
    name = unicodedata.normalize("NFC", given.removesuffix(ENDING))
    reason = _reason_against(name)
    if reason:
        fault = Fault(
            f"a position can't have that name: {reason}",
            given=shown_name(given),
            allowed=_ALLOWED,
            remedy=f'"{_near(name)}"',
            key="name",
        )
        raise InputError([fault])
    return name


def shown_name(name: str) -> str:
    """The name in quotes, cut short, with codes for what can't be seen."""
    seen = "".join(one if one.isprintable() else f"\\u{ord(one):04x}" for one in name[:60])
    return f'"{seen}{"…" if len(name) > 60 else ""}"'


def _reason_against(name: str) -> str:
    """Why not, or ""."""
    if not name.strip():
        return "there is nothing to read in it"
    if name != name.strip():
        return "it begins or ends with a space"
    if any(not _can_be_seen(one) for one in name):
        return "it holds a character that can't be seen"
    if any(one in _REFUSED_SIGNS for one in name):
        return "it holds a sign that belongs to paths or that some systems refuse"
    if name.startswith(".") or name.endswith("."):
        return "it begins or ends with a dot"
    if _RESERVED.fullmatch(name):
        return "some systems keep it for a device"
    if len(name) > MOST_CHARACTERS or len(name.encode()) > MOST_BYTES:
        return "it is too long"
    return ""


def _can_be_seen(character: str) -> bool:
    """Neither a control, nor a mark of direction, nor half of a character, nor unassigned."""
    return character == " " or (
        character.isprintable() and unicodedata.category(character) not in ("Cf", "Cs", "Cn", "Co")
    )


def _near(name: str) -> str:
    """A name like it that would do."""
    kept = "".join(
        one if _can_be_seen(one) and one not in _REFUSED_SIGNS else " "
        for one in name[: MOST_CHARACTERS // 2]
    )
    tidy = " ".join(kept.split()).strip(". ")
    return tidy if tidy and not _reason_against(tidy) else "position 1"


def numbered(name: str, number: int) -> str:
    """ "name 2": the same name with a number behind it, shortened where it must be."""
    ending = f" {number}"
    while len(name) + len(ending) > MOST_CHARACTERS or len((name + ending).encode()) > MOST_BYTES:
        name = name[:-1]
    return name.rstrip() + ending
