"""The group of commands: each imported when it is called, all with the same way of failing."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any

import click

from stunline.cli.reporting import as_text, discard_output, speak_any_text
from stunline.errors import StunlineError

BAD_INPUT = 2
INTERRUPTED = 130  # 128 and the number of the signal, as shells have it

# Where each command stands; read only when it is asked for, so that help comes at once.
_COMMANDS = {
    "open": "stunline.web.open:open_page",
    "shot": "stunline.cli.shot:shot",
    "ladder": "stunline.cli.ladder:ladder",
    "pack": "stunline.cli.pack:pack",
    "choose": "stunline.cli.choose:choose",
    "margin": "stunline.cli.margin:margin",
    "explain": "stunline.cli.explain:explain",
    "played": "stunline.cli.played:played",
    "reach": "stunline.cli.reach:reach",
    "gauge": "stunline.cli.gauge:gauge",
    "sheet": "stunline.cli.sheet:sheet",
    "fullsize": "stunline.cli.full_size:fullsize",
    "new": "stunline.cli.files:new",
    "check": "stunline.cli.files:check",
    "equipment": "stunline.cli.equipment:equipment",
}
_SUMMARIES = {
    "open": "Open the page: a table in the browser, under your hand.",
    "shot": "Play the shot of a position file: the white's path and what matters on it.",
    "ladder": "Play the same shot with one thing changed, and find where the outcome changes.",
    "pack": "Open the pack over many racks: what comes free, what is on, where the white ends.",
    "choose": "Find the strikes that meet the file's goal, and how much each forgives.",
    "margin": "Say how much the strike forgives, and how often a player brings it off.",
    "explain": "Say why the white goes where it goes: how much of its way each cause gives.",
    "played": "Say which stroke was really played, from where the white really went.",
    "reach": "Where the white can go from a shot, and where it may stand for it.",
    "gauge": "Gauge a table: its coefficients from shots that one person can measure.",
    "sheet": "Print positions as practice sheets, several as a booklet.",
    "fullsize": "Print the shot at full size, as pages to lay on the cloth.",
    "new": "Write a commented position file to start from.",
    "check": "Check position files: every fault with its line.",
    "equipment": "List the tables, or show one with every number's unit and source.",
}


class Commands(click.Group):
    """The commands, by name."""

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Run, under the same name however it was started."""
        speak_any_text()
        return super().main(*args, **{"prog_name": "stunline", **kwargs})

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; what it raises becomes a message on stderr and an exit code."""
        given = tuple(ctx.args)
        as_json = "--json" in given
        try:
            return super().invoke(ctx)
        except StunlineError as error:
            _fail(_message(error, as_json), BAD_INPUT)
        except click.UsageError as error:
            hint = _joined_place(error.message, given)
            told = click.UsageError(error.message + hint, error.ctx) if hint else error
            if not as_json:
                raise told from None
            _fail(_usage_message(told), BAD_INPUT)
        except KeyboardInterrupt:
            _fail("interrupted; no file was left half written", INTERRUPTED)
        except BrokenPipeError:
            # The reader of our output went away, as ``head`` does: nothing is wrong.
            discard_output()

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the order in which they are used."""
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the command."""
        place = _COMMANDS.get(cmd_name)
        if place is None:
            return None
        module, name = place.split(":")
        command: click.Command = getattr(import_module(module), name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Their summaries, without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(_SUMMARIES.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command of that name, or the nearest name in the message."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError:
            raise click.UsageError(_unknown_command(args), ctx) from None


def _unknown_command(args: Sequence[str]) -> str:
    import difflib

    near = difflib.get_close_matches(args[0], _COMMANDS, n=1)
    given = f"There is no command '{args[0]}'; there are {', '.join(_COMMANDS)}."
    return given + (f" Did you mean '{near[0]}'?" if near else "")


def _joined_place(message: str, given: Sequence[str]) -> str:
    """What helps when a place was written as two words; "" otherwise."""
    import re

    extra = re.search(r"unexpected extra argument \(([-+]?[0-9.]+)\)", message)
    before = given[given.index(extra[1]) - 1] if extra and extra[1] in given[1:] else ""
    if extra is None or not re.fullmatch(r"[-+]?[0-9.]+,?", before):
        return ""
    return f". A place is one word, without a blank: {before.rstrip(',')},{extra[1]}"


def _message(error: StunlineError, as_json: bool) -> str:
    if not as_json:
        return str(error)
    from stunline.tasks.error_shape import error_shape

    return as_text(error_shape(error))


def _usage_message(error: click.UsageError) -> str:
    from stunline.tasks.error_shape import usage_shape

    return as_text(usage_shape(error.format_message()))


def _fail(message: str, code: int) -> None:
    click.echo(message, err=True)
    sys.exit(code)
