"""The options of commands that draw."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

_OPTIONS = (
    click.option("-o", "output", type=click.Path(), help="Write the picture: .svg, .png or .pdf."),
    click.option(
        "--theme",
        type=click.Choice(["light", "dark", "paper"]),
        help="What it stands on; without it paper for a PDF, light for the others.",
    ),
    click.option("--date", default="", metavar="TEXT", help="A date for the plan's title block."),
    click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text."),
)


def picture_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options ``-o``, ``--theme``, ``--date`` and ``--json``, in that order."""
    for option in reversed(_OPTIONS):
        command = option(command)
    return command
