"""The options of commands that draw."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
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

PAPER = click.option(
    "--paper",
    type=click.Choice(["a4", "letter"], case_sensitive=False),
    default="a4",
    show_default=True,
    help="What it is printed on.",
)

WITHOUT_DOUBT = click.option(
    "--no-doubt",
    is_flag=True,
    help="Leave out how far the answer may be off because the table's coefficients are in doubt.",
)


def picture_options(*pictures: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """The options ``-o``, ``--show``, ``--theme``, ``--date`` and ``--json``, in that order.

    Args:
        pictures: what ``--show`` may name; the first is drawn without it
    """
    show = click.option(
        "--show",
        "picture",
        type=click.Choice(pictures),
        default=pictures[0],
        help="Which picture -o writes.",
    )

    def add(command: Callable[..., Any]) -> Callable[..., Any]:
        for option in reversed((_OPTIONS[0], show, *_OPTIONS[1:])):
            command = option(command)
        return command

    return add


def draw(result: Any, output: str, show: str, theme: str | None, date: str) -> None:
    """Write one picture of a result that was played."""
    from stunline.tasks.write_picture import is_paper, write_picture

    on_paper = is_paper(Path(output).suffix.lower(), theme)
    write_picture(result.drawing(show, date, on_paper), output, theme)
