"""The pictures of a stroke that was really played."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stunline.shot.words import ball_words
from stunline.tasks.pictures import medium_of
from stunline.tasks.played_words import sentences, short_words
from stunline.tasks.titles import title_block
from stunline.units import millimetres

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing
    from stunline.drawing.page import Medium
    from stunline.drawing.played_plan import LikelyWay, PlayedPicture, SeenPlace
    from stunline.equipment.model import Point
    from stunline.tasks.played_stroke import PlayedResult

_DOTS = 1024  # contacts that are shown: more only blacken the face
_NARROW, _LAYER = "played", "played-way"  # before ids of marks that stand in a page with others


def played_picture(
    result: PlayedResult, show: str = "plan", date: str = "", on_paper: bool = False
) -> Drawing:
    """One of ``PLAYED_PICTURES``."""
    medium = medium_of(on_paper, result.file.units)
    if show == "face":
        return _face(result, medium)
    from stunline.drawing.played_plan import plan_of_played

    return plan_of_played(plan_picture(result, date), medium)


def plan_picture(result: PlayedResult, date: str = "") -> PlayedPicture:
    """What its plan shows."""
    from stunline.drawing.played_plan import PlayedPicture

    return PlayedPicture(
        result.meant,
        _likely(result),
        _seen(result),
        title_block(result.file.position, date),
        " ".join(sentences(result)),
    )


def narrow_face(result: PlayedResult, theme: str) -> str:
    """The face as SVG for a column beside the plan; "" where nothing explains what was seen."""
    from stunline.drawing.svg import svg
    from stunline.drawing.theme import THEMES

    if not result.found.explained:
        return ""
    drawing = _face(result, medium_of(False, result.file.units), narrow=True)
    return svg(replace(drawing, name=_NARROW), THEMES[theme], embed_font=False)


def played_layer(result: PlayedResult, theme: str) -> str:
    """The ways alone, as the layer of a plan on a screen: SVG in the table's mm."""
    from stunline.drawing.marks import Box, Drawing, Layer
    from stunline.drawing.played_plan import played_lines
    from stunline.drawing.svg import fragment
    from stunline.drawing.theme import THEMES

    table, picture = result.file.position.table, plan_picture(result)
    whole = Box(0.0, 0.0, millimetres(table.width), millimetres(table.length))
    marks = tuple(played_lines(picture))
    drawing = Drawing(marks, whole, 1.0, picture.words, name=_LAYER)
    return fragment(drawing, Layer.PATHS, THEMES[theme])


def _likely(result: PlayedResult) -> list[LikelyWay]:
    from stunline.drawing.played_plan import LikelyWay

    if not result.found.explained:
        return [LikelyWay("the nearest", result.shot(result.found.nearest))]
    several = len(result.ways) > 1
    shown = result.ways if several else (result.whole,)
    return [LikelyWay(short_words(result, way), result.shot(way.best)) for way in shown]


def _seen(result: PlayedResult) -> list[SeenPlace]:
    from stunline.drawing.played_plan import SeenPlace

    one, white = result.happened, ball_words(result.file.position.names[0])
    ball = ball_words(result.found.asked.object_ball)
    places = (
        (f"{white} seen at rest", one.white_rest, True),
        (f"{white} seen passing", one.white_passed, False),
        (f"{ball} seen at rest", one.object_rest, True),
    )
    return [SeenPlace(words, _mm(at), rests) for words, at, rests in places if at is not None]


def _face(result: PlayedResult, medium: Medium, narrow: bool = False) -> Drawing:
    from stunline.drawing.face_cloud import FaceCloud, cloud_on_face
    from stunline.drawing.outcome_legend import WITHIN, MapWords

    found, player = result.found, result.found.asked.player
    step = max(1, len(found.strokes) // _DOTS)
    rows = found.rows[::step]
    contacts = [(1000.0 * side, 1000.0 * height) for height, side in rows[:, 2:4].tolist()]
    white = ball_words(result.file.position.names[0])
    inner, outer = WITHIN
    words = MapWords(
        result.file.title or "Untitled position",
        f"Where the {white} was likely struck",
        " ".join(sentences(result)).split(". ")[0].rstrip("."),
        ("a likely contact: each as likely as another",),
        (),
        "the contact that was meant",
        f"{player.title}: {inner} of usual strokes inside the inner ring, {outer} inside the outer",
    )
    meant = result.meant.strike
    shown = FaceCloud(
        result.file.position.table,
        contacts,
        (millimetres(meant.side), millimetres(meant.height)),
        (millimetres(player.side), millimetres(player.height)),
        words,
    )
    return cloud_on_face(shown, medium, narrow=narrow)


def _mm(place: Point) -> Point:
    return millimetres(place[0]), millimetres(place[1])
