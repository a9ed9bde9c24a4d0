"""Fit a record of gauging shots: the table's coefficients with their doubt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stunline.calibration.fit import Fit, fit
from stunline.calibration.record_file import ReadRecord, read_record
from stunline.calibration.table_writing import check_base, table_text
from stunline.equipment.catalogue import load_table
from stunline.errors import InputError
from stunline.tasks.write_whole import check_ending, check_folder, write_whole

if TYPE_CHECKING:
    from stunline.tasks.shapes import Shape


@dataclass(frozen=True, slots=True)
class GaugeResult:
    """A record and what it says.

    Attributes:
        read: the record with its mistakes
        fit: of what could be read
    """

    read: ReadRecord
    fit: Fit

    def shape(self) -> Shape:
        """The JSON."""
        from stunline.tasks.gauge_shape import gauge_shape

        return gauge_shape(self)

    def mistakes(self) -> list[str]:
        """Of the record, each with its line."""
        return InputError(self.read.faults, self.read.source).messages()


def gauge_fit(path: str, told: Callable[[str], None] | None = None) -> GaugeResult:
    """Read a record and fit it.

    Args:
        path: of the record file
        told: what is being done now, in words

    Raises:
        InputError: the file can't be read, or nothing in it can be used.
    """
    read = read_record(path)
    return GaugeResult(read, fit(read.record, told or _nobody))


def check_output(path: str, record: str) -> None:
    """Refuse a place for the table file before anything is computed.

    Raises:
        InputError: with what is allowed.
    """
    check_ending(path, (".toml",), "the gauged table is a TOML file", "table-3-gauged.toml", "-o")
    check_folder(path, "-o")
    check_base(read_record(record).record.table_name, path, record)


def write_table(result: GaugeResult, path: str) -> None:
    """Write the gauged table, and see that it can be read.

    Raises:
        InputError: the file can't be written.
    """
    write_whole(table_text(result.fit, result.read.source).encode(), path, "-o")
    load_table(path)


def _nobody(_: Any) -> None:
    """Nobody listens."""
