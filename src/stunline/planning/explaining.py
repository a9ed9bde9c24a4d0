"""Why the white goes where it goes after a contact: its way taken apart into causes."""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass, replace

from stunline.errors import Fault, UnsolvableShotError
from stunline.planning.attribution import Attribution, Floats, attribute
from stunline.planning.cases import Case, Cases, cases_of, play_cases
from stunline.planning.causes import OF_THE_WAY, Cause, Group, groups_of, present_causes
from stunline.shot import plane
from stunline.shot.aiming.contact_aim import cushion_first
from stunline.shot.bend import Bend, bend_after
from stunline.shot.contact import Contact, first_contact
from stunline.shot.play import play
from stunline.shot.shot import Shot
from stunline.shot.words import with_article

# From here to full the contact leaves the white so little along the tangent line that its
# direction tells nothing; then only how far it runs is taken apart. [rad] Common practice, no
# source: coaches call such a shot straight.
STRAIGHT = math.radians(5.0)
# Nearer than this to where it was turning to, it got there. [rad] Rounding is far below.
_AS_FAR = 1e-6


@dataclass(frozen=True, slots=True)
class Explanation:
    """The white's way after its first contact, taken apart.

    Angles are from the tangent line, towards the object ball positive.

    Attributes:
        shot: as played
        contact: the white's first
        causes: that were told apart, in the order of ``Cause``
        groups: of them, in the order of ``Group``
        held: why the way to the contact was not taken apart, or ""
        leaves: the direction just after contact [rad]; None for a straight shot
        ends: the direction once the white rolls, if nothing is in its way [rad]; None as well
        along: where it next meets something, falls or rests, along the tangent line [m]
        forward: the same along the line of centres, the object ball's way positive [m]
        cases: what was played, the shot itself last
        places: (N, 2) where the white ended in each, along the tangent line and the line of
            centres [m]
        bend: the way as it went, up to what the white met
        meets: how many different things the white next meets in the cases; rest is one of them
        without_squirt: the thickness that the same aim would meet without squirt; 0 where it
            meets another ball or none, None where there is no squirt
    """

    shot: Shot
    contact: Contact
    causes: tuple[Cause, ...]
    groups: tuple[Group, ...]
    held: str
    leaves: Attribution | None
    ends: Attribution | None
    along: Attribution
    forward: Attribution
    cases: tuple[Case, ...]
    places: Floats
    bend: Bend
    meets: int
    without_squirt: float | None = None

    @property
    def is_straight(self) -> bool:
        """Whether the contact is so full that the white has no direction off it."""
        return self.ends is None

    @property
    def turned(self) -> float | None:
        """From the tangent line to where it pointed before it met something. [rad]

        None for a straight shot, and where nothing kept it from turning as far as ``ends``.
        """
        if self.ends is None:
            return None
        tangent = self.contact.tangent
        first = plane.angle_from(tangent, self.contact.white_after.velocity)
        towards = plane.cross(tangent, self.contact.line_of_centres)
        turned = towards * first + self.bend.total
        off = math.remainder(turned - self.ends.whole, 2.0 * math.pi)
        return turned if abs(off) > _AS_FAR else None

    def without(self, *causes: Cause) -> Shot:
        """The shot with everything but these causes."""
        case = self.cases[self._case_without(causes)]
        return play(case.position(self.shot.position), case.approach.strike)

    def moved_without(self, *causes: Cause) -> float:
        """How far the white then ends from where it ended, both from the contact. [m]"""
        along, forward = self.places[self._case_without(causes)] - self.places[-1]
        return math.hypot(along, forward)

    def _case_without(self, causes: Collection[Cause]) -> int:
        return len(self.cases) - 1 - sum(1 << self.causes.index(cause) for cause in causes)


def explain(shot: Shot) -> Explanation:
    """Take the white's way after its first contact apart.

    Raises:
        UnsolvableShotError: "no-contact", the white meets no ball.
    """
    contact = first_contact(shot)
    if contact is None:
        raise _no_contact(shot)
    causes, held, cases = _cases(shot, contact)
    played = play_cases(shot.position, contact, cases)
    straight = contact.cut_angle < STRAIGHT
    groups = groups_of(causes)

    def apart(values: Floats) -> Attribution:
        return attribute(values, [numbers for _, numbers in groups])

    return Explanation(
        shot=shot,
        contact=contact,
        causes=causes,
        groups=tuple(group for group, _ in groups),
        held=held,
        leaves=None if straight else apart(played.leaves),
        ends=None if straight else apart(played.ends),
        along=apart(played.places[:, 0]),
        forward=apart(played.places[:, 1]),
        cases=tuple(cases),
        places=played.places,
        bend=bend_after(shot, contact),
        meets=_kinds_met(played),
        without_squirt=_without_squirt(shot) if Cause.SQUIRT in causes else None,
    )


def _cases(shot: Shot, contact: Contact) -> tuple[tuple[Cause, ...], str, list[Case]]:
    """The causes told apart, why no more, and their cases."""
    position, strike = shot.position, shot.strike
    run = plane.length(plane.between(position.balls[position.names[0]], contact.white_place))
    causes = present_causes(strike, position.coefficients, run)
    held = ""
    if cushion_first(shot):
        held = f"{with_article(position.names[0])} comes off a cushion"
    else:
        try:
            return causes, "", cases_of(position, strike, contact, causes)
        except UnsolvableShotError as refusal:
            held = f"without some of it {refusal.fault.what}"
    causes = tuple(cause for cause in causes if cause not in OF_THE_WAY)
    return causes, held, cases_of(position, strike, contact, causes)


def _kinds_met(played: Cases) -> int:
    return len(set(played.meets))


def _without_squirt(shot: Shot) -> float:
    """Thickness met along the same aim by a white that does not squirt; 0 for another ball."""
    position = shot.position
    plain = replace(position, coefficients=replace(position.coefficients, squirt=False))
    contact = first_contact(play(plain, shot.strike))
    wanted = first_contact(shot)
    if contact is None or wanted is None or contact.ball != wanted.ball:
        return 0.0
    return contact.thickness


def _no_contact(shot: Shot) -> UnsolvableShotError:
    white = with_article(shot.position.names[0])
    return UnsolvableShotError(
        "no-contact",
        Fault(
            f"{white} meets no ball, so there is no way after a contact to explain",
            given=f"aim {math.degrees(shot.strike.aim):.3f}°, pace {shot.strike.pace:.3g} m/s",
            allowed="a strike that meets a ball",
            remedy='contact = { ball = "…", thickness = "half", on = "left" }',
            key="strike.aim",
        ),
    )
