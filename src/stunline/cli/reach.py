"""``stunline reach``"""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

import click

from stunline.cli.commands import INTERRUPTED
from stunline.cli.interrupts import Interrupts
from stunline.cli.picture_options import draw, picture_options
from stunline.cli.progress import Progress
from stunline.cli.reporting import ready_engine, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline reach black.toml
  stunline reach black.toml -o reach.svg
  stunline reach black.toml --at 890,1784 -o there.png
  stunline reach black.toml --from
  stunline reach black.toml --from --player novice -o leave.pdf

The strikes tried are those of vary in [goal]; without it 0.5 to 4 m/s and all heights
within the advised limit, without side. --from turns the question round: from where does a
plain follow meet the [goal] with the margins given? Without margins one standard deviation
of the player. Ctrl-C keeps what was found."""
)
@click.argument("file", type=click.Path())
@click.option("--at", metavar="X,Y", help="A place in mm: its strike, or why there is none.")
@click.option("--from", "from_where", is_flag=True, help="Where the white may stand instead.")
@click.option("--player", default="", metavar="NAME", help="A shipped player, or a file.")
@click.option("--aim-off", type=float, metavar="DEG", help="With --from: the margin of aim.")
@click.option("--pace-off", type=float, metavar="%", help="With --from: the margin of pace.")
@click.option("--cell", type=float, metavar="MM", help="Side of a square looked at; 25, or 50.")
@picture_options("plan")
def reach(
    file: str,
    at: str | None,
    from_where: bool,
    player: str,
    aim_off: float | None,
    pace_off: float | None,
    cell: float | None,
    output: str | None,
    picture: str,
    theme: str | None,
    date: str,
    as_json: bool,
) -> None:
    """Where the white can go from the shot of FILE, and the strike for each place."""
    from stunline.tasks.read_position import read_position
    from stunline.tasks.write_picture import check_picture

    _check_options(at, from_where, player, aim_off, pace_off)
    if output is not None:
        check_picture(output)
    read = read_position(file)
    ready_engine()
    from stunline.tasks.reach_places import place_from_words, places_to_play_from, reach_places

    place = None if at is None else place_from_words(at)
    search: Callable[..., Any]
    if from_where:
        search = lambda **how: places_to_play_from(read, player, aim_off, pace_off, cell, **how)  # noqa: E731  (one call with what the two have in common)
    else:
        search = lambda **how: reach_places(read, place, cell, **how)  # noqa: E731  (as above)
    result, interrupted = _as_far_as_it_goes(search)
    if output is not None:
        draw(result, output, picture, theme, date)
    if as_json:
        show_shape(result.shape())
    else:
        from stunline.tasks.tell_reach import from_lines, reach_lines

        show(from_lines(result) if from_where else reach_lines(result))
        if output is not None:
            show(["", f"Plan written to {output}"])
    if interrupted:
        click.echo("interrupted; what was found until then is told", err=True)
        sys.exit(INTERRUPTED)


def _check_options(
    at: str | None,
    from_where: bool,
    player: str,
    aim_off: float | None,
    pace_off: float | None,
) -> None:
    if from_where and at is not None:
        raise click.UsageError("--at and --from ask different questions; give one of them.")
    if not from_where and (player or aim_off is not None or pace_off is not None):
        raise click.UsageError("--player, --aim-off and --pace-off go with --from.")


def _as_far_as_it_goes(search: Callable[..., Any]) -> tuple[Any, bool]:
    """The result, and whether it was interrupted."""
    progress = Progress("strikes")
    with Interrupts() as interrupts:
        try:
            result = search(
                report=lambda _, done, wanted: progress.tell(done, wanted),
                cancelled=interrupts.asked,
            )
        finally:
            progress.end()
    return result, interrupts.asked()
