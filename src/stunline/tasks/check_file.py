"""Check a position file without playing it, and start a new one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stunline.equipment.based_on import STANDARD
from stunline.errors import Fault, InputError, SeveralInputErrors
from stunline.shot.aiming.strike_limits import tip_limits
from stunline.shot.miscue import is_past_advised, plan_miscue_words
from stunline.shot.position_file import PositionFile
from stunline.shot.position_file.starting import write_new
from stunline.shot.words import ball_words
from stunline.tasks.error_shape import error_shape
from stunline.tasks.lines import fine_length_words
from stunline.tasks.read_position import read_position
from stunline.tasks.write_whole import write_whole
from stunline.units import millimetres


@dataclass(frozen=True, slots=True)
class Checked:
    """What became of the files checked.

    Attributes:
        in_order: a line about each file in order
        errors: of the others
    """

    in_order: tuple[str, ...]
    errors: tuple[InputError, ...]

    def shape(self) -> dict[str, Any]:
        """The JSON."""
        return {
            "in_order": list(self.in_order),
            "errors": [error_shape(error)["error"] for error in self.errors],
        }

    def raise_if_any(self) -> None:
        """Raise the faults of all files together, if there are any."""
        if len(self.errors) == 1:
            raise self.errors[0]
        if self.errors:
            raise SeveralInputErrors(self.errors)


def check_files(paths: Sequence[str]) -> Checked:
    """Read each file without playing it."""
    in_order, errors = [], []
    for path in paths:
        try:
            in_order.append(f"{path}: in order. {_summary(read_position(path).file)}")
        except InputError as error:
            errors.append(error)
    return Checked(tuple(in_order), tuple(errors))


def _summary(file: PositionFile) -> str:
    position = file.position
    names = [ball_words(name) for name in position.names]
    shown = ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
    parts = [f"{position.table.title}, {position.cloth} cloth", shown]
    if file.ladder is not None:
        parts.append(f"a ladder of {len(file.ladder.values)} values of {file.ladder.vary}")
    if file.goal is not None:
        parts.append("a goal")
    return " ".join(["; ".join(parts) + ".", *_miscues(file)])


def _miscues(file: PositionFile) -> Iterator[str]:
    """What the strike and the goal's range of heights risk."""
    said = plan_miscue_words(file.position, file.plan)
    if said:
        yield said
    heights = (file.goal.vary.height if file.goal is not None else None) or ()
    if any(is_past_advised(file.position, one, 0.0) for one in heights):
        advised = fine_length_words(file, millimetres(tip_limits(file.position)[0]))
        yield f"The goal's heights go past the advised limit of {advised}."


def new_file(path: str, title: str = "", table: str = STANDARD) -> None:
    """Write a commented position file to start from; never over an existing file.

    Raises:
        InputError: the file exists, or can't be written; there is no such table.
    """
    if Path(path).exists():
        raise InputError(
            [
                Fault(
                    "the file exists already, and nothing was written",
                    given=f'"{path}"',
                    allowed="a name that is free",
                    remedy="another name, or move the old file away",
                    key="FILE",
                )
            ]
        )
    write_whole(new_text(title, table).encode(), path, "FILE")


def new_text(title: str = "", table: str = STANDARD) -> str:
    """The commented position file's text, in the words of that table's game."""
    return write_new(title, table)
