"""The cells that the white passes, as a batch tells them, against the shot's own places."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from random_positions import MATCH, TABLE
from stunline.shot.batch import Watch, play_many
from stunline.shot.batch_watch import Raster
from stunline.shot.play import play
from stunline.shot.position import Position, Strike

RASTER = Raster(0.05, 36, 72)
BALLS = {"white": (0.9, 0.7), "blue": (0.93, 1.2), "pink": (1.3, 2.3)}
POSITION = Position(TABLE, "match", MATCH, BALLS)
STRIKES = [
    Strike(0.5 * math.pi + off, pace, height)
    for off, pace, height in [
        (-0.05, 1.2, 0.01), (0.0, 2.0, 0.0), (0.04, 2.8, -0.008),
        (-0.02, 3.5, 0.005), (0.3, 2.0, 0.0),
    ]
]  # fmt: skip


def passed(batch_row: np.ndarray) -> list[int]:
    return [int(cell) for cell in batch_row if cell >= 0]


@pytest.mark.parametrize("number", range(len(STRIKES)))
def test_the_cells_are_those_of_the_shots_own_places(number: int) -> None:
    # [by an independent method] the shot looked at every 0.2 ms
    batch = play_many(POSITION, STRIKES, watch=Watch(raster=RASTER))
    cells = passed(batch.ways[number])
    shot = play(POSITION, STRIKES[number])
    met = [e.time for e in shot.events if e.kind.value == "ball" and "white" in e.balls]
    since = met[0] if met else 0.0
    until = met[1] if len(met) > 1 else shot.duration
    times = np.arange(since, until, 2e-4)
    places = np.array([shot.place("white", float(time))[:2] for time in times])
    seen = RASTER.cells_at(places)
    assert set(cells) <= set(seen.tolist())
    # A corner that the way cuts by less than a fifth of a cell may be left out.
    stays = {int(cell): float((seen == cell).sum()) for cell in np.unique(seen)}
    missing = set(stays) - set(cells)
    for cell in missing:
        inside = places[seen == cell]
        assert np.hypot(*np.ptp(inside, axis=0)) < 0.3 * RASTER.cell
    assert cells[0] == seen[0]
    assert all(one != other for one, other in pairwise(cells))


def test_without_a_raster_no_cells_are_kept() -> None:
    assert play_many(POSITION, STRIKES).ways.shape == (len(STRIKES), 0)


def test_ways_longer_than_what_is_kept_are_cut_off() -> None:
    short = Raster(RASTER.cell, RASTER.columns, RASTER.rows, most=5)
    whole = play_many(POSITION, STRIKES, watch=Watch(raster=RASTER))
    cut = play_many(POSITION, STRIKES, watch=Watch(raster=short))
    assert cut.ways.tolist() == whole.ways[:, :5].tolist()


def test_cells_and_their_middles_belong_together() -> None:
    # [by hand] 36 columns of 50 mm: the middle of cell 37 is (75, 75) mm
    middles = RASTER.middles()
    assert middles[37] == pytest.approx((0.075, 0.075))
    assert RASTER.cells_at(middles).tolist() == list(range(RASTER.cells))
    outside = np.array([[-0.01, 0.5], [1.81, 0.5], [0.5, 3.61], [np.nan, np.nan]])
    assert RASTER.cells_at(outside).tolist() == [-1] * 4
