"""Draws of the campaign that once had impacts without end, or seemed to gain energy.

Where a nose goes over into its jaw, both touch a ball that slides along. Their normals differ by
some 1e-8, so that what one of them takes of the ball's approach the other gives back: as long as
either bounced the ball, however slowly, impacts followed one another at one instant.
"""

from __future__ import annotations

import pytest

from random_positions import random_shot
from record_check import IN_ORDER, check
from stunline.shot.play import play
from stunline.shot.shot import StopReason


@pytest.mark.parametrize(
    "seed",
    [
        2_000_036_071,  # rolls along a nose onto the jaw: bounced at 5 nm/s, then rolls, for ever
        2_000_037_491,  # pressed to the jaw: closes with the nose's end at 4e-12 m/s
        2_000_506_847,  # the same at 1.4e-10 m/s, spin that does not decay
        2_000_303_715,  # the second ball, pressed to a nose behind the jaw
        2_000_349_465,  # a ball struck along the nose by the white, no loss between balls
        # Wedged between two jaws and another ball at restitutions of 0.01 and 0.05: what it hands
        # the other while both are pressed had been taken for a gain.
        2_000_442_441,
    ],
)
def test_it_ends_at_rest_and_in_order(seed: int) -> None:
    """[property] No endless series of impacts, no gain of energy, no overlap."""
    shot = play(*random_shot(seed))
    assert shot.stop_reason == StopReason.AT_REST
    assert check(shot)[0] == IN_ORDER
