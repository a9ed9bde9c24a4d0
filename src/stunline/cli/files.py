"""``stunline new`` and ``stunline check``"""

from __future__ import annotations

import click

from stunline.cli.reporting import called, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline new black.toml
  stunline new black.toml --title "Black, white to the pack"
  stunline new nine.toml --table pool-9ft
  stunline new > black.toml

The tables are listed by: stunline equipment"""
)
@click.argument("file", type=click.Path(), required=False)
@click.option("--title", default="", help="The position's title.")
@click.option("--table", default=None, metavar="NAME", help="A table; its game's words are used.")
def new(file: str | None, title: str, table: str | None) -> None:
    """Write a commented position FILE to start from, or print it when no file is given.

    An existing file is never overwritten.
    """
    from stunline.tasks.check_file import new_file, new_text

    named = () if table is None else (table,)
    if file is None:
        show([new_text(title, *named).rstrip("\n")])
        return
    new_file(file, title, *named)
    show([f"{file} written. Next: {called()} shot {file}"])


@click.command(
    epilog="""\b
Examples:
  stunline check black.toml
  stunline check *.toml"""
)
@click.argument("files", type=click.Path(), nargs=-1, required=True)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
def check(files: tuple[str, ...], as_json: bool) -> None:
    """Check position FILES: every fault with its line, what is allowed and what to try."""
    from stunline.tasks.check_file import check_files

    checked = check_files(files)
    if as_json:
        show_shape(checked.shape())
    elif checked.in_order:
        show(checked.in_order)
    checked.raise_if_any()
