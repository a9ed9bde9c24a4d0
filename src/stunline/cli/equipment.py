"""``stunline equipment``"""

from __future__ import annotations

import click

from stunline.cli.reporting import as_text, reports_errors


@click.command(
    epilog="""\b
Examples:
  stunline equipment
  stunline equipment snooker-12ft"""
)
@click.argument("name", required=False)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
@reports_errors
def equipment(name: str | None, as_json: bool) -> None:
    """List the tables and their cloths, or show one NAME with every number's unit and source.

    Marks of the sources: [S] seen in the source named, [R] restated from it, [X] exact,
    [M] from memory, [P] common practice, [A] our own assumption.
    """
    from stunline.tasks.show_equipment import equipment_lines, equipment_shape, tables

    shown = tables(name)
    if as_json:
        click.echo(as_text(equipment_shape(shown)))
        return
    for line in equipment_lines(shown, every_number=name is not None):
        click.echo(line)
