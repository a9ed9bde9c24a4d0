"""Players as the page offers them, and what is wrong with the name of one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from stunline.equipment.player import load_player, player_names
from stunline.errors import Fault, InputError
from stunline.shot.position_file import PositionFile
from stunline.tasks.page_bounds import PLAYER_FILE, check_player
from stunline.units import degrees, millimetres


def player_faults(file: PositionFile | None, folder: Path | None) -> list[Fault]:
    """What is wrong with the name of the goal's player, if anything is; its file is not read."""
    name = "" if file is None or file.goal is None else file.goal.player
    try:
        if name.endswith(PLAYER_FILE):
            check_player(name, folder or Path())
        elif name and name not in player_names():
            load_player(name)
    except InputError as error:
        return list(error.faults)
    return []


def page_players() -> list[dict[str, Any]]:
    """The shipped players, the least exact first: name, title, scatter and source in words."""
    return [
        {
            "name": one.name,
            "title": one.title,
            "words": f"aim within {degrees(one.aim):.2f}°, pace {100.0 * one.pace:.0f} %, "
            f"height {millimetres(one.height):.1f} mm, side {millimetres(one.side):.1f} mm, "
            "two times in three",
            "source": one.source,
        }
        for one in map(load_player, player_names())
    ]
