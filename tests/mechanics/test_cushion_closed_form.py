"""A ball that rolls into a nose at 7R/5: the closed form against two other methods."""

from __future__ import annotations

import math
from collections.abc import Iterator
from random import Random

import pytest

from comparison_with_reference import impact_difference
from reference.cushion_radau import cushion_impact as by_radau
from reference.random_impacts import CushionCase
from stunline.mechanics.cushion import _through_impact
from stunline.mechanics.cushion_closed_form import closed_form_impact, is_closed_form
from stunline.mechanics.cushion_modes import contact_of

RADIUS = 0.02625  # half of the 52.5 mm of the rules [R]
NOSE_HEIGHT = 1.4 * RADIUS  # 7R/5 [M]


def rolling_cases(count: int) -> Iterator[CushionCase]:
    """Balls that roll into the cushion at any angle, some with side, coefficients varied."""
    random = Random(11)
    for _ in range(count):
        speed = math.exp(random.uniform(math.log(0.05), math.log(5.0)))
        angle = math.radians(
            random.choice((random.uniform(2.0, 178.0), random.uniform(85.0, 95.0)))
        )
        vx, vy = speed * math.cos(angle), speed * math.sin(angle)
        side = random.choice((0.0, random.uniform(-1.0, 1.0))) * speed / RADIUS
        yield CushionCase(
            (vx, vy, -vy / RADIUS, vx / RADIUS, side),
            RADIUS,
            NOSE_HEIGHT,
            random.uniform(0.5, 1.0),
            random.uniform(0.05, 0.16),
            random.uniform(0.15, 0.25),
        )


def contact_and_start(case: CushionCase) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """What the kernels take: the contact's numbers, and the slips over the approach speed."""
    vx, vy, wx, wy, wz = case.before
    rise = case.nose_height / case.radius - 1.0
    flat = math.sqrt(1.0 - rise * rise)
    slips = (
        vx + case.radius * (rise * wy - flat * wz),
        case.radius * wx - rise * vy,
        vx - case.radius * wy,
        vy + case.radius * wx,
    )
    contact = contact_of(rise, case.cushion_friction, case.sliding_friction)
    return contact, (*(slip / vy for slip in slips), 0.0)


def test_it_agrees_with_the_integrated_law() -> None:
    """[by an independent method] The law with smoothed friction, by scipy's Radau."""
    for case in rolling_cases(12):
        contact, start = contact_and_start(case)
        assert is_closed_form(contact, start), case
        found = by_radau(case.before, *case.arguments[5:])
        assert impact_difference(case, found.after) < 1e-7, case


def test_it_agrees_with_the_steps_of_the_general_method() -> None:
    """[by another method] Steps of 1e-8 of the approach speed leave some 5e-8."""
    for case in rolling_cases(300):
        contact, start = contact_and_start(case)
        assert is_closed_form(contact, start), case
        end, _, found = closed_form_impact(contact, case.restitution, start)
        stepped, _ = _through_impact(contact, case.restitution, start)
        assert found
        assert end[:4] == pytest.approx(stepped[:4], abs=2e-7), case


@pytest.mark.parametrize(
    ("words", "height", "change"),
    [
        ("a higher nose couples the slips along the cushion", 1.45 * RADIUS, (0.0, 0.0, 0.0)),
        ("topspin slips towards the cushion", NOSE_HEIGHT, (60.0, 0.0, 0.0)),
        ("a slip along the cushion turns as well", NOSE_HEIGHT, (0.0, 20.0, 0.0)),
    ],
)
def test_other_balls_take_the_general_method(
    words: str, height: float, change: tuple[float, float, float]
) -> None:
    vx, vy = 0.7, 1.0
    spins = (-vy / RADIUS + change[0], vx / RADIUS + change[1], change[2])
    case = CushionCase((vx, vy, *spins), RADIUS, height, 0.98, 0.14, 0.2)
    assert not is_closed_form(*contact_and_start(case)), words
