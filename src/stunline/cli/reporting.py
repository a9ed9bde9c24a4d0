"""What every command prints: lines, one JSON object, progress while the engine compiles."""

from __future__ import annotations

import json
import os
import shutil
import sys
import time
from collections.abc import Callable, Iterable
from typing import Any

import click

from stunline.errors import Fault, InputError

# Seconds between progress lines where they can't overwrite one another (a file, a pipe).
_QUIET_INTERVAL = 10.0


def called() -> str:
    """The command as it can be typed again: by its path where the shell wouldn't find it."""
    typed = sys.argv[0]
    if os.path.basename(typed) != "stunline" or shutil.which("stunline") is not None:
        return "stunline"
    return typed


def show(lines: Iterable[str]) -> None:
    """Print lines of text to stdout.

    Raises:
        BrokenPipeError: the reader went away, as ``head`` does.
        InputError: the place that stdout leads to takes no more.
    """
    text = "\n".join(lines)
    try:
        click.echo(text)
    except BrokenPipeError:
        raise
    except OSError as error:
        discard_output()
        fault = Fault(
            f"the output can't be written: {(error.strerror or str(error)).lower()}",
            given="standard output",
            allowed="a terminal, or a file or pipe that takes it",
            remedy="free some space, or another place for the output",
        )
        raise InputError([fault]) from error


def show_shape(shape: dict[str, Any]) -> None:
    """Print one JSON object to stdout."""
    show([as_text(shape)])


def as_text(shape: dict[str, Any]) -> str:
    """One JSON object on one line."""
    return json.dumps(shape, ensure_ascii=not _writes_utf8(), allow_nan=False)


def _writes_utf8() -> bool:
    encoding = getattr(sys.stdout, "encoding", None) or ""
    return encoding.lower().replace("-", "") == "utf8"


def speak_any_text() -> None:
    """Let no character that the terminal lacks stop a result: it is written as its code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


def discard_output() -> None:
    """Send what is still to be written to nowhere, so that closing down stays quiet."""
    if sys.stdout is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def ready_engine() -> None:
    """Compile the engine if need be, with progress on stderr."""
    from stunline.tasks.prepare_engine import prepare_engine

    terminal = sys.stderr.isatty()
    if prepare_engine(_overwriting if terminal else _now_and_then()) and terminal:
        click.echo("", err=True)


def _overwriting(text: str) -> None:
    """One line that counts up."""
    click.echo(f"{text}\r", err=True, nl=False)


def _now_and_then() -> Callable[[str], None]:
    """A line at the start, then one every ten seconds."""
    due = 0.0

    def report(text: str) -> None:
        nonlocal due
        now = time.monotonic()
        if now >= due:
            due = now + _QUIET_INTERVAL
            click.echo(text, err=True)

    return report
