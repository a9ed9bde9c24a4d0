"""The table: cushions by their nose lines, jaws, drops, baulk line, D and spots."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import cos, hypot, pi, sin
from typing import TYPE_CHECKING

from stunline.drawing.marks import Arc, Box, Circle, Layer, Line, Mark, Point, Role
from stunline.drawing.page import Page
from stunline.drawing.story import CUSHION_DEPTH, MILLIMETRES, millimetres

if TYPE_CHECKING:
    from stunline.equipment.model import Jaw, Nose, Table

SPOT_ARM = 5.0  # of a spot's cross [px]
D_PIECES = 16  # the D as so many straight pieces, for keeping words off it


def table_marks(table: Table, page: Page, pockets: bool) -> Iterator[Mark]:
    """Everything of the table that touches the window."""
    for mark in _everything(table, page, pockets):
        if page.window.overlap(_box(mark)) > 0:
            yield mark


def lines_in_play(table: Table) -> tuple[tuple[Point, Point], ...]:
    """Nose lines, baulk line and D as straight pieces, for keeping words off them."""
    found = [(millimetres(nose.start), millimetres(nose.end)) for nose in table.noses]
    for mark in _baulk(table):
        if isinstance(mark, Line):
            found.append((mark.start, mark.end))
        elif isinstance(mark, Arc):
            angles = [pi + pi * step / D_PIECES for step in range(D_PIECES + 1)]
            points = [
                (mark.centre[0] + mark.radius * cos(a), mark.centre[1] + mark.radius * sin(a))
                for a in angles
            ]
            found += list(pairwise(points))
    return tuple(found)


def _everything(table: Table, page: Page, pockets: bool) -> Iterator[Mark]:
    yield from _baulk(table)
    for number, nose in enumerate(table.noses if pockets else table.plain_noses, 1):
        yield from _cushion(nose, number)
    if pockets:
        for number, jaw in enumerate(table.jaws, 1):
            yield _jaw(jaw, number)
        for number, pocket in enumerate(table.pockets, 1):
            yield Circle(
                f"drop-{number}",
                Layer.TABLE,
                Role.DROP,
                millimetres(pocket.drop_centre),
                pocket.drop_radius * MILLIMETRES,
            )
    for name, place in table.spots.items():
        yield from _spot(name, millimetres(place), page)


def _cushion(nose: Nose, number: int) -> Iterator[Line]:
    start, end = millimetres(nose.start), millimetres(nose.end)
    length = hypot(end[0] - start[0], end[1] - start[1])
    # The playing area lies on the nose line's left side, so its back is to the right.
    back = ((end[1] - start[1]) / length, -(end[0] - start[0]) / length)
    yield Line(f"nose-{number}", Layer.TABLE, Role.NOSE, start, end)
    yield Line(
        f"cushion-back-{number}",
        Layer.TABLE,
        Role.CUSHION_BACK,
        (start[0] + back[0] * CUSHION_DEPTH, start[1] + back[1] * CUSHION_DEPTH),
        (end[0] + back[0] * CUSHION_DEPTH, end[1] + back[1] * CUSHION_DEPTH),
    )


def _jaw(jaw: Jaw, number: int) -> Arc:
    return Arc(
        f"jaw-{number}",
        Layer.TABLE,
        Role.NOSE,
        millimetres(jaw.centre),
        jaw.radius * MILLIMETRES,
        jaw.middle - jaw.half_angle,
        jaw.middle + jaw.half_angle,
    )


def _baulk(table: Table) -> Iterator[Mark]:
    if table.baulk_line is None:
        return
    height, width = table.baulk_line * MILLIMETRES, table.width * MILLIMETRES
    yield Line("baulk-line", Layer.TABLE, Role.MARKING, (0.0, height), (width, height))
    if table.d_radius is not None:
        # The D bulges towards the baulk cushion.
        yield Arc(
            "d",
            Layer.TABLE,
            Role.MARKING,
            (width / 2, height),
            table.d_radius * MILLIMETRES,
            pi,
            2 * pi,
        )


def _spot(name: str, at: Point, page: Page) -> Iterator[Line]:
    arm, ident = page.mm(SPOT_ARM), f"spot-{name.replace(' ', '-')}"
    x, y = at
    yield Line(f"{ident}-level", Layer.TABLE, Role.SPOT, (x - arm, y), (x + arm, y))
    yield Line(f"{ident}-upright", Layer.TABLE, Role.SPOT, (x, y - arm), (x, y + arm))


def _box(mark: Mark) -> Box:
    if isinstance(mark, Line):
        across = sorted((mark.start[0], mark.end[0]))
        up = sorted((mark.start[1], mark.end[1]))
        return Box(across[0], up[0], across[1], up[1]).grown(1.0)
    assert isinstance(mark, Circle | Arc)
    x, y = mark.centre
    return Box(x, y, x, y).grown(mark.radius)
