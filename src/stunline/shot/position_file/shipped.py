"""The positions that come with stunline: invented, on an invented club's table."""

from __future__ import annotations

from pathlib import Path

from stunline.errors import Fault, InputError
from stunline.files.words import listed, nearest_name

_FOLDER = Path(__file__).parent / "positions"


def shipped_positions() -> tuple[str, ...]:
    """Names of the shipped positions, in alphabetical order."""
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


def shipped_position_path(name: str) -> Path:
    """The file of a shipped position.

    Raises:
        InputError: no position of that name.
    """
    if name in shipped_positions():
        return _FOLDER / f"{name}.toml"
    near = nearest_name(name, shipped_positions())
    raise InputError(
        [
            Fault(
                what="there is no shipped position of that name",
                given=f'"{name[:60]}"',
                allowed=listed(shipped_positions()),
                remedy=near or "one of these names",
            )
        ]
    )
