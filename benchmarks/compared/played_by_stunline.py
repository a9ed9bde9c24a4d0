"""A two-ball shot in stunline, as a caller plays it, and its compiled part alone."""

from __future__ import annotations

import math
from dataclasses import replace

from compared.two_ball_shot import (
    GRAVITY,
    MASS,
    RADIUS,
    READ_AFTER,
    RESTITUTION,
    ROLLING_RESISTANCE,
    SLIDING_FRICTION,
    SPIN_DECELERATION,
    Outcome,
    TwoBallShot,
)
from stunline.equipment.catalogue import load_table
from stunline.equipment.model import Coefficients, Nose, SpeedDependentFriction, Table
from stunline.shot.play import Prepared
from stunline.shot.position import Position, Strike
from stunline.shot.shot import EventKind, Shot

FAR = 1000.0  # [m]; no ball gets there
START = (0.5, 0.5)  # [m] the white's


class StunlineEngine:
    """Plays a shot again and again from one prepared position."""

    def __init__(self, shot: TwoBallShot) -> None:
        x, y = shot.object_ball
        balls = {"white": START, "blue": (START[0] + x, START[1] + y)}
        position = Position(_endless(), "match", _coefficients(shot), balls)
        self._prepared = Prepared(position)
        self._strike = Strike(aim=0.0, pace=shot.pace, height=shot.height * RADIUS)

    def run(self) -> Shot:
        """The shot, played to rest."""
        return self._prepared.play(self._strike)

    def outcome(self) -> Outcome:
        """Played and read."""
        shot = self.run()
        contact = next(event.time for event in shot.events if event.kind is EventKind.BALL)
        read = contact + READ_AFTER
        phase = next(one for one in shot.phases("white") if one.start <= read < one.end)
        vx, vy = phase.motion_at(read).velocity
        x, y = shot.rest("white")
        return Outcome(contact, math.atan2(vy, vx), (x - START[0], y - START[1]))


def _coefficients(shot: TwoBallShot) -> Coefficients:
    return Coefficients(
        sliding_friction=SLIDING_FRICTION,
        rolling_resistance=ROLLING_RESISTANCE,
        spin_deceleration=SPIN_DECELERATION,
        ball_restitution=RESTITUTION,
        ball_friction=SpeedDependentFriction(*shot.friction),
        cushion_restitution=0.98,  # never met
        cushion_friction=0.14,
        pockets=False,
        gravity=GRAVITY,
    )


def _endless() -> Table:
    """The snooker table with its cushions out of reach."""
    table = load_table("snooker-12ft")
    corners = ((-FAR, -FAR), (FAR, -FAR), (FAR, FAR), (-FAR, FAR))
    names = ("baulk", "right", "top", "left")
    noses = tuple(
        Nose(name, corners[side], corners[(side + 1) % 4]) for side, name in enumerate(names)
    )
    balls = {name: replace(ball, radius=RADIUS, mass=MASS) for name, ball in table.balls.items()}
    return replace(table, balls=balls, plain_noses=noses)
