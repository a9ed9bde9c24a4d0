"""What happened, as a command line tells it, in the values of a position file's [played]."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any


def seen_of(
    rest: str | None = None,
    passed: str | None = None,
    object_rest: str | None = None,
    met: Sequence[str] = (),
    missed: Sequence[str] = (),
    cushion: str | None = None,
    potted: Sequence[str] = (),
    not_potted: Sequence[str] = (),
    in_off: bool = False,
    time: float | None = None,
) -> dict[str, Any]:
    """Keys and values of those that are given; the checks are the section's own.

    Args:
        rest, passed, object_rest: "889,1784", "35 in,70 1/4 in", or a spot's name
        cushion: "right", or with the place along it "right:2100"
    """
    values: dict[str, Any] = {}
    for key, text in (("white_rest", rest), ("white_passed", passed), ("object_rest", object_rest)):
        if text is not None:
            values[key] = _place(text)
    for key, names in (
        ("white_met", met),
        ("white_missed", missed),
        ("potted", potted),
        ("not_potted", not_potted),
    ):
        if names:
            values[key] = list(names)
    if cushion is not None:
        name, colon, at = cushion.partition(":")
        values["white_cushion"] = {"cushion": name, "at": _length(at)} if colon else name
    if in_off:
        values["in_off"] = True
    if time is not None:
        values["time"] = time
    return values


def _place(text: str) -> Any:
    parts = text.split(",")
    return [_length(part) for part in parts] if len(parts) > 1 else text.strip()


def _length(text: str) -> float | str:
    """A number of mm, or the text with its unit, which the checks read."""
    try:
        return float(text)
    except ValueError:
        return text.strip()
