"""Read a position file, and give a refusal of its shot the file's name and line."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from stunline.errors import Fault, InputError, UnsolvableShotError
from stunline.files.text_file import read_text_file
from stunline.files.toml_lines import line_at, lines_of
from stunline.shot.position import LadderPlan
from stunline.shot.position_file import PositionFile, parse_position
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions


@dataclass(frozen=True, slots=True)
class ReadPosition:
    """A position file as read.

    Attributes:
        file: its contents
        text: as it stands in the file, to find lines in
    """

    file: PositionFile
    text: str

    @contextmanager
    def located(self) -> Iterator[None]:
        """Whatever is refused inside carries the file's name, and the line that asked for it."""
        try:
            yield
        except UnsolvableShotError as refusal:
            path = tuple(refusal.fault.key.split("."))
            raise refusal.at(self.file.source, line_at(lines_of(self.text), path)) from None

    def ladder(self) -> LadderPlan:
        """What the file varies.

        Raises:
            InputError: it has no [ladder].
        """
        if self.file.ladder is not None:
            return self.file.ladder
        fault = Fault(
            "the file has no [ladder], so there is nothing to vary",
            given="no [ladder]",
            allowed='a section [ladder] with vary = "pace" and values = [1.0, 1.5, 2.0]',
            remedy="add one, or use: stunline shot",
            key="ladder",
        )
        raise InputError([fault], self.file.source)


def located_fault(read: ReadPosition, fault: Fault) -> InputError:
    """A fault of the file's contents, with the line of its key."""
    line = line_at(lines_of(read.text), tuple(fault.key.split(".")))
    return InputError([replace(fault, line=line)], read.file.source)


def read_position(path: str | os.PathLike[str]) -> ReadPosition:
    """Read and check the file; nothing is played.

    Args:
        path: a file; or, where there is none of that name, the name of a shipped position.

    Raises:
        InputError: with every fault of the file and its line.
    """
    source = os.fspath(_shipped_or_own(path))
    text = read_text_file(source, "a position file", shipped_positions())
    return ReadPosition(parse_position(text, source, Path(source).parent), text)


def _shipped_or_own(path: str | os.PathLike[str]) -> str | os.PathLike[str]:
    name = os.fspath(path)
    if not os.path.lexists(name) and name in shipped_positions():
        return shipped_position_path(name)
    return path
