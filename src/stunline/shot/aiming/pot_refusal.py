"""Why a pot can't be made: too thin, blocked, too slow, or the pocket closed at this angle."""

from __future__ import annotations

import math
from dataclasses import replace

from stunline.equipment.contact_distances import ball_contact_distance
from stunline.errors import Fault, UnsolvableShotError
from stunline.mechanics import layout
from stunline.shot import plane
from stunline.shot.aiming.contact_aim import ghost_place
from stunline.shot.contact import first_contact
from stunline.shot.outcome import balls_in_the_way
from stunline.shot.play import Prepared
from stunline.shot.position import Position, PotAim, Strike
from stunline.shot.shot import EventKind, Shot
from stunline.shot.words import ball_words, with_article
from stunline.units import millimetres

# Thinner than this the contact is a graze that no player can count on. [rad]
THINNEST_CUT = math.radians(88.0)
_STRAIGHT_ACROSS = math.radians(90.0)  # from a larger cut on the white is in front of the ball
# Balls in the way that a message names; a whole pack would drown it.
_MOST_NAMED = 3


def geometric_cut(position: Position, pot: PotAim) -> float:
    """Cut angle by the straight lines alone, without throw. [rad]"""
    mouth = position.table.pocket(pot.pocket).mouth_middle
    target = plane.unit(plane.between(position.balls[pot.ball], mouth))
    ghost = ghost_place(position, pot.ball, target)
    way = plane.between(position.balls[position.names[0]], ghost)
    return abs(plane.angle_from(way, target))


def check_cut(position: Position, pot: PotAim) -> None:
    """Refuse a cut that no contact can make.

    Raises:
        UnsolvableShotError: "cut-too-thin".
    """
    cut = geometric_cut(position, pot)
    white = with_article(position.names[0])
    if cut > _STRAIGHT_ACROSS:
        raise _refuse(
            "cut-too-thin",
            f"{white} is on the wrong side of {with_article(pot.ball)} for this pocket",
            pot,
            f"needs a cut of {math.degrees(cut):.1f}°",
            f"up to {math.degrees(THINNEST_CUT):.0f}°",
            _other_side(position, pot),
        )
    if cut > THINNEST_CUT:
        raise _refuse(
            "cut-too-thin",
            "cut too thin",
            pot,
            f"needs a cut of {math.degrees(cut):.1f}°",
            f"up to {math.degrees(THINNEST_CUT):.0f}°",
            f"another pocket, or move {white} round behind the ball",
        )


def _other_side(position: Position, pot: PotAim) -> str:
    """Where the white may have been meant to stand: places are measured from two cushions."""
    table, name = position.table, position.names[0]
    x, y = position.balls[name]
    near, _, far, left = table.words.cushions
    for place, cushion in (((x, table.length - y), far), ((table.width - x, y), "right")):
        balls = {**position.balls, name: place}
        if geometric_cut(replace(position, balls=balls), pot) <= THINNEST_CUT:
            across, up = (f"{millimetres(one):.1f}" for one in place)
            return (
                f"{name} = [{across}, {up}], if it was measured from the {cushion} cushion "
                f"(places count from {left} and {near}); or another pocket"
            )
    return f"another pocket, or move {with_article(name)} round behind the ball"


def refusal(prepared: Prepared, pot: PotAim, direct: Strike) -> UnsolvableShotError:
    """Play the direct line and say what prevents the pot."""
    position = prepared.position
    watched = position.names.index(pot.ball)
    shot = prepared.play(direct, layout.RUN_WATCHED, watched)
    for reason in (_blocked_white(shot, pot), _blocked_ball(shot, pot)):
        if reason is not None:
            return reason
    slow = _too_slow(shot, pot, direct)
    if slow is not None:
        return slow
    mouth = position.table.pocket(pot.pocket)
    target = plane.between(position.balls[pot.ball], mouth.mouth_middle)
    inward = (-mouth.inward[0], -mouth.inward[1])
    angle = math.degrees(abs(plane.angle_from(inward, target)))
    return _refuse(
        "pocket-closed",
        "the pocket is closed at this angle",
        pot,
        f"{angle:.1f}° off the pocket's axis, {direct.pace:.3g} m/s",
        "an aim with which the ball passes the jaws",
        "less pace, another pocket, or move the ball",
    )


