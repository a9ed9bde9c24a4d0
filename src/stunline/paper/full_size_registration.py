"""What the paper is set by on the table: nose lines, spots, and two points for the tape. [mm]"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import ceil, dist

from stunline.drawing import story
from stunline.drawing.marks import Box, Layer, Line, Mark, Point, Role
from stunline.drawing.segments import distance_to
from stunline.paper.full_size_marks import Ball, cross
from stunline.paper.full_size_measures import ground_of
from stunline.paper.full_size_region import bed
from stunline.paper.full_size_sheets import OVERLAP
from stunline.paper.full_size_subject import Subject
from stunline.paper.full_size_tiles import Tiling

TAPE_GRID = 10.0  # tape points stand on whole centimetres from the two cushions [mm]
TAPE_STEP = 30.0  # and are looked for this far apart [mm]
TAPE_CLEAR = 7.0  # from every line of the shot [mm]
TAPE_INSET = OVERLAP + 12.0  # from a field's edges, so that their words have room [mm]
TAPE_ARM = 6.0  # of their crosses [mm]
CANDIDATES = 60  # of clear points, so many of the outermost are compared
ON_SPOT = 0.1  # a ball's centre so near to a spot is on it [mm]
NOSE_SEEN = 60.0  # a nose line is something to set by when so much of it is printed [mm]


@dataclass(frozen=True, slots=True)
class TapePoint:
    """A point whose two distances are measured with a tape."""

    name: str
    at: Point


@dataclass(frozen=True, slots=True)
class Registration:
    """What there is on the pages to set them by.

    Attributes:
        noses: names of the cushions whose nose lines are printed: "left", "top"
        spots: name → place, of spots that are printed, free or under a ball's centre cross
        tape: two points, far apart
    """

    noses: tuple[str, ...]
    spots: tuple[tuple[str, Point], ...]
    tape: tuple[TapePoint, ...]

    @property
    def best(self) -> str:
        """ "two cushions", "one cushion", "tape": what holds the paper, spots and tape checking."""
        return ("tape", "one cushion", "two cushions")[min(len(self.noses), 2)]


def registration(
    subject: Subject,
    tiling: Tiling,
    printed: Sequence[Ball],
    segments: Sequence[tuple[Point, Point]],
) -> Registration:
    """Everything that the pages can be set by. segments: of the shot's lines, to keep off"""
    return Registration(
        _noses(subject, tiling), _spots(subject, tiling, printed), _tape(subject, tiling, segments)
    )


def tape_marks(points: Sequence[TapePoint]) -> Iterator[Mark]:
    """Their crosses."""
    for point in points:
        yield from cross(f"tape-{point.name}", point.at, TAPE_ARM, Role.SPOT)


def straight_noses(subject: Subject) -> Iterator[tuple[str, Point, Point]]:
    """The straight pieces of the cushions: name, and nose line."""
    position = subject.shot.position
    table = position.table
    for nose in table.noses if position.coefficients.pockets else table.plain_noses:
        yield nose.name, story.millimetres(nose.start), story.millimetres(nose.end)


def _noses(subject: Subject, tiling: Tiling) -> tuple[str, ...]:
    found = []
    for name, start, end in straight_noses(subject):
        line = Line("", Layer.TABLE, Role.NOSE, start, end)
        seen = max((seen_length(line, tile.field) for tile in tiling.tiles), default=0.0)
        if seen >= NOSE_SEEN and name not in found:
            found.append(name)
    return tuple(found)


def seen_length(line: Line, field: Box) -> float:
    """How much of an upright or level line a field shows. [mm]"""
    across = sorted((line.start[0], line.end[0]))
    up = sorted((line.start[1], line.end[1]))
    shown_across = min(across[1], field.right) - max(across[0], field.left)
    shown_up = min(up[1], field.top) - max(up[0], field.bottom)
    if shown_across < 0 or shown_up < 0:
        return 0.0
    return max(shown_across, shown_up)


def _spots(
    subject: Subject, tiling: Tiling, printed: Sequence[Ball]
) -> tuple[tuple[str, Point], ...]:
    found = []
    for name, place in subject.shot.position.table.spots.items():
        at = story.millimetres(place)
        off = [dist(at, ball.at) for ball in printed if dist(at, ball.at) <= ball.radius]
        # A ball's centre cross on the spot is the spot's cross; anywhere else it hides it.
        if max(off, default=0.0) < ON_SPOT and tiling.shows(Box(*at, *at).grown(TAPE_ARM)):
            found.append((name, at))
    return tuple(found)


def _tape(
    subject: Subject, tiling: Tiling, segments: Sequence[tuple[Point, Point]]
) -> tuple[TapePoint, ...]:
    clear = [at for at in _grid(subject, tiling) if _is_clear(at, segments)]
    middle = tiling.whole.centre
    outer = sorted(clear, key=lambda at: (-dist(at, middle), at))[:CANDIDATES]
    if len(outer) < 2:
        return ()
    one, two = max(combinations(outer, 2), key=lambda pair: dist(*pair))
    return tuple(TapePoint(f"T{n}", at) for n, at in enumerate(sorted((one, two)), 1))


def _grid(subject: Subject, tiling: Tiling) -> Iterator[Point]:
    """Points inside the fields, whole centimetres from the two cushions, each once."""
    whole = bed(subject)
    ground = whole.grown(-TAPE_INSET)
    measured = ground_of(subject, tiling.whole.centre)
    seen = set()
    for tile in tiling.tiles:
        inner = tile.field.grown(-TAPE_INSET).within(ground)
        x = ceil(inner.left / TAPE_GRID) * TAPE_GRID
        while x <= inner.right:
            y = ceil(inner.bottom / TAPE_GRID) * TAPE_GRID
            while y <= inner.top:
                at = (
                    _from_end(x, whole.right, measured.from_right),
                    _from_end(y, whole.top, measured.from_far),
                )
                if at not in seen and inner.holds(at):
                    seen.add(at)
                    yield at
                y += TAPE_STEP
            x += TAPE_STEP


def _from_end(place: float, length: float, far: bool) -> float:
    """The place, or one near it that is whole centimetres from the far end."""
    if not far:
        return place
    return length - round((length - place) / TAPE_GRID) * TAPE_GRID


def _is_clear(at: Point, segments: Sequence[tuple[Point, Point]]) -> bool:
    return all(distance_to(at, *segment) >= TAPE_CLEAR for segment in segments)
