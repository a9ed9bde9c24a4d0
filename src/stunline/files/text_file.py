"""Reads a small text file, or says in one sentence why it cannot be read."""

from __future__ import annotations

import difflib
import os
from collections.abc import Sequence

from stunline.errors import Fault, InputError

# A position or a table takes a few kilobytes. The limit keeps a wrong file (a film, a disk
# image) from being loaded into memory; nothing else depends on it.
SIZE_LIMIT = 1_000_000  # bytes


def read_text_file(path: str | os.PathLike[str], kind: str, names: Sequence[str] = ()) -> str:
    """The text of a UTF-8 file of at most 1 MB.

    Args:
        path: of the file
        kind: what the file should be, with its article: "a position file"
        names: that may be given instead of a path, for the message that there is no such file

    Raises:
        InputError: missing, a folder, too large (found out before it is read), unreadable,
            or not UTF-8.
    """
    source = os.fspath(path)
    try:
        data = _read_limited(source, kind)
    except FileNotFoundError:
        raise InputError([_missing(source, kind, names)], source) from None
    except IsADirectoryError:
        raise InputError([_folder(kind)], source) from None
    except (OSError, ValueError) as error:
        raise InputError([_unreadable(error, kind)], source) from None
    return _decoded(data, source, kind)


def _read_limited(source: str, kind: str) -> bytes:
    """The bytes, never more than the limit and one: a pipe does not tell its size."""
    size = os.stat(source).st_size
    if size > SIZE_LIMIT and not os.path.isdir(source):
        raise InputError([_too_large(f"{size:,} bytes".replace(",", " "), kind)], source)
    with open(source, "rb") as file:
        data = file.read(SIZE_LIMIT + 1)
    if len(data) > SIZE_LIMIT:
        raise InputError([_too_large("more than that, from a pipe or a device", kind)], source)
    return data


def _decoded(data: bytes, source: str, kind: str) -> str:
    try:
        return data.decode("utf-8-sig")  # some editors begin a file with a byte-order mark
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        fault = Fault(
            what="this is not text in UTF-8",
            given=f"the byte 0x{data[error.start]:02x} in line {line}",
            allowed=f"{kind}, saved as UTF-8",
            remedy="open it in a text editor and save it with the encoding UTF-8",
            line=line,
        )
        raise InputError([fault], source) from None


def _missing(source: str, kind: str, names: Sequence[str]) -> Fault:
    name = os.path.basename(source)
    try:
        beside = sorted(os.listdir(os.path.dirname(source) or "."))
    except OSError:
        beside = []
    near = difflib.get_close_matches(name, beside, n=1)
    by_nearness = sorted(names, key=lambda one: -_alike(name, one))
    shipped = f", or the name of a shipped one: {', '.join(by_nearness)}" if names else ""
    remedy = f'"{near[0]}", which is in the same folder' if near else "check the name and folder"
    if by_nearness and not near and os.path.basename(source) == source:
        remedy = by_nearness[0]
    return Fault(
        what="there is no such file",
        given=source,
        allowed=f"the path of {kind}{shipped}",
        remedy=remedy,
    )


def _alike(one: str, other: str) -> float:
    """From 0, nothing alike, to 1, the same."""
    name = one.removesuffix(".toml")
    held = 1.0 if name in other else 0.0
    return max(held, difflib.SequenceMatcher(None, name, other).ratio())


def _folder(kind: str) -> Fault:
    return Fault(
        what="this is a folder, not a file",
        given="a folder",
        allowed=f"the path of {kind}",
        remedy="name one of the .toml files in it",
    )


def _too_large(given: str, kind: str) -> Fault:
    return Fault(
        what="the file is too large, and was not read",
        given=given,
        allowed=f"{kind} of at most 1 MB ({SIZE_LIMIT:,} bytes)".replace(",", " "),
        remedy="check that this is the file you meant",
    )


def _unreadable(error: OSError | ValueError, kind: str) -> Fault:
    reason = getattr(error, "strerror", None) or str(error)
    return Fault(
        what="the file cannot be read",
        given=str(reason).lower(),
        allowed=f"{kind} that you may read",
        remedy="check its path and its permissions",
    )
