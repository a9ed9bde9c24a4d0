"""The plan of a ladder: the white's ways at every rung, and the strip below it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import balls
from stunline.drawing.doubt_marks import DoubtPicture, doubt_marks
from stunline.drawing.foot import Foot, foot_height, foot_marks
from stunline.drawing.framed_plan import PLAN_LAYERS
from stunline.drawing.ground import Ground
from stunline.drawing.ladder_strip import rung_labels, strip_of_ladder
from stunline.drawing.marks import Drawing, Mark, box_round
from stunline.drawing.narrow_bands import strip_height
from stunline.drawing.page import SCREEN, Medium, Page, page_for
from stunline.drawing.plan import (
    WORTH_SHRINKING,
    action_of_all,
    fixed_words,
    kinds_of,
    placed_labels,
    title_block_of,
)
from stunline.drawing.plan_labels import obstacles_of
from stunline.drawing.rungs import (
    LadderPicture,
    RungPicture,
    met_balls,
    other_starts,
    rung_lines,
    rung_rings,
    rung_wishes,
)
from stunline.drawing.strip import strip_marks, strip_words
from stunline.drawing.strip_layout import SecondRuler
from stunline.drawing.table_marks import table_marks
from stunline.drawing.title_block import TitleBlock

if TYPE_CHECKING:
    from stunline.shot.ladder import Ladder

STRIP_GAP = 26.0  # between the foot of the plan and the strip [px]

__all__ = [
    "LadderPicture",
    "RungPicture",
    "plan_of_ladder",
    "plan_of_rungs",
    "rung_labels",
    "strip_of_ladder",
]


def plan_of_ladder(
    ladder: Ladder,
    block: TitleBlock | None = None,
    second: SecondRuler | None = None,
    medium: Medium = SCREEN,
    with_strip: bool = True,
    numbered: bool = False,
    doubt: DoubtPicture | None = None,
) -> Drawing:
    """The plan of a ladder as it was played.

    Args:
        ladder: its rungs, bands and changes
        block: the title block's words; without it those of the position, undated
        second: the strip's values in another unit, such as lengths
        medium: what it is drawn for
        with_strip: whether the strip stands below the plan, where there is one
        numbered: whether the rungs carry ringed numbers, on the plan and on the strip
        doubt: how far their ends may be off, to be drawn under them
    """
    rungs = tuple(
        RungPicture(label, rung.shot, rung.outcome.words())
        for label, rung in zip(rung_labels(ladder), ladder.rungs, strict=True)
    )
    block = block or title_block_of(rungs[0].shot)
    strip = strip_of_ladder(ladder, second, numbered) if with_strip else None
    picture = LadderPicture(rungs, block, strip, numbered=numbered, doubt=doubt)
    return plan_of_rungs(picture, medium=medium)


def plan_of_rungs(picture: LadderPicture, name: str = "plan", medium: Medium = SCREEN) -> Drawing:
    """The plan of several shots that share their balls, with the strip below."""
    first = picture.rungs[0].shot
    page = _page_of(picture, medium)
    marks = [*doubt_marks(picture.doubt), *_plan_marks(picture, page)]
    shown = picture.rungs[picture.chosen or 0].shot
    tick = path_marks.tick_interval(story.told_until(shown))
    white = story.white_words(first)
    words = picture.doubt.words if picture.doubt is not None else ""
    foot = Foot(story.playing_area(first), picture.block, kinds_of(marks), tick, white, words)
    marks += foot_marks(page, foot)
    height = foot_height(page, foot)
    if picture.strip is not None:
        origin = page.below(0.0, height + STRIP_GAP)
        marks += strip_marks(picture.strip, origin, page.scale, page.width)
        height += STRIP_GAP + strip_height(picture.strip, page.width)
    return Drawing(
        marks=tuple(marks),
        view=page.view(height),
        scale=page.scale,
        title=picture.block.title,
        description=_described(picture),
        windows=dict.fromkeys(PLAN_LAYERS, page.window),
        name=name,
        pixel=medium.pixel,
    )


def _page_of(picture: LadderPicture, medium: Medium) -> Page:
    """The action; with all places where the ends may be, if it does not become much smaller."""
    table = story.table_box(picture.rungs[0].shot)
    action = action_of_all(rung.shot for rung in picture.rungs)
    page = page_for(action, table, medium)
    off = picture.doubt.box() if picture.doubt is not None else None
    if off is None:
        return page
    wide = page_for(box_round([action, off]).within(table), table, medium)
    return wide if wide.denominator <= page.denominator * WORTH_SHRINKING else page


def _plan_marks(picture: LadderPicture, page: Page) -> Iterator[Mark]:
    first = picture.rungs[0].shot
    lines, rings = list(rung_lines(picture, page)), list(rung_rings(picture, page))
    whites = list(other_starts(picture.rungs))
    yield from table_marks(first.position.table, page, first.position.coefficients.pockets)
    yield from lines
    yield from whites
    yield from balls(first, page, met_balls(picture.rungs))
    yield from rings
    ground = Ground(obstacles_of(first, lines, rings, whites), page)
    contact = next(iter(story.contacts(first)), None)
    words, ground = fixed_words(first, lines, ground, contact.ball if contact else None)
    yield from words.marks
    yield from placed_labels(list(rung_wishes(picture, page)), ground)


def _described(picture: LadderPicture) -> str:
    said = "; ".join(f"{rung.label}: {rung.words}" for rung in picture.rungs if rung.words)
    parts = [f"The same shot {len(picture.rungs)} times with one thing changed."]
    parts += [f"{said}."] if said else []
    if picture.strip is not None:
        parts.append(strip_words(picture.strip))
    return " ".join(parts)
