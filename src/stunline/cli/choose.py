"""``stunline choose``"""

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
  stunline choose stay-on-the-black
  stunline choose stay-on-the-black --player novice
  stunline choose stay-on-the-black --player match -o ways.svg

The file says what is wanted in [goal], and what may vary: pace, height, side. Every strike found
is played with the player's errors. Players: novice, club, match, or a file with the standard
deviations of a pupil's own. Ctrl-C keeps what was found until then."""
)
@click.argument("file", type=click.Path())
@click.option("--player", metavar="NAME", help="A profile or a player file; the goal's, or club.")
@click.option("--strikes", type=int, default=40_000, show_default=True, help="Tried.")
@click.option("--seed", type=int, default=1, show_default=True, help="Of the player's errors.")
@picture_options("plan", "face")
def choose(
    file: str,
    player: str | None,
    strikes: int,
    seed: int,
    output: str | None,
    picture: str,
    theme: str | None,
    date: str,
    as_json: bool,
) -> None:
    """Find the strikes that meet the goal of FILE, and how much each forgives."""
    from stunline.tasks.read_position import read_position
    from stunline.tasks.write_picture import check_picture

    if output is not None:
        check_picture(output)
    read = read_position(file)
    ready_engine()
    from stunline.tasks.choose_strike import choose_strike

    progress = Progress("")
    with Interrupts() as stop:
        result = choose_strike(read, player, strikes, seed, progress.step, stop.asked)
    progress.end()
    if output is not None and result.choice.options:
        draw(result, output, picture, theme, date)
    if as_json:
        show_shape(result.shape())
    else:
        from stunline.tasks.tell_choice import choice_lines

        show(choice_lines(result))
        if output is not None and result.choice.options:
            show(["", f"{picture.capitalize()} written to {output}"])
    if output is not None and not result.choice.options:
        click.echo(f"{output} was not written: no strike meets the goal", err=True)
    if not result.choice.complete:
        click.echo("interrupted; what was found until then is told", err=True)
        sys.exit(INTERRUPTED)
