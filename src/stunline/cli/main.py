"""The ``stunline`` command."""

from __future__ import annotations

import sys
from importlib import import_module

import click

from stunline import __version__

# Where each command stands; read only when it is asked for, so that help comes at once.
_COMMANDS = {
    "shot": "stunline.cli.shot:shot",
    "ladder": "stunline.cli.ladder:ladder",
    "new": "stunline.cli.files:new",
    "check": "stunline.cli.files:check",
    "equipment": "stunline.cli.equipment:equipment",
}
_SUMMARIES = {
    "shot": "Play the shot of a position file: the white's path and what matters on it.",
    "ladder": "Play the same shot with one thing changed, and find where the outcome changes.",
    "new": "Write a commented position file to start from.",
    "check": "Check a position file; every fault with its line.",
    "equipment": "List the tables, or show one with every number's unit and source.",
}


class _Commands(click.Group):
    """Commands that are imported when they are called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        place = _COMMANDS.get(cmd_name)
        if place is None:
            return None
        module, name = place.split(":")
        command: click.Command = getattr(import_module(module), name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(_SUMMARIES.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            import difflib

            near = difflib.get_close_matches(args[0], _COMMANDS, n=1)
            if near:
                error.message += f" Did you mean '{near[0]}'?"
            raise


@click.group(
    cls=_Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 96},
    epilog="""\b
Examples:
  stunline new black.toml                a file to start from
  stunline check black.toml              is it in order?
  stunline shot black.toml               what the white does
  stunline shot black.toml -o black.svg  the same as a picture
  stunline ladder black.toml --json      for other programs

Lengths are in mm from the left cushion and from the baulk cushion, angles in degrees,
paces in m/s. Exit code 0, or 2 for input that can't be used.""",
)
@click.version_option(__version__, prog_name="stunline")
def main() -> None:
    """Where the white goes after contact: computed on your table, told and drawn.

    A position file says where the balls stand and how the white is struck; stunline
    solves the aim, plays the shot, and says what happens.
    """


if __name__ == "__main__":
    sys.exit(main())
