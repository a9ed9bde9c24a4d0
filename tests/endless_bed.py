"""Balls on a bed without an edge, each with any velocity and spin to start with.

A strike gives only the motions that a cue can give. The laws are held to exact results that
need others, so here the engine plays from motions set by hand: what the cue would give to the
white is replaced, and the other balls are given theirs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from unittest.mock import patch

from stunline.equipment.catalogue import load_table
from stunline.equipment.model import Coefficients, Nose, Point
from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.play import Prepared
from stunline.shot.position import Position, Strike
from stunline.shot.shot import Event, EventKind, Motion, Shot

RADIUS = 0.02625  # [m] snooker ball, 52.5 mm [R: rules of the game, section 1]
MASS = 0.1406  # [kg] [M]
GRAVITY = 9.81  # [m s⁻²]
SLIDING_FRICTION, ROLLING_RESISTANCE = 0.20, 0.010  # [S, informal]
SPIN_DECELERATION = 10.0  # [rad s⁻²] [M]
FAR = 1000.0  # [m]; nothing gets there

SMOOTH = Coefficients(
    sliding_friction=SLIDING_FRICTION,
    rolling_resistance=ROLLING_RESISTANCE,
    spin_deceleration=SPIN_DECELERATION,
    ball_restitution=1.0,
    ball_friction=0.0,
    cushion_restitution=0.98,
    cushion_friction=0.14,
    pockets=False,
)
Vector = tuple[float, float, float, float, float]  # vx, vy [m s⁻¹], ωx, ωy, ωz [rad s⁻¹]
STILL: Vector = (0.0, 0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True)
class BallOnBed:
    """A ball to start with: place [m], motion, radius [m], mass [kg]."""

    place: Point
    motion: Vector = STILL
    radius: float = RADIUS
    mass: float = MASS


def run_on_bed(balls: Sequence[BallOnBed], **change: object) -> Shot:
    """Run to rest without an edge; ``change``: coefficients. Names: white, red1, red2, …"""
    return shot_from(balls, replace(SMOOTH, **change), _noses_around(FAR))  # type: ignore[arg-type]


def shot_from(
    balls: Sequence[BallOnBed], coefficients: Coefficients, noses: tuple[Nose, ...]
) -> Shot:
    """Run to rest within these noses, pockets as the coefficients say."""
    table = load_table("snooker-12ft")
    names = ["white", *(f"red{number}" for number in range(1, len(balls)))]
    given = dict(zip(names, balls, strict=True))
    kinds = {
        name: replace(kind, radius=given[name].radius, mass=given[name].mass)
        if name in given
        else kind
        for name, kind in table.balls.items()
    }
    table = replace(table, balls=kinds, plain_noses=noses)
    places = {name: ball.place for name, ball in given.items()}
    prepared = Prepared(Position(table, "match", coefficients, places))
    for row, ball in zip(prepared._start, balls, strict=True):
        row[layout.PHASE_VX : layout.PHASE_VY + 1] = ball.motion[:2]
        row[layout.PHASE_WX : layout.PHASE_WZ + 1] = ball.motion[2:]
    with patch.object(compiled, "strike", return_value=balls[0].motion):
        return prepared.play(Strike(0.0, 1.0))


def _noses_around(distance: float) -> tuple[Nose, ...]:
    corners = [(-distance, -distance), (distance, -distance)]
    corners += [(distance, distance), (-distance, distance)]
    names = ("baulk", "right", "top", "left")
    return tuple(
        Nose(name, corners[number], corners[(number + 1) % 4]) for number, name in enumerate(names)
    )


def first(shot: Shot, kind: EventKind, ball: str = "white") -> Event:
    """The first event of that kind with that ball."""
    return next(one for one in shot.events if one.kind is kind and ball in one.balls)


def place_after(shot: Shot, kind: EventKind, ball: str = "white") -> Point:
    """Where the ball is at its first event of that kind. [m]"""
    return shot.place(ball, first(shot, kind, ball).time)


def rolled(shot: Shot, ball: str) -> float:
    """Distance that the ball rolled, its straight stretches summed. [m]"""
    total = 0.0
    for phase in shot.phases(ball):
        if phase.motion == "rolling":
            (x, y), (ex, ey) = phase.place, phase.place_at(phase.end)
            total += ((ex - x) ** 2 + (ey - y) ** 2) ** 0.5
    return total


def vector(motion: Motion) -> Vector:
    """vx, vy, ωx, ωy, ωz."""
    return (*motion.velocity, *motion.spin)


def energy(motion: Sequence[float], radius: float = RADIUS, mass: float = MASS) -> float:
    """Kinetic energy of a solid sphere, ½mv² + ½·(2/5)mR²·ω². [J]"""
    vx, vy, wx, wy, wz = motion
    return 0.5 * mass * (vx**2 + vy**2) + 0.2 * mass * radius**2 * (wx**2 + wy**2 + wz**2)
