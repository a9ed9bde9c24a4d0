"""The white's face at full size: where the tip meets it, and where the cue then points.

Frame: the ball's centre is the origin, ``x`` is side (to the right as the player sees it) and
``y`` is height, both perpendicular to the cue; the face is seen along the cue, raised or not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, degrees, hypot, sqrt
from typing import TYPE_CHECKING

from stunline.drawing.extent import extent
from stunline.drawing.face_numbers import StrikePoint, number, numbers
from stunline.drawing.legend import sheet_line, sheet_text
from stunline.drawing.marks import (
    Anchor,
    Box,
    Circle,
    Drawing,
    Layer,
    Line,
    Mark,
    Point,
    Role,
    Size,
)
from stunline.drawing.page import SCREEN, Medium, Page, sheet_margin
from stunline.drawing.story import MILLIMETRES
from stunline.drawing.typeface import CAPITAL_HEIGHT

if TYPE_CHECKING:
    from stunline.equipment.model import Table
    from stunline.shot.position import Strike

GRID = 5.0  # between the grid's lines [mm]
FIGURE = 10.0  # the grid's figures stand so far from the centre lines [mm]
# Width of a tip, by game, for the picture alone. Common practice, no source. [mm]
TIP_WIDTHS = {"American pool": 13.0, "carom": 12.0}
TIP_WIDTH = 9.5  # of the other games [mm]
ALIKE = 0.05  # strikes whose contacts are nearer than this are one on the picture [mm]
CROSS_ARM = 6.0  # of the contact's cross [px]
AXIS_DOT = 2.2  # radius of the cue's axis [px]
FIGURE_GAP = 6.0  # from the ball to the grid's figures [px]
ROW = 20.0  # of the caption [px]
FIRST_ROW = 44.0  # from the ball to the middle of the caption's first row [px]
SAMPLE = 24.0  # width of a caption row's sample [px]
CAPTION_GAP = 8.0  # between it and the words [px]
RAISED = 0.5  # a cue raised by less is called level [°]

LengthWords = Callable[[float], str]


def in_mm(length_mm: float) -> str:
    """ "10.5 mm": a contact is told to a tenth."""
    return f"{_tenths(length_mm)} mm"


@dataclass(frozen=True, slots=True)
class FaceWords:
    """A strike's contact in words.

    Attributes:
        contact: "contact 10.5 mm above centre, no side"
        axis: "cue axis 14.1 mm above"
        safe: "advised to 11 mm from the centre"
        miscue: "miscue past 13.1 mm"
        cue: "level cue", "cue raised 5°, seen along the cue"
    """

    contact: str
    axis: str
    safe: str
    miscue: str
    cue: str


def cue_axis(contact: Point, radius: float, tip_radius: float) -> Point:
    """Where the cue's axis crosses the face, when the tip meets the ball at ``contact``.

    The tip's dome is a sphere about a point of the axis. Two spheres touch on the line
    between their centres, so seen along the cue the dome's centre lies in the contact's
    direction from the ball's centre, but further out: the centres are R + r apart and the
    contact R from the ball's, so

        axis = contact · (1 + r/R).

    Valid while the contact lies on the dome, |contact|·r/R < half the tip's width.

    Args:
        contact: side and height of the contact [mm]
        radius: R, of the ball [mm]
        tip_radius: r, of the dome [mm]
    """
    stretch = 1.0 + tip_radius / radius
    return contact[0] * stretch, contact[1] * stretch


def face_words(strike: Strike, table: Table, lengths: LengthWords = in_mm) -> FaceWords:
    """The strike's contact in words; ``lengths`` words a length given in millimetres."""
    radius, cue = _radius(table), table.cue
    contact = _contact(strike)
    axis = cue_axis(contact, radius, cue.tip_radius * MILLIMETRES)
    raised = degrees(strike.elevation)
    return FaceWords(
        contact=f"contact {_place_words(contact, lengths, ' centre')}",
        axis=f"cue axis {_place_words(axis, lengths, '')}",
        safe=f"advised to {lengths(cue.safe_offset * radius)} from the centre",
        miscue=f"miscue past {lengths(cue.miscue_offset * radius)}",
        cue=f"cue raised {raised:.0f}°, seen along the cue" if raised >= RAISED else "level cue",
    )


