"""``stunline fullsize``"""

from __future__ import annotations

from typing import Any

import click

from stunline.cli.reporting import ready_engine, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline fullsize black.toml
  stunline fullsize black.toml -o full.pdf --paper a3
  stunline fullsize black.toml --around all --strip red7,red11

Print at 100 %, never "fit", and measure both 100 mm bars on every page. Ask the club before
you mark its cloth; mark, then lift: never play on paper."""
)
@click.argument("file", type=click.Path())
@click.option("-o", "output", type=click.Path(), help="The PDF; without it NAME-full-size.pdf.")
@click.option(
    "--paper",
    type=click.Choice(["a4", "a3", "letter"], case_sensitive=False),
    default="a4",
    show_default=True,
    help="What it is printed on.",
)
@click.option(
    "--around",
    type=click.Choice(["contact", "white", "all"]),
    help="What is printed; without it the contact, and the white's start where that is few pages.",
)
@click.option(
    "--strip",
    "strips",
    multiple=True,
    metavar="BALL,BALL",
    help="A marking strip for two neighbours; may be given again.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
def fullsize(
    file: str,
    output: str | None,
    paper: str,
    around: Any,
    strips: tuple[str, ...],
    as_json: bool,
) -> None:
    """Print the shot of FILE at full size, 1 : 1, as pages to lay on the cloth.

    With a [ladder] in the file every rung's first stretch is drawn, numbered with its value.
    """
    from stunline.tasks.read_position import read_position

    read = read_position(file)
    from stunline.tasks.print_full_size import own_path, print_full_size, strip_pairs

    path = own_path(file, output)
    strip_pairs(strips)
    ready_engine()
    result = print_full_size(read, paper.lower(), around, strips)
    result.write(path)
    if as_json:
        show_shape(result.shape(path))
        return
    show(result.lines(path))
