"""Every set of causes played: which way the white leaves, which way it ends, where it goes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.model import Coefficients, Point
from stunline.mechanics import layout
from stunline.planning.approach import Approach, Approaches
from stunline.planning.causes import Cause
from stunline.shot import plane
from stunline.shot.aiming.contact_aim import leaving
from stunline.shot.batch import Batch, play_many
from stunline.shot.batch_input import coefficient_rows
from stunline.shot.contact import Contact
from stunline.shot.meeting import Meeting
from stunline.shot.play import Prepared
from stunline.shot.position import Position, Strike
from stunline.shot.shot import Motion

Floats = NDArray[np.float64]
_MM = 1000.0
_PLACES = ("next_met_x_mm", "next_met_y_mm")


@dataclass(frozen=True, slots=True)
class Case:
    """One set of causes: what is struck, from where, with which coefficients."""

    approach: Approach
    coefficients: Coefficients

    def position(self, of: Position) -> Position:
        """The position that the strike is played on."""
        balls = {**of.balls, of.names[0]: self.approach.start}
        return replace(of, balls=balls, coefficients=self.coefficients)


@dataclass(frozen=True, slots=True)
class Cases:
    """What the white does in every case, in the order of the sets' bits.

    Attributes:
        leaves: (N,) from the tangent line to its first direction, towards the ball positive [rad]
        ends: (N,) from the tangent line to its direction once it rolls, the same way [rad]
        places: (N, 2) where it next meets something, falls or rests, from the contact: along
            the tangent line and along the line of centres [m]
        meets: (N,) what it next meets: kind of event and its other number, (−1, −1) for nothing
    """

    leaves: Floats
    ends: Floats
    places: Floats
    meets: tuple[tuple[int, int], ...]


def cases_of(
    position: Position, strike: Strike, contact: Contact, causes: Sequence[Cause]
) -> list[Case]:
    """A case for every set of these causes; the last one is the shot itself.

    Raises:
        UnsolvableShotError: without some of them no strike reaches the contact.
    """
    approaches = Approaches(position, strike, contact)
    found: dict[frozenset[Cause], Approach] = {}
    cases = []
    for bits in range(1 << len(causes)):
        kept = [cause for k, cause in enumerate(causes) if bits >> k & 1]
        way = _of_the_way(kept)
        if way not in found:
            found[way] = approaches.with_causes(way, _of_the_way(causes))
        approach = found[way]
        cases.append(Case(approach, _coefficients(position, approach, kept, causes)))
    return cases


def _of_the_way(causes: Sequence[Cause]) -> frozenset[Cause]:
    """What of them tells how the white arrives."""
    return frozenset(causes) - {Cause.BALL_FRICTION, Cause.RESTITUTION}


def _coefficients(
    position: Position, approach: Approach, kept: Sequence[Cause], causes: Sequence[Cause]
) -> Coefficients:
    own = position.coefficients
    taken = set(causes) - set(kept)
    return replace(
        own,
        squirt=approach.squirt,
        ball_friction=0.0 if Cause.BALL_FRICTION in taken else own.ball_friction,
        ball_restitution=1.0 if Cause.RESTITUTION in taken else own.ball_restitution,
    )


def play_cases(position: Position, contact: Contact, cases: Sequence[Case]) -> Cases:
    """Play them all."""
    meetings = _leaving(position, cases)
    leaves, ends = np.zeros(len(cases)), np.zeros(len(cases))
    for k, met in enumerate(meetings):
        tangent, line = _frame(met, contact)
        towards = plane.cross(tangent, line)
        leaves[k] = towards * plane.angle_from(tangent, met.white.velocity)
        rolling = rolling_velocity(met.white, met.radius)
        ends[k] = towards * plane.angle_from(tangent, rolling)
    ended, meets = _ended(position, cases)
    places = np.array(
        [
            [
                plane.dot(axis, plane.between(met.white_place, place))
                for axis in _frame(met, contact)
            ]
            for met, place in zip(meetings, ended, strict=True)
        ]
    )
    return Cases(leaves, ends, places, meets)


def rolling_velocity(motion: Motion, radius: float) -> Point:
    """A ball's velocity once sliding has ended, if nothing is in its way. [m s⁻¹]

    ``(5·v + 2·R·(ω_y, −ω_x))/7``, whatever the friction: a solid sphere sliding on a level bed
    keeps its angular momentum about the line on which it touches. [X]
    """
    (vx, vy), (wx, wy, _) = motion.velocity, motion.spin
    return (5.0 * vx + 2.0 * radius * wy) / 7.0, (5.0 * vy - 2.0 * radius * wx) / 7.0


def _frame(met: Meeting, contact: Contact) -> tuple[Point, Point]:
    """The tangent line, the way the white goes on, and the line of centres: unit vectors."""
    line = plane.unit(plane.between(met.white_place, met.ball_place))
    x, y = line
    return ((y, -x) if contact.signed_sine > 0.0 else (-y, x)), line


def _leaving(position: Position, cases: Sequence[Case]) -> list[Meeting]:
    prepared: dict[tuple[Point, Coefficients], Prepared] = {}
    found = []
    for case in cases:
        key = (case.approach.start, case.coefficients)
        if key not in prepared:
            prepared[key] = Prepared(case.position(position))
        met = leaving(prepared[key], case.approach.strike)
        assert met is not None  # each case was solved to make the contact
        found.append(met)
    return found


def _ended(
    position: Position, cases: Sequence[Case]
) -> tuple[list[Point], tuple[tuple[int, int], ...]]:
    """Where the white next meets something, falls or rests [m], and what it meets."""
    places: list[Point] = [(0.0, 0.0)] * len(cases)
    meets = [(-1, -1)] * len(cases)
    for squirts in (False, True):
        rows = [k for k, case in enumerate(cases) if case.approach.squirt is squirts]
        if not rows:
            continue
        batch = _played(position, [cases[k] for k in rows])
        for row, k in enumerate(rows):
            places[k] = _place(position, batch, row)
            meets[k] = int(batch.next_kinds[row]), int(batch.next_others[row])
            if meets[k][0] < 0 and batch.potted[row, 0] >= 0:
                meets[k] = layout.EVENT_POCKET, int(batch.potted[row, 0])
    return places, tuple(meets)


def _played(position: Position, cases: Sequence[Case]) -> Batch:
    """Cases that squirt alike, in one call."""
    places = np.stack([list(case.position(position).balls.values()) for case in cases])
    return play_many(
        cases[0].position(position),
        [case.approach.strike for case in cases],
        places=places,
        coefficients=coefficient_rows(position, [case.coefficients for case in cases]),
        readouts=_PLACES,
    )


def _place(position: Position, batch: Batch, row: int) -> Point:
    if batch.next_kinds[row] >= 0:
        x, y = (float(batch.readouts[name][row]) / _MM for name in _PLACES)
        return x, y
    pocket = int(batch.potted[row, 0])
    if pocket >= 0:
        return position.table.pockets[pocket].drop_centre
    return float(batch.rests[row, 0, 0]), float(batch.rests[row, 0, 1])
