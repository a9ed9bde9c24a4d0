"""Which balls can be potted next: hand-made positions with known answers, and random ones
against a plain version of the same definition, written apart."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stunline.equipment.catalogue import load_table
from stunline.equipment.model import Point
from stunline.shot.pack_study import STEEPEST, _counted
from stunline.shot.position import Position

TABLE = load_table("snooker-12ft")
MATCH = TABLE.default_cloth().coefficients
RADIUS = TABLE.balls["white"].radius
WIDTH, LENGTH = TABLE.width, TABLE.length
TOP_RIGHT = next(pocket for pocket in TABLE.pockets if pocket.name == "top right").mouth_middle
MOVED = (WIDTH / 2, LENGTH / 2)


def counted(white: Point, reds: list[Point], others: list[Point] = ()) -> tuple[int, int]:
    """Reds freed, from the middle of the table, and reds that can be potted next."""
    names = ("white", *(f"red{k + 1}" for k in range(len(reds))), "black", "blue")
    names = names[: 1 + len(reds) + len(others)]
    places = np.array([[white, *reds, *others]], dtype=float)
    position = Position(TABLE, "match", MATCH, dict(zip(names, map(tuple, places[0]), strict=True)))
    starts = places.copy()
    starts[:, 1 : 1 + len(reds)] = MOVED
    freed, on = _counted(
        position,
        names[1 : 1 + len(reds)],
        starts,
        places,
        np.full((1, len(names)), -1, dtype=np.int8),
    )
    return int(freed[0]), int(on[0])


def towards_top_right(distance: float, aside: float = 0.0) -> Point:
    """A place so far from that pocket's mouth, on its diagonal, or beside it."""
    half = math.sqrt(0.5)
    return (
        TOP_RIGHT[0] - half * distance - half * aside,
        TOP_RIGHT[1] - half * distance + half * aside,
    )


def test_a_straight_red_is_on() -> None:
    assert counted(towards_top_right(0.9), [towards_top_right(0.4)]) == (1, 1)


def test_a_ball_in_the_way_of_the_red_takes_it_off() -> None:
    white, red = towards_top_right(0.9), towards_top_right(0.4)
    # [X] Two radii beside the way it just has room, a hair nearer it has not.
    assert counted(white, [red], [towards_top_right(0.2, 2.0 * RADIUS + 1e-6)])[1] == 1
    assert counted(white, [red], [towards_top_right(0.2, 2.0 * RADIUS - 1e-6)])[1] == 0


def test_a_ball_in_the_way_of_the_white_takes_it_off() -> None:
    white, red = towards_top_right(0.9), towards_top_right(0.4)
    assert counted(white, [red], [towards_top_right(0.65, 2.0 * RADIUS + 1e-6)])[1] == 1
    assert counted(white, [red], [towards_top_right(0.65, 2.0 * RADIUS - 1e-6)])[1] == 0


@pytest.mark.parametrize(("cut", "on"), [(59.9, 1), (60.1, 0)])
def test_thin_cuts_do_not_count(cut: float, on: int) -> None:
    # The white 0.5 m from the ghost ball, so that the cut is as said.
    red = towards_top_right(0.4)
    ghost = towards_top_right(0.4 + 2.0 * RADIUS)
    way = 0.25 * math.pi - math.radians(cut)
    white = (ghost[0] - 0.5 * math.cos(way), ghost[1] - 0.5 * math.sin(way))
    assert counted(white, [red])[1] == on


def test_touching_balls_are_not_free() -> None:
    red, other = (1.0, 2.0), (1.0 + 2.0 * RADIUS, 2.0)
    assert counted((0.5, 1.0), [red, other])[0] == 0
    assert counted((0.5, 1.0), [red, (other[0] + 2e-4, 2.0)])[0] == 2


