"""The engine against the independent reference, at length: `make campaign`.

[by an independent method] 200 whole shots and 5,000 cushion impacts; the reference alone takes
some minutes. ``-s`` shows the largest differences.
"""

from __future__ import annotations

import numpy as np
import pytest

from comparison_with_reference import compare, impact_difference
from reference.random_impacts import random_impacts
from reference.random_shots import random_shot, stored_seeds

SHOTS = list(stored_seeds().items())[20:220]  # after the twenty of the tests
IMPACT_SEEDS = range(100, 150)
IMPACTS_OF_A_SEED = 100
CLOSE, WORST = 1e-7, 1e-6  # over the speed of approach
CLOSE_SHARE = 0.99


def test_two_hundred_shots_are_stored() -> None:
    assert len(SHOTS) == 200


@pytest.mark.parametrize("part", range(10))
def test_shots_rest_where_the_reference_does(part: int) -> None:
    shares = {}
    for seed, sensitivity in SHOTS[part::10]:
        found = compare(random_shot(seed), sensitivity)
        assert found.same_meetings, (seed, found.meetings)
        shares[seed] = found.apart / found.allowed
    worst = max(shares, key=shares.__getitem__)
    print(f"part {part}: worst seed {worst}, {shares[worst]:.3f} of what is allowed")
    assert shares[worst] < 1.0, worst


@pytest.mark.parametrize("seed", IMPACT_SEEDS)
def test_impacts_agree_with_the_integrated_law(seed: int) -> None:
    impacts = list(random_impacts(seed, IMPACTS_OF_A_SEED))
    apart = np.array([impact_difference(case, found.after) for case, found in impacts])
    worst = int(np.argmax(apart))
    print(f"seed {seed}: worst {apart[worst]:.2e}, {np.mean(apart > CLOSE):.1%} above {CLOSE}")
    assert apart[worst] < WORST, impacts[worst][0]
    assert np.mean(apart < CLOSE) >= CLOSE_SHARE
