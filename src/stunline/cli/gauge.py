"""``stunline gauge``: this table's coefficients from what a coach can measure."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from stunline.cli.interrupts import Interrupts
from stunline.cli.picture_options import PAPER
from stunline.cli.progress import Progress
from stunline.cli.reporting import called, ready_engine, show, show_shape

if TYPE_CHECKING:
    from stunline.tasks.gauge_fit import GaugeResult


@click.group(
    epilog="""\b
Examples:
  stunline gauge new table-3.toml
  stunline gauge new table-3.toml --full
  stunline gauge sheet table-3.toml
  stunline gauge fit table-3.toml
  stunline gauge fit table-3.toml -o table-3-gauged.toml
  stunline gauge fit table-3.toml --sample
  stunline gauge next table-3.toml
  stunline gauge next table-3.toml --for screw-between-two-balls
  stunline gauge compare before.toml after.toml

The quick check of three shots takes five minutes, the full dozen half an hour. What fit writes is
a table file: name it in a position, table = "table-3-gauged.toml"."""
)
def gauge() -> None:
    """Gauge a table: its coefficients from shots that one person can play and measure."""


@gauge.command()
@click.argument("file", type=click.Path(), required=False)
@click.option("--full", is_flag=True, help="The full dozen of shots instead of three.")
@click.option("--table", default=None, metavar="NAME", help="The table that is gauged.")
def new(file: str | None, full: bool, table: str | None) -> None:
    """Write a commented record FILE to fill in, or print it when no file is given.

    An existing file is never overwritten.
    """
    from stunline.tasks.gauge_new import record_file, record_text

    if file is None:
        show([record_text(full, table).rstrip("\n")])
        return
    record_file(file, full, table)
    show([f"{file} written. Play its shots, fill it in, then: {called()} gauge fit {file}"])


@gauge.command()
@click.argument("file", type=click.Path(), required=False)
@click.option("-o", "output", type=click.Path(), help="The PDF; without it NAME-record.pdf.")
@click.option("--full", is_flag=True, help="Without FILE: the full dozen of shots, not three.")
@click.option("--table", default=None, metavar="NAME", help="Without FILE: the table.")
@PAPER
@click.option("--large-print", is_flag=True, help="Letters of 14 points and more.")
@click.option("--date", metavar="TEXT", help="The date on the sheet; without it today's.")
def sheet(
    file: str | None,
    output: str | None,
    full: bool,
    table: str | None,
    paper: str,
    large_print: bool,
    date: str | None,
) -> None:
    """Print a record sheet: each set-up with its plan, what to do, lines to write on.

    Of the record FILE the shots that are not measured yet; without one those of the menu.
    """
    from stunline.tasks.print_record import own_path, print_record
    from stunline.tasks.print_sheet import today

    path = own_path(file, output)
    ready_engine()
    printed = print_record(file, full, table, paper.lower(), large_print, today(date))
    printed.write(path)
    show(printed.lines(path))


@gauge.command()
@click.argument("file", type=click.Path())
@click.option("--sample", is_flag=True, help="Sample the coefficients too, about a minute.")
@click.option("--steps", type=int, default=1_500, show_default=True, help="Of the sampler.")
@click.option("-o", "output", type=click.Path(), help="Write the gauged table: .toml.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
def fit(file: str, sample: bool, steps: int, output: str | None, as_json: bool) -> None:
    """Find the coefficients of the table from the record FILE, with their doubt.

    With --sample Ctrl-C keeps what was sampled.
    """
    from stunline.tasks.gauge_fit import check_output, check_steps, gauge_fit, write_table

    check_steps(steps)
    if output is not None:
        check_output(output, file)
    ready_engine()
    result = gauge_fit(file, _told if sys.stderr.isatty() else None)
    if sys.stderr.isatty():
        click.echo("\x1b[2K\r", err=True, nl=False)
    if output is not None:
        write_table(result, output)
    if sample:
        result = _sampled(result, steps)
    if as_json:
        show_shape(result.shape())
        return
    from stunline.tasks.tell_gauge import gauge_lines

    show(gauge_lines(result))
    if output is not None:
        beside = f'In a position in the same folder: table = "{Path(output).name}"'
        show(["", f"Table written to {output}. {beside}"])


@gauge.command("next")
@click.argument("file", type=click.Path())
@click.option("--for", "position", metavar="POSITION", help="The shot whose end matters.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
def what_next(file: str, position: str | None, as_json: bool) -> None:
    """Say which shots to add to the record FILE, how much they would narrow, and when to stop.

    What matters is where the white ends: in the shot of a POSITION file, or in standard shots.
    """
    from stunline.tasks.gauge_next import gauge_next, next_lines

    ready_engine()
    result = gauge_next(file, position, _told if sys.stderr.isatty() else None)
    if sys.stderr.isatty():
        click.echo("\x1b[2K\r", err=True, nl=False)
    if as_json:
        show_shape(result.shape())
    else:
        show(next_lines(result))


@gauge.command()
@click.argument("before", type=click.Path())
@click.argument("after", type=click.Path())
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of text.")
def compare(before: str, after: str, as_json: bool) -> None:
    """Say what changed between two gauged tables, and whether it is more than noise."""
    from stunline.tasks.gauge_compare import compare_tables, comparison_lines, comparison_shape

    result = compare_tables(before, after)
    if as_json:
        show_shape(comparison_shape(result))
    else:
        show(comparison_lines(result))


def _sampled(result: GaugeResult, steps: int) -> GaugeResult:
    from stunline.tasks.gauge_fit import gauge_sample

    progress = Progress("steps")
    with Interrupts() as stop:
        for grown in gauge_sample(result, steps, stop.asked):
            result = grown
            if grown.sampled is not None:
                progress.tell(grown.sampled.steps, grown.sampled.wanted)
    progress.end()
    return result


def _told(words: str) -> None:
    click.echo(f"\x1b[2K{words}\r", err=True, nl=False)