def face_of(
    strike: Strike,
    table: Table,
    medium: Medium = SCREEN,
    with_words: bool = True,
    lengths: LengthWords = in_mm,
    name: str = "face",
) -> Drawing:
    """The white's face with one contact: 1 : 1 on paper, whatever the medium.

    Args:
        strike: as played
        table: gives the ball, the tip and the limits
        medium: sizes of letters; the ball stays full size
        with_words: whether what the marks are stands below
        lengths: words a length given in millimetres
        name: goes before every id in the SVG
    """
    return face_of_rungs([("", strike)], table, medium, with_words, lengths, name)


def face_of_rungs(
    rungs: Sequence[tuple[str, Strike]],
    table: Table,
    medium: Medium = SCREEN,
    with_words: bool = True,
    lengths: LengthWords = in_mm,
    name: str = "face",
) -> Drawing:
    """The same face with the contacts of several strikes, each with its number outside the ball.

    Where contacts differ the tip is left out: several would hide each other.

    Args:
        rungs: number and strike; strikes with one contact share a mark
        table: as for `face_of`, like all that follows
    """
    radius = _radius(table)
    page = Page(Box(-radius, -radius, radius, radius), 1.0, medium)
    points = _points(rungs)
    numbered = list(numbers(points, page)) if len(points) > 1 else []
    rows = _caption(rungs, points, table, lengths) if with_words else []
    marks = [
        *_ball(radius, table),
        *_figures(radius, page),
        *numbered,
        *_limits(radius, table),
        *(mark for point in points[:1] if not numbered for mark in _tip(point, table, page)),
        *(mark for point in points for mark in _cross(point, page)),
        *(mark for place, row in enumerate(rows) for mark in _row(row, place, page)),
    ]
    words = face_words(rungs[0][1], table, lengths)
    title = "The white's face" if len(points) > 1 else f"The white's face: {words.contact}"
    return Drawing(
        marks=tuple(marks),
        view=extent(marks, page.scale).grown(page.mm(sheet_margin(medium))),
        scale=page.scale,
        title=title,
        description=". ".join(row.words for row in rows) or words.contact,
        name=name,
        pixel=medium.pixel,
    )


@dataclass(frozen=True, slots=True)
class _Row:
    """A line of the caption with the sample that stands before it: a role, or a number."""

    sample: Role | str
    words: str
    bold: bool = False


def _radius(table: Table) -> float:
    return table.balls[table.cue_ball].radius * MILLIMETRES


def _contact(strike: Strike) -> Point:
    return strike.side * MILLIMETRES, strike.height * MILLIMETRES


def _points(rungs: Sequence[tuple[str, Strike]]) -> list[StrikePoint]:
    """Every contact once, with the labels of all strikes that share it."""
    found: list[tuple[Point, list[str]]] = []
    for label, strike in rungs:
        at = _contact(strike)
        same = (labels for other, labels in found if _apart(other, at) < ALIKE)
        labels = next(same, None)
        if labels is None:
            found.append((at, [label]))
        else:
            labels.append(label)
    return [StrikePoint(", ".join(filter(None, labels)), at) for at, labels in found]


def _ball(radius: float, table: Table) -> Iterator[Mark]:
    yield Circle("ball", Layer.TABLE, Role.FACE, (0.0, 0.0), radius)
    count = ceil(radius / GRID) - 1
    for line in sorted(range(-count, count + 1), key=lambda line: (line == 0, line)):
        place = line * GRID
        half = sqrt(radius**2 - place**2)
        role = Role.FACE_GRID if line else Role.FACE_CENTRE
        yield Line(f"upright-{line + count}", Layer.TABLE, role, (place, -half), (place, half))
        yield Line(f"level-{line + count}", Layer.TABLE, role, (-half, place), (half, place))


def _limits(radius: float, table: Table) -> Iterator[Circle]:
    limits = ((Role.SAFE, table.cue.safe_offset), (Role.MISCUE, table.cue.miscue_offset))
    for role, offset in limits:
        name = f"{role.value}-limit"
        yield Circle(name, Layer.CONTACTS, role, (0.0, 0.0), offset * radius)


def _tip(point: StrikePoint, table: Table, page: Page) -> Iterator[Circle]:
    """The tip's width and the cue's axis."""
    axis = cue_axis(point.at, _radius(table), table.cue.tip_radius * MILLIMETRES)
    width = TIP_WIDTHS.get(table.game, TIP_WIDTH)
    yield Circle("tip", Layer.BALLS, Role.TIP, axis, width / 2)
    yield Circle("axis", Layer.CONTACTS, Role.CUE_AXIS, axis, page.mm(AXIS_DOT))


