"""Play one shot with the engine and with the independent reference, and compare the rests."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from reference.random_impacts import CushionCase
from reference.random_shots import (
    BALL_TO_END_MASS,
    LENGTH,
    NOSE_HEIGHT,
    RADIUS,
    WIDTH,
    ReferenceShot,
)
from stunline.equipment.catalogue import load_table
from stunline.equipment.model import Coefficients, SpeedDependentFriction
from stunline.mechanics.cushion import cushion_impact
from stunline.shot.play import play
from stunline.shot.position import Position, Strike
from stunline.shot.shot import EventKind

REST_TOLERANCE = 1e-5  # m: a hundredth of a millimetre, far below what a coach can see
AIM_TOLERANCE = 1e-7  # rad: both may be off by what so small a turn of the cue would do
MEETINGS = (EventKind.BALL, EventKind.CUSHION)
CUSHIONS = ("baulk", "right", "top", "left")  # the reference's numbers


@dataclass(frozen=True)
class Comparison:
    """How far two results lie apart.

    Attributes:
        apart: largest distance between the rests of one ball [m]
        allowed: for a shot of this sensitivity [m]
        same_meetings: whether the same balls and cushions met in the same order
        meetings: the engine's and the reference's, for a message
    """

    apart: float
    allowed: float
    same_meetings: bool
    meetings: tuple[list[tuple[str, ...]], list[tuple[str, ...]]]


def compare(shot: ReferenceShot, sensitivity: float) -> Comparison:
    """Play it with both. The sensitivity is in metres of rest per radian of aim."""
    position = position_of(shot)
    names = position.names
    engine, reference = play(position, Strike(**shot.strike)), shot.play()
    apart = [
        math.dist(engine.rest(name) or (math.inf, math.inf), rest)
        for name, rest in zip(names, reference["rest"], strict=True)
    ]
    met = [
        (event.kind.value, *sorted(event.balls, key=names.index), event.surface)
        for event in engine.events
        if event.kind in MEETINGS
    ]
    expected = [
        (kind, names[who[0]], names[who[1]], "")
        if kind == "ball"
        else (kind, names[who[0]], CUSHIONS[who[1]])
        for _, kind, who in reference["events"]
    ]
    allowed = REST_TOLERANCE + AIM_TOLERANCE * sensitivity
    return Comparison(max(apart), allowed, met == expected, (met, expected))


def position_of(shot: ReferenceShot) -> Position:
    """The reference's shot on the engine's snooker table, pockets shut."""
    numbers = dict(shot.coefficients)
    friction = numbers.pop("ball_friction")
    nose_height = numbers.pop("nose_height")
    table = load_table("snooker-12ft")
    radius = table.balls[table.cue_ball].radius
    engine = (table.length, table.width, table.nose_height, radius, table.cue.ball_to_end_mass)
    expected = (LENGTH, WIDTH, NOSE_HEIGHT, RADIUS, BALL_TO_END_MASS)
    assert np.allclose(engine, expected, rtol=1e-14, atol=0.0), "another table than the reference's"
    assert nose_height == NOSE_HEIGHT
    coefficients = Coefficients(
        ball_friction=SpeedDependentFriction(*friction)
        if isinstance(friction, tuple)
        else friction,
        squirt=shot.ball_to_end_mass is not None,
        pockets=False,
        **numbers,
    )
    names = ("white", "red1", "red2", "red3")
    balls = dict(zip(names, shot.balls, strict=False))
    return Position(table, table.default_cloth().name, coefficients, balls)


def impact_difference(case: CushionCase, expected: tuple[float, ...]) -> float:
    """Engine against reference, spins times the radius, over the speed of approach. [-]"""
    found = np.array(cushion_impact(*case.arguments)[:5])
    scale = np.array([1.0, 1.0, case.radius, case.radius, case.radius])
    return float(np.max(np.abs((found - expected) * scale))) / case.speed
