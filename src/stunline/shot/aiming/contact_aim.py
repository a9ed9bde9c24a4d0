"""Aiming for a thickness of contact, or for a direction of the object ball."""

from __future__ import annotations

import math
from collections.abc import Callable

from stunline.equipment.contact_distances import ball_contact_distance
from stunline.equipment.model import Point
from stunline.errors import Fault, UnsolvableShotError
from stunline.mechanics import layout
from stunline.shot import compiled, plane
from stunline.shot.aiming.root_search import root_near
from stunline.shot.meeting import Meeting
from stunline.shot.play import Prepared
from stunline.shot.position import ContactAim, Position, Strike
from stunline.shot.shot import MEETINGS, EventKind, Shot
from stunline.shot.words import with_article

# Width of the final bracket. [rad] At 3 m it moves the white by 3e-12 m, less than rounding
# does in a cushion impact; wider would show in an aim typed back.
AIM_TOLERANCE = 1e-12
# How far past a ball's edge the bracket starts, over the contact distance. [-] Swerve and
# squirt turn the white by less; narrower may miss a strongly swerving strike.
_PAST_EDGE = 1.6
# A thickness further off than this is not the one asked for: something bounds the way. [-]
_AS_ASKED = 1e-6
# The first try on either side of a guess, over the whole bracket. [-]
_FIRST_TRY = 0.01


def squirt(position: Position, strike: Strike) -> float:
    """Angle from the cue's direction to the white's first direction, left positive. [rad]"""
    if not position.coefficients.squirt:
        return 0.0
    angle: float = compiled.squirt_angle(
        strike.side, position.radius(position.names[0]), position.table.cue.ball_to_end_mass
    )
    return angle


def contact_distance(position: Position, ball: str) -> float:
    """Distance in plan at which the white touches that ball. [m]"""
    return ball_contact_distance(position.radius(position.names[0]), position.radius(ball))


def aim_bracket(position: Position, ball: str, strike: Strike) -> tuple[float, float]:
    """Aims that pass the ball on its right and on its left. [rad]"""
    start = position.balls[position.names[0]]
    way = plane.between(start, position.balls[ball])
    reach = _PAST_EDGE * contact_distance(position, ball) / plane.length(way)
    # A raised cue with side swerves the white by less than the cue is raised.
    half = math.asin(min(reach, 1.0)) + abs(strike.elevation)
    straight = plane.angle(way) - squirt(position, strike)
    return straight - half, straight + half


def signed_sine(prepared: Prepared, ball: str, strike: Strike) -> float:
    """Sine of the cut with which the white arrives at the ball, continued past a miss. [-]

    Positive when it meets the right side. Past the edge it is the distance by which the
    white's way passes the ball, over the contact distance, so it stays monotone.
    """
    met = arrival(prepared, strike)
    if met is not None and met.ball == ball and not met.cushion_first:
        return met.signed_sine
    off = _passing(_way(prepared, strike), ball) / contact_distance(prepared.position, ball)
    return math.copysign(max(abs(off), 1.0), off)


def _way(prepared: Prepared, strike: Strike) -> Shot:
    return prepared.play(strike, layout.RUN_TO_ARRIVAL)


def cushion_first(shot: Shot) -> bool:
    """Whether the white meets a cushion or jaw before it meets a ball."""
    white = shot.position.names[0]
    met = (*MEETINGS, EventKind.CUSHION, EventKind.JAW)
    first = next((one for one in shot.events if white in one.balls and one.kind in met), None)
    return first is not None and first.kind not in MEETINGS


# Places looked at along each phase of a way that misses. Only the sign and rough size count.
_LOOKS = 24


def _passing(shot: Shot, ball: str) -> float:
    """How far to the right of the ball the white's first way passes it. [m]

    Measured where it is nearest, before it meets anything; swerve included.
    """
    white = shot.position.names[0]
    target = shot.position.balls[ball]
    ends = [
        event.time
        for event in shot.events[1:]
        if white in event.balls and event.kind not in (EventKind.ROLL, EventKind.SPIN_STOP)
    ]
    nearest, best = math.inf, None
    for phase in shot.phases(white):
        if phase.start >= (ends[0] if ends else math.inf) or phase.motion == "spinning":
            break
        for look in range(_LOOKS + 1):
            time = phase.start + phase.duration * look / _LOOKS
            way = plane.between(phase.place_at(time), target)
            distance = plane.length(way)
            if distance < nearest:
                nearest, best = distance, (phase, time, way)
    if best is None:
        return 0.0
    phase, time, way = best
    # At the very end of rolling there is no direction left; just before there is.
    heading = phase.motion_at(min(time, phase.end - 1e-3 * phase.duration)).velocity
    return plane.cross(plane.unit(heading), way)


def arrival(prepared: Prepared, strike: Strike) -> Meeting | None:
    """The white's first contact as it arrives, not yet resolved."""
    return prepared.first_meeting(strike, layout.RUN_TO_ARRIVAL)


