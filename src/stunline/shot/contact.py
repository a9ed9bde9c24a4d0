"""The contact: what the white brought to a ball, and what both left with."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stunline.equipment.model import Point
from stunline.shot import plane
from stunline.shot.position import Side
from stunline.shot.shot import MEETINGS, Event, Motion, Shot


@dataclass(frozen=True, slots=True)
class Contact:
    """The white and another ball at the moment they meet.

    Attributes:
        event: the event
        ball: the other ball's name
        white_place, ball_place: their centres [m]
        line_of_centres: unit vector from the white to the ball
        white_before, ball_before: motions just before
        white_after, ball_after: motions just after
        radius, ball_radius: the white's and the ball's [m]
        mass_ratio: the ball's mass over the white's [-]
    """

    event: Event
    ball: str
    white_place: Point
    ball_place: Point
    line_of_centres: Point
    white_before: Motion
    ball_before: Motion
    white_after: Motion
    ball_after: Motion
    radius: float
    ball_radius: float
    mass_ratio: float

    @property
    def signed_sine(self) -> float:
        """Sine of the cut angle, positive when the white meets the ball's right side. [-]

        Seen along the white's way: the ball's centre is then to the left of that way.
        """
        return plane.cross(plane.unit(self.white_before.velocity), self.line_of_centres)

    @property
    def cut_angle(self) -> float:
        """Between the white's velocity just before and the line of centres. [rad]"""
        return abs(plane.angle_from(self.white_before.velocity, self.line_of_centres))

    @property
    def thickness(self) -> float:
        """1 − sin(cut angle): 1 full, 0 a miss. [-]"""
        return 1.0 - abs(self.signed_sine)

    @property
    def on(self) -> Side:
        """The side of the ball that the white meets, seen along the white's way."""
        return "right" if self.signed_sine > 0.0 else "left"

    @property
    def follow_ratio(self) -> float:
        """Rω/v along the white's way: 1 rolling, 0 stun, negative screw. [-]"""
        return follow_ratio(self.white_before, self.radius)

    @property
    def tangent(self) -> Point:
        """The 90° line: at right angles to the line of centres, the way the white goes on."""
        x, y = self.line_of_centres
        return (y, -x) if self.signed_sine > 0.0 else (-y, x)

    @property
    def throw(self) -> float:
        """From the line of centres to the ball's first direction, left positive. [rad]"""
        return plane.angle_from(self.line_of_centres, self.ball_after.velocity)


def follow_ratio(motion: Motion, radius: float) -> float:
    """Rω/v about the axis across the way: 1 rolling, 0 stun, negative screw. [-]

    Infinite, with its sign, for a ball that turns without moving.
    """
    vx, vy = motion.velocity
    wx, wy, _ = motion.spin
    speed = math.hypot(vx, vy)
    if speed == 0.0:
        return 0.0
    return radius * (wy * vx - wx * vy) / (speed * speed)


def contacts(shot: Shot, ball: str) -> list[Contact]:
    """Every meeting of that ball with another, in order."""
    return [
        contact_at(shot, event, ball)
        for event in shot.events
        if event.kind in MEETINGS and ball in event.balls
    ]


def first_contact(shot: Shot) -> Contact | None:
    """The white's first meeting with a ball, or None."""
    white = shot.position.names[0]
    for event in shot.events:
        if event.kind in MEETINGS and white in event.balls:
            return contact_at(shot, event, white)
    return None


def _met_by(shot: Shot, event: Event, ball: str) -> str:
    """The other of the two that met first; for a ball that a cluster reached, the nearest."""
    first, second = event.balls[:2]
    if ball in (first, second):
        return second if first == ball else first
    place = shot.place(ball, event.time)
    others = [name for name in event.balls if name != ball]
    return min(others, key=lambda name: math.dist(place, shot.place(name, event.time)))


def contact_at(shot: Shot, event: Event, white: str) -> Contact:
    """The meeting of ``white`` (any ball) with another at that event."""
    other = _met_by(shot, event, white)
    kinds = shot.position.table.balls
    white_place = shot.place(white, event.time)
    ball_place = shot.place(other, event.time)
    return Contact(
        event=event,
        ball=other,
        white_place=white_place,
        ball_place=ball_place,
        line_of_centres=plane.unit(plane.between(white_place, ball_place)),
        white_before=shot.motion_before(white, event),
        ball_before=shot.motion_before(other, event),
        white_after=event.after[white],
        ball_after=event.after[other],
        radius=kinds[white].radius,
        ball_radius=kinds[other].radius,
        mass_ratio=kinds[other].mass / kinds[white].mass,
    )
