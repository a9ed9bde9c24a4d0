"""``stunline shot``"""

from __future__ import annotations

import click

from stunline.cli.reporting import as_text, ready_engine, reports_errors


@click.command(
    epilog="""\b
Examples:
  stunline shot black.toml
  stunline shot black.toml -o black.svg
  stunline shot black.toml --json > black.json"""
)
@click.argument("file", type=click.Path())
@click.option("-o", "output", type=click.Path(), help="Write the plan: .svg or .png.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
@click.option("--date", default="", metavar="TEXT", help="A date for the title block.")
@reports_errors
def shot(file: str, output: str | None, as_json: bool, date: str) -> None:
    """Play the shot of a position FILE: the white's path and what matters on it."""
    from stunline.tasks.write_picture import check_ending, write_picture

    if output:
        check_ending(output)
    ready_engine()
    from stunline.tasks.play_shot import play_file
    from stunline.tasks.tell import shot_lines

    result = play_file(file)
    if output:
        write_picture(result.drawing(date), output)
    if as_json:
        click.echo(as_text(result.shape()))
        return
    for line in shot_lines(result):
        click.echo(line)
    if output:
        click.echo(f"\nPlan written to {output}")
