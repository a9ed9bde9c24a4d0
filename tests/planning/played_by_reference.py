"""A few strokes played by the tests' independent integrator, stored with what was seen.

``python -m planning.played_by_reference`` in ``tests`` writes them. Truths are drawn as in
``played_strokes``; nothing here is played by the engine.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np

from planning.played_strokes import ASSUMED, BLUE
from reference.table_dop853 import simulate
from stunline.equipment.doubt import doubt_of
from stunline.equipment.model import SpeedDependentFriction
from stunline.equipment.player import load_player
from stunline.planning.likely_strokes import PlayedAsked
from stunline.planning.stroke_prior import StrokePrior
from stunline.shot.happened import Happened
from stunline.shot.position import Position, Strike
from stunline.shot.reading_error import PLACE

STORED = Path(__file__).parent / "data" / "played_by_reference.json"
CLOTH = ASSUMED.cloths["match"]
# Meant: where the white stands, and the strike in SI units.
MEANT: tuple[tuple[tuple[float, float], Strike], ...] = (
    ((0.86, 1.1), Strike(math.pi / 2, 1.6, 0.006)),
    ((0.86, 1.3), Strike(math.pi / 2, 1.9, -0.007)),
    ((0.915, 1.2), Strike(math.pi / 2, 1.5, 0.0, 0.002)),
    ((0.875, 0.9), Strike(math.pi / 2, 1.7, 0.009)),
)


def stored() -> list[dict[str, Any]]:
    """As written."""
    found: list[dict[str, Any]] = json.loads(STORED.read_text(encoding="utf-8"))
    return found


def asked_of(one: dict[str, Any]) -> PlayedAsked:
    """What is asked of a stored stroke."""
    white, meant = MEANT[one["meant"]]
    position = Position(ASSUMED, CLOTH.name, CLOTH.coefficients, {"white": white, "blue": BLUE})
    seen = Happened(white_rest=tuple(one["white_rest"]), object_rest=tuple(one["object_rest"]))
    return PlayedAsked(position, meant, load_player("club"), seen, "blue")


def made(seed: int) -> dict[str, Any] | None:
    """One stroke; None where a ball comes to where a pocket is, which the integrator lacks."""
    rng = np.random.default_rng([seed, 9])
    number = seed % len(MEANT)
    white, meant = MEANT[number]
    prior = StrokePrior(meant, load_player("club"))
    off = rng.standard_normal((1, 4))
    aim, pace, height, side, elevation = prior.rows(off)[0].tolist()
    doubt = doubt_of(CLOTH)
    actual = doubt.at(doubt.root_times(rng.standard_normal((1, len(doubt.names)))))[0]
    friction = actual.ball_friction
    told = (
        (friction.floor, friction.span, friction.decay)
        if isinstance(friction, SpeedDependentFriction)
        else friction
    )
    names = ("sliding_friction", "rolling_resistance", "spin_deceleration", "gravity",
             "ball_restitution", "cushion_restitution", "cushion_friction")  # fmt: skip
    found = simulate(
        ASSUMED.length,
        ASSUMED.width,
        ASSUMED.balls["white"].radius,
        {
            **{name: getattr(actual, name) for name in names},
            "ball_friction": told,
            "nose_height": ASSUMED.nose_height,
        },
        [white, BLUE],
        {"aim": aim, "pace": pace, "height": height, "side": side, "elevation": elevation},
        ASSUMED.cue.ball_to_end_mass,
    )
    if found["lasting"] or any(_by_a_pocket(places) for places in found["places"]):
        return None
    rests = np.array(found["rest"]) + PLACE * rng.standard_normal((2, 2))
    return {
        "meant": number,
        "off": prior.off(off)[0].tolist(),
        "white_rest": rests[0].tolist(),
        "object_rest": rests[1].tolist(),
    }


def _by_a_pocket(places: list[tuple[float, float]]) -> bool:
    mouths = [pocket.drop_centre for pocket in ASSUMED.pockets]
    return any(math.dist(place, mouth) < 0.2 for place in places for mouth in mouths)


if __name__ == "__main__":
    kept = [one for one in map(made, range(40)) if one is not None][:6]
    STORED.parent.mkdir(exist_ok=True)
    STORED.write_text(json.dumps(kept, indent=1) + "\n", encoding="utf-8")