def _cross(point: StrikePoint, page: Page) -> Iterator[Line]:
    (x, y), arm = point.at, page.mm(CROSS_ARM)
    for name, across, up in (("level", arm, 0.0), ("upright", 0.0, arm)):
        ends = (x - across, y - up), (x + across, y + up)
        ident = f"contact-{point.ident}-{name}"
        yield Line(ident, Layer.CONTACTS, Role.STRIKE_POINT, *ends)


def _figures(radius: float, page: Page) -> Iterator[Mark]:
    """The grid's figures, outside the ball: heights to its left, sides below it."""
    step, role = FIGURE * page.scale, Role.SHEET_NOTE
    heights = (("above", 1, f"+{FIGURE:.0f}"), ("centre", 0, "0"), ("below", -1, f"−{FIGURE:.0f}"))
    for name, sign, words in heights:
        at = (-FIGURE_GAP, -(radius * page.scale + sign * step))
        yield sheet_text(page, f"height-{name}", role, at, words, anchor=Anchor.END)
    down = FIGURE_GAP + Size.SMALL.value * CAPITAL_HEIGHT / 2
    for name, sign in (("left", -1), ("right", 1)):
        at = (radius * page.scale + sign * step, down)
        words = f"{FIGURE:.0f} {name}"
        yield sheet_text(page, f"side-{name}", role, at, words, anchor=Anchor.MIDDLE)


def _caption(
    rungs: Sequence[tuple[str, Strike]],
    points: Sequence[StrikePoint],
    table: Table,
    lengths: LengthWords,
) -> list[_Row]:
    words = face_words(rungs[0][1], table, lengths)
    if len(points) == 1:
        rows = [_Row(Role.STRIKE_POINT, words.contact, bold=True), _Row(Role.TIP, words.axis)]
    else:
        rows = [_Row(point.label, _rung_words(point.at, table, lengths), True) for point in points]
    return [
        *rows,
        _Row(Role.SAFE, words.safe),
        _Row(Role.MISCUE, words.miscue),
        _Row(Role.FACE_GRID, f"grid of {in_mm(GRID)}; {words.cue}"),
    ]


def _row(row: _Row, place: int, page: Page) -> Iterator[Mark]:
    down, middle = FIRST_ROW + place * ROW, SAMPLE / 2
    at = page.below(middle, down)
    if isinstance(row.sample, str):
        yield from number(f"caption-{place}", row.sample, at, page)
    else:
        yield from _sample(row.sample, f"caption-{place}", at, down, page)
    role = Role.SHEET_TEXT if row.bold else Role.SHEET_NOTE
    words = (SAMPLE + CAPTION_GAP, down)
    yield sheet_text(page, f"caption-{place}-words", role, words, row.words, bold=row.bold)


def _sample(role: Role, ident: str, at: Point, down: float, page: Page) -> Iterator[Mark]:
    (x, y), arm = at, page.mm(CROSS_ARM)
    if role is Role.STRIKE_POINT:
        yield Line(f"{ident}-level", Layer.TITLE, role, (x - arm, y), (x + arm, y))
        yield Line(f"{ident}-upright", Layer.TITLE, role, (x, y - arm), (x, y + arm))
    elif role is Role.TIP:
        yield Circle(f"{ident}-tip", Layer.TITLE, role, at, arm)
        yield Circle(f"{ident}-axis", Layer.TITLE, Role.CUE_AXIS, at, page.mm(AXIS_DOT))
    else:
        yield sheet_line(page, f"{ident}-line", role, (0.0, down), (SAMPLE, down))


def _rung_words(at: Point, table: Table, lengths: LengthWords) -> str:
    axis = cue_axis(at, _radius(table), table.cue.tip_radius * MILLIMETRES)
    place = _place_words(at, lengths, " centre").removesuffix(", no side")
    return f"{place}; axis {_place_words(axis, lengths, '')}"


def _place_words(at: Point, lengths: LengthWords, centre: str) -> str:
    """ "10.5 mm above centre, no side", "at centre height, 3 mm right"."""
    side, height = at
    up = "at centre height"
    if round(abs(height), 1) > 0:
        up = f"{lengths(abs(height))} {'above' if height > 0 else 'below'}{centre}"
    if round(abs(side), 1) == 0:
        return f"{up}, no side" if centre else up
    return f"{up}, {lengths(abs(side))} {'right' if side > 0 else 'left'}"


def _tenths(length_mm: float) -> str:
    return f"{length_mm:.1f}".removesuffix(".0")


def _apart(one: Point, two: Point) -> float:
    return hypot(one[0] - two[0], one[1] - two[1])
