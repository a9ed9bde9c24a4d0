"""The exact outcome of a two-ball shot, from closed forms.

Sliding: a = −μ g û, û constant, for 2u/(7 μ g); rolling: straight, a = −μ_r g. Impact of equal
balls: J_n = (1+e) m v_n / 2; along it the slip's direction is constant and its size falls by
du/dJ_n = −(7/m) μ(u), because a solid sphere answers a tangential impulse at its surface with
1 + 5/2 of what its centre gets, and there are two. With μ(u) = a + b e^{−cu} that separates to
(a e^{cu} + b) = (a e^{cu₀} + b) e^{−7ac J_n/m}; the slip sticks where u would fall below 0.
Nothing here is taken from the engine; the tests hold both to a numerical integration.
"""

from __future__ import annotations

import math

from compared.two_ball_shot import (
    GRAVITY,
    NO_THROW,
    RADIUS,
    READ_AFTER,
    RESTITUTION,
    ROLLING_RESISTANCE,
    SLIDING_FRICTION,
    WAY,
    BallFriction,
    Motion,
    Outcome,
    Plane,
    TwoBallShot,
)

SLIDING_LOSS = SLIDING_FRICTION * GRAVITY  # [m s⁻²]
ROLLING_LOSS = ROLLING_RESISTANCE * GRAVITY  # [m s⁻²]
STILL: Motion = (0.0, 0.0, 0.0, 0.0, 0.0)
NO_SLIP = 1e-15  # [m s⁻¹]; below it a slip is what rounding left


def exact_outcome(shot: TwoBallShot) -> Outcome:
    """Contact, direction and rest by the laws alone."""
    contact, arrival = at_contact(shot)
    white, _ = impact(arrival, STILL, shot.tilt, shot.friction)
    later, _ = after(white, READ_AFTER)
    _, (x, y) = after(white, math.inf)
    return Outcome(contact, math.atan2(later[1], later[0]), (WAY + x, y))


def effective_friction(shot: TwoBallShot) -> float:
    """Tangential over normal impulse of this shot's impact, by its law of friction. [-]"""
    if shot.friction == NO_THROW:
        return 0.0
    _, arrival = at_contact(shot)
    nx, ny = math.cos(shot.tilt), math.sin(shot.tilt)
    size = math.hypot(*_surface_slip(arrival, STILL, nx, ny))
    normal = 0.5 * (1.0 + RESTITUTION) * (arrival[0] * nx + arrival[1] * ny)
    return (size - _slip_after(size, normal, shot.friction)) / (7.0 * normal)


def at_contact(shot: TwoBallShot) -> tuple[float, Motion]:
    """Time of contact and the white's motion then: ``WAY`` is covered along a straight line."""
    slides = 2.0 * abs(shot.pace - RADIUS * shot.start[3]) / (7.0 * SLIDING_LOSS)
    motion, (way, _) = after(shot.start, slides)
    if way < WAY:
        time = _time_over(WAY - way, motion[0], ROLLING_LOSS)
        return slides + time, after(motion, time)[0]
    forward = math.copysign(SLIDING_LOSS, shot.pace - RADIUS * shot.start[3])
    time = _time_over(WAY, shot.pace, forward)
    return time, after(shot.start, time)[0]


def _time_over(way: float, speed: float, loss: float) -> float:
    """Time for that way at a constant deceleration; the form without cancellation. [s]"""
    return 2.0 * way / (speed + math.sqrt(speed**2 - 2.0 * loss * way))


def impact(
    white: Motion, ball: Motion, tilt: float, friction: BallFriction
) -> tuple[Motion, Motion]:
    """Both balls after an impact along the line of centres at that angle from +x."""
    nx, ny = math.cos(tilt), math.sin(tilt)
    slip = _surface_slip(white, ball, nx, ny)
    normal = 0.5 * (1.0 + RESTITUTION) * ((white[0] - ball[0]) * nx + (white[1] - ball[1]) * ny)
    size = math.hypot(*slip)
    tangential = (size - _slip_after(size, normal, friction)) / 7.0  # impulse over mass
    along, up = (tangential * part / size for part in slip) if size > 0.0 else (0.0, 0.0)
    # The friction on the white opposes its slip: −along on the horizontal tangent (−ny, nx).
    jx, jy, jz = -normal * nx + along * ny, -normal * ny - along * nx, -up
    turn = 2.5 / RADIUS  # spin from n × J: R m / (2/5 m R²)
    spin = (turn * ny * jz, -turn * nx * jz, turn * (nx * jy - ny * jx))
    return _pushed(white, (jx, jy), spin), _pushed(ball, (-jx, -jy), spin)


def _surface_slip(white: Motion, ball: Motion, nx: float, ny: float) -> Plane:
    """Velocity of the white's surface over the ball's: horizontal tangent, upwards. [m s⁻¹]"""
    wx, wy, wz = (RADIUS * (white[axis] + ball[axis]) for axis in (2, 3, 4))
    horizontal = -(white[0] - ball[0]) * ny + (white[1] - ball[1]) * nx + wz
    return horizontal, wx * ny - wy * nx


def _slip_after(slip: float, normal: float, friction: BallFriction) -> float:
    floor, span, decay = friction
    if span == 0.0 or decay == 0.0:
        return max(0.0, slip - 7.0 * (floor + span) * normal)
    left = (floor * math.exp(decay * slip) + span) * math.exp(-7.0 * floor * decay * normal)
    return math.log((left - span) / floor) / decay if left > floor + span else 0.0


def _pushed(ball: Motion, impulse: Plane, spin: tuple[float, float, float]) -> Motion:
    return (
        ball[0] + impulse[0],
        ball[1] + impulse[1],
        ball[2] + spin[0],
        ball[3] + spin[1],
        ball[4] + spin[2],
    )


def after(motion: Motion, time: float) -> tuple[Motion, Plane]:
    """A ball's motion and displacement after that time; of the spin, all but the vertical."""
    vx, vy, wx, wy, wz = motion
    ux, uy = vx - RADIUS * wy, vy + RADIUS * wx
    slip = math.hypot(ux, uy)
    if slip < NO_SLIP:
        return _rolled(motion, time)
    slides = min(time, 2.0 * slip / (7.0 * SLIDING_LOSS))
    ax, ay = -SLIDING_LOSS * ux / slip, -SLIDING_LOSS * uy / slip
    place = vx * slides + 0.5 * ax * slides**2, vy * slides + 0.5 * ay * slides**2
    vx, vy = vx + ax * slides, vy + ay * slides
    if slides == time:
        turn = 2.5 * slides / RADIUS  # torque of the force at the bed over 2/5 m R²
        return (vx, vy, wx + turn * ay, wy - turn * ax, wz), place
    later, (x, y) = _rolled((vx, vy, 0.0, 0.0, wz), time - slides)
    return later, (place[0] + x, place[1] + y)


def _rolled(motion: Motion, time: float) -> tuple[Motion, Plane]:
    vx, vy, *_, wz = motion
    speed = math.hypot(vx, vy)
    if speed == 0.0:
        return motion, (0.0, 0.0)
    rolls = min(time, speed / ROLLING_LOSS)
    left = 1.0 - ROLLING_LOSS * rolls / speed
    way = rolls * (1.0 + left) / 2.0
    return (left * vx, left * vy, -left * vy / RADIUS, left * vx / RADIUS, wz), (way * vx, way * vy)
