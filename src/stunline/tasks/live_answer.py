"""The parts of a live answer, in the page's units: millimetres, degrees, m/s, seconds."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from stunline.drawing.ball_marks import tint_of
from stunline.mechanics import layout
from stunline.shot.position import Position, PotAim
from stunline.shot.sentences import event_words
from stunline.shot.shot import Shot
from stunline.tasks.band_words import doubt_sentences
from stunline.tasks.play_shot import ShotResult
from stunline.tasks.tell_shot import is_told, number_rows
from stunline.units import degrees, millimetres

Part = dict[str, Any]
# Enough to tell any shot; an opened pack has hundreds that nobody reads.
_MOST_EVENTS = 60
# Decimals of places, speeds and accelerations in mm: a thousandth is far below a pixel.
_DECIMALS = 3
_MOTIONS = {
    layout.SPINNING: "spinning",
    layout.ROLLING: "rolling",
    layout.SLIDING: "sliding",
}


def balls_part(shot: Shot) -> Part:
    """Where each ball stands before the strike, and what it looks like."""
    position = shot.position
    return {
        name: {
            "at": [millimetres(x), millimetres(y)],
            "radius": millimetres(kind.radius),
            "letter": kind.letter,
            "tint": tint_of(shot, name).value.removeprefix("ball-"),
            "spot": _spot_at(position, name),
        }
        for name, (x, y) in position.balls.items()
        for kind in [position.table.balls[name]]
    }


def _spot_at(position: Position, ball: str) -> str:
    """The name of the spot that the ball stands on, or ""."""
    at = position.balls[ball]
    return next((name for name, place in position.table.spots.items() if place == at), "")


def strike_part(result: ShotResult) -> Part:
    """The strike as played: typed back, it is the same shot."""
    strike, read = result.shot.strike, result.readouts
    return {
        "aim": degrees(strike.aim),
        "pace": strike.pace,
        "height": millimetres(strike.height),
        "side": millimetres(strike.side),
        "elevation": degrees(strike.elevation),
        "lengths": read.pace_lengths,
        "follow_ratio": read.follow_ratio,
    }


def rows_part(result: ShotResult) -> list[list[str]]:
    """The read-outs, each as its name and its value in words."""
    return [[name, value] for name, value in number_rows(result) if name]


def events_part(result: ShotResult) -> list[Part]:
    """What happens to the white and the object ball, and what falls."""
    shot, object_ball = result.shot, result.readouts.object_ball
    told = [event for event in shot.events if is_told(event, shot, object_ball)]
    return [
        {
            "time": event.time,
            "kind": str(event.kind),
            "words": event_words(event),
            "at": [millimetres(event.at[0]), millimetres(event.at[1])],
            "ball": event.balls[0],
        }
        for event in told[:_MOST_EVENTS]
    ]


def phases_part(shot: Shot) -> dict[str, list[Part]]:
    """Every ball's way for playback: at t after its start a phase is at
    ``place + velocity·t + acceleration·t²/2``. [mm, mm s⁻¹, mm s⁻²]"""
    floats, kinds = shot.record.phase_floats, shot.record.phase_ints.tolist()
    times = floats[:, [layout.PHASE_START, layout.PHASE_END]].tolist()
    columns = [
        layout.PHASE_X, layout.PHASE_Y, layout.PHASE_VX, layout.PHASE_VY,
        layout.PHASE_AX, layout.PHASE_AY,
    ]  # fmt: skip
    motions = np.round(millimetres(1.0) * floats[:, columns], _DECIMALS).tolist()
    found: dict[str, list[Part]] = {}
    names = shot.position.names
    for (ball, motion), (start, end), (x, y, vx, vy, ax, ay) in zip(
        kinds, times, motions, strict=True
    ):
        found.setdefault(names[ball], []).append(
            {
                "start": start,
                "end": end,
                "place": [x, y],
                "velocity": [vx, vy],
                "acceleration": [ax, ay],
                "motion": _MOTIONS[motion],
            }
        )
    return found


def doubt_part(result: ShotResult) -> Part | None:
    """What the brackets and the ribbon show, and what else may happen."""
    if result.band is None:
        return None
    return {"sentences": doubt_sentences(result.band, "Tint and brackets")}


def pot_part(result: ShotResult) -> Part | None:
    """The pot asked for, whether it is made, and the aims that make it. [°]"""
    aim, window = result.file.plan.aim, result.solution.pot
    if not isinstance(aim, PotAim):
        return None
    return {
        "ball": aim.ball,
        "pocket": aim.pocket,
        "made": bool(result.readouts.pot_made),
        "window": [degrees(window.low), degrees(window.high)] if window else None,
    }


def empty_parts() -> Mapping[str, Any]:
    """What tells the answer, left empty while it is kept back."""
    return {
        "sentence": "",
        "rows": [],
        "events": [],
        "phases": {},
        "notes": [],
        "duration": 0.0,
        "pot": None,
        "doubt": None,
        "pinned": [],
    }
