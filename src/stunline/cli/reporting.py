"""Errors and progress, the same for every command."""

from __future__ import annotations

import functools
import json
import sys
from collections.abc import Callable
from typing import Any, ParamSpec, TypeVar

import click

from stunline.errors import StunlineError

Parameters = ParamSpec("Parameters")
Result = TypeVar("Result")

BAD_INPUT = 2


def reports_errors(command: Callable[Parameters, Result]) -> Callable[Parameters, Result]:
    """Turn the package's errors into messages on stderr and exit code 2.

    With ``--json`` the message is the one shape for errors.
    """

    @functools.wraps(command)
    def guarded(*args: Parameters.args, **kwargs: Parameters.kwargs) -> Result:
        try:
            return command(*args, **kwargs)
        except StunlineError as error:
            click.echo(_message(error, bool(kwargs.get("as_json"))), err=True)
            sys.exit(BAD_INPUT)
        except BrokenPipeError:
            # The reader of our output went away, as ``head`` does: nothing is wrong.
            sys.stderr.close()
            sys.exit(0)

    return guarded


def _message(error: StunlineError, as_json: bool) -> str:
    if not as_json:
        return str(error)
    from stunline.tasks.shapes import error_shape

    return as_text(error_shape(error))


def as_text(shape: dict[str, Any]) -> str:
    """One JSON object."""
    return json.dumps(shape, ensure_ascii=False, allow_nan=False)


def ready_engine() -> None:
    """Compile the engine if need be, with a line of progress on stderr."""
    from stunline.tasks.prepare_engine import prepare_engine

    def report(text: str) -> None:
        end = "\r" if sys.stderr.isatty() else "\n"
        click.echo(f"{text}{end}", err=True, nl=False)

    if prepare_engine(report) and sys.stderr.isatty():
        click.echo("", err=True)
