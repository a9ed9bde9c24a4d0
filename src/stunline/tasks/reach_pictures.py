"""The plans of a reach and of the places to play from."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stunline.drawing.marks import Box, Drawing, Layer, Role
from stunline.drawing.reach_plan import NamedPlace, ReachPicture, plan_of_reach, region_marks
from stunline.drawing.regions import Cells, Region
from stunline.drawing.svg import fragment
from stunline.drawing.theme import THEMES
from stunline.planning.examples import widest_circle, without_specks
from stunline.planning.reach import places_for_white
from stunline.planning.regions import KINDS
from stunline.planning.strike_space import strike_of
from stunline.shot.batch_watch import Raster
from stunline.shot.play import play
from stunline.shot.position import Strike
from stunline.shot.position_file import PositionFile
from stunline.tasks.lines import fine_length_words, side_words
from stunline.tasks.pictures import medium_of
from stunline.tasks.reach_places import FromResult, ReachResult
from stunline.tasks.tell_reach import example_name
from stunline.tasks.titles import title_block
from stunline.units import degrees, millimetres

_ROLES = {
    "follow": Role.HATCH_FOLLOW,
    "stun": Role.HATCH_STUN,
    "screw": Role.HATCH_SCREW,
    "side": Role.HATCH_SIDE,
}
# What a place asks up to that has a line through every fourth, every second cell; beyond, each.
_EASY, _FAIR = 0.75, 1.75
_SPECK = 16  # cells: smaller patches are left out of the picture, not of the numbers
_SIGNS = "+ above centre, − below"
_MM = 1000.0
LAYER_NAME = "reach"  # before the ids of the marks of a layer


def reach_picture(result: ReachResult, date: str = "", on_paper: bool = False) -> Drawing:
    """Regions by kind of stroke; with a place that was asked for its shot's ways, else examples."""
    reach = result.reach
    pointed = result.pointed
    position = result.file.position
    open_cells = places_for_white(position, reach.raster)
    with_ways = pointed is not None and pointed.strike is not None
    strike = pointed.strike if pointed and pointed.strike else reach.request.base
    block = title_block(position, date)
    picture = ReachPicture(
        play(position, strike),
        _cells(reach.raster),
        _regions(result, open_cells),
        _outer(reach.raster, (reach.passed | reach.reached) & open_cells),
        replace(block, table=f"{block.table}; the closer the lines, the more it asks; {_SIGNS}"),
        {Role.OUTER_EDGE: "can pass over"},
        with_ways,
        _pointed_place(result) if pointed else _example_places(result),
        _described(result),
    )
    return plan_of_reach(picture, medium_of(on_paper, result.file.units))


def reach_layer(result: ReachResult, theme: str) -> str:
    """The regions alone, as the layer of a plan on a screen: SVG in the table's mm."""
    reach, position = result.reach, result.file.position
    open_cells = places_for_white(position, reach.raster)
    outer = _outer(reach.raster, (reach.passed | reach.reached) & open_cells)
    marks = tuple(region_marks(_cells(reach.raster), _regions(result, open_cells), outer))
    table = Box(0.0, 0.0, millimetres(position.table.width), millimetres(position.table.length))
    drawing = Drawing(marks, table, 1.0, _described(result), name=LAYER_NAME)
    return fragment(drawing, Layer.DIMENSIONS, THEMES[theme])


def from_picture(result: FromResult, date: str = "", on_paper: bool = False) -> Drawing:
    """The region with margins hatched, that without them within the chain line."""
    places, position = result.places, result.file.position
    block = title_block(position, date)
    margins = f"aim {degrees(places.aim_off):.2f}°, pace {100.0 * places.pace_off:.0f} % either way"
    circle = widest_circle(places.raster, places.safe)
    named: list[NamedPlace] = []
    if circle is not None:
        x, y = (_MM * places.raster.middles()[circle[0]]).tolist()
        words = short_words(result.file, strike_of(places.rows[circle[0]]))
        named.append(NamedPlace((x, y), "", words))
    picture = ReachPicture(
        play(position, places.request.base),
        _cells(places.raster),
        [Region(Role.HATCH_FOLLOW, places.safe.astype(int).tolist())],
        places.met.tolist(),
        replace(block, table=f"{block.table}; margins: {margins}; {_SIGNS}"),
        {Role.HATCH_FOLLOW: "with margins", Role.OUTER_EDGE: "without margins"},
        False,
        named,
        f"Where the white may stand: {int(places.safe.sum())} squares of "
        f"{millimetres(places.raster.cell):.0f} mm with margins, {int(places.met.sum())} without.",
        places.request.goal,
    )
    return plan_of_reach(picture, medium_of(on_paper, result.file.units))


def _regions(result: ReachResult, open_cells: NDArray[np.bool_]) -> list[Region]:
    """The kinds of stroke, specks given to their surroundings; the more asked, the more lines."""
    reach = result.reach
    kinds = without_specks(reach.raster, np.where(open_cells, reach.kinds, -1), _SPECK)
    demands = np.where(reach.reached, reach.demands, 0.0)
    every = np.where(demands <= _EASY, 4, np.where(demands <= _FAIR, 2, 1))
    grid = without_specks(reach.raster, every, _SPECK)
    return [
        Region(_ROLES[kind], np.where(open_cells & (kinds == number), grid, 0).tolist())
        for number, kind in enumerate(KINDS)
        if (kinds == number).any()
    ]


def _outer(raster: Raster, inside: NDArray[np.bool_]) -> list[bool]:
    whole = without_specks(raster, inside.astype(np.int64), _SPECK)
    return [bool(one) for one in whole]


def short_words(file: PositionFile, strike: Strike) -> str:
    """ "1.42 m/s, +5.2 mm"; with side ", 4.0 mm left"."""
    height = millimetres(strike.height)
    sign = "+" if height >= 0.0 else "−"
    parts = [f"{strike.pace:.2f} m/s", f"{sign}{fine_length_words(file, abs(height))}"]
    if strike.side:
        parts.append(side_words(file, round(millimetres(strike.side), 1)))
    return ", ".join(parts)


def _example_places(result: ReachResult) -> list[NamedPlace]:
    reach = result.reach
    return [
        NamedPlace(
            (_MM * float(reach.rests[cell, 0]), _MM * float(reach.rests[cell, 1])),
            example_name(number),
            short_words(result.file, strike_of(reach.rows[cell])),
        )
        for number, cell in enumerate(result.examples)
    ]


def _pointed_place(result: ReachResult) -> list[NamedPlace]:
    pointed = result.pointed
    assert pointed is not None
    at = pointed.rest or pointed.place
    if pointed.strike is None:
        return [NamedPlace((_MM * at[0], _MM * at[1]), "", "not reached")]
    words = short_words(result.file, pointed.strike)
    found = NamedPlace((_MM * at[0], _MM * at[1]), "", words)
    if pointed.is_there:
        return [found]
    place = (_MM * pointed.place[0], _MM * pointed.place[1])
    return [NamedPlace(place, "", "not reached"), found]


def _described(result: ReachResult) -> str:
    reach = result.reach
    count = len(reach.kinds)
    shares = ", ".join(
        f"{kind} on {100.0 * (reach.kinds == number).sum() / count:.0f} per cent"
        for number, kind in enumerate(KINDS)
        if (reach.kinds == number).any()
    )
    return (
        f"Where the white can come to rest, by the least demanding stroke: {shares} of the table."
    )


def _cells(raster: Raster) -> Cells:
    return Cells(_MM * raster.cell, raster.columns, raster.rows)
