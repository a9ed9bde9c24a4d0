"""``stunline ladder``"""

from __future__ import annotations

import click

from stunline.cli.picture_options import WITHOUT_DOUBT, draw, picture_options
from stunline.cli.reporting import ready_engine, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline ladder black.toml
  stunline ladder black.toml -o ladder.svg
  stunline ladder black.toml --json > ladder.json

The file's section [ladder] says what varies: vary = "pace" and values = [1.0, 1.7, 2.2].
A pot, or a way of arriving, is solved again for each value; a contact or an aim is held.
Where a pot can't be made at a value, the shot is played all the same and the reason given."""
)
@click.argument("file", type=click.Path())
@picture_options("plan", "strip", "face")
@WITHOUT_DOUBT
def ladder(
    file: str,
    output: str | None,
    picture: str,
    theme: str | None,
    date: str,
    as_json: bool,
    no_doubt: bool,
) -> None:
    """Play the shot of FILE with one thing changed, and find where the outcome changes."""
    from stunline.tasks.read_position import read_position
    from stunline.tasks.write_picture import check_picture

    if output is not None:
        check_picture(output)
    read = read_position(file)
    read.ladder()
    ready_engine()
    from stunline.tasks.climb_ladder import climb_ladder

    result = climb_ladder(read, with_doubt=not no_doubt)
    if output is not None:
        draw(result, output, picture, theme, date)
    if as_json:
        show_shape(result.shape())
        return
    from stunline.tasks.tell_ladder import ladder_lines

    show(ladder_lines(result))
    if output is not None:
        show(["", f"{picture.capitalize()} written to {output}"])
