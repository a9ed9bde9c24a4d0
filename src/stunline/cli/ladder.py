"""``stunline ladder``"""

from __future__ import annotations

import click

from stunline.cli.reporting import as_text, ready_engine, reports_errors


@click.command(
    epilog="""\b
Examples:
  stunline ladder black.toml
  stunline ladder black.toml -o ladder.svg
  stunline ladder black.toml --json > ladder.json

The file's section [ladder] says what varies: vary = "pace" and values = [1.0, 1.7, 2.2]."""
)
@click.argument("file", type=click.Path())
@click.option("-o", "output", type=click.Path(), help="Write the plan: .svg or .png.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
@click.option("--date", default="", metavar="TEXT", help="A date for the title block.")
@reports_errors
def ladder(file: str, output: str | None, as_json: bool, date: str) -> None:
    """Play the shot of FILE with one thing changed, and find where the outcome changes."""
    from stunline.tasks.write_picture import check_ending, write_picture

    if output:
        check_ending(output)
    ready_engine()
    from stunline.tasks.climb_ladder import climb_file
    from stunline.tasks.tell import ladder_lines

    result = climb_file(file)
    if output:
        write_picture(result.drawing(date), output)
    if as_json:
        click.echo(as_text(result.shape()))
        return
    for line in ladder_lines(result):
        click.echo(line)
    if output:
        click.echo(f"\nPlan written to {output}")
