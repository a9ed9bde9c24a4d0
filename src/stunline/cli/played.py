"""``stunline played``"""

from __future__ import annotations

import click

from stunline.cli.picture_options import draw, picture_options
from stunline.cli.reporting import ready_engine, show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline played black.toml
  stunline played black.toml --rest 1204,2310 --potted black
  stunline played black.toml --rest "47 in,91 in" --cushion right:2100
  stunline played black.toml --rest 1204,2310 --show face -o face.svg

The file's [strike] is what was meant; what really happened stands in its section [played], or in
the options, which go first. Places are of a ball's centre, in mm from the left and from the baulk
cushion, read to about 5 mm. A pupil's name is not needed, in no file."""
)
@click.argument("file", type=click.Path())
@click.option("--rest", metavar="X,Y", help="Where the white came to rest.")
@click.option("--passed", metavar="X,Y", help="A place that the white passed.")
@click.option("--object-rest", metavar="X,Y", help="Where the object ball came to rest.")
@click.option("--met", metavar="BALL", multiple=True, help="A ball that the white touched.")
@click.option("--missed", metavar="BALL", multiple=True, help="One that it did not.")
@click.option(
    "--cushion",
    metavar="NAME[:AT]",
    help="The white's first cushion after its first ball, and where along it.",
)
@click.option("--potted", metavar="BALL", multiple=True, help="A ball that fell.")
@click.option("--not-potted", metavar="BALL", multiple=True, help="One that did not.")
@click.option("--in-off", is_flag=True, help="The white fell.")
@click.option("--time", type=float, help="Seconds from the strike until all was at rest.")
@click.option("--player", metavar="NAME", help="A profile or a player file; the goal's, or club.")
@click.option("--seed", type=int, default=1, show_default=True, help="Of what is drawn.")
@picture_options("plan", "face")
def played(
    file: str,
    rest: str | None,
    passed: str | None,
    object_rest: str | None,
    met: tuple[str, ...],
    missed: tuple[str, ...],
    cushion: str | None,
    potted: tuple[str, ...],
    not_potted: tuple[str, ...],
    in_off: bool,
    time: float | None,
    player: str | None,
    seed: int,
    output: str | None,
    picture: str,
    theme: str | None,
    date: str,
    as_json: bool,
) -> None:
    """Say which stroke was really played in FILE, from where the white really went."""
    from stunline.tasks.played_options import seen_of
    from stunline.tasks.read_position import read_position
    from stunline.tasks.write_picture import check_picture

    if output is not None:
        check_picture(output)
    read = read_position(file)
    seen = seen_of(
        rest, passed, object_rest, met, missed, cushion, potted, not_potted, in_off, time
    )
    ready_engine()
    from stunline.tasks.played_stroke import played_stroke

    result = played_stroke(read, seen, player, seed)
    if output is not None:
        draw(result, output, picture, theme, date)
    if as_json:
        show_shape(result.shape())
        return
    from stunline.tasks.tell_played import played_lines

    show(played_lines(result))
    if output is not None:
        show(["", f"{picture.capitalize()} written to {output}"])
