"""Shots put together by hand, so that the drawing's tests do not move with the engine.

Every motion is a polynomial chosen here; only what the drawing reads of a ``Shot`` is there.
The white rolls along +x, meets red 1 with the line of centres 30° above its way, slides along a
parabola whose acceleration has the size μ_s·g = 0.2·9.81 m/s², then rolls.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import cast

from stunline.equipment.catalogue import load_table
from stunline.shot.position import Position, Strike
from stunline.shot.shot import Event, EventKind, Motion, Phase, Shot

Pair = tuple[float, float]

TABLE = load_table("snooker-12ft")
RADIUS = TABLE.balls["white"].radius
SLIDING = 0.2 * 9.81  # [m s⁻²]
ROLLING = 0.5  # more than any cloth has, so that the short shots stay on the table [m s⁻²]
NO_SPIN = (0.0, 0.0, 0.0)


@dataclass(eq=False)
class HandShot:
    """What the drawing reads of a played shot."""

    position: Position
    strike: Strike
    moves: dict[str, tuple[Phase, ...]]
    events: tuple[Event, ...]
    duration: float
    pots: dict[str, str] = field(default_factory=dict)

    def phases(self, ball: str) -> tuple[Phase, ...]:
        return self.moves.get(ball, ())

    def place(self, ball: str, time: float) -> Pair:
        begun = [phase for phase in self.phases(ball) if phase.start <= time]
        if not begun:
            return self.position.balls[ball]
        return begun[-1].place_at(min(time, begun[-1].end))

    def motion(self, ball: str, time: float) -> Motion:
        begun = [phase for phase in self.phases(ball) if phase.start <= time]
        if not begun or time >= begun[-1].end:
            return Motion((0.0, 0.0), NO_SPIN)
        return begun[-1].motion_at(time)

    def motion_before(self, ball: str, event: Event) -> Motion:
        for phase in self.phases(ball):
            if phase.start < event.time <= phase.end:
                return phase.motion_at(event.time)
        return Motion((0.0, 0.0), NO_SPIN)

    def rest(self, ball: str) -> Pair | None:
        return None if ball in self.pots else self.place(ball, self.duration)

    def potted(self, ball: str) -> str | None:
        return self.pots.get(ball)


def phase(
    ball: str,
    motion: str,
    times: Pair,
    place: Pair,
    velocity: Pair,
    acceleration: Pair,
) -> Phase:
    """A stretch of motion; its spin does not matter to a plan."""
    return Phase(
        ball,
        motion,  # type: ignore[arg-type]
        *times,
        place,
        velocity,
        acceleration,
        NO_SPIN,
        (0.0, 0.0),
        0.0,
    )


def rolling(ball: str, start: float, place: Pair, velocity: Pair, longest: float = 60.0) -> Phase:
    """Rolling until it stops, or for the longest time given. [s, m, m s⁻¹]"""
    speed = math.hypot(*velocity)
    time = min(speed / ROLLING, longest)
    slowing = (-ROLLING * velocity[0] / speed, -ROLLING * velocity[1] / speed)
    return phase(ball, "rolling", (start, start + time), place, velocity, slowing)


def hand_shot(
    leaves_at: float = 0.5,
    title: str = "Red 1 up the table",
    others: Mapping[str, Pair] | None = None,
) -> Shot:
    """The shot of this file's head.

    Args:
        leaves_at: speed at which the white leaves the contact [m s⁻¹]
        title: of the position
        others: more balls, out of the way [m]
    """
    white, ghost = (0.400, 1.300), (0.800, 1.300)
    centres = (math.cos(math.pi / 6), math.sin(math.pi / 6))
    red = (ghost[0] + 2 * RADIUS * centres[0], ghost[1] + 2 * RADIUS * centres[1])
    run_up = rolling("white", 0.0, white, (1.2, 0.0), _time_over(1.2, 0.400))
    contact = run_up.end
    tangent = (leaves_at * centres[1], -leaves_at * centres[0])
    bend = phase(
        "white",
        "sliding",
        (contact, contact + 0.35 * leaves_at),
        ghost,
        tangent,
        (SLIDING, 0.0),
    )
    after = bend.motion_at(bend.end).velocity
    end = rolling("white", bend.end, bend.place_at(bend.end), after)
    ball = rolling("red1", contact, red, (0.6 * centres[0], 0.6 * centres[1]))
    balls = {"white": white, "red1": red, "red2": (1.30, 1.05), "blue": TABLE.spots["blue"]}
    balls |= others or {}
    cloth = TABLE.default_cloth()
    position = Position(TABLE, cloth.name, cloth.coefficients, balls, title)
    at_rest = Motion((0.0, 0.0), NO_SPIN)
    events = (
        Event(0.0, EventKind.STRIKE, ("white",), white, {"white": at_rest}),
        Event(contact, EventKind.BALL, ("white", "red1"), ghost, {"white": at_rest}),
    )
    shot = HandShot(
        position,
        Strike(aim=0.0, pace=1.2, height=0.0105),
        {"white": (run_up, bend, end), "red1": (ball,)},
        events,
        max(end.end, ball.end),
    )
    return cast(Shot, shot)


def _time_over(speed: float, distance: float) -> float:
    """Time to roll a distance. [s]"""
    return (speed - math.sqrt(speed**2 - 2 * ROLLING * distance)) / ROLLING


def rest_of_the_balls() -> dict[str, Pair]:
    """What makes the hand-made shot's balls a full table: colours on spots, reds in a pack."""
    places = {name: TABLE.spots[name] for name in ("yellow", "green", "brown", "pink", "black")}
    x, y = TABLE.spots["pink"]
    rows = [(row, place) for row in range(5) for place in range(row + 1)]
    for number, (row, place) in enumerate(rows[:13], 3):
        across = (2 * place - row) * RADIUS
        places[f"red{number}"] = (x + across, y + (2 + row * math.sqrt(3)) * RADIUS + 0.001)
    return places
