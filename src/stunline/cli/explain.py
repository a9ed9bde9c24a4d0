"""``stunline explain``"""

from __future__ import annotations

import click

from stunline.cli.picture_options import draw, picture_options
from stunline.cli.reporting import ready_engine, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline explain black.toml
  stunline explain black.toml -o black.svg
  stunline explain black.toml --json > black.json

The white's way after the contact is taken apart: what the tip's height, side, the cloth on the
way, squirt, ball friction and the balls' restitution each give of it. The picture shows the ways
without each of them. A white that meets no ball ends with exit code 2."""
)
@click.argument("file", type=click.Path())
@picture_options("plan")
def explain(
    file: str, output: str | None, picture: str, theme: str | None, date: str, as_json: bool
) -> None:
    """Say why the white goes where it goes in FILE: how much of its way each cause gives."""
    from stunline.tasks.read_position import read_position
    from stunline.tasks.write_picture import check_picture

    if output is not None:
        check_picture(output)
    read = read_position(file)
    ready_engine()
    from stunline.tasks.explain_shot import explain_shot

    result = explain_shot(read)
    if output is not None:
        draw(result, output, picture, theme, date)
    if as_json:
        show_shape(result.shape())
        return
    from stunline.tasks.tell_explain import explain_lines

    show(explain_lines(result))
    if output is not None:
        show(["", f"{picture.capitalize()} written to {output}"])
