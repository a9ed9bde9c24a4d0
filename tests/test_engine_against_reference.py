"""Whole shots against the independent integrator: another method, no shared code.

[by an independent method] Rests agree within 0.01 mm, plus what 1e-7 rad of aim would do.
"""

from __future__ import annotations

import pytest

from comparison_with_reference import compare
from reference.random_shots import random_shot, stored_seeds

SHOTS = list(stored_seeds().items())[:20]


def test_twenty_shots_are_stored() -> None:
    assert len(SHOTS) == 20


@pytest.mark.parametrize(("seed", "sensitivity"), SHOTS)
def test_shot_rests_where_the_reference_does(seed: int, sensitivity: float) -> None:
    found = compare(random_shot(seed), sensitivity)
    assert found.same_meetings, found.meetings
    assert found.apart < found.allowed
