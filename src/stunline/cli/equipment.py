"""``stunline equipment``"""

from __future__ import annotations

import click

from stunline.cli.reporting import show, show_shape


@click.command(
    epilog="""\b
Examples:
  stunline equipment
  stunline equipment snooker-12ft
  stunline equipment my-table.toml --json

NAME is a table of the equipment data or a table file in this folder."""
)
@click.argument("name", required=False)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
def equipment(name: str | None, as_json: bool) -> None:
    """List the tables and their cloths, or show one NAME with every number's unit and source.

    Marks of the sources: [S] seen in the source named, [R] restated from it, [X] exact,
    [M] from memory, [P] common practice, [A] our own assumption.
    """
    from stunline.tasks.show_equipment import equipment_lines, equipment_shape, tables

    shown = tables(name)
    if as_json:
        show_shape(equipment_shape(shown))
        return
    show(equipment_lines(shown, every_number=name is not None))
