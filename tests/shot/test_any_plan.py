"""Whatever is asked for either happens when it is played, or is refused with a reason."""

from __future__ import annotations

import math
from random import Random

import pytest

from stunline.equipment.catalogue import load_table
from stunline.errors import UnsolvableShotError
from stunline.shot.aiming.solve import Solver
from stunline.shot.contact import first_contact
from stunline.shot.outcome import outcome
from stunline.shot.position import (
    Aim,
    Arrive,
    ContactAim,
    Height,
    Lengths,
    NamedHeight,
    Pace,
    PocketWeight,
    Position,
    PotAim,
    StrikePlan,
)
from stunline.shot.readouts import readouts
from stunline.shot.sentences import shot_sentence

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
NAMES = ("white", "blue", "pink", "red1", "red2")
REASONS = {
    "cut-too-thin",
    "way-blocked",
    "pocket-closed",
    "too-slow",
    "no-height",
    "no-contact",
    "no-pace",
}


def random_plan(random: Random) -> tuple[Position, StrikePlan]:
    places: dict[str, tuple[float, float]] = {}
    for name in NAMES[: random.choice([2, 3, 5])]:
        while name not in places:
            place = random.uniform(0.03, 1.748), random.uniform(0.03, 3.539)
            if all(math.dist(place, other) > 0.0526 for other in places.values()):
                places[name] = place
    aim: Aim = random.choice(
        [
            PotAim("blue", random.choice(TABLE.pockets).name),
            ContactAim(
                "blue",
                random.choice([1.0, 0.75, 0.5, 0.25, 0.125]),
                random.choice(["left", "right"]),
            ),
        ]
    )
    paces: list[Pace] = [random.uniform(0.3, 6.0), Lengths(random.uniform(0.3, 5.0))]
    if isinstance(aim, PotAim):
        paces.append(PocketWeight())
    heights: list[Height] = [0.0, 0.0105, -0.01, NamedHeight("max follow")]
    heights += [NamedHeight("max screw"), Arrive(0.0), Arrive(1.0), Arrive(-0.3)]
    height = random.choice(heights)
    side = random.choice([0.0, 0.004] if isinstance(height, float) else [0.0, 0.005, -0.008])
    elevation = random.choice([0.0, 0.0, 0.0, 0.1])
    position = Position(TABLE, CLOTH.name, CLOTH.coefficients, places)
    return position, StrikePlan(aim, random.choice(paces), height, side, elevation)


@pytest.mark.parametrize("seed", range(8))
def test_what_is_asked_for_happens_or_is_refused(seed: int) -> None:
    random = Random(seed)
    solved = 0
    for _ in range(50):
        position, plan = random_plan(random)
        solver = Solver(position)
        try:
            solution = solver.solve(plan)
        except UnsolvableShotError as refusal:
            assert refusal.reason in REASONS
            assert refusal.fault.what
            assert refusal.fault.allowed
            assert refusal.fault.remedy
            continue
        solved += 1
        shot = solver.prepared.play(solution.strike)
        contact = first_contact(shot)
        assert contact is not None
        assert contact.ball == "blue"
        if isinstance(plan.aim, PotAim):
            assert shot.potted("blue") == plan.aim.pocket
        elif isinstance(plan.aim, ContactAim):
            assert contact.thickness == pytest.approx(plan.aim.thickness, abs=2e-6)
            assert plan.aim.thickness == 1.0 or contact.on == plan.aim.on
        if isinstance(plan.height, Arrive):
            assert contact.follow_ratio == pytest.approx(plan.height.follow_ratio, abs=1e-3)
        told = shot_sentence(readouts(shot, plan, solution.pot), outcome(shot, plan))
        assert told.endswith(".")
    assert solved >= 10
