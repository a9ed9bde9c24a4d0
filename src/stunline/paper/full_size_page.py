"""One tile as a drawing: the part of everything that its field shows, with its words. [mm]"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist, inf, pi
from typing import TypeGuard

from stunline.drawing import story
from stunline.drawing.marks import Box, Curve, Drawing, Layer, Line, Mark, Point, Role
from stunline.drawing.page import PIXELS_PER_MM
from stunline.paper.full_size_frame import Heading, frame_marks, free_field
from stunline.paper.full_size_marks import Ball, aims, told_by_lines, which_rungs
from stunline.paper.full_size_measures import Ground, ground_of
from stunline.paper.full_size_registration import ON_SPOT, Registration, straight_noses
from stunline.paper.full_size_subject import Subject, Way, along
from stunline.paper.full_size_tiles import Tile, Tiling
from stunline.paper.full_size_words import (
    Block,
    Placing,
    Slot,
    segments_of,
    slots_along,
    slots_around,
    slots_inside,
)
from stunline.shot.words import ball_words

LINE_STEP = 4.0  # between points along a line, to find what of it a page shows [mm]
SHORTEST = 12.0  # a line needs so much room on a page to be named there [mm]
RUNG_AT = 0.75  # of a rung's stretch: where its label stands best
ELSEWHERE = 10.0  # cost at which a rung is not named here, since its end is on another page
FIELD_LAYERS = (Layer.TABLE, Layer.PATHS, Layer.BALLS, Layer.CONTACTS)

Wish = tuple[Block, list[Slot], float]  # words, their places, and what a place may cost


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything on the cloth.

    Attributes:
        subject: the shots
        tiling: the pages
        marks: what is drawn
        balls: outlines among them, to be named and measured
        registration: what the pages are set by
    """

    subject: Subject
    tiling: Tiling
    marks: tuple[Mark, ...]
    balls: tuple[Ball, ...]
    registration: Registration

    @property
    def ground(self) -> Ground:
        """What all pages are measured from."""
        return ground_of(self.subject, self.tiling.whole.centre)


def tile_drawing(scene: Scene, tile: Tile, heading: Heading) -> Drawing:
    """The page as a drawing of the whole sheet, at full size."""
    shown = [mark for mark in scene.marks if reaches(mark, tile.field)]
    outlines = [(ball.at, ball.radius) for ball in scene.balls]
    words = Placing(free_field(scene.tiling, tile), segments_of(shown), outlines)
    for wish in _ball_words(scene, tile):
        words.place(*wish)
    for wish in _wishes(scene, words.bounds):
        words.place(*wish, outside=True)
    marks = [*shown, *frame_marks(scene.tiling, tile, heading), *words.leaders, *words.texts]
    return Drawing(
        marks=tuple(marks),
        view=scene.tiling.sheet.view(tile.field),
        scale=PIXELS_PER_MM,
        title=f"{heading.title}: page {tile.name}",
        description=f"Page {tile.name} at full size: " + _told(scene, tile) + ".",
        windows=dict.fromkeys(FIELD_LAYERS, tile.field),
        name=f"tile-{tile.name}",
    )


def reaches(mark: Mark, field: Box) -> bool:
    """Whether any of the mark is on that field."""
    for start, end in segments_of([mark]):
        across, up = sorted((start[0], end[0])), sorted((start[1], end[1]))
        if Box(across[0], up[0], across[1], up[1]).grown(0.5).overlap(field) > 0:
            return True
    return False


def _told(scene: Scene, tile: Tile) -> str:
    names = [ball.name for ball in scene.balls if tile.field.overlap(ball.box) > 0]
    return ", ".join(names) or "lines only"


def _wishes(scene: Scene, bounds: Box) -> Iterator[Wish]:
    """Every block of words that belongs outside the balls, the most needed first."""
    yield from _tape_words(scene, bounds)
    yield from _rung_words(scene, bounds)
    yield from _line_words(scene, bounds)
    yield from _spot_words(scene, bounds)
    yield from _nose_words(scene, bounds)


def _ball_words(scene: Scene, tile: Tile) -> Iterator[Wish]:
    ground = scene.ground
    by_lines = told_by_lines(scene.subject)
    for ball in scene.balls:
        # Whites that lie on one another are told by their lines; their places are on the guide.
        named = ball.there_at_start or not by_lines
        if named and tile.field.overlap(ball.box) > 0:
            lines = (*ball.name_lines, *ground.lines(ball.at))
            block = Block(f"words-{ball.id}", lines, Role.LABEL, bold=len(ball.name_lines))
            yield block, list(slots_inside(ball.at, ball.radius, block)), inf


def _tape_words(scene: Scene, bounds: Box) -> Iterator[Wish]:
    ground = scene.ground
    for point in scene.registration.tape:
        if bounds.holds(point.at):
            lines = (f"tape point {point.name}", *ground.whole_lines(point.at))
            block = Block(f"words-{point.name}", lines, Role.LABEL, bold=1)
            yield block, list(slots_around(point.at, 1.0, block, pi / 4)), inf