def leaving(prepared: Prepared, strike: Strike) -> Meeting | None:
    """The white's first contact, resolved."""
    return prepared.first_meeting(strike, layout.RUN_TO_FIRST_CONTACT)


def aimed(strike: Strike, aim: float) -> Strike:
    """The same strike, the cue turned to ``aim``. [rad]

    Written out, since ``dataclasses.replace`` takes as long as playing two balls.
    """
    return Strike(aim, strike.pace, strike.height, strike.side, strike.elevation)


def solve_contact(prepared: Prepared, aim: ContactAim, strike: Strike) -> Strike:
    """Turn the cue until the ball is met with that thickness, after squirt and swerve.

    Raises:
        UnsolvableShotError: "way-blocked" or "no-contact", naming the ball met instead.
    """
    sine = 1.0 - aim.thickness
    wanted = -sine if aim.on == "left" else sine
    strike = aim_for(
        prepared,
        aim.ball,
        strike,
        lambda one: signed_sine(prepared, aim.ball, one) - wanted,
        _ghost_of_contact(prepared.position, aim.ball, wanted),
    )
    contact = arrival(prepared, strike)
    # A miss may have met a cushion too, which the record of the way tells.
    if contact.cushion_first if contact else cushion_first(_way(prepared, strike)):
        raise _cushion_met(aim, strike, with_article(prepared.position.names[0]))
    if contact is None or contact.ball != aim.ball:
        raise _not_met(aim, contact, strike, with_article(prepared.position.names[0]))
    if abs(contact.signed_sine - wanted) > _AS_ASKED:
        raise _cushion_met(aim, strike, with_article(prepared.position.names[0]))
    return strike


def aim_for(
    prepared: Prepared,
    ball: str,
    strike: Strike,
    error: Callable[[Strike], float],
    ghost: Point,
    tolerance: float = AIM_TOLERANCE,
) -> Strike:
    """Turn the cue until ``error``, of opposite signs past the two edges of the ball, is nought.

    Args:
        ghost: about where the white will be at contact, to start from.
    """
    low, high = aim_bracket(prepared.position, ball, strike)
    straight = 0.5 * (low + high)
    start = prepared.position.balls[prepared.position.names[0]]
    towards = (math.cos(straight), math.sin(straight))
    way = plane.between(start, ghost)
    guess = straight + plane.angle_from(towards, way) - squirt(prepared.position, strike)
    aim = root_near(
        lambda one: error(aimed(strike, one)),
        guess,
        _FIRST_TRY * (high - low),
        (low, high),
        tolerance,
    )
    # Without a change of sign the straight way is as good as any; the caller sees what it meets.
    return aimed(strike, straight if aim is None else aim)


def _not_met(
    aim: ContactAim, contact: Meeting | None, strike: Strike, white: str
) -> UnsolvableShotError:
    wanted = f"{with_article(aim.ball)}, thickness {aim.thickness:.3g}"
    if contact is not None:
        return UnsolvableShotError(
            "way-blocked",
            Fault(
                f"{white} meets {with_article(contact.ball)} first",
                given=wanted,
                allowed=f"a clear way from {white} to the contact",
                remedy=f"move {white} or {with_article(contact.ball)}",
                key="strike.contact",
            ),
        )
    return UnsolvableShotError(
        "no-contact",
        Fault(
            f"{white} does not reach that contact",
            given=f"{wanted}, at {strike.pace:.3g} m/s",
            allowed=f"a pace and swerve that bring {white} to the ball",
            remedy="more pace, or less elevation and side",
            key="strike.contact",
        ),
    )


def _cushion_met(aim: ContactAim, strike: Strike, white: str) -> UnsolvableShotError:
    return UnsolvableShotError(
        "no-contact",
        Fault(
            f"a cushion is in {white}'s way to that contact",
            given=f"{with_article(aim.ball)}, thickness {aim.thickness:.3g}, at "
            f"{strike.pace:.3g} m/s",
            allowed=f"a contact that {white} reaches without a cushion",
            remedy=f"the ball's other side, a fuller contact, or move {white}",
            key="strike.contact",
        ),
    )


def _ghost_of_contact(position: Position, ball: str, sine: float) -> Point:
    """Where the white is, on a straight way, when it meets the ball with that signed sine. [m]"""
    way = plane.unit(plane.between(position.balls[position.names[0]], position.balls[ball]))
    # Near enough: the way of the white is that of the line between the two balls.
    sine = min(max(sine, -1.0), 1.0)
    cosine = math.sqrt(1.0 - sine * sine)
    line = (cosine * way[0] - sine * way[1], cosine * way[1] + sine * way[0])
    return ghost_place(position, ball, line)


def ghost_place(position: Position, ball: str, direction: Point) -> Point:
    """Where the white's centre is when it meets the ball so as to send it that way. [m]"""
    return plane.moved(position.balls[ball], direction, -contact_distance(position, ball))
