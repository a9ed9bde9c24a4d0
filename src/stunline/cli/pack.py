"""``stunline pack``"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import Any

import click

from stunline.cli.commands import INTERRUPTED
from stunline.cli.picture_options import draw, picture_options
from stunline.cli.progress import Progress
from stunline.cli.reporting import ready_engine, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline pack break.toml
  stunline pack break.toml --pace 2.0 --pace 3.0 --pace 4.0
  stunline pack break.toml --gaps 0.5 --racks 5000 -o white.svg

The file racks the pack: reds = "triangle". No rack is perfect, so it is racked anew for every
play with random gaps. Without --pace the ladder's paces are played, or the file's own. The
picture shows where the white ends, at the first of the paces. Ctrl-C keeps what was played."""
)
@click.argument("file", type=click.Path())
@click.option("--pace", "paces", multiple=True, metavar="PACE", help='m/s, or "2.5 lengths".')
@click.option("--gaps", type=float, metavar="MM", help="The largest gap; the file's, or 0.2.")
@click.option("--racks", type=int, default=2000, show_default=True, help="With each pace.")
@click.option("--seed", type=int, help="Of the random gaps; the file's, or 1.")
@picture_options("plan")
def pack(
    file: str,
    paces: tuple[str, ...],
    gaps: float | None,
    racks: int,
    seed: int | None,
    output: str | None,
    picture: str,
    theme: str | None,
    date: str,
    as_json: bool,
) -> None:
    """Open the pack of FILE over many racks: what comes free, what is on, where the white ends."""
    from stunline.tasks.read_position import read_position
    from stunline.tasks.write_picture import check_picture

    if output is not None:
        check_picture(output)
    read = read_position(file)
    ready_engine()
    from stunline.tasks.open_pack import open_pack, pace_from_words

    asked = [pace_from_words(words) for words in paces]
    result, interrupted = _as_far_as_it_goes(open_pack(read, asked, gaps, racks, seed))
    if output is not None and result.played:
        draw(result, output, picture, theme, date)
    if as_json:
        show_shape(result.shape())
    else:
        from stunline.tasks.tell_pack import pack_lines

        show(pack_lines(result))
        if output is not None and result.played:
            show(["", f"Plan written to {output}"])
    if interrupted:
        told = f"interrupted after {result.played:,} of {result.wanted:,} racks; these are told"
        click.echo(told, err=True)
        sys.exit(INTERRUPTED)


def _as_far_as_it_goes(growing: Iterator[Any]) -> tuple[Any, bool]:
    """The last result, and whether it was interrupted; before the first one, that goes on."""
    result = next(growing)
    progress = Progress("racks")
    try:
        for result in growing:
            progress.tell(result.played, result.wanted)
    except KeyboardInterrupt:
        return result, True
    finally:
        progress.end()
    return result, False
