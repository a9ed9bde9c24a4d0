"""How the white comes to the same contact without some of what it was struck with.

The contact is held: the same ball, equally thick, on the same side, and equally fast. Otherwise
a shot without its squirt would miss the ball, and one without its follow would be a slower shot.
So for each case the cue is turned and the pace changed until that contact is made.
"""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass, replace

from stunline.equipment.model import Coefficients, Point
from stunline.errors import Fault, UnsolvableShotError
from stunline.planning.causes import Cause
from stunline.shot import plane
from stunline.shot.aiming.contact_aim import arrival, solve_contact, squirt
from stunline.shot.aiming.root_search import root_near
from stunline.shot.contact import Contact
from stunline.shot.play import Prepared
from stunline.shot.position import ContactAim, Position, Strike

# Struck this far before the contact, nothing has changed on the way. [m] Less would be lost in
# the rounding of places; the spin that the cloth takes over it is a 10⁻⁸ part.
_JUST_BEFORE = 1e-9
# Of the speed of arrival, over the speed itself. [-] Far below what moves any read-out.
_AS_FAST = 1e-11
_SETTLED = 1e-9  # of the speed of arrival: further rounds of aim and pace change nothing [-]
_FIRST_STEP = 0.02  # of the pace: the first try of another one [-]
_MOST_MORE_PACE = 8.0  # times the pace as struck, where the search for an equal arrival ends [-]
# Of pace, then aim, which a raised cue's swerve ties to each other. Of 643 random contacts one
# with a much raised cue needed more, which then counts as not to be had; with 3 it was eight.
_ROUNDS = 12
# Further from as fast than this, the contact is not the same. [-]
_FAST_ENOUGH = 1e-6


@dataclass(frozen=True, slots=True)
class Approach:
    """A strike that makes the contact, and where it is struck from.

    Attributes:
        strike: in numbers
        start: the white's centre [m]
        squirt: whether the strike squirts
    """

    strike: Strike
    start: Point
    squirt: bool


class Approaches:
    """The ways to one contact, by the causes that are kept."""

    def __init__(self, position: Position, strike: Strike, contact: Contact) -> None:
        self._position = position
        self._strike = strike
        self._contact = contact
        self._start = position.balls[position.names[0]]
        self._thickness = ContactAim(contact.ball, contact.thickness, contact.on)
        self._prepared: dict[bool, Prepared] = {}

    def with_causes(self, kept: Collection[Cause], present: Collection[Cause]) -> Approach:
        """The strike that makes the contact with these causes only.

        Args:
            present: all that the shot has.

        Raises:
            UnsolvableShotError: no strike with these causes reaches that contact.
        """
        squirts = Cause.SQUIRT in kept and self._position.coefficients.squirt
        if all(cause in kept for cause in present):
            return Approach(self._strike, self._start, self._position.coefficients.squirt)
        plain = replace(
            self._strike,
            height=self._strike.height if Cause.HEIGHT in kept else 0.0,
            side=self._strike.side if Cause.SIDE in kept else 0.0,
        )
        if Cause.CLOTH not in kept:
            return self._at_the_contact(plain, squirts)
        return Approach(self._from_afar(plain, squirts), self._start, squirts)

    def _at_the_contact(self, strike: Strike, squirts: bool) -> Approach:
        """Struck where it meets the ball, as it would arrive had no cloth touched it."""
        velocity = self._contact.white_before.velocity
        along = plane.unit(velocity)
        run = plane.length(plane.between(self._start, self._contact.white_place))
        start = plane.moved(self._contact.white_place, along, -min(run, _JUST_BEFORE))
        there = replace(strike, pace=plane.length(velocity))
        aim = plane.angle(along) - squirt(self._with_squirt(squirts), there)
        return Approach(replace(there, aim=aim), start, squirts)

    def _from_afar(self, strike: Strike, squirts: bool) -> Strike:
        """Struck from where the white stands, to arrive as thick and as fast."""
        if squirts not in self._prepared:
            self._prepared[squirts] = Prepared(self._with_squirt(squirts))
        prepared = self._prepared[squirts]
        to_contact = plane.angle(plane.between(self._start, self._contact.white_place))
        strike = replace(strike, aim=to_contact - squirt(prepared.position, strike))
        for _ in range(_ROUNDS):
            strike = solve_contact(prepared, self._thickness, self._as_fast(prepared, strike))
            if self._off(prepared, strike) < _SETTLED:
                return strike
        if self._off(prepared, strike) > _FAST_ENOUGH:
            raise self._never_as_fast(strike)
        return strike

    def _never_as_fast(self, strike: Strike) -> UnsolvableShotError:
        return UnsolvableShotError(
            "no-pace",
            Fault(
                "no pace brings it there as fast",
                given=f"{self._contact.white_before.speed:.3g} m/s at the contact",
                allowed="a speed that a strike arrives with",
                remedy="less elevation",
                key="strike.elevation" if strike.elevation else "strike.pace",
            ),
        )

    def _as_fast(self, prepared: Prepared, strike: Strike) -> Strike:
        """The same strike with the pace that arrives equally fast; as it is where none does."""
        wanted = self._contact.white_before.speed

        def too_fast(pace: float) -> float:
            met = arrival(prepared, replace(strike, pace=pace))
            return (met.white.speed if met is not None else 0.0) - wanted

        pace = root_near(
            too_fast,
            strike.pace,
            _FIRST_STEP * strike.pace,
            (0.25 * wanted, _MOST_MORE_PACE * strike.pace),
            _AS_FAST * wanted,
        )
        return strike if pace is None else replace(strike, pace=pace)

    def _off(self, prepared: Prepared, strike: Strike) -> float:
        """How far its speed of arrival is from that of the contact, over it. [-]"""
        met = arrival(prepared, strike)
        wanted = self._contact.white_before.speed
        return abs(met.white.speed / wanted - 1.0) if met is not None else math.inf

    def _with_squirt(self, squirts: bool) -> Position:
        return replace(self._position, coefficients=_squirting(self._position, squirts))


def _squirting(position: Position, squirts: bool) -> Coefficients:
    return replace(position.coefficients, squirt=squirts)
