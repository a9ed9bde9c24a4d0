"""Gauging shots on invented tables, played by the tests' independent integrator.

Truths are drawn from the priors, then each play from its tool's scatter: where the balls really
stood, how ramp or cue really sent the white, how far the tape and the clock were off. Nothing here
plays with the engine. ``python -m calibration.simulated_table 20`` writes the stored records.
"""

from __future__ import annotations

import json
import math
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from reference.table_dop853 import simulate
from stunline.calibration.menu import BY_ID, FULL, GaugingShot
from stunline.calibration.priors import Prior, priors
from stunline.calibration.record import (
    FRAME_TIME,
    HAND_TIME,
    PLACING,
    READING,
    Play,
    Reading,
    Record,
    set_up_places,
)
from stunline.calibration.tools import Ramp
from stunline.equipment.catalogue import load_table
from stunline.equipment.coefficient_scales import COEFFICIENTS, with_values
from stunline.equipment.model import SpeedDependentFriction

STORED = Path(__file__).parent / "data" / "simulated_tables.json"
TABLE = load_table("snooker-12ft")
PROFILE = TABLE.cloths["match"].coefficients
RADIUS = TABLE.balls["white"].radius
BALL_TO_END_MASS = TABLE.cue.ball_to_end_mass

# How people and ramps scatter (invented; the fit assumes no less).
RELEASE, RAMP_TURN = 0.008, 0.004
STROKE_PACE, STROKE_HEIGHT, STROKE_SIDE, STROKE_TURN = 0.15, 0.003, 0.0015, 0.006


def truth(seed: int) -> dict[str, float]:
    """Every shared unknown of that invented table, drawn from the priors."""
    random = np.random.default_rng([seed, 1])
    return {prior.name: prior.value(float(random.normal())) for prior in priors(PROFILE)}


def simulated(seed: int, ids: tuple[str, ...] = FULL, frames: bool = False) -> dict[str, Any]:
    """A stored record: the truth, and for each play what was read. Metres, seconds."""
    actual = truth(seed)
    plays = [_play(BY_ID[name], actual, [seed, 2, k], frames) for k, name in enumerate(ids)]
    for play in plays:
        for reading in play["readings"]:
            reading[1] = [round(number, 6) for number in reading[1]]  # µm, µs
    return {"seed": seed, "truth": actual, "plays": plays}


def record(stored: dict[str, Any], only: tuple[str, ...] | None = None) -> Record:
    """The record that a coach would have kept of it."""
    kept = [one for one in stored["plays"] if only is None or one["shot"] in only]
    plays = [_as_play(one, number) for number, one in enumerate(kept)]
    return Record(TABLE, "match", tuple(plays), ramp=Ramp(), table_name="snooker-12ft")


def stored_tables() -> list[dict[str, Any]]:
    """The records kept beside this file."""
    found: list[dict[str, Any]] = json.loads(STORED.read_text(encoding="utf-8"))
    return found


def with_blunder(given: Record, seed: int) -> tuple[Record, str]:
    """The record with one place or time grossly wrong, and the play's name.

    A digit of a coordinate written wrong by 300 to 900 mm, or both balls' places swapped, or a
    time read 3 s off.
    """
    random = np.random.default_rng([seed, 3])
    k = int(random.integers(len(given.plays)))
    play = given.plays[k]
    readings = list(play.readings)
    r = int(random.integers(len(readings)))
    rests = [n for n, one in enumerate(readings) if one.kind.endswith("_rest")]
    if len(rests) == 2 and random.random() < 0.3:
        first, second = (readings[n].values for n in rests)
        readings[rests[0]] = replace(readings[rests[0]], values=second)
        readings[rests[1]] = replace(readings[rests[1]], values=first)
    else:
        readings[r] = _misread(readings[r], random)
    plays = list(given.plays)
    plays[k] = replace(play, readings=tuple(readings))
    return replace(given, plays=tuple(plays)), play.name


def _misread(reading: Reading, random: np.random.Generator) -> Reading:
    values = list(reading.values)
    digit = int(random.integers(len(values)))
    if reading.kind == "time":
        values[digit] += 3.0
        return replace(reading, values=tuple(values))
    span = (TABLE.width, TABLE.length)[
        digit if len(values) == 2 else int(reading.cushion in (1, 3))
    ]
    off = 0.1 * float(random.integers(3, 10))
    values[digit] += off if values[digit] + off < span else -off
    values[digit] = abs(values[digit])
    return replace(reading, values=tuple(values))


