"""``stunline shot``"""

from __future__ import annotations

import click

from stunline.cli.picture_options import WITHOUT_DOUBT, draw, picture_options
from stunline.cli.reporting import ready_engine, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline shot black.toml
  stunline shot black.toml -o black.svg
  stunline shot black.toml -o black.png --json > black.json

With a pot, the aim is the middle of the widest window in which the ball goes in; a pot
that can't be made ends with exit code 2 and the reason: cut too thin, the way blocked,
the pocket closed at that angle, too slow."""
)
@click.argument("file", type=click.Path())
@picture_options("plan", "contact", "face")
@WITHOUT_DOUBT
def shot(
    file: str,
    output: str | None,
    picture: str,
    theme: str | None,
    date: str,
    as_json: bool,
    no_doubt: bool,
) -> None:
    """Play the shot of a position FILE: the white's path and what matters on it."""
    from stunline.tasks.read_position import read_position
    from stunline.tasks.write_picture import check_picture

    if output is not None:
        check_picture(output)
    read = read_position(file)
    ready_engine()
    from stunline.tasks.play_shot import play_shot

    result = play_shot(read, with_doubt=not no_doubt)
    if output is not None:
        draw(result, output, picture, theme, date)
    if as_json:
        show_shape(result.shape())
        return
    from stunline.tasks.tell_shot import shot_lines

    show(shot_lines(result))
    if output is not None:
        show(["", f"{picture.capitalize()} written to {output}"])
