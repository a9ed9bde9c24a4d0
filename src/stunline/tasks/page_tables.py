"""The tables that the page can lay out: the shipped ones and those in the library. mm"""

from __future__ import annotations

from typing import Any

from stunline.equipment.based_on import table_names
from stunline.equipment.catalogue import load_table
from stunline.equipment.model import BallKind, Point, Table
from stunline.errors import InputError
from stunline.shot.position_file.names import any_names
from stunline.tasks.library import Library
from stunline.tasks.library_list import own_tables
from stunline.tasks.page_bounds import check_bounds
from stunline.tasks.page_coefficients import coefficient_rows, switch_rows
from stunline.tasks.show_equipment import names_of
from stunline.units import millimetres

Shape = dict[str, Any]


def page_tables(library: Library) -> list[Shape]:
    """Every table in order, the shipped ones first."""
    found = [_shape(load_table(name), name) for name in table_names()]
    for file in own_tables(library):
        try:
            check_bounds({"table": file}, library.folder)
            found.append(_shape(load_table(file, library.folder), file))
        except InputError:
            continue  # a position that names it is told what is wrong with it
    return found


def _shape(table: Table, name: str) -> Shape:
    return {
        "name": name,
        "title": table.title,
        "game": table.game,
        "length": millimetres(table.length),
        "width": millimetres(table.width),
        "nose_height": millimetres(table.nose_height),
        "line": None if table.baulk_line is None else millimetres(table.baulk_line),
        "d_radius": None if table.d_radius is None else millimetres(table.d_radius),
        "cue_ball": table.cue_ball,
        "cloths": [
            {
                "name": one.name,
                "title": one.title,
                "note": one.note,
                "numbers": coefficient_rows(one),
                "switches": switch_rows(one),
            }
            for one in table.cloths.values()
        ],
        "spots": {spot: _place(at) for spot, at in table.spots.items()},
        "balls": [_ball(one) for one in table.balls.values()],
        "racks": {
            rack: {ball: _place(at) for ball, at in places.items()}
            for rack, places in table.racks.items()
        },
        "pockets": [
            {"name": one.name, "at": _place(one.mouth_middle), "drop": _place(one.drop_centre)}
            for one in table.pockets
        ],
        "names": {
            **{what: list(names) for what, names in names_of(table).items()},
            "any": list(any_names(table)),
        },
        "words": {
            "cushions": list(table.words.cushions),
            "line": table.words.line,
            "behind_line": table.words.behind_line,
        },
        "strike": _strike_limits(table),
    }


def _ball(kind: BallKind) -> Shape:
    return {
        "name": kind.name,
        "letter": kind.letter,
        "tint": kind.tint,
        "radius": millimetres(kind.radius),
        "spot": kind.spot,
    }


def _strike_limits(table: Table) -> Shape:
    """How far from the centre the contact point may lie. [mm]"""
    radius = table.balls[table.cue_ball].radius
    return {
        "safe": millimetres(table.cue.safe_offset * radius),
        "miscue": millimetres(table.cue.miscue_offset * radius),
        "tip_radius": millimetres(table.cue.tip_radius),
    }


def _place(at: Point) -> list[float]:
    return [millimetres(at[0]), millimetres(at[1])]
