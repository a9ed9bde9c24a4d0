"""Random impacts on a cushion by seed, half of them with a contact that sticks.

The first of them are kept with their results, since the quick tests need 300 and each takes a
tenth of a second or two: ``python -m reference.random_impacts 300`` writes them.
"""

from __future__ import annotations

import json
import math
import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from random import Random

from reference.cushion_radau import CushionImpact, Motion, cushion_impact

SNOOKER_RADIUS = 0.02625  # half of the 52.5 mm of the rules [R]
NOSE_OVER_RADIUS = 1.4  # 7R/5 [M]
STORED_SEED = 1
STORED = Path(__file__).parent / "data" / "cushion_impacts.json"


@dataclass(frozen=True)
class CushionCase:
    """An impact to compute: motion before, and the law's numbers in the order it takes them."""

    before: Motion
    radius: float
    nose_height: float
    restitution: float
    cushion_friction: float
    sliding_friction: float

    @property
    def speed(self) -> float:
        """Speed of approach, along the cushion included. [m s⁻¹]"""
        return math.hypot(self.before[0], self.before[1])

    @property
    def arguments(self) -> tuple[float, ...]:
        """All ten numbers in the order of the law's signature."""
        return (
            *self.before,
            self.radius,
            self.nose_height,
            self.restitution,
            self.cushion_friction,
            self.sliding_friction,
        )


def random_case(random: Random) -> CushionCase:
    """A ball that meets the cushion as in play, rolling, sliding or with much side."""
    radius, height, restitution, nose, cloth = _coefficients(random)
    speed = math.exp(random.uniform(math.log(0.05), math.log(5.0)))
    angle = math.radians(random.uniform(1.0, 179.0))
    vx, vy = speed * math.cos(angle), speed * math.sin(angle)
    spin = speed / radius
    manner = random.random()
    if manner < 0.25:
        wx, wy = -vy / radius, vx / radius
    elif manner < 0.6:
        share = random.uniform(-1.0, 1.0)
        wx, wy = -share * vy / radius, share * vx / radius
    else:
        wx, wy = random.uniform(-1.3, 1.3) * spin, random.uniform(-1.3, 1.3) * spin
    wz = random.choice((0.0, random.uniform(-1.3, 1.3) * spin))
    return CushionCase((vx, vy, wx, wy, wz), radius, height, restitution, nose, cloth)


def nearly_sticking_case(random: Random) -> CushionCase:
    """The same, with little slip at the nose or at the bed before the impact."""
    case = random_case(random)
    vx, vy, wx, wy, wz = case.before
    radius, spin = case.radius, case.speed / case.radius
    sine = case.nose_height / radius - 1.0
    cosine = math.sqrt(1.0 - sine**2)
    little = math.exp(random.uniform(math.log(0.003), math.log(0.6)))
    if random.random() < 0.6:
        # No slip along the nose: vx + R(ωy sinθ − ωz cosθ) = 0; none across it: vy sinθ = R ωx.
        wx = vy * sine / radius
        wz = (vx / radius + wy * sine) / cosine
        wx += little * random.uniform(-1.0, 1.0) * spin
        wz += little * random.uniform(-1.0, 1.0) * spin
    else:
        wx, wy = -vy / radius, vx / radius
        wx += little * random.uniform(-1.0, 1.0) * spin
        wy += little * random.uniform(-1.0, 1.0) * spin
    return CushionCase((vx, vy, wx, wy, wz), *case.arguments[5:])


def random_impacts(seed: int, count: int) -> Iterator[tuple[CushionCase, CushionImpact]]:
    """``count`` impacts with what the reference gives; every second one sticks somewhere."""
    random = Random(seed)
    for number in range(count):
        wanted = number % 2 == 0
        while True:
            case = nearly_sticking_case(random) if wanted else random_case(random)
            found = cushion_impact(case.before, *case.arguments[5:])
            if not wanted or found.nose_sticks or found.bed_sticks:
                break
        yield case, found


def stored_impacts() -> list[tuple[CushionCase, CushionImpact]]:
    """The impacts of ``STORED_SEED`` with their results, as ``store`` wrote them."""
    impacts = []
    for row in json.loads(STORED.read_text()):
        case, found = row["case"], row["found"]
        case["before"], found["after"] = tuple(case["before"]), tuple(found["after"])
        impacts.append((CushionCase(**case), CushionImpact(**found)))
    return impacts


def store(count: int) -> None:
    """Compute that many impacts and write them down, every digit kept."""
    rows = [
        json.dumps({"case": asdict(case), "found": asdict(found)})
        for case, found in random_impacts(STORED_SEED, count)
    ]
    STORED.parent.mkdir(exist_ok=True)
    STORED.write_text("[\n" + ",\n".join(rows) + "\n]\n")


def _coefficients(random: Random) -> tuple[float, float, float, float, float]:
    """Radius, nose height, restitution, friction of nose and cloth: default, or varied."""
    if random.random() < 0.5:
        return SNOOKER_RADIUS, NOSE_OVER_RADIUS * SNOOKER_RADIUS, 0.98, 0.14, 0.20
    radius = random.uniform(0.0238, 0.0308)
    return (
        radius,
        random.uniform(1.1, 1.55) * radius,
        random.uniform(0.6, 1.0),
        random.uniform(0.0, 0.4),
        random.uniform(0.05, 0.8),
    )


if __name__ == "__main__":
    store(int(sys.argv[1]))