def _as_play(stored: dict[str, Any], number: int) -> Play:
    shot = BY_ID[stored["shot"]]
    white, other = set_up_places(shot, TABLE)
    readings = tuple(
        Reading(kind, tuple(values), error, cushion)
        for kind, values, error, cushion in stored["readings"]
    )
    return Play(
        f"{number + 1} {shot.id}",
        shot,
        white,
        other,
        shot.aim,
        shot.drop,
        readings,
        stored["turns"],
    )


def _play(
    shot: GaugingShot, actual: dict[str, float], seed: list[int], frames: bool
) -> dict[str, Any]:
    """One play, again where the balls stay in contact or the white misses."""
    for attempt in range(20):
        random = np.random.default_rng([*seed, attempt])
        if shot.tool == "fingers":
            return _twirl(shot, actual, random, frames)
        found = _on_the_table(shot, actual, random)
        if not found["lasting"] and _counts(shot, found):
            return {
                "shot": shot.id,
                "turns": 0.0,
                "readings": _read(shot, found, random, frames),
            }
    raise ArithmeticError(f"{shot.id} can't be played on that table")


def _counts(shot: GaugingShot, found: dict[str, Any]) -> bool:
    """Whether it went as the menu asks: the ball met, and after a free stroke met once."""
    met = [kind == "ball" for _, kind, _ in found["events"]]
    if shot.object is None:
        return True
    return any(met[:1]) and (sum(met) == 1 or not shot.id.startswith("bend"))


def _twirl(
    shot: GaugingShot, actual: dict[str, float], random: np.random.Generator, frames: bool
) -> dict[str, Any]:
    """At a constant deceleration α from ω₀: N = ω₀²/(4πα) turns in ω₀/α seconds (exact)."""
    spin, slowing = float(random.uniform(40.0, 90.0)), actual["spin_deceleration"]
    turns = round(4.0 * (spin**2 / (4.0 * math.pi * slowing) + random.normal(0.0, 0.2))) / 4.0
    error = FRAME_TIME if frames else HAND_TIME
    time = spin / slowing + float(random.normal(0.0, error))
    return {"shot": shot.id, "turns": turns, "readings": [["time", [time], error, -1]]}


def _on_the_table(
    shot: GaugingShot, actual: dict[str, float], random: np.random.Generator
) -> dict[str, Any]:
    places = [place for place in set_up_places(shot, TABLE) if place is not None]
    balls = [tuple((np.array(place) + random.normal(0.0, PLACING, 2)).tolist()) for place in places]
    strike = {"elevation": 0.0, "side": 0.0}
    if shot.tool == "ramp":
        # Solid sphere down a flat chute: v² = 10gh/7; the foot takes speed and leaves the spin.
        fast = math.sqrt(10.0 * 9.81 * shot.drop / 7.0)
        left = actual["ramp_factor"] * math.exp(random.normal(0.0, RELEASE))
        strike["pace"] = left * fast
        strike["height"] = 0.4 * RADIUS * fast / strike["pace"]
        strike["aim"] = shot.aim + float(random.normal(0.0, RAMP_TURN))
    else:
        strike["pace"] = shot.pace * math.exp(random.normal(0.0, STROKE_PACE))
        strike["height"] = shot.height * RADIUS + float(random.normal(0.0, STROKE_HEIGHT))
        strike["height"] = float(np.clip(strike["height"], -0.5 * RADIUS, 0.5 * RADIUS))
        strike["side"] = float(random.normal(0.0, STROKE_SIDE))
        strike["aim"] = shot.aim + float(random.normal(0.0, STROKE_TURN))
    return simulate(
        TABLE.length, TABLE.width, RADIUS, _coefficients(shot, actual), balls, strike,
        BALL_TO_END_MASS,
    )  # fmt: skip


