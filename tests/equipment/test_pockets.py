"""The pockets of every table that has some: tangents join, balls drop, no way leads past.

[X] throughout: what follows from the numbers of the table itself.
"""

from __future__ import annotations

import math

import pytest

from stunline.equipment.based_on import table_names
from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.model import Jaw, Table

WITH_POCKETS = [name for name in table_names() if load_table(name).pockets]


@pytest.fixture(scope="module", params=WITH_POCKETS)
def table(request: pytest.FixtureRequest) -> Table:
    return load_table(request.param)


def test_all_but_the_carom_table_have_six_pockets() -> None:
    assert set(table_names()) - set(WITH_POCKETS) == {"carom-10ft"}
    assert {len(load_table(name).pockets) for name in WITH_POCKETS} == {6}


def jaw_tangent_points(jaw: Jaw) -> list[tuple[float, float]]:
    """Both ends of a jaw's arc."""
    angles = (jaw.middle - jaw.half_angle, jaw.middle + jaw.half_angle)
    return [
        (
            jaw.centre[0] + jaw.radius * math.cos(angle),
            jaw.centre[1] + jaw.radius * math.sin(angle),
        )
        for angle in angles
    ]


def test_noses_run_anticlockwise_with_the_playing_area_on_their_left(table: Table) -> None:
    middle = (table.width / 2, table.length / 2)
    for nose in (*table.noses, *table.plain_noses):
        (x0, y0), (x1, y1) = nose.start, nose.end
        assert (x1 - x0) * (middle[1] - y0) - (y1 - y0) * (middle[0] - x0) > 0
    for nose, following in zip(
        table.plain_noses, table.plain_noses[1:] + table.plain_noses[:1], strict=True
    ):
        assert nose.end == following.start


def test_every_jaw_is_tangent_to_the_end_of_a_nose(table: Table) -> None:
    ends = [point for nose in table.noses for point in (nose.start, nose.end)]
    joined = set()
    for jaw in table.jaws:
        distances = [
            (math.dist(end, tangent), index)
            for index, end in enumerate(ends)
            for tangent in jaw_tangent_points(jaw)
        ]
        distance, index = min(distances)
        assert distance < 1e-12
        joined.add(index)
        nose = table.noses[index // 2]
        along = (nose.end[0] - nose.start[0], nose.end[1] - nose.start[1])
        radial = (ends[index][0] - jaw.centre[0], ends[index][1] - jaw.centre[1])
        assert along[0] * radial[0] + along[1] * radial[1] == pytest.approx(0, abs=1e-12)
    assert len(joined) == 12


def test_mouth_is_the_narrowest_gap_between_the_jaws(table: Table) -> None:
    for pocket in table.pockets:
        first, second = (jaw for jaw in table.jaws if jaw.pocket == pocket.name)
        gap = math.dist(first.centre, second.centre) - first.radius - second.radius
        assert gap == pytest.approx(pocket.mouth, abs=1e-12)
        middle = [(a + b) / 2 for a, b in zip(first.centre, second.centre, strict=True)]
        assert pocket.mouth_middle == pytest.approx(middle, abs=1e-12)


def test_drop_circle_touches_the_mouth_from_outside(table: Table) -> None:
    for pocket in table.pockets:
        front = [
            centre + pocket.drop_radius * inward
            for centre, inward in zip(pocket.drop_centre, pocket.inward, strict=True)
        ]
        assert front == pytest.approx(pocket.mouth_middle, abs=1e-12)
        centre = (table.width / 2, table.length / 2)
        assert math.dist(pocket.mouth_middle, centre) < math.dist(pocket.drop_centre, centre)


def meets_a_jaw(table: Table, pocket: str, place: tuple[float, float], contact: float) -> bool:
    """Whether a ball's centre there is inside a jaw's arc grown by the contact distance."""
    for jaw in table.jaws:
        if jaw.pocket != pocket:
            continue
        away = (place[0] - jaw.centre[0], place[1] - jaw.centre[1])
        turned = math.remainder(math.atan2(away[1], away[0]) - jaw.middle, 2 * math.pi)
        near = math.hypot(*away) < jaw.radius + contact - 1e-9
        if near and abs(turned) <= jaw.half_angle + 1e-9:
            return True
    return False


def test_ball_on_a_pockets_axis_drops_without_touching_a_jaw(table: Table) -> None:
    largest = max(ball.radius for ball in table.balls.values())
    contact = nose_contact_distance(largest, table.nose_height)
    for pocket in table.pockets:
        for step in range(401):
            way = 0.2 * step / 400  # from 200 mm inside down to the drop's front
            place = (
                pocket.mouth_middle[0] + way * pocket.inward[0],
                pocket.mouth_middle[1] + way * pocket.inward[1],
            )
            assert not meets_a_jaw(table, pocket.name, place, contact), (pocket.name, way)


def test_no_way_leads_past_a_drop_circle(table: Table) -> None:
    """Flood the places open to a ball's centre: outside the table only drop circles follow.

    A grid of 1 mm is filled from in front of each mouth. A centre may not cross a nose line
    or a jaw, and stops in the drop circle. If jaw and drop left a way past, the fill would
    come out behind the drop circle's centre.
    """
    smallest = min(ball.radius for ball in table.balls.values())
    contact = nose_contact_distance(smallest, table.nose_height)
    for pocket in table.pockets[0], table.pockets[2], table.pockets[5]:
        across = (-pocket.inward[1], pocket.inward[0])

        def place(depth: int, aside: int, pocket=pocket, across=across) -> tuple[float, float]:
            return (
                pocket.mouth_middle[0]
                - 0.001 * depth * pocket.inward[0]
                + 0.001 * aside * across[0],
                pocket.mouth_middle[1]
                - 0.001 * depth * pocket.inward[1]
                + 0.001 * aside * across[1],
            )

        waiting, seen = [(-5, 0)], {(-5, 0)}
        dropped = False
        while waiting:
            depth, aside = waiting.pop()
            for step in ((depth + 1, aside), (depth, aside + 1), (depth, aside - 1)):
                if step in seen or abs(step[1]) > 150:
                    continue
                seen.add(step)
                point = place(*step)
                if math.dist(point, pocket.drop_centre) <= pocket.drop_radius:
                    dropped = True
                elif not meets_a_jaw(table, pocket.name, point, contact):
                    assert step[0] < 1000 * pocket.drop_radius, (
                        f"a way past {pocket.name} at {point}"
                    )
                    waiting.append(step)
        assert dropped


def test_opposite_pockets_mirror_each_other(table: Table) -> None:
    for one, other in zip(table.pockets[::2], table.pockets[1::2], strict=True):
        mirrored = (table.width - one.drop_centre[0], one.drop_centre[1])
        assert other.drop_centre == pytest.approx(mirrored, abs=1e-12)
        assert other.inward == pytest.approx((-one.inward[0], one.inward[1]), abs=1e-15)
