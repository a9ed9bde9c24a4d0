"""Maps of cells: bare where the goal is met, a hatching of its own for every other kind."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, pairwise
from math import atan2, degrees, dist

import numpy as np
import pytest

from stunline.drawing.cell_map import BLANK, MOST_KINDS, CellMap, MapWeave, map_marks, weave_of
from stunline.drawing.marks import Circle, Line, Mark, Polygon, Role
from stunline.drawing.outcome_legend import ordered

SIZE = 24


def field(code: int) -> CellMap:
    return CellMap(0.0, 0.0, 1.0, 1.0, [[code] * SIZE for _ in range(SIZE)])


def directions(marks: list[Mark]) -> set[int]:
    return {
        round(degrees(atan2(one.end[1] - one.start[1], one.end[0] - one.start[0]))) % 180
        for one in marks
        if isinstance(one, Line) and one.role is Role.MAP_HATCH
    }


def signature(code: int) -> tuple[frozenset[int], bool, bool]:
    """Directions of the lines, whether there are dots, whether lines stop short."""
    marks = list(map_marks(field(code)))
    lines = [one for one in marks if isinstance(one, Line)]
    dots = any(isinstance(one, Circle) for one in marks)
    upright = [one for one in lines if abs(one.start[0] - one.end[0]) < 1e-9]
    broken = any(dist(one.start, one.end) < SIZE - 1 for one in upright)
    return frozenset(directions(marks)), dots, broken


def test_every_kind_is_told_apart_without_an_ink() -> None:
    signatures = [signature(code) for code in range(1, MOST_KINDS + 1)]
    assert all(one != two for one, two in combinations(signatures, 2))
    assert len(signatures) == len(MapWeave)
    assert signature(1)[0] == {135} and signature(5)[0] == {45}


def test_kinds_past_the_last_hatching_share_it() -> None:
    assert weave_of(MOST_KINDS + 3) is weave_of(MOST_KINDS)


def test_the_goal_met_is_left_bare() -> None:
    marks = list(map_marks(field(0)))
    assert {mark.role for mark in marks} == {Role.MAP_MET}


def random_map() -> np.ndarray:
    """Blobs of a few kinds and blanks, by seed."""
    random = np.random.default_rng(4)
    coarse = random.integers(-1, 4, (6, 6))
    return np.kron(coarse, np.ones((5, 5), dtype=np.int64))


def test_bare_stretches_cover_just_the_cells_of_the_goal_met() -> None:
    codes = random_map()
    bare = [
        one
        for one in map_marks(CellMap(0.0, 0.0, 1.0, 1.0, codes.tolist()))
        if isinstance(one, Polygon)
    ]
    covered = Counter()
    for one in bare:
        left, right = one.points[0][0], one.points[1][0]
        row = round(one.points[0][1])
        covered.update((row, column) for column in range(round(left), round(right)))
    assert set(covered) == {(int(i), int(j)) for i, j in np.argwhere(codes == 0)}
    assert set(covered.values()) == {1}


@pytest.mark.parametrize("code", [1, 2, 3])
def test_hatchings_stay_in_their_kind(code: int) -> None:
    codes = random_map()
    for mark in map_marks(CellMap(0.0, 0.0, 1.0, 1.0, codes.tolist())):
        if not mark.id.startswith(f"map-{code}-"):
            continue
        if isinstance(mark, Circle):
            ends = [mark.centre]
        else:
            assert isinstance(mark, Line)
            along = np.linspace(0.01, 0.99, 97)
            ends = [
                tuple(a + part * (b - a) for a, b in zip(mark.start, mark.end, strict=True))
                for part in along
            ]
        for x, y in ends:
            near = {
                codes[int(y + dy), int(x + dx)]
                for dx, dy in ((0, 0), (1e-6, 0), (-1e-6, 0), (0, 1e-6), (0, -1e-6))
                if 0 <= y + dy < len(codes) and 0 <= x + dx < len(codes)
            }
            assert code in near


def test_edges_part_kinds_and_are_as_long_as_their_boundary() -> None:
    codes = random_map()
    edges = [
        one
        for one in map_marks(CellMap(0.0, 0.0, 1.0, 1.0, codes.tolist()))
        if isinstance(one, Line) and one.role is Role.MAP_EDGE
    ]
    # By counting neighbours, the other way round.
    parted = 0
    for lines in (codes, codes.T):
        for below, above in pairwise(lines):
            parted += int(((below != above) & (below != BLANK) & (above != BLANK)).sum())
    assert sum(dist(one.start, one.end) for one in edges) == pytest.approx(parted)


def test_the_legend_has_the_largest_kind_first_and_joins_the_least() -> None:
    words = ["met", *(f"kind {k}" for k in range(1, 12))]
    codes = [[k] * (2 * k) + [BLANK] * (40 - 2 * k) for k in range(12)]
    shown, order = ordered(codes, words)
    assert order[0] == 0
    assert order[1:-1] == [11, 10, 9, 8, 7, 6]
    assert order[-1] == BLANK
    assert shown[11][:22] == [1] * 22
    assert shown[2][:4] == [MOST_KINDS] * 4
    assert shown[0] == [BLANK] * 40