def test_a_ball_that_moved_little_is_not_freed() -> None:
    # [X] two ball widths are 105 mm
    near = (MOVED[0] + 4.0 * RADIUS - 1e-6, MOVED[1])
    far = (MOVED[0] + 4.0 * RADIUS + 1e-6, MOVED[1])
    assert counted((0.5, 1.0), [near])[0] == 0
    assert counted((0.5, 1.0), [far])[0] == 1


def test_a_red_on_the_cushion_has_no_way_past_the_middle_jaw() -> None:
    # Along the right cushion, a few centimetres below the middle pocket: its way in is blocked
    # by the near jaw, whatever lies elsewhere; only the top right pocket is in its line.
    edge = WIDTH - 0.0245
    red, white = (edge, LENGTH / 2 - 0.25), (edge, LENGTH / 2 - 0.9)
    mouths = {pocket.name: pocket.mouth_middle for pocket in TABLE.pockets}
    assert plain_pockets(white, red, [], only=mouths["middle right"]) == []


def to_stretch(point: Point, start: Point, end: Point) -> float:
    """Distance of a point from a stretch, by trying it finely and then closing in."""
    low, high = 0.0, 1.0
    for _ in range(60):
        a, b = low + (high - low) / 3.0, high - (high - low) / 3.0
        at = [
            (start[0] + s * (end[0] - start[0]), start[1] + s * (end[1] - start[1])) for s in (a, b)
        ]
        if math.dist(point, at[0]) < math.dist(point, at[1]):
            high = b
        else:
            low = a
    middle = 0.5 * (low + high)
    return math.dist(
        point,
        (start[0] + middle * (end[0] - start[0]), start[1] + middle * (end[1] - start[1])),
    )


def plain_pockets(
    white: Point, red: Point, others: list[Point], only: Point | None = None
) -> list[str]:
    """Pockets into which the red is on, word by word from the definition."""
    reach = RADIUS * math.sqrt(1.0 - (TABLE.nose_height / RADIUS - 1.0) ** 2)
    found = []
    for pocket in TABLE.pockets:
        mouth = pocket.mouth_middle
        if only is not None and mouth != only:
            continue
        far = math.dist(red, mouth)
        ghost = tuple(red[k] - 2.0 * RADIUS * (mouth[k] - red[k]) / far for k in (0, 1))
        jaws = [jaw for jaw in TABLE.jaws if jaw.pocket == pocket.name]
        way_in = all(to_stretch(jaw.centre, red, mouth) > jaw.radius + reach for jaw in jaws)
        clear = all(to_stretch(ball, red, mouth) > 2.0 * RADIUS for ball in others)
        seen = all(to_stretch(ball, white, ghost) > 2.0 * RADIUS for ball in others)
        on_bed = reach <= ghost[0] <= WIDTH - reach and reach <= ghost[1] <= LENGTH - reach
        one = math.atan2(ghost[1] - white[1], ghost[0] - white[0])
        other = math.atan2(mouth[1] - red[1], mouth[0] - red[0])
        cut = abs(math.remainder(other - one, 2.0 * math.pi))
        if way_in and clear and seen and on_bed and cut < STEEPEST:
            found.append(pocket.name)
    return found


def test_random_positions_agree_with_the_definition() -> None:
    random = np.random.default_rng(4)
    on_in_all = 0
    for _ in range(150):
        places: list[Point] = []
        while len(places) < 7:
            x, y = random.uniform(0.03, WIDTH - 0.03), random.uniform(0.03, LENGTH - 0.03)
            if all(math.dist((x, y), other) > 2.0 * RADIUS + 2e-4 for other in places):
                places.append((x, y))
        white, reds, others = places[0], places[1:5], places[5:]
        expected = 0
        for red in reds:
            blocking = [ball for ball in (*reds, *others) if ball != red]
            expected += bool(plain_pockets(white, red, blocking))
        assert counted(white, reds, others)[1] == expected
        on_in_all += expected
    assert on_in_all > 100
