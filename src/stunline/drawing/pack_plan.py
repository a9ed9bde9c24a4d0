"""The plan of a pack that was opened many times: a dot for every place at which the white ended."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import balls
from stunline.drawing.foot import Foot
from stunline.drawing.framed_plan import framed_plan
from stunline.drawing.ground import Ground
from stunline.drawing.labels import LabelWish, Rank
from stunline.drawing.legend import END_RADIUS
from stunline.drawing.marks import Box, Circle, Drawing, Layer, Mark, Point, Role, box_round
from stunline.drawing.page import SCREEN, Medium, Page, page_for
from stunline.drawing.plan import action_of, kinds_of, placed_labels
from stunline.drawing.plan_labels import ball_wishes, obstacles_of, spot_wishes
from stunline.drawing.table_marks import table_marks
from stunline.drawing.title_block import TitleBlock

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

# More dots than this on one plan only blacken it.
MOST_DOTS = 1_000
# The ends nearest to each other that are looked at, out of a hundred: a few far ones would make
# the picture small.
_SHOWN = 0.98
_HALF = 0.5
# The whole table is shown where so much of its length and width would be seen anyway.
_NEARLY_WHOLE = 0.65


@dataclass(frozen=True, slots=True)
class PackPicture:
    """What the plan shows.

    Attributes:
        shot: one of the plays, its pack as the file has it
        ends: where the white ended, in the order of the plays [mm]
        block: the title block's words
        met: balls of the pack that the white met first, which are named
    """

    shot: Shot
    ends: Sequence[Point]
    block: TitleBlock
    met: frozenset[str] = frozenset()


def plan_of_pack(picture: PackPicture, medium: Medium = SCREEN, name: str = "plan") -> Drawing:
    """The pack, the white's way to it, and its ends."""
    shot = picture.shot
    page = _page_of(picture, medium)
    marks = list(_marks(picture, page))
    white = story.white_words(shot)
    foot = Foot(story.playing_area(shot), picture.block, kinds_of(marks), 0.0, white)
    return framed_plan(page, marks, foot, _described(picture, page), name)


def middle_of(ends: Sequence[Point]) -> tuple[Point, float]:
    """Median place of the ends, and the radius round it that holds half of them. [mm]"""
    across, up = (sorted(axis)[len(ends) // 2] for axis in zip(*ends, strict=True))
    away = sorted(math.dist((across, up), end) for end in ends)
    return (across, up), away[math.ceil(_HALF * len(away)) - 1]


def _page_of(picture: PackPicture, medium: Medium) -> Page:
    """The action, or the whole table where that is hardly smaller."""
    table = story.table_box(picture.shot)
    close = page_for(_action(picture), table, medium)
    seen = close.window.within(table)
    shares = (seen.width / table.width, seen.height / table.height)
    return page_for(table, table, medium) if min(shares) >= _NEARLY_WHOLE else close


def _action(picture: PackPicture) -> Box:
    """The balls of the shot until the pack is met, and nearly all ends. [mm]"""
    shot = picture.shot
    boxes = [action_of(shot, _met_at(shot))]
    if picture.ends:
        middle, _ = middle_of(picture.ends)
        nearest = sorted(picture.ends, key=lambda end: math.dist(middle, end))
        shown = nearest[: math.ceil(_SHOWN * len(nearest))]
        boxes.append(story.box_of(list(shown), story.radius(shot, story.cue_ball(shot))))
    return box_round(boxes).within(story.table_box(shot))


def _met_at(shot: Shot) -> float:
    """When the white has met the ball that it meets second, or first. [s]"""
    met = [one.time for one in (*story.contacts(shot)[:1], story.next_meeting(shot)) if one]
    return max(met, default=shot.duration)


def _marks(picture: PackPicture, page: Page) -> Iterator[Mark]:
    shot = picture.shot
    contact = next(iter(story.contacts(shot)), None)
    lines = [
        path_marks.aim_line(shot, contact),
        *path_marks.white_way(shot, 0.0, _met_at(shot), "white"),
    ]
    ends = list(_ends(picture, page))
    met = picture.met | frozenset({contact.ball} if contact else ())
    yield from table_marks(shot.position.table, page, shot.position.coefficients.pockets)
    yield from lines
    yield from balls(shot, page, met)
    yield from ends
    rings = list(path_marks.ghost(shot, page, contact)) if contact else []
    yield from rings
    ground = Ground(obstacles_of(shot, lines, rings), page)
    wishes = [*_ends_wish(picture), *ball_wishes(shot, page, met), *spot_wishes(shot, page)]
    yield from placed_labels(wishes, ground)


def _ends(picture: PackPicture, page: Page) -> Iterator[Mark]:
    shown = [end for end in picture.ends[:MOST_DOTS] if page.window.holds(end)]
    for number, end in enumerate(shown):
        yield Circle(f"end-{number}", Layer.PATHS, Role.END, end, page.mm(END_RADIUS))
    if len(picture.ends) > 1:
        middle, radius = middle_of(picture.ends)
        yield Circle("half", Layer.PATHS, Role.HALF, middle, radius)


def _ends_wish(picture: PackPicture) -> Iterator[LabelWish]:
    """What the dots are, short enough to stand on the bed; the legend says the rest."""
    if len(picture.ends) < 2:
        return
    middle, radius = middle_of(picture.ends)
    white = story.white_words(picture.shot)
    count = len(picture.ends)
    plays = f"{count:,} plays" if count <= MOST_DOTS else f"{MOST_DOTS:,} of {count:,} plays"
    words = f"{white} rests, {plays}"
    yield LabelWish("label-ends", words, middle, radius, 0.5 * math.pi, rank=Rank.REST)


def _described(picture: PackPicture, page: Page) -> str:
    white = story.white_words(picture.shot)
    if not picture.ends:
        return f"The pack opened; the {white} ends on the table in no play."
    (x, y), radius = middle_of(picture.ends)
    near, _, _, left = picture.shot.position.table.words.cushions
    return (
        f"The pack opened {len(picture.ends)} times. Half of the time the {white} ends within "
        f"{page.figure(radius)} {page.unit} of a place {page.figure(x)} {page.unit} from the "
        f"{left} and {page.figure(y)} {page.unit} from the {near} cushion."
    )