def _rung_words(scene: Scene, bounds: Box) -> Iterator[Wish]:
    for number, way in enumerate(scene.subject.ways, 1):
        inside = longest_inside(way.points, bounds)
        words = way.label or "the white's way"
        if len(inside) > 1:
            end = way.points[-1]
            beyond = _met_beyond(scene, way) if bounds.holds(end) else ()
            lines = (words, *beyond)
            block = Block(f"words-rung-{number}", lines, Role.LABEL, bold=1 if way.label else 0)
            slots = list(slots_along(inside, block, RUNG_AT))
            if bounds.holds(end):  # where ways are short, round their ends is more room
                slots += list(slots_around(end, 3.0, block, led=True))
            yield block, slots, inf if bounds.holds(end) else ELSEWHERE


def _met_beyond(scene: Scene, way: Way) -> tuple[str, ...]:
    """What a rung meets that is on no page, so that its line doesn't seem to end in the open."""
    met = story.next_meeting(way.shot)
    if met is None or any(ball.there_at_start and ball.ball == met.ball for ball in scene.balls):
        return ()
    return (f"meets {ball_words(met.ball)}, not printed",)


def _line_words(scene: Scene, bounds: Box) -> Iterator[Wish]:
    """The tangent lines, the line of the pot and the line of aim, named along them."""
    subject, pocket = scene.subject, scene.subject.pocket()
    for number, contact in enumerate(subject.contacts(), 1):
        lines = [along(mark) for mark in scene.marks if _is_line(mark, f"tangent-{number}")]
        words = f"tangent line{which_rungs(subject, contact)}"
        yield from _named(f"tangent-{number}", words, lines, bounds)
    words = f"line of the pot, to {pocket}" if pocket else "object ball’s way"
    lines = [along(mark) for mark in scene.marks if _is_line(mark, "pot-line", "object-way")]
    yield from _named("object", words, lines, bounds)
    found = aims(subject)
    for aim in found:
        which = f" {'/'.join(aim.rungs)}" if len(found) > 1 else ""
        yield from _named(aim.line.id, f"line of aim{which}", [along(aim.line)], bounds)


def _named(name: str, words: str, lines: list[list[Point]], bounds: Box) -> Iterator[Wish]:
    """Words along whichever of the lines is longest on the page."""
    is_tangent = name.startswith("tangent")
    block = Block(f"words-{name}", (words,), Role.TANGENT_NOTE if is_tangent else Role.NOTE)
    inside = max((longest_inside(line, bounds) for line in lines), key=len, default=[])
    if len(inside) > 1 and dist(inside[0], inside[-1]) > SHORTEST:
        yield block, list(slots_along(inside, block, 0.8 if is_tangent else 0.5)), inf


def _is_line(mark: Mark, *starts: str) -> TypeGuard[Line | Curve]:
    return mark.layer is Layer.PATHS and mark.id.startswith(starts)


def _spot_words(scene: Scene, bounds: Box) -> Iterator[Wish]:
    ground = scene.ground
    for name, at in scene.registration.spots:
        if bounds.holds(at):
            # A ball that stands on it has the same distances.
            on = any(dist(ball.at, at) < ON_SPOT for ball in scene.balls)
            lines = (f"on the {name} spot",) if on else (f"{name} spot", *ground.lines(at))
            block = Block(f"words-spot-{name.replace(' ', '-')}", lines, Role.NOTE)
            yield block, list(slots_around(at, 0.5, block, -pi / 4)), inf


def _nose_words(scene: Scene, bounds: Box) -> Iterator[Wish]:
    ground = scene.ground
    for number, (name, start, end) in enumerate(straight_noses(scene.subject), 1):
        inside = longest_inside([start, end], bounds)
        if len(inside) > 1:
            words = f"{name} cushion: this line under the nose’s edge"
            block = Block(f"words-nose-{number}", (words,), Role.LABEL, bold=1)
            # On the bed: beyond the nose line the cushion hides them.
            shown = (slot for slot in slots_along(inside, block) if ground.bed.holds(slot.at))
            yield block, list(shown), inf


def longest_inside(points: Sequence[Point], bounds: Box) -> list[Point]:
    """The longest unbroken run of a line inside the bounds, as points close together."""
    best: list[Point] = []
    run: list[Point] = []
    for point in _close(points):
        if bounds.holds(point):
            run.append(point)
            if len(run) > len(best):
                best = run
        else:
            run = []
    return best


def _close(points: Sequence[Point]) -> Iterator[Point]:
    for one, two in pairwise(points):
        count = max(1, round(dist(one, two) / LINE_STEP))
        for step in range(count):
            part = step / count
            yield one[0] + part * (two[0] - one[0]), one[1] + part * (two[1] - one[1])
    if points:
        yield points[-1]
