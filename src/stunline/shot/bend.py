"""How the white leaves its first direction after contact: where, how far, how much."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from stunline.equipment.model import Point
from stunline.shot import plane
from stunline.shot.contact import Contact
from stunline.shot.shot import Phase, Shot

OFF_LINE = 0.005  # [m]
OFF_DIRECTION = math.radians(5.0)


@dataclass(frozen=True, slots=True)
class Bend:
    """The white's run between contact and what it met next.

    Attributes:
        run_to_5mm_off: along the first direction until 5 mm off it [m]; None if never
        run_to_5deg_off: along the first direction until turned by 5° [m]; None if never
        sliding_run: along the path until sliding ended [m]; None if it met something first
        sliding_end: where that was [m]
        total: from the first to the last direction [rad], towards the object ball positive
    """

    run_to_5mm_off: float | None
    run_to_5deg_off: float | None
    sliding_run: float | None
    sliding_end: Point | None
    total: float


def bend_after(shot: Shot, contact: Contact) -> Bend:
    """Follow the white from the contact to its next impact."""
    white = shot.position.names[0]
    start = contact.event.time
    end = _next_impact(shot, white, start)
    phases = [
        phase
        for phase in shot.phases(white)
        if start <= phase.start < end and phase.motion != "spinning"
    ]
    first = plane.unit(contact.white_after.velocity)
    if not phases or first == (0.0, 0.0):
        return Bend(None, None, None, None, 0.0)
    last = phases[-1]
    # A ball that rolls to rest has no direction at the very end; half-way it has the same.
    last_way = last.motion_at(last.start + 0.5 * last.duration).velocity
    if last.motion == "sliding":
        last_way = last.motion_at(last.end).velocity
    towards = math.copysign(1.0, plane.cross(first, contact.line_of_centres))
    total = towards * plane.angle_from(first, last_way)
    return replace(bend_along(phases, contact.white_place, first), total=total)


def bend_along(phases: Sequence[Phase], origin: Point, first: Point | None = None) -> Bend:
    """The same without its total, from the white's phases between contact and next impact.

    Args:
        origin: the white's place at the contact [m]
        first: its first direction; without it that of the first phase
    """
    first = first or plane.unit(phases[0].velocity)
    sliding = phases[0] if phases[0].motion == "sliding" and len(phases) > 1 else None
    return Bend(
        run_to_5mm_off=_run_to_line(phases, origin, first),
        run_to_5deg_off=_run_to_turn(phases[0], origin, first),
        sliding_run=path_length(sliding) if sliding else None,
        sliding_end=sliding.place_at(sliding.end) if sliding else None,
        total=0.0,
    )


def _next_impact(shot: Shot, white: str, start: float) -> float:
    for event in shot.events:
        if event.time > start and white in event.balls and event.kind not in ("roll",):
            return event.time
    return math.inf


def _run_to_line(phases: Sequence[Phase], origin: Point, first: Point) -> float | None:
    """Run along ``first`` at which the path is 5 mm to either side of it."""
    for phase in phases:
        start = plane.cross(first, plane.between(origin, phase.place))
        speed = plane.cross(first, phase.velocity)
        half = 0.5 * plane.cross(first, phase.acceleration)
        times = [
            time
            for side in (OFF_LINE, -OFF_LINE)
            for time in _roots(half, speed, start - side)
            if 0.0 < time <= phase.duration
        ]
        if times:
            place = phase.place_at(phase.start + min(times))
            return plane.dot(first, plane.between(origin, place))
    return None


def _run_to_turn(phase: Phase, origin: Point, first: Point) -> float | None:
    """Run along ``first`` at which the velocity has turned by 5°; only sliding turns it."""
    across = plane.cross(first, phase.acceleration)
    along = plane.dot(first, phase.acceleration)
    speed = plane.dot(first, phase.velocity)
    # |across|·t = tan 5°·(speed + along·t)
    rate = abs(across) - math.tan(OFF_DIRECTION) * along
    if rate <= 0.0:
        return None
    time = math.tan(OFF_DIRECTION) * speed / rate
    if time > phase.duration:
        return None
    return plane.dot(first, plane.between(origin, phase.place_at(phase.start + time)))


def _roots(a: float, b: float, c: float) -> list[float]:
    """Real roots of a·t² + b·t + c."""
    if a == 0.0:
        return [-c / b] if b != 0.0 else []
    discriminant = b * b - 4.0 * a * c
    if discriminant < 0.0:
        return []
    q = -0.5 * (b + math.copysign(math.sqrt(discriminant), b))
    return [q / a] + ([c / q] if q != 0.0 else [])


# Stretches into which a parabola is cut to measure it. Simpson's rule on the speed is then
# good to 1e-9 of the length unless the ball turns right round.
_STRETCHES = 64


def path_length(phase: Phase) -> float:
    """Length of the path of one phase. [m]"""
    step = phase.duration / _STRETCHES
    (vx, vy), (ax, ay) = phase.velocity, phase.acceleration
    times = (phase.start + k * step - phase.start for k in range(_STRETCHES + 1))
    speeds = [math.hypot(vx + t * ax, vy + t * ay) for t in times]
    ends = speeds[0] + speeds[-1]
    return step / 3.0 * (ends + 4.0 * sum(speeds[1:-1:2]) + 2.0 * sum(speeds[2:-1:2]))
