"""The ``stunline`` command."""

from __future__ import annotations

import sys

import click

from stunline import __version__
from stunline.cli.commands import Commands


@click.group(
    cls=Commands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 96},
    epilog="""\b
Examples:
  stunline                               the page, in the browser
  stunline new black.toml                a file to start from
  stunline check black.toml              is it in order?
  stunline shot black.toml               what the white does
  stunline shot black.toml -o black.svg  the same as a picture
  stunline ladder black.toml --json      for other programs

Lengths are in mm from the left cushion and from the baulk cushion, angles in degrees,
paces in m/s. Exit code 0, or 2 for input that can't be used. Each command has its own
--help.""",
)
@click.version_option(__version__, prog_name="stunline")
@click.pass_context
def main(ctx: click.Context) -> None:
    """Where the white goes after contact: computed on your table, told and drawn.

    A position file says where the balls stand and how the white is struck; stunline
    solves the aim, plays the shot, and says what happens. Without a command it opens the
    page, as stunline open does.
    """
    if ctx.invoked_subcommand is None:
        page = main.get_command(ctx, "open")
        assert page is not None
        ctx.invoke(page)


if __name__ == "__main__":
    sys.exit(main())