def unexplained(prepared: Prepared, pot: PotAim, direct: Strike) -> UnsolvableShotError:
    """That it can't be made, no more: for scans, which read no reasons."""
    return _refuse("no-window", "no aim pots the ball", pot, "", "a pot that can be made", "")


def _blocked_white(shot: Shot, pot: PotAim) -> UnsolvableShotError | None:
    position = shot.position
    contact = first_contact(shot)
    if contact is not None and contact.ball == pot.ball:
        return None
    mouth = position.table.pocket(pot.pocket).mouth_middle
    target = plane.unit(plane.between(position.balls[pot.ball], mouth))
    white = position.names[0]
    blockers = balls_in_the_way(
        position,
        position.balls[white],
        ghost_place(position, pot.ball, target),
        position.radius(white),
        (white, pot.ball),
    )
    if not blockers and contact is not None:
        blockers = [contact.ball]
    return _blocked(white, white, blockers, pot) if blockers else None


def _blocked_ball(shot: Shot, pot: PotAim) -> UnsolvableShotError | None:
    position = shot.position
    mouth = position.table.pocket(pot.pocket).mouth_middle
    blockers = balls_in_the_way(
        position,
        position.balls[pot.ball],
        mouth,
        position.radius(pot.ball),
        (position.names[0], pot.ball),
    )
    white = position.names[0]
    return _blocked(pot.ball, white, blockers, pot) if blockers else None


def _too_slow(shot: Shot, pot: PotAim, strike: Strike) -> UnsolvableShotError | None:
    hit = any(
        pot.ball in event.balls and event.kind in (EventKind.CUSHION, EventKind.JAW)
        for event in shot.events
    )
    stopped = any(pot.ball in event.balls and event.kind is EventKind.STOP for event in shot.events)
    if first_contact(shot) is not None and (hit or not stopped):
        return None
    position, white = shot.position, shot.position.names[0]
    if first_contact(shot) is None:
        apart = ball_contact_distance(position.radius(white), position.radius(pot.ball))
        left = math.dist(shot.last_place(white), position.balls[pot.ball]) - apart
        stops = f"{with_article(white)} stops {millimetres(left):.0f} mm before it meets the ball"
    else:
        mouth = position.table.pocket(pot.pocket).mouth_middle
        short = plane.length(plane.between(shot.last_place(pot.ball), mouth))
        stops = f"stops {millimetres(short):.0f} mm short"
    return _refuse(
        "too-slow",
        "too slow to get there",
        pot,
        f"{strike.pace:.3g} m/s, {stops}",
        "a pace that carries the ball to the pocket",
        'more pace, or pace = "pocket weight"',
    )


def _blocked(whose: str, white: str, blockers: list[str], pot: PotAim) -> UnsolvableShotError:
    words = [with_article(name) for name in blockers[:_MOST_NAMED]]
    if len(blockers) > _MOST_NAMED:
        words.append(f"{len(blockers) - _MOST_NAMED} more")
    names = ", ".join(words[:-1]) + " and " + words[-1] if len(words) > 1 else words[0]
    return _refuse(
        "way-blocked",
        f"{with_article(whose)}'s way is blocked by {names}",
        pot,
        "",
        f"a clear way for {with_article(white)} and for the ball",
        f"move {names}, or choose another pocket",
    )


def _refuse(
    reason: str, what: str, pot: PotAim, given: str, allowed: str, remedy: str
) -> UnsolvableShotError:
    wanted = f"{ball_words(pot.ball)} to {pot.pocket}"
    text = f"{wanted}: {given}" if given else wanted
    return UnsolvableShotError(
        reason, Fault(what, given=text, allowed=allowed, remedy=remedy, key="strike.pot")
    )
