"""A ball's way, phase by phase, and what is read off it: ticks, tangent line, ghost."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, ceil, cos, dist, hypot, sin
from typing import TYPE_CHECKING

from stunline.drawing import story
from stunline.drawing.marks import Circle, Curve, Layer, Line, Mark, Point, Role
from stunline.drawing.page import Page

if TYPE_CHECKING:
    from stunline.shot.shot import Phase, Shot

TIME_EPSILON = 1e-9  # phases and events share their times; this only absorbs rounding [s]
SHORTEST_DRAWN = 0.05  # phases shorter than this would be a dot [mm]
TICK_INTERVALS = (0.1, 0.5, 1.0)  # the first that keeps the ticks below the most [s]
MOST_TICKS = 30
TICK_LENGTH = 7.0  # [px]
TICK_GAP = 4.0  # ticks closer than this would run together, so the later one is left out [px]
CROSS_ARM = 4.5  # of the ghost's centre cross [px]
AIM_BEHIND = 3.0  # how far the aim line reaches behind the white, in radii
TANGENT_BACK = 3.2  # how far the tangent line reaches against the white's way, in radii
TANGENT_AHEAD, TANGENT_MOST = 9.0, 24.0  # and at least and at most along it, in radii


def curve_of(phase: Phase, name: str, layer: Layer, role: Role) -> Curve:
    """The phase as exactly one quadratic Bézier curve.

    The motion is ``p₀ + v₀t + at²/2`` over ``T``; its control point is ``p₀ + v₀T/2``.
    """
    time = phase.end - phase.start
    x, y = phase.place[0], phase.place[1]
    vx, vy = phase.velocity[0], phase.velocity[1]
    ax, ay = phase.acceleration[0], phase.acceleration[1]
    begin = story.millimetres((x, y))
    control = story.millimetres((x + vx * time / 2, y + vy * time / 2))
    end = story.millimetres((x + vx * time + ax * time**2 / 2, y + vy * time + ay * time**2 / 2))
    return Curve(name, layer, role, begin, control, end)


def white_way(shot: Shot, since: float, until: float, name: str) -> Iterator[Mark]:
    """The white's way between two events: sliding as twin hairlines, rolling solid."""
    for number, phase in enumerate(_phases(shot, story.cue_ball(shot), since, until), 1):
        role = Role.SLIDING if phase.motion == "sliding" else Role.ROLLING
        yield _drawn(phase, f"{name}-{number}-{phase.motion}", role)


def thin_way(
    shot: Shot, ball: str, span: tuple[float, float], role: Role, name: str
) -> Iterator[Mark]:
    """A ball's way in one kind of line, whatever its motion."""
    for number, phase in enumerate(_phases(shot, ball, *span), 1):
        yield _drawn(phase, f"{name}-{number}", role)


def _drawn(phase: Phase, name: str, role: Role) -> Curve | Line:
    """Sliding as a curve, rolling as a line, since it is straight."""
    if phase.motion == "sliding":
        return curve_of(phase, name, Layer.PATHS, role)
    return Line(name, Layer.PATHS, role, story.millimetres(phase.place), _end(phase))


def _end(phase: Phase) -> Point:
    """Where a phase ends. [mm]"""
    return story.millimetres(phase.place_at(phase.end))


def tick_interval(until: float) -> float:
    """Time between ticks along a way that ends then: 0.1 s unless that would crowd it. [s]"""
    fitting = (interval for interval in TICK_INTERVALS if until / interval <= MOST_TICKS)
    return next(fitting, TICK_INTERVALS[-1])


def ticks(shot: Shot, page: Page, since: float, until: float, name: str) -> Iterator[Line]:
    """Across the white's way at equal times, counted from the strike."""
    interval = tick_interval(until)
    white, half = story.cue_ball(shot), page.mm(TICK_LENGTH / 2)
    last: Point | None = None
    for count in range(ceil(since / interval + TIME_EPSILON), ceil(until / interval)):
        time = count * interval
        at, velocity = story.place(shot, white, time), shot.motion(white, time).velocity
        speed = hypot(velocity[0], velocity[1])
        near = last is not None and hypot(at[0] - last[0], at[1] - last[1]) < page.mm(TICK_GAP)
        if speed == 0 or near:
            continue
        across, up = -velocity[1] / speed * half, velocity[0] / speed * half
        last = at
        yield Line(
            f"{name}-{count}",
            Layer.PATHS,
            Role.TICK,
            (at[0] - across, at[1] - up),
            (at[0] + across, at[1] + up),
        )


