"""Compile every kernel that the package calls: ``python -m stunline.shot.warm_up``."""

from __future__ import annotations

import math

import numpy as np

from stunline.equipment.catalogue import load_table
from stunline.shot import compiled
from stunline.shot.aiming.windows_at_once import pots_made
from stunline.shot.batch import Batch, play_many
from stunline.shot.next_pots import ways_to_pockets
from stunline.shot.play import Prepared, play
from stunline.shot.position import Position, PotAim, Strike


def compile_all() -> None:
    """Call each kernel once, with the types it is always called with."""
    table = load_table("snooker-12ft")
    cloth = table.default_cloth()
    balls = {"white": (0.9, 0.7), "blue": (0.9, 1.2)}
    position = Position(table, cloth.name, cloth.coefficients, balls)
    strike = Strike(aim=0.5 * math.pi, pace=2.0, height=0.002, side=0.003)
    play(position, strike)
    _count(position, play_many(position, [strike], threads=1))
    Prepared(position).tally(strike)
    pots_made(Prepared(position), PotAim("blue", "top left"), strike, [strike.aim])
    compiled.ball_speed_from_cue_speed(1.0, 0.1, 0.7, 0.3)
    compiled.squirt_angle(0.001, 0.026, 25.0)
    compiled.mark_compiled()


def _count(position: Position, batch: Batch) -> None:
    """What can be potted next, from where all rest: both kernels that look for it."""
    prepared = Prepared(position)
    shared = ways_to_pockets(prepared, position.names)
    counts = np.zeros((2, 1), dtype=np.int64)
    compiled.count_next(
        prepared.places()[None], batch.rests, batch.potted, *shared, 0.1, 1e-6, 1.0, *counts
    )
    compiled.outside_of_cuts(batch.rests, batch.potted, *shared, 0.0, 1.0, np.zeros(1))


if __name__ == "__main__":
    compile_all()
    print(f"kernels {compiled.sources_hash()} compiled into {compiled.cache_folder()}")
