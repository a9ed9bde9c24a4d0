"""``stunline shot``"""

from __future__ import annotations

import click

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
@click.option("-o", "output", type=click.Path(), help="Write the plan: .svg or .png.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
@click.option("--date", default="", metavar="TEXT", help="A date for the plan's title block.")
def shot(file: str, output: str | None, as_json: bool, date: str) -> None:
    """Play the shot of a position FILE: the white's path and what matters on it."""
    from stunline.tasks.read_position import read_position
    from stunline.tasks.write_picture import check_picture, write_picture

    if output is not None:
        check_picture(output)
    read = read_position(file)
    ready_engine()
    from stunline.tasks.play_shot import play_shot

    result = play_shot(read)
    if output is not None:
        write_picture(result.drawing(date), output)
    if as_json:
        show_shape(result.shape())
        return
    from stunline.tasks.tell_shot import shot_lines

    show(shot_lines(result))
    if output is not None:
        show(["", f"Plan written to {output}"])
