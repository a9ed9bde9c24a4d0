"""Aiming so that a ball really goes in: throw, squirt, swerve and jaws included."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from stunline.equipment.model import Point
from stunline.errors import UnsolvableShotError
from stunline.shot import plane
from stunline.shot.aiming.contact_aim import (
    aim_bracket,
    aim_for,
    aimed,
    contact_distance,
    ghost_place,
    leaving,
    signed_sine,
)
from stunline.shot.aiming.pot_refusal import check_cut, refusal
from stunline.shot.aiming.root_search import last_true
from stunline.shot.aiming.windows_at_once import last_aims, pots_made
from stunline.shot.play import Prepared
from stunline.shot.position import Position, PotAim, Strike

# Samples on each side of the direct line. Fewer could step over a window that is narrower
# than a sixth of the mouth; more cost plays.
_SAMPLES = 18
# Aims tried within a window in which other balls may get in the way.
_PARTS = 12
# Edges are closed in to this. [rad] A hundred thousandth of a typical window.
_EDGE_TOLERANCE = 1e-8
_DIRECT_TOLERANCE = 1e-9  # [rad] where the windows are looked for; they are far wider
# How far an edge is looked for on both sides of where it is expected, and how closely it is
# then closed in, over half the window. [-] A player's own aim is ten times less exact.
_EDGE_STEPS = (0.05, 0.25)
_NEAR_TOLERANCE = 0.01
# How near a ball must lie to a way to be part of the search, over its radius. [-] Two radii
# touch; the rest is for curved ways and thrown balls.
_NEAR = 4.0


# From a pot and the direct strike that fails to make it, to the error that says why.
Why = Callable[[Prepared, PotAim, Strike], UnsolvableShotError]


@dataclass(frozen=True, slots=True)
class PotWindow:
    """The aims around the one chosen with which the ball goes in.

    Attributes:
        aim: the middle [rad]
        low, high: its edges [rad]
    """

    aim: float
    low: float
    high: float

    @property
    def half_width(self) -> float:
        """How far the aim may be off to either side. [rad]"""
        return 0.5 * (self.high - self.low)


def solve_pot(
    prepared: Prepared, pot: PotAim, strike: Strike, why: Why = refusal
) -> tuple[Strike, PotWindow]:
    """Turn the cue to the middle of the widest window, next to the direct line.

    Steps: the aim that sends the ball, throw included, straight at the middle of the mouth;
    aims to both sides of it, as far as the jaws could help; every run of aims that pot is a
    window, its edges closed in by halving; the widest is taken. Balls far from both ways are
    left out of that search, and its result is then played with all of them; where they get in
    the way after all, the aims in the windows are tried again with all. So the edges of a
    window do not count what a distant ball might do to one that is still between the jaws.

    Args:
        why: makes the error when nothing pots; finding reasons takes as long as the search.

    Raises:
        UnsolvableShotError: with why: "cut-too-thin", "way-blocked", "too-slow",
            "pocket-closed".
    """
    near = prepared.only(balls_near_the_ways(prepared.position, pot))
    direct = direct_strike(prepared, pot, strike)
    windows = _windows(near, pot, direct)
    if windows and near is not prepared:
        best = max(windows, key=_width)
        if not goes_in(prepared, pot, aimed(direct, best.aim)):
            # Another ball can only keep the ball out, so nothing outside a window is to be tried.
            windows = [part for one in windows for part in _parts(prepared, pot, direct, one)]
    if not windows:
        raise why(prepared, pot, direct)
    best = max(windows, key=_width)
    return aimed(strike, best.aim), best


def _width(window: PotWindow) -> float:
    return window.high - window.low


def balls_near_the_ways(position: Position, pot: PotAim) -> tuple[str, ...]:
    """The white, the ball, and all that lie within a ball's width of either one's way."""
    white = position.names[0]
    start, ball = position.balls[white], position.balls[pot.ball]
    mouth = position.table.pocket(pot.pocket).mouth_middle
    return tuple(
        name
        for name, place in position.balls.items()
        if name in (white, pot.ball)
        or plane.distance_to_stretch(place, start, ball) < _NEAR * position.radius(name)
        or plane.distance_to_stretch(place, ball, mouth) < _NEAR * position.radius(name)
    )


def direct_strike(prepared: Prepared, pot: PotAim, strike: Strike) -> Strike:
    """The aim with which the ball leaves, thrown, straight for the middle of the mouth.

    As if the two balls were alone: what lies in their ways is for the caller to find out.

    Raises:
        UnsolvableShotError: "cut-too-thin" when no contact sends it there.
    """
    position = prepared.position
    check_cut(position, pot)
    target = pot_direction(position, pot)
    alone = prepared.only((position.names[0], pot.ball))
    if strike.elevation == 0.0:
        # A level white goes straight, as far with any aim: nothing is nearer than the full ball.
        straight = aimed(strike, sum(aim_bracket(position, pot.ball, strike)) / 2.0)
        if alone.stops_short(straight):
            return straight

    def error(one: Strike) -> float:
        contact = leaving(alone, one)
        if contact is None:
            # Past the right edge the ball would be sent to the left, and so on.
            return signed_sine(alone, pot.ball, one) * 0.5 * math.pi
        return plane.angle_from(target, contact.other.velocity)

    ghost = ghost_place(position, pot.ball, target)
    return aim_for(alone, pot.ball, strike, error, ghost, _DIRECT_TOLERANCE)


def pot_direction(position: Position, pot: PotAim) -> Point:
    """Unit vector from the ball to the middle of the pocket's mouth."""
    mouth = position.table.pocket(pot.pocket).mouth_middle
    return plane.unit(plane.between(position.balls[pot.ball], mouth))


