"""Pages at full size, to lay on the cloth: a guide, the tiles, marking strips, as one PDF."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib.resources import files

from stunline.drawing.marks import Drawing
from stunline.drawing.svg import svg
from stunline.drawing.theme import PAPER
from stunline.drawing.typesetting import typeset
from stunline.paper.full_size_frame import Heading
from stunline.paper.full_size_guide import guide_frame, guide_map, guide_values
from stunline.paper.full_size_marks import ball_marks, balls, bed_marks, line_marks, meeting_marks
from stunline.paper.full_size_page import Scene, tile_drawing
from stunline.paper.full_size_region import Around, bed, liked, needed, together
from stunline.paper.full_size_registration import registration, tape_marks
from stunline.paper.full_size_sheets import PAPERS, Paper, Sheet
from stunline.paper.full_size_strips import Pair, pairs, strip_drawings
from stunline.paper.full_size_subject import Subject, reaching_next_balls
from stunline.paper.full_size_tiles import Tiling, Wanted, tilings
from stunline.paper.full_size_words import segments_of

PAGES_FOR_NEXT = 1  # that the next ball is worth, where it lies beyond the first stretch
FEW = 6  # pages: up to so many, the white's start is printed as well when nothing is asked for


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is asked for.

    Attributes:
        paper: a name of ``PAPERS``
        around: what is printed; None: the contact, and the white's start where that is few pages
        strips: pairs of balls; none: those that a coach sets from one another
    """

    paper: str = "a4"
    around: Around | None = None
    strips: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class FullSize:
    """Full-size pages.

    Attributes:
        scene: what is on the cloth, and the tiles that show it
        around: what is printed, decided
        strips: the pairs of the marking strips
        drawings: the tiles' and then the strips', each a whole sheet
        pdf: everything
        pages: how many
    """

    scene: Scene
    around: Around
    strips: tuple[Pair, ...]
    drawings: tuple[Drawing, ...]
    pdf: bytes
    pages: int


def full_size(subject: Subject, wishes: Wishes, heading: Heading) -> FullSize:
    """The pages.

    Raises:
        InputError: a strip that can't be made.
    """
    paper = PAPERS[wishes.paper]
    long = Sheet(paper, landscape=True)
    chosen = pairs(subject, wishes.strips, long)
    around, tiling = _printed(subject, wishes.around, paper)
    subject, tiling = _with_next_balls(subject, tiling, around, paper)
    scene = _scene(subject, tiling)
    tiles = [tile_drawing(scene, tile, heading) for tile in tiling.tiles]
    drawings = (*tiles, *strip_drawings(chosen, long, heading))
    pdf = _typeset(scene, heading, drawings, len(tiles))
    return FullSize(scene, around, chosen, drawings, pdf, 1 + len(drawings))


def _printed(subject: Subject, around: Around | None, paper: Paper) -> tuple[Around, Tiling]:
    if around is not None:
        return around, _lying(subject, around, paper)
    whole = _lying(subject, "all", paper)
    if len(whole.tiles) <= FEW or subject.contact is None:
        return "all", whole
    return "contact", _lying(subject, "contact", paper)


def _lying(subject: Subject, around: Around, paper: Paper) -> Tiling:
    wanted = Wanted(needed(subject, around), liked(subject, around), together(subject))
    return tilings(wanted, bed(subject), paper)


def _with_next_balls(
    subject: Subject, tiling: Tiling, around: Around, paper: Paper
) -> tuple[Subject, Tiling]:
    """The same with the next balls that lie a little further, where that is a page more."""
    further = reaching_next_balls(subject)
    if all(one is two for one, two in zip(further.ways, subject.ways, strict=True)):
        return subject, tiling
    larger = _lying(further, around, paper)
    few = len(larger.tiles) <= len(tiling.tiles) + PAGES_FOR_NEXT
    return (further, larger) if few else (subject, tiling)


def _scene(subject: Subject, tiling: Tiling) -> Scene:
    printed = balls(subject, tiling)
    marks = [
        *bed_marks(subject, tiling),
        *line_marks(subject),
        *ball_marks(printed),
        *meeting_marks(subject, tiling),
    ]
    found = registration(subject, tiling, printed, segments_of(marks))
    return Scene(subject, tiling, (*marks, *tape_marks(found.tape)), printed, found)


def _typeset(scene: Scene, heading: Heading, drawings: Sequence[Drawing], tiles: int) -> bytes:
    paper = scene.tiling.sheet.paper
    pictures = {
        "guide-frame": guide_frame(paper, heading),
        "guide-map": guide_map(scene),
        **{drawing.name: drawing for drawing in drawings},
    }
    values = {
        **guide_values(scene, heading, tiles),
        "sheets": [
            {
                "name": drawing.name,
                "width": drawing.view.width,
                "height": drawing.view.height,
                "told": drawing.description,
            }
            for drawing in drawings
        ],
    }
    texts = {name: svg(drawing, PAPER, embed_font=False) for name, drawing in pictures.items()}
    template = files("stunline.paper") / "templates" / "full_size.typ"
    return typeset(template.read_text(encoding="utf-8"), values, texts)
