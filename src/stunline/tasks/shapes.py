"""The JSON shapes, a promise: additions only. Millimetres, degrees, m/s, seconds.

Their schemas are in ``tasks/schemas``, one for each command, and in the docs.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import stunline
from stunline.equipment.model import Coefficients, SpeedDependentFriction
from stunline.shot.aiming.pot_aim import PotWindow
from stunline.shot.band import ShotBand
from stunline.shot.compiled import sources_hash
from stunline.shot.ladder import Ladder
from stunline.shot.ladder_band import LadderBand
from stunline.shot.notes import notes
from stunline.shot.position import LadderVariable, StrikePlan
from stunline.shot.readouts import readouts
from stunline.shot.replay import replay_digest
from stunline.shot.rung import Rung
from stunline.shot.shot import Event, Motion, Shot
from stunline.tasks.band_shape import band_shape, outcome_shape, steps_shape
from stunline.units import degrees, millimetres

Shape = dict[str, Any]


def shot_shape(
    shot: Shot, plan: StrikePlan, window: PotWindow | None, band: ShotBand | None = None
) -> Shape:
    """What ``stunline shot --json`` prints; ``doubt`` is null without a band."""
    return {
        "balls": {name: _ball(shot, name) for name in shot.position.names},
        "events": [_event(event) for event in shot.events],
        "strike": {
            "aim": degrees(shot.strike.aim),
            "pace": shot.strike.pace,
            "height": millimetres(shot.strike.height),
            "side": millimetres(shot.strike.side),
            "elevation": degrees(shot.strike.elevation),
        },
        "readouts": readouts(shot, plan, window).as_dict(),
        "notes": list(notes(shot, plan)),
        "stop_reason": str(shot.stop_reason),
        "coefficients": coefficients_shape(shot.position.coefficients),
        "table": shot.position.table.name,
        "cloth": shot.position.cloth,
        "title": shot.position.title,
        "engine": stunline.__version__,
        "replay": {"kernels": sources_hash(), "digest": replay_digest(shot)},
        "doubt": None if band is None else band_shape(band),
    }


def _ball(shot: Shot, name: str) -> Shape:
    rest = shot.rest(name)
    return {
        "rest": None if rest is None else [millimetres(rest[0]), millimetres(rest[1])],
        "potted": shot.potted(name),
    }


def _event(event: Event) -> Shape:
    return {
        "time": event.time,
        "kind": str(event.kind),
        "balls": list(event.balls),
        "at": [millimetres(event.at[0]), millimetres(event.at[1])],
        "after": {name: _motion(motion) for name, motion in event.after.items()},
        "surface": event.surface,
    }


def _motion(motion: Motion) -> Shape:
    return {"velocity": list(motion.velocity), "spin": list(motion.spin)}


def coefficients_shape(coefficients: Coefficients) -> Shape:
    """All coefficients as used, by the keys of the position file."""
    shape = asdict(coefficients)
    if isinstance(coefficients.ball_friction, SpeedDependentFriction):
        law = coefficients.ball_friction
        shape["ball_friction"] = "speed-dependent"
        shape["ball_friction_law"] = {"floor": law.floor, "span": law.span, "decay": law.decay}
    return shape


def ladder_shape(ladder: Ladder, band: LadderBand | None = None) -> Shape:
    """What ``stunline ladder --json`` prints; ``steps`` is null without a band."""
    bands = [None] * len(ladder.rungs) if band is None else band.rungs
    return {
        "vary": ladder.vary,
        "unit": UNITS[ladder.vary],
        "aim": "held" if ladder.aim_held else "solved",
        "rungs": [_rung(*two, ladder) for two in zip(ladder.rungs, bands, strict=True)],
        "bands": [
            {
                "from": in_file_unit(band.start, ladder.vary),
                "to": in_file_unit(band.end, ladder.vary),
                "outcome": outcome_shape(band.outcome),
            }
            for band in ladder.bands
        ],
        "changes": [
            {
                "at": in_file_unit(change.at, ladder.vary),
                "from": outcome_shape(change.before),
                "to": outcome_shape(change.after),
            }
            for change in ladder.changes
        ],
        "steps": None if band is None else steps_shape(band),
        "engine": stunline.__version__,
    }


def _rung(rung: Rung, band: ShotBand | None, ladder: Ladder) -> Shape:
    value = rung.value
    if isinstance(value, float | int):
        value = in_file_unit(value, ladder.vary)
    return {
        "value": value,
        "pot_made": rung.pot_made,
        "reason": rung.reason or None,
        "outcome": outcome_shape(rung.outcome),
        **shot_shape(rung.shot, ladder.plan, rung.pot, band),
    }


UNITS: dict[LadderVariable, str] = {
    "pace": "m/s",
    "height": "mm",
    "side": "mm",
    "thickness": "",
    "distance": "mm",
    "table": "",
    "cloth": "",
}


def in_file_unit(value: float, vary: LadderVariable) -> float:
    """A value in SI as it stands in a position file."""
    return millimetres(value) if UNITS[vary] == "mm" else value