def _coefficients(shot: GaugingShot, actual: dict[str, float]) -> dict[str, Any]:
    numbers = with_values(PROFILE, [actual[name] for name in COEFFICIENTS])
    law = numbers.ball_friction
    assert isinstance(law, SpeedDependentFriction)
    rolling = numbers.rolling_resistance
    if shot.one_heading:
        rolling *= 1.0 + actual["lean_along"] * math.sin(shot.aim)
        rolling *= 1.0 + actual["lean_across"] * math.cos(shot.aim)
    return {
        "sliding_friction": numbers.sliding_friction,
        "rolling_resistance": rolling,
        "spin_deceleration": numbers.spin_deceleration,
        "gravity": 9.81,
        "ball_restitution": numbers.ball_restitution,
        "ball_friction": (law.floor, law.span, law.decay),
        "cushion_restitution": numbers.cushion_restitution,
        "cushion_friction": numbers.cushion_friction,
        "nose_height": TABLE.nose_height,
    }


def _read(
    shot: GaugingShot, found: dict[str, Any], random: np.random.Generator, frames: bool
) -> list[list[Any]]:
    """What the coach writes down, with the tape's and the clock's errors."""
    readings: list[list[Any]] = []
    for kind in shot.readings:
        if kind.endswith("_rest"):
            rest = np.array(found["rest"][int(kind == "object_rest")])
            readings.append([kind, (rest + random.normal(0.0, READING, 2)).tolist(), READING, -1])
        elif kind.endswith("_cushion"):
            readings += _touch(kind, found, random)
        elif kind == "time":
            error = FRAME_TIME if frames else HAND_TIME
            time = found["duration"] + float(random.normal(0.0, error))
            readings.append([kind, [float(time)], error, -1])
    return readings


def _touch(kind: str, found: dict[str, Any], random: np.random.Generator) -> list[list[Any]]:
    """A ball's first cushion after white and object ball met, when it met that next."""
    ball = int(kind == "object_cushion")
    later = list(zip(found["events"], found["places"], strict=True))[1:]
    its_own = [
        (what, who, places)
        for (_, what, who), places in later
        if ball in who[: 1 + (what == "ball")]
    ]
    if not its_own or its_own[0][0] != "cushion":
        return []
    _, (_, cushion), places = its_own[0]
    along = places[ball][0 if cushion in (0, 2) else 1]
    return [[kind, [along + float(random.normal(0.0, READING))], READING, cushion]]


def held_out(stored: dict[str, Any], number: int) -> dict[str, Any]:
    """A shot on that table that is not of the menu: places, strike, and where the balls end.

    Any places, pace, height, side and thickness; what the strike was is known, the rest read.
    """
    for attempt in range(50):
        random = np.random.default_rng([stored["seed"], 4, number, attempt])
        room = 0.2  # from the cushions, so that no ball stands in a jaw [m]
        places = random.uniform((room, room), (TABLE.width - room, TABLE.length - room), (2, 2))
        apart = places[1] - places[0]
        if not 0.3 < np.hypot(*apart) < 1.5:
            continue
        off = random.uniform(-0.8, 0.8) * 2.0 * RADIUS / np.hypot(*apart)
        strike = {
            "elevation": 0.0,
            "aim": math.atan2(apart[1], apart[0]) + math.asin(off),
            "pace": float(random.uniform(0.8, 2.5)),
            "height": float(random.uniform(-0.3, 0.3)) * RADIUS,
            "side": float(random.uniform(-0.2, 0.2)) * RADIUS,
        }
        # Any shot that turns off its first heading sees the mean rolling.
        numbers = _coefficients(BY_ID["half-ball"], stored["truth"])
        balls = [tuple(place) for place in places.tolist()]
        found = simulate(
            TABLE.length, TABLE.width, RADIUS, numbers, balls, strike, BALL_TO_END_MASS
        )
        if not found["lasting"]:
            rest = np.array(found["rest"][0]) + random.normal(0.0, READING, 2)
            return {"places": places, "strike": strike, "white_rest": rest}
    raise ArithmeticError("no shot can be played on that table")


def store(count: int) -> None:
    """Write that many simulated tables, from seed 1 on."""
    with ProcessPoolExecutor(2) as pool:
        found = list(pool.map(simulated, range(1, count + 1)))
    STORED.parent.mkdir(exist_ok=True)
    STORED.write_text(json.dumps(found, indent=0) + "\n", encoding="utf-8")


def standard(prior: Prior, value: float) -> float:
    """A value in the prior's standard deviations."""
    from stunline.equipment.coefficient_scales import to_scale

    centre = to_scale(prior.centre, prior.scale)
    return (to_scale(value, prior.scale) - centre) / prior.width


if __name__ == "__main__":
    store(int(sys.argv[1]))
