"""``stunline margin``"""

from __future__ import annotations

import sys

import click

from stunline.cli.commands import INTERRUPTED
from stunline.cli.interrupts import Interrupts
from stunline.cli.picture_options import draw, picture_options
from stunline.cli.progress import Progress
from stunline.cli.reporting import ready_engine, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline margin screw-between-two-balls
  stunline margin six-foot-blue-then-pink --player novice
  stunline margin six-foot-blue-then-pink -o face.svg
  stunline margin stay-on-the-black --show cloud -o cloud.png

The strike is held to the file's [goal]; without one, to what it does itself: the pot made and
the same ball met next. Ctrl-C keeps what was played."""
)
@click.argument("file", type=click.Path())
@click.option("--player", metavar="NAME", help="A profile or a player file; the goal's, or club.")
@click.option("--plays", type=int, default=16_384, show_default=True, help="With the errors.")
@click.option("--seed", type=int, default=1, show_default=True, help="Of the errors.")
@picture_options("face", "paces", "cloud")
def margin(
    file: str,
    player: str | None,
    plays: int,
    seed: int,
    output: str | None,
    picture: str,
    theme: str | None,
    date: str,
    as_json: bool,
) -> None:
    """Say how much the strike of FILE forgives, and how often a player brings it off."""
    from stunline.tasks.read_position import read_position
    from stunline.tasks.write_picture import check_picture

    if output is not None:
        check_picture(output)
    read = read_position(file)
    ready_engine()
    from stunline.tasks.margin_of_strike import MARGIN_PICTURES, margin_of_strike

    pictures = MARGIN_PICTURES if as_json else (picture,) if output is not None else ()
    progress = Progress("plays")
    with Interrupts() as stop:
        for result in margin_of_strike(read, player, plays, seed, pictures, stop.asked):
            progress.tell(result.played, result.wanted)
    progress.end()
    drawn = output is not None and result.has(picture)
    if output is not None and drawn:
        draw(result, output, picture, theme, date)
    if as_json:
        show_shape(result.shape())
    else:
        from stunline.tasks.tell_margin import margin_lines

        show(margin_lines(result))
        if drawn:
            show(["", f"Picture written to {output}"])
    if not result.complete:
        told = f"interrupted after {result.played:,} of {result.wanted:,} plays; these are told"
        missing = "" if output is None or drawn else "; there is no picture yet"
        click.echo(told + missing, err=True)
        sys.exit(INTERRUPTED)
