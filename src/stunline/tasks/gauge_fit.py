"""Fit a record of gauging shots: the table's coefficients with their doubt."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stunline.calibration.fit import Fit, fit
from stunline.calibration.record_file import ReadRecord, read_record
from stunline.calibration.table_writing import check_base, table_text
from stunline.equipment.catalogue import load_table
from stunline.errors import Fault, InputError
from stunline.tasks.write_whole import check_ending, check_folder, write_whole

if TYPE_CHECKING:
    from stunline.calibration.sampling import Sampled
    from stunline.tasks.shapes import Shape

_FEWEST_STEPS, _MOST_STEPS = 20, 20_000


@dataclass(frozen=True, slots=True)
class GaugeResult:
    """A record and what it says.

    Attributes:
        read: the record with its mistakes
        fit: of what could be read
        sampled: the posterior sampled, where asked for
    """

    read: ReadRecord
    fit: Fit
    sampled: Sampled | None = None

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


def gauge_sample(
    result: GaugeResult, steps: int, cancelled: Callable[[], bool] | None = None
) -> Iterator[GaugeResult]:
    """The same with the posterior sampled, again and again while it goes on.

    Args:
        steps: of each walker
        cancelled: asked often; once true, what was sampled until then is the last that is given
    """
    from stunline.calibration.sampling import sample

    for sampled in sample(result.fit, steps, cancelled):
        yield replace(result, sampled=sampled)


def check_steps(steps: int) -> None:
    """Refuse a number of the sampler's steps before anything is computed.

    Raises:
        InputError: with what is allowed.
    """
    if _FEWEST_STEPS <= steps <= _MOST_STEPS:
        return
    fault = Fault(
        "that is no number of steps for the sampler",
        given=f"{steps:,}",
        allowed=f"{_FEWEST_STEPS:,} to {_MOST_STEPS:,}",
        remedy="1500",
        key="--steps",
    )
    raise InputError([fault])


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
