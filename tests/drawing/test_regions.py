"""Hatching and edges of regions of cells."""

from __future__ import annotations

import math

import pytest

from stunline.drawing.marks import Polygon, Role
from stunline.drawing.regions import WAYS, Cells, Region, edges, hatch_lines

CELLS = Cells(25.0, 12, 9)


def block(left: int, bottom: int, right: int, top: int, every: int = 1) -> list[int]:
    """A rectangle of cells, both ends counted."""
    return [
        every if left <= column <= right and bottom <= row <= top else 0
        for row in range(CELLS.rows)
        for column in range(CELLS.columns)
    ]


@pytest.mark.parametrize(("role", "way"), WAYS.items(), ids=lambda one: str(one))
def test_lines_run_the_way_of_their_role_and_cover_each_cell_once(
    role: Role, way: tuple[int, int]
) -> None:
    # [by hand] lines through every cell of a block: their lengths add up to one cell's each
    lines = list(hatch_lines(CELLS, Region(role, block(2, 1, 8, 6))))
    cell = CELLS.side * math.hypot(*way)
    assert sum(math.dist(line.start, line.end) for line in lines) == pytest.approx(42 * cell)
    for line in lines:
        across, up = line.end[0] - line.start[0], line.end[1] - line.start[1]
        assert across * way[1] == pytest.approx(up * way[0])
        for x, y in (line.start, line.end):
            assert 50.0 <= x <= 225.0
            assert 25.0 <= y <= 175.0
    assert len({line.id for line in lines}) == len(lines)


def test_every_second_line_is_half_of_them() -> None:
    every, second = (
        len(list(hatch_lines(CELLS, Region(Role.HATCH_STUN, block(0, 0, 11, 7, step)))))
        for step in (1, 2)
    )
    assert (every, second) == (8, 4)


def shown(cells: list[int]) -> list[Polygon]:
    found = edges(
        CELLS, lambda column, row: cells[row * CELLS.columns + column] > 0, Role.REGION_EDGE, "edge"
    )
    return [one for one in found if isinstance(one, Polygon)]


def area(polygon: Polygon) -> float:
    """With its sign: positive anticlockwise. [mm²]"""
    points = polygon.points
    return 0.5 * sum(
        a[0] * b[1] - b[0] * a[1] for a, b in zip(points, (*points[1:], points[0]), strict=True)
    )


def test_the_edge_of_a_block_is_the_block_with_its_corners_cut() -> None:
    # [by hand] 7 × 6 cells less four corners of an eighth of a cell
    (edge,) = shown(block(2, 1, 8, 6))
    assert area(edge) == pytest.approx((42 - 4 / 8) * 25.0**2)
    assert len(edge.points) == 8


def test_a_hole_has_an_edge_that_runs_the_other_way() -> None:
    hole = [a - b for a, b in zip(block(1, 1, 10, 7), block(4, 3, 7, 5), strict=True)]
    outer, inner = sorted(shown(hole), key=area, reverse=True)
    assert area(outer) > 0.0 > area(inner)
    assert area(inner) == pytest.approx(-(12 - 4 / 8) * 25.0**2)


def test_a_patch_too_small_has_no_edge() -> None:
    assert shown(block(3, 3, 4, 4)) == []


def test_parts_that_touch_at_a_corner_keep_their_whole_edges() -> None:
    two = [a + b for a, b in zip(block(0, 0, 3, 3), block(4, 4, 7, 7), strict=True)]
    edge = shown(two)
    # [by hand] two squares of 16 cells; together they lose or gain eighths at their corners only
    assert sum(area(one) for one in edge) == pytest.approx(32 * 25.0**2, rel=0.03)
