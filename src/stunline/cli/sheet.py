"""``stunline sheet``"""

from __future__ import annotations

import click

from stunline.cli.picture_options import PAPER, WITHOUT_DOUBT
from stunline.cli.reporting import ready_engine, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline sheet black.toml
  stunline sheet black.toml -o black.pdf --paper letter
  stunline sheet *.toml -o booklet.pdf
  stunline sheet black.toml --large-print

One FILE makes one page; several make a booklet with a contents page. Where one of several
can't be printed nothing is written, and every fault is told. Large print takes two pages
for a position, sometimes three."""
)
@click.argument("files", type=click.Path(), nargs=-1, required=True)
@click.option("-o", "output", type=click.Path(), help="The PDF; without it NAME-sheet.pdf.")
@PAPER
@click.option("--large-print", is_flag=True, help="Letters of 14 points and more, larger boxes.")
@click.option("--date", metavar="TEXT", help="The date on the sheets; without it today's.")
@WITHOUT_DOUBT
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
def sheet(
    files: tuple[str, ...],
    output: str | None,
    paper: str,
    large_print: bool,
    date: str | None,
    no_doubt: bool,
    as_json: bool,
) -> None:
    """Print each of FILES as a practice sheet: plan, tape list, strike, boxes for results."""
    from stunline.tasks.print_sheet import Choices, own_path, print_sheets, read_sheets, today

    path = own_path(files, output)
    choices = Choices(paper.lower(), large_print, today(date), with_doubt=not no_doubt)
    sheets = read_sheets(files)
    if sheets.read:
        ready_engine()
    result = print_sheets(sheets, choices)
    result.write(path)
    if as_json:
        show_shape(result.shape(path))
        return
    show(result.lines(path))