def aim_line(shot: Shot, contact: story.Contact | None) -> Line:
    """The line of the cue through the white, from behind it to where it meets a ball."""
    white = story.start(shot, story.cue_ball(shot))
    radius = story.radius(shot, story.cue_ball(shot))
    along = (cos(shot.strike.aim), sin(shot.strike.aim))
    ahead = AIM_BEHIND * radius
    if contact is not None:
        ahead = hypot(contact.ghost[0] - white[0], contact.ghost[1] - white[1])
    return Line(
        "aim-line",
        Layer.PATHS,
        Role.AIM,
        _moved(white, along, -AIM_BEHIND * radius),
        _moved(white, along, ahead),
    )


def tangent_line(
    shot: Shot, contact: story.Contact, reach: float, name: str = "tangent-line"
) -> Line:
    """The line through the ghost at right angles to the line of centres.

    It points the way the white leaves, and reaches about that far along it. [mm]
    """
    radius = story.radius(shot, story.cue_ball(shot))
    along = tangent_direction(shot, contact)
    ahead = min(max(reach, TANGENT_AHEAD * radius), TANGENT_MOST * radius)
    return Line(
        name,
        Layer.PATHS,
        Role.TANGENT,
        _moved(contact.ghost, along, -TANGENT_BACK * radius),
        _moved(contact.ghost, along, ahead),
    )


def tangent_direction(shot: Shot, contact: story.Contact) -> Point:
    """Unit vector along the tangent line, to the side to which the white goes."""
    centre_x, centre_y = contact.centres
    white = story.start(shot, story.cue_ball(shot))
    just_after = velocity_after(shot, contact.time)
    came = just_after or (contact.ghost[0] - white[0], contact.ghost[1] - white[1])
    sign = 1.0 if -centre_y * came[0] + centre_x * came[1] >= 0 else -1.0
    return -centre_y * sign, centre_x * sign


def along_tangent(shot: Shot, contact: story.Contact, point: Point) -> float:
    """How far along the tangent line a point lies, from the ghost. [mm]"""
    along = tangent_direction(shot, contact)
    across = (point[0] - contact.ghost[0], point[1] - contact.ghost[1])
    return along[0] * across[0] + along[1] * across[1]


def ghost(shot: Shot, page: Page, contact: story.Contact, name: str = "ghost") -> tuple[Mark, ...]:
    """The white at contact: a ring with a centre cross."""
    x, y = contact.ghost
    arm = page.mm(CROSS_ARM)
    layer, ring = Layer.CONTACTS, story.radius(shot, story.cue_ball(shot))
    return (
        Circle(name, layer, Role.GHOST, contact.ghost, ring),
        Line(f"{name}-level", layer, Role.GHOST_CROSS, (x - arm, y), (x + arm, y)),
        Line(f"{name}-upright", layer, Role.GHOST_CROSS, (x, y - arm), (x, y + arm)),
    )


def direction(start: Point, end: Point) -> float:
    """From one point to another, anticlockwise from +x. [rad]"""
    return atan2(end[1] - start[1], end[0] - start[0])


def velocity_after(shot: Shot, time: float) -> Point | None:
    """The white's velocity at the start of its first moving phase after that time. [m s⁻¹]"""
    for phase in shot.phases(story.cue_ball(shot)):
        if phase.start >= time - TIME_EPSILON and phase.motion != "spinning":
            return phase.velocity[0], phase.velocity[1]
    return None


def _phases(shot: Shot, ball: str, since: float, until: float) -> Iterator[Phase]:
    for phase in shot.phases(ball):
        inside = phase.start >= since - TIME_EPSILON and phase.end <= until + TIME_EPSILON
        if inside and phase.motion != "spinning" and _length(phase) >= SHORTEST_DRAWN:
            yield phase


def _length(phase: Phase) -> float:
    """From its start to its end. [mm]"""
    return dist(story.millimetres(phase.place), _end(phase))


def _moved(point: Point, along: Point, distance: float) -> Point:
    return point[0] + along[0] * distance, point[1] + along[1] * distance
