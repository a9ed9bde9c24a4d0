"""A sheet's pictures: the plan in every window that it may take, contact, face, strip."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from stunline.drawing.contact_figure import RADIUS, SCALE, contact_of_shot
from stunline.drawing.doubt_marks import DoubtPicture, doubt_of_ladder, doubt_of_shot
from stunline.drawing.face import face_of_rungs
from stunline.drawing.ladder_plan import plan_of_ladder
from stunline.drawing.ladder_strip import strip_of_ladder
from stunline.drawing.marks import Drawing
from stunline.drawing.page import PIXELS_PER_MM, Medium
from stunline.drawing.plan import plan_of_shot
from stunline.drawing.strip import drawing_of_strip
from stunline.drawing.title_block import TitleBlock
from stunline.paper.sheet_format import FRAME, Format
from stunline.paper.sheet_subject import Subject

Layout = Literal["wide", "upright", "large", "large-upright"]

CONTACT_SCALE = 3.0  # the magnified contact is 1 : 3 on paper
WORDS_BESIDE = 46.0  # the face's words beside it where there is no contact [mm]
MOST_TALLER = 1.4  # than the lowest window with the same scale
MOST_TALLER_ALONE = 1.7  # the same without a ladder, whose rows leave no room
SMALLEST = 2.5  # plans this much smaller than the largest are not tried, but for the very smallest
# Heights that the plan's window may take. [mm]
WIDE_HEIGHTS = (52.0, 60.0, 70.0, 82.0, 96.0, 112.0)
UPRIGHT_HEIGHTS = (80.0, 94.0, 108.0, 124.0, 140.0)
LARGE_BESIDE = 88.0  # for face and contact beside an upright plan in large print [mm]
LARGE_UPRIGHT_HEIGHTS = (90.0, 110.0, 130.0, 150.0, 165.0)
LARGE_HEIGHTS = (50.0, 60.0, 70.0, 80.0, 92.0, 106.0)


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan in one of its windows.

    Attributes:
        layout: which arrangement of the page it belongs to
        drawing: the picture
        denominator: n of its scale 1 : n
    """

    layout: Layout
    drawing: Drawing
    denominator: float


@dataclass(frozen=True, slots=True)
class Figures:
    """The pictures of a sheet.

    Attributes:
        plans: the best first: the largest scale, then the tallest window
        face: the white's face, full size
        contact: None where no ball is met
        strip: None without a ladder over numbers
    """

    plans: tuple[Plan, ...]
    face: Drawing
    contact: Drawing | None
    strip: Drawing | None


def figures(subject: Subject, block: TitleBlock, form: Format) -> Figures:
    """Every picture.

    Args:
        subject: the shot, or the ladder
        block: the plan's title, for people who can't see it
        form: the paper and the sizes on it
    """
    medium = form.medium(0.0, 0.0)
    face = face_of_rungs(
        [(str(number), shot.strike) for number, shot in enumerate(subject.shots, 1)],
        subject.shot.position.table,
        medium,
        with_words=False,
    )
    contact = contact_of_shot(
        subject.shot,
        medium,
        with_words=False,
        scale=CONTACT_SCALE,
        radius=RADIUS * SCALE / (CONTACT_SCALE * form.pixel),
    )
    plans = sorted(
        _plans(subject, block, form, (face, contact)),
        key=lambda plan: (plan.denominator, -plan.drawing.height),
    )
    worth = [plan for plan in plans[:-1] if plan.denominator <= SMALLEST * plans[0].denominator]
    return Figures((*worth, plans[-1]), face, contact, _strip(subject, form))


def in_mm(drawing: Drawing) -> tuple[float, float]:
    """Its width and height on paper. [mm]"""
    return drawing.width / PIXELS_PER_MM, drawing.height / PIXELS_PER_MM


def _plans(
    subject: Subject, block: TitleBlock, form: Format, beside: tuple[Drawing, Drawing | None]
) -> Iterator[Plan]:
    face, contact = beside
    face_width = in_mm(face)[0]
    both = face_width + form.gutter + (in_mm(contact)[0] if contact else WORDS_BESIDE)
    windows: list[tuple[Layout, float, tuple[float, ...]]] = [
        ("wide", form.width - form.gutter - face_width, WIDE_HEIGHTS),
        ("upright", form.width - form.gutter - both, UPRIGHT_HEIGHTS),
    ]
    if form.is_large:
        windows = [
            ("large", form.width, LARGE_HEIGHTS),
            ("large-upright", form.width - LARGE_BESIDE, LARGE_UPRIGHT_HEIGHTS),
        ]
    taller = MOST_TALLER if subject.ladder is not None else MOST_TALLER_ALONE
    for layout, width, heights in windows:
        least: dict[float, float] = {}  # the lowest window of each scale
        for height in heights:
            plan = _plan(layout, subject, block, form.medium(width, height))
            # A window that is much larger and shows nothing larger only takes room.
            if height <= taller * least.setdefault(plan.denominator, height):
                yield plan


def _plan(layout: Layout, subject: Subject, block: TitleBlock, medium: Medium) -> Plan:
    if subject.ladder is not None:
        drawing = plan_of_ladder(
            subject.ladder,
            block,
            medium=medium,
            with_strip=False,
            numbered=True,
            doubt=_doubt(subject),
        )
    else:
        drawing = plan_of_shot(subject.shot, block, medium=medium, doubt=_doubt(subject))
    # A scale's n has two digits at most behind the point.
    denominator = round(PIXELS_PER_MM / (drawing.scale * medium.pixel), 2)
    return Plan(layout, drawing, denominator)


def _doubt(subject: Subject) -> DoubtPicture | None:
    """Ribbon and resting region of a shot, the ends' regions of a ladder."""
    if not subject.bands:
        return None
    gauging = subject.bands[0].doubt.gauging
    words = "9 of 10 tables" + ("" if gauging is None else f", gauged {gauging.date}".rstrip())
    if subject.ladder is not None:
        return doubt_of_ladder(subject.bands, words)
    return doubt_of_shot(subject.bands[0], words)


def _strip(subject: Subject, form: Format) -> Drawing | None:
    if subject.ladder is None:
        return None
    strip = strip_of_ladder(subject.ladder, numbered=True)
    if strip is None:
        return None
    width = form.width * PIXELS_PER_MM / form.pixel - FRAME
    return drawing_of_strip(strip, width, medium=form.medium(0.0, 0.0))