def goes_in(prepared: Prepared, pot: PotAim, strike: Strike) -> bool:
    """Whether the ball goes in directly: no cushion, no other ball; jaws may touch it."""
    watched = prepared.position.names.index(pot.ball)
    return prepared.falls_into(strike, watched) == pot.pocket


def _aim_per_direction(position: Position, pot: PotAim) -> float:
    """How much the aim turns for a turn of the ball's direction, roughly. [-]"""
    target = pot_direction(position, pot)
    way = plane.between(position.balls[position.names[0]], ghost_place(position, pot.ball, target))
    cosine = max(plane.dot(plane.unit(way), target), 0.05)
    distance = max(plane.length(way), 1e-3)
    return min(contact_distance(position, pot.ball) * cosine / distance, 1.0)


def _sample_step(position: Position, pot: PotAim) -> float:
    """Step between the aims tried. [rad]"""
    pocket = position.table.pocket(pot.pocket)
    distance = plane.length(plane.between(position.balls[pot.ball], pocket.mouth_middle))
    # Directions to both edges of the mouth and half a mouth beyond, where a jaw could help.
    reach = math.atan2(pocket.mouth, max(distance, pocket.mouth))
    return reach * _aim_per_direction(position, pot) / _SAMPLES


def _windows(prepared: Prepared, pot: PotAim, direct: Strike) -> list[PotWindow]:
    """The windows to both sides of the direct line."""
    step = _sample_step(prepared.position, pot)
    aims = [direct.aim + step * index for index in range(-_SAMPLES, _SAMPLES + 1)]
    return _windows_among(prepared, pot, direct, aims)


def _parts(prepared: Prepared, pot: PotAim, direct: Strike, window: PotWindow) -> list[PotWindow]:
    """The windows within one that was found with fewer balls."""
    step = _width(window) / _PARTS
    aims = [window.low + step * (index + 0.5) for index in range(_PARTS)]
    return _windows_among(prepared, pot, direct, aims)


def _windows_among(
    prepared: Prepared, pot: PotAim, direct: Strike, aims: Sequence[float]
) -> list[PotWindow]:
    """The windows that aims at equal steps fall into."""
    step = aims[1] - aims[0]
    runs = _true_runs(pots_made(prepared, pot, direct, aims))
    if not runs:
        return []
    brackets = [
        bracket
        for first, last in runs
        for bracket in ((aims[first], aims[first] - step), (aims[last], aims[last] + step))
    ]
    edges = last_aims(prepared, pot, direct, brackets, _EDGE_TOLERANCE)
    windows = [
        PotWindow(0.5 * (low + high), low, high)
        for low, high in zip(edges[::2], edges[1::2], strict=True)
    ]
    # A window with a hole in its middle, from a shot that touches a jaw twice, is no window.
    middles = pots_made(prepared, pot, direct, [window.aim for window in windows])
    return [window for window, made in zip(windows, middles, strict=True) if made]


def aim_near(prepared: Prepared, pot: PotAim, direct: Strike, expected: PotWindow) -> Strike | None:
    """The middle of the window near the expected one, or None when it is not found there.

    For a position much like one already solved, in a third of the plays. That no wider window
    has opened elsewhere is not checked.

    Args:
        direct: the direct line's strike.
        expected: the window as it was, counted from the direct line [rad].
    """

    def made(aim: float) -> bool:
        return goes_in(prepared, pot, aimed(direct, aim))

    edges = []
    for edge, outwards in (
        (expected.low, -expected.half_width),
        (expected.high, expected.half_width),
    ):
        found = _edge_near(made, direct.aim + edge, outwards)
        if found is None:
            return None
        edges.append(found)
    return aimed(direct, 0.5 * (edges[0] + edges[1]))


def _edge_near(made: Callable[[float], bool], guess: float, outwards: float) -> float | None:
    """The last aim that pots near a guess; ``outwards`` is half the window, with its sign."""
    for share in _EDGE_STEPS:
        inside, outside = guess - share * outwards, guess + share * outwards
        if made(inside) and not made(outside):
            return last_true(made, inside, outside, _NEAR_TOLERANCE * abs(outwards))
    return None


def _true_runs(results: list[bool]) -> list[tuple[int, int]]:
    """First and last index of every run of True."""
    runs: list[tuple[int, int]] = []
    for index, result in enumerate(results):
        if result and index > 0 and results[index - 1]:
            runs[-1] = (runs[-1][0], index)
        elif result:
            runs.append((index, index))
    return runs
