"""The one JSON shape for errors, printed to stderr with ``--json``; a promise: additions only."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from stunline.errors import (
    Fault,
    InputError,
    SeveralInputErrors,
    StunlineError,
    UnsolvableShotError,
)


def error_shape(error: StunlineError) -> dict[str, Any]:
    """What went wrong, as programs read it."""
    if isinstance(error, UnsolvableShotError):
        return _shape("unsolvable", error.reason, fault_rows([error.fault], error.source))
    if isinstance(error, InputError):
        return _shape("input", "invalid-input", fault_rows(error.faults, error.source))
    if isinstance(error, SeveralInputErrors):
        rows = [row for one in error.errors for row in fault_rows(one.faults, one.source)]
        return _shape("input", "invalid-input", rows)
    return _shape("stunline", "failed", fault_rows([Fault(str(error))], ""))


def usage_shape(message: str) -> dict[str, Any]:
    """A command line that the command does not understand."""
    remedy = "stunline --help, or --help behind the command"
    return _shape("input", "invalid-usage", fault_rows([Fault(message, remedy=remedy)], ""))


def fault_rows(faults: Sequence[Fault], source: str = "") -> list[dict[str, Any]]:
    """Each fault as in every error object, with the file that it is of."""
    return [{**asdict(fault), "file": source or None} for fault in faults]


def _shape(kind: str, reason: str, rows: list[dict[str, Any]]) -> dict[str, Any]:
    return {"error": {"kind": kind, "reason": reason, "faults": rows}}
