"""The pictures of a strike's margins."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from stunline.planning.fault_kinds import MET_CODE
from stunline.planning.outcome_grid import OutcomeGrid
from stunline.shot.words import ball_words
from stunline.tasks.pictures import medium_of, nothing_to_show
from stunline.tasks.tell_margin import share_words
from stunline.tasks.titles import title_block
from stunline.units import degrees, millimetres

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing, Point
    from stunline.drawing.outcome_legend import MapWords
    from stunline.drawing.page import Medium
    from stunline.tasks.margin_of_strike import MarginResult

_MM = 1000.0
_NARROW = "forgives"  # before the ids of its marks, which stand in a page with others


def margin_picture(
    result: MarginResult, show: str = "face", date: str = "", on_paper: bool = False
) -> Drawing:
    """One of ``MARGIN_PICTURES``.

    Raises:
        InputError: nothing of it was played.
    """
    medium = medium_of(on_paper, result.file.units)
    if not result.has(show):
        raise nothing_to_show(show, "nothing of it was played", ("face", "paces", "cloud"))
    if show == "face":
        return _face(result, medium)
    if show == "paces":
        return _paces(result, medium)
    return _cloud(result, medium, date)


def narrow_face(result: MarginResult, theme: str) -> str:
    """The face's map as SVG for a column beside the plan; "" while nothing of it was played."""
    from stunline.drawing.svg import svg
    from stunline.drawing.theme import THEMES

    if not result.has("face"):
        return ""
    drawing = _face(result, medium_of(False, result.file.units), narrow=True)
    return svg(replace(drawing, name=_NARROW), THEMES[theme], embed_font=False)


def _face(result: MarginResult, medium: Medium, narrow: bool = False) -> Drawing:
    from stunline.drawing.face_map import FaceMap, map_of_face

    grid, strike, player = result.face, result.strike, result.asked.player
    assert grid is not None
    held = f"aim {_signed(degrees(strike.aim))}° held, pace {strike.pace:.2f} m/s"
    white = ball_words(result.file.position.names[0])
    heading = f"What each contact on the {white}'s face does"
    shown = FaceMap(
        result.file.position.table,
        (_MM * grid.across).tolist(),
        grid.codes.tolist(),
        (millimetres(strike.side), millimetres(strike.height)),
        (millimetres(player.side), millimetres(player.height)),
        _words(result, grid, heading, held),
    )
    return map_of_face(shown, medium, narrow=narrow)


def _paces(result: MarginResult, medium: Medium) -> Drawing:
    from stunline.drawing.pace_height_map import PaceHeightMap, map_of_paces

    grid, strike, player = result.paces, result.strike, result.asked.player
    assert grid is not None
    side = millimetres(strike.side)
    held = f"aim {_signed(degrees(strike.aim))}° held, " + (
        f"side {abs(side):.1f} mm {'right' if side > 0.0 else 'left'}" if side else "no side"
    )
    shown = PaceHeightMap(
        grid.across.tolist(),
        (_MM * grid.up).tolist(),
        grid.codes.tolist(),
        (strike.pace, millimetres(strike.height)),
        (player.pace * strike.pace, millimetres(player.height)),
        _words(result, grid, "What each pace and height does", held),
    )
    return map_of_paces(shown, medium)


def _words(result: MarginResult, grid: OutcomeGrid, heading: str, held: str) -> MapWords:
    from stunline.drawing.outcome_legend import WITHIN, MapWords

    study, player = result.study, result.asked.player
    notes = [""] * len(grid.words)
    if study.played:
        notes[MET_CODE] = f"{share_words(study.chance)} of the strokes"
        for kind in study.kinds():
            notes[study.words.index(kind.words)] = f"{share_words(kind.chance)} of the strokes"
    inner, outer = WITHIN
    return MapWords(
        result.file.title or "Untitled position",
        heading,
        held,
        grid.words,
        notes,
        "the strike that is meant",
        f"{player.title}: {inner} of the strokes inside the inner ring, {outer} inside the outer",
    )


def _cloud(result: MarginResult, medium: Medium, date: str) -> Drawing:
    from stunline.drawing.cloud_plan import CloudPicture, plan_of_cloud
    from stunline.shot.play import play

    grown, position = result.cloud, result.file.position
    assert grown is not None
    there = ~np.isnan(grown.rests[:, 0])
    met = grown.codes == MET_CODE
    goal = result.asked.goal
    block = title_block(position, date)
    told = f"{len(grown.codes):,} strokes of {result.asked.player.title.lower()}"
    picture = CloudPicture(
        play(position, result.strike),
        _points(_MM * grown.rests[there & met]),
        _points(_MM * grown.rests[there & ~met]),
        replace(block, table=f"{block.table}; {told}"),
        goal,
        frozenset({goal.meet.ball} if goal.meet else ()),
    )
    return plan_of_cloud(picture, medium)


def _points(places: np.ndarray) -> list[Point]:
    return [(x, y) for x, y in places.tolist()]


def _signed(angle: float) -> str:
    return f"{angle:.2f}".replace("-", "−")
