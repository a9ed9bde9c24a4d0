"""Everywhere that the white can rest or pass over when a file's pot is made; or where it may
stand beforehand."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from stunline.equipment.player import Player, load_player
from stunline.errors import Fault, InputError
from stunline.planning.examples import middles_of
from stunline.planning.reach import CELL, Reach, reach
from stunline.planning.reach_at import Pointed, point_at
from stunline.planning.request import Request, request
from stunline.planning.white_places import CELL as FROM_CELL
from stunline.planning.white_places import WhitePlaces, white_places
from stunline.shot.aiming.pace import lengths_of
from stunline.shot.goal import Goal
from stunline.shot.position_file import PositionFile
from stunline.tasks.read_position import ReadPosition
from stunline.units import metres, millimetres, radians

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing
    from stunline.tasks.shapes import Shape

Report = Callable[[str, int, int], None]

MOST_EXAMPLES = 6
_CELLS = (10.0, 200.0)  # sides of a cell that may be asked for [mm]
_AIM_OFF, _PACE_OFF = (0.0, 5.0), (0.0, 30.0)  # [°], [%]
_PERCENT = 0.01


@dataclass(frozen=True, slots=True)
class ReachResult:
    """Where the white can go.

    Attributes:
        file: as read
        reach: what was found
        examples: cells that stand for the larger parts, named A, B, … in this order
        pointed: the place that was asked for, if one was
    """

    file: PositionFile
    reach: Reach
    examples: tuple[int, ...]
    pointed: Pointed | None

    def lengths(self, pace: float) -> float:
        """A pace in lengths of this table and cloth."""
        return lengths_of(self.file.position, pace)

    def drawing(self, show: str = "plan", date: str = "", on_paper: bool = False) -> Drawing:
        """The plan with the regions, and the way to the place that was asked for."""
        from stunline.tasks.reach_pictures import reach_picture

        return reach_picture(self, date, on_paper)

    def shape(self) -> Shape:
        """The JSON."""
        from stunline.tasks.reach_shape import reach_shape

        return reach_shape(self)


@dataclass(frozen=True, slots=True)
class FromResult:
    """Where the white may stand.

    Attributes:
        file: as read
        places: what was found
    """

    file: PositionFile
    places: WhitePlaces

    def lengths(self, pace: float) -> float:
        """A pace in lengths of this table and cloth."""
        return lengths_of(self.file.position, pace)

    def drawing(self, show: str = "plan", date: str = "", on_paper: bool = False) -> Drawing:
        """The plan with the region."""
        from stunline.tasks.reach_pictures import from_picture

        return from_picture(self, date, on_paper)

    def shape(self) -> Shape:
        """The JSON."""
        from stunline.tasks.reach_shape import from_shape

        return from_shape(self)


def reach_places(
    read: ReadPosition,
    at: tuple[float, float] | None = None,
    cell: float | None = None,
    report: Report = lambda *_: None,
    cancelled: Callable[[], bool] = lambda: False,
    grow: Callable[[ReachResult], None] | None = None,
    player: str = "",
) -> ReachResult:
    """Search everywhere, and refine the strike to one place if it is asked for.

    Args:
        at: across and up [mm]
        cell: side of a cell [mm]; None: 25
        report: told what is being done, and how much of it
        cancelled: asked often; once true, what was found until then is told
        grow: given what there is, without examples, after every few strikes
        player: a shipped player or a file; "": the goal's, or the usual one

    Raises:
        InputError: a number is not allowed.
        UnsolvableShotError: no strike of the range can be aimed so; with its line.
    """
    _check([_cell_fault(cell), _place_fault(read.file, at)])
    asked = _request(read, player)

    def grown(until_now: Reach) -> None:
        if grow is not None:
            grow(ReachResult(read.file, until_now, (), None))

    side = _in_metres(cell, CELL)
    with read.located():
        found = reach(asked, cell=side, report=report, cancelled=cancelled, grow=grown)
    place = None if at is None else (metres(at[0]), metres(at[1]))
    pointed = None if place is None else point_at(found, place)
    return ReachResult(
        read.file, found, tuple(middles_of(found.raster, found.kinds, MOST_EXAMPLES)), pointed
    )


def places_to_play_from(
    read: ReadPosition,
    player: str = "",
    aim_off: float | None = None,
    pace_off: float | None = None,
    cell: float | None = None,
    report: Report = lambda *_: None,
    cancelled: Callable[[], bool] = lambda: False,
) -> FromResult:
    """Try the white all over the table.

    Args:
        player: a shipped player or a file; "": the goal's, or the usual one
        aim_off, pace_off: margins that must hold [°, % of the pace]; None: one standard
            deviation of the player
        cell: side of a cell [mm]; None: 50
        report, cancelled: as in ``reach_places``

    Raises:
        InputError: a number is not allowed, or there is no such player.
        UnsolvableShotError: the file aims in a fixed direction; with its line.
    """
    faults = [
        _cell_fault(cell),
        _off_fault("--aim-off", "the margin of aim", aim_off, _AIM_OFF, "degrees", "0.2"),
        _off_fault("--pace-off", "the margin of pace", pace_off, _PACE_OFF, "%", "8"),
    ]
    _check(faults)
    asked = _request(read, player)
    aim = asked.player.aim if aim_off is None else radians(aim_off)
    pace = asked.player.pace if pace_off is None else _PERCENT * pace_off
    with read.located():
        found = white_places(asked, aim, pace, _in_metres(cell, FROM_CELL), report, cancelled)
    return FromResult(read.file, found)


def _request(read: ReadPosition, player: str) -> Request:
    file = read.file
    goal = file.goal or Goal()
    with read.located():
        return request(file.position, file.plan, goal, _player(file, player or goal.player))


def _player(file: PositionFile, name: str) -> Player:
    return load_player(name, Path(file.source).parent if file.source else None)


def _in_metres(cell: float | None, usual: float) -> float:
    return usual if cell is None else metres(cell)


def place_from_words(words: str) -> tuple[float, float]:
    """ "890,1784" in mm.

    Raises:
        InputError: for anything else.
    """
    parts = words.replace(";", ",").replace(",", " ").split()
    try:
        across, up = (float(part) for part in parts)
    except ValueError:
        across = up = math.nan
    if not (math.isfinite(across) and math.isfinite(up)):
        fault = Fault(
            "this is no place",
            given=f'"{words[:60]}"',
            allowed="two numbers: mm from the left and from the baulk cushion",
            remedy="--at 890,1784",
            key="--at",
        )
        raise InputError([fault])
    return across, up


def _check(faults: list[Fault | None]) -> None:
    found = [fault for fault in faults if fault is not None]
    if found:
        raise InputError(found)


def _cell_fault(cell: float | None) -> Fault | None:
    low, high = _CELLS
    if cell is None or low <= cell <= high:
        return None
    return Fault(
        "the size of the cells is out of bounds",
        given=f"{cell:g} mm",
        allowed=f"{low:g} to {high:g} mm",
        remedy=f"{millimetres(CELL):g}",
        key="--cell",
    )


def _off_fault(
    key: str, name: str, value: float | None, bounds: tuple[float, float], unit: str, remedy: str
) -> Fault | None:
    low, high = bounds
    if value is None or low <= value <= high:
        return None
    return Fault(
        f"{name} is out of bounds",
        given=f"{value:g} {unit}",
        allowed=f"{low:g} to {high:g} {unit}",
        remedy=remedy,
        key=key,
    )


def _place_fault(file: PositionFile, at: tuple[float, float] | None) -> Fault | None:
    if at is None:
        return None
    from stunline.equipment.contact_distances import nose_contact_distance

    position = file.position
    table = position.table
    white = position.radius(position.names[0])
    reach = millimetres(nose_contact_distance(white, table.nose_height))
    width, length = millimetres(table.width), millimetres(table.length)
    if reach <= at[0] <= width - reach and reach <= at[1] <= length - reach:
        return None
    return Fault(
        "the white can't rest there: off the bed, or inside a cushion",
        given=f"{at[0]:g},{at[1]:g}",
        allowed=f"{math.ceil(reach)} to {math.floor(width - reach)} mm across, "
        f"{math.ceil(reach)} to {math.floor(length - reach)} mm up",
        remedy=f"--at {min(max(at[0], math.ceil(reach)), math.floor(width - reach)):g},"
        f"{min(max(at[1], math.ceil(reach)), math.floor(length - reach)):g}",
        key="--at",
    )
