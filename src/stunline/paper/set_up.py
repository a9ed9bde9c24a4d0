"""How a position is set on the table with a tape: from two cushions' noses, and a check.

Whole millimetres, as a tape is read: half a millimetre is less than anybody sets a ball to. Where
balls touch each other or a cushion the list says so, since the tape can't. The exact places stay
in the position file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, dist

from stunline.equipment.contact_distances import ball_contact_distance, nose_contact_distance
from stunline.equipment.model import Point
from stunline.paper.sheet_lengths import Lengths, fraction, whole_mm
from stunline.shot.contact import first_contact
from stunline.shot.position import Position
from stunline.shot.shot import Shot
from stunline.shot.words import ball_words, with_article

MM = 1000.0  # in a metre
ON_SPOT = 0.05  # a ball nearer than this to a spot stands on it [mm]
IN_RACK = 0.02  # the same for a ball's place in a rack whose balls touch [mm]
NEARLY_IN_RACK = 1.5  # and in one with gaps, which hands leave between its balls [mm]
TOUCHING = 0.05  # balls with a smaller gap are set by touching [mm]
HALF = 0.5  # a smaller gap would round to none [mm]


@dataclass(frozen=True, slots=True)
class FromCushion:
    """One tape measurement, nose line to ball.

    Attributes:
        cushion: the game's word
        centre: to the mark under the ball's centre, "150"
        edge: to its nearest edge, "124", or "touching"
        in_mm: the same in millimetres where those are inches, "150 / 124 mm", or ""
    """

    cushion: str
    centre: str
    edge: str
    in_mm: str = ""

    def words(self) -> str:
        """ "left 150 / 124"; the list's heading says the unit."""
        return f"{self.cushion} {self.centre} / {self.edge}"

    def millimetres(self) -> str:
        """The same in millimetres, whatever the unit."""
        return f"{self.cushion} {self.in_mm.removesuffix(' mm')}" if self.in_mm else self.words()


@dataclass(frozen=True, slots=True)
class SetBall:
    """A ball to set.

    Attributes:
        ball: in words, "red 7"
        across: from the nearer side cushion
        up: from the nearer end cushion
        check: a third measurement that tells a mistake in the two, or ""
    """

    ball: str
    across: FromCushion
    up: FromCushion
    check: str


@dataclass(frozen=True, slots=True)
class SetRack:
    """Balls that are racked: "reds", and how."""

    balls: str
    words: str


@dataclass(frozen=True, slots=True)
class SetUp:
    """The list.

    Attributes:
        balls: one by one, the cue ball first
        racks: after them
    """

    balls: tuple[SetBall, ...]
    racks: tuple[SetRack, ...]


def set_up(shot: Shot, lengths: Lengths) -> SetUp:
    """The list for a shot's position, in the unit that ``lengths`` is in."""
    position = shot.position
    racked = _racked(position)
    inside = {name for rack in racked for name in position.table.racks[rack]}
    singles = [name for name in position.names if name not in inside]
    contact = first_contact(shot)
    checks = _Checks(position, contact.ball if contact else None, tuple(singles), lengths, shot)
    return SetUp(
        tuple(_set_ball(position, name, checks, lengths) for name in _in_order(singles, checks)),
        tuple(_set_rack(position, name, lengths) for name in racked),
    )


def _in_order(names: list[str], checks: _Checks) -> list[str]:
    """The cue ball, the ball that it meets, then the others in the set's order."""
    return sorted(names, key=lambda name: (name != names[0], name != checks.met))


def _racked(position: Position) -> list[str]:
    """Racks whose every ball stands in its place, or nearly."""
    return [
        name
        for name in position.table.racks
        if (off := _off_the_rack(position, name)) is not None and off <= NEARLY_IN_RACK
    ]


def _off_the_rack(position: Position, name: str) -> float | None:
    """The most by which a ball is off its place in that rack; None when one is missing. [mm]"""
    rack = position.table.racks[name]
    if not rack.keys() <= position.balls.keys():
        return None
    return max(MM * dist(place, position.balls[ball]) for ball, place in rack.items())


def _set_rack(position: Position, name: str, lengths: Lengths) -> SetRack:
    rack = position.table.racks[name]
    groups = position.table.groups.items()
    group = next((group for group, members in groups if set(rack) <= set(members)), name)
    apex = next(iter(rack))
    both = from_cushions(position, apex, lengths)
    in_mm = f" ({', '.join(one.in_mm for one in both)})" if both[0].in_mm else ""
    measured = ", ".join(one.words() for one in both) + in_mm
    apex_words = ball_words(apex)
    off = _off_the_rack(position, name)
    how = "touching" if off is not None and off <= IN_RACK else "as close as hands set it"
    return SetRack(group, f"{name} on its spot, {how}; its apex, {apex_words}: {measured}")


def _set_ball(position: Position, name: str, checks: _Checks, lengths: Lengths) -> SetBall:
    across, up = from_cushions(position, name, lengths)
    return SetBall(ball_words(name), across, up, checks.words(name))


def from_cushions(
    position: Position, name: str, lengths: Lengths
) -> tuple[FromCushion, FromCushion]:
    """From the nearer side cushion, and from the nearer end cushion."""
    table, (x, y) = position.table, position.balls[name]
    near, right, far, left = table.words.cushions
    across = (x, left) if x <= table.width - x else (table.width - x, right)
    up = (y, near) if y <= table.length - y else (table.length - y, far)
    return (
        _from_cushion(position, name, across, lengths),
        _from_cushion(position, name, up, lengths),
    )


def _from_cushion(
    position: Position, name: str, measured: tuple[float, str], lengths: Lengths
) -> FromCushion:
    distance, cushion = MM * measured[0], measured[1]
    radius = MM * position.radius(name)
    least = MM * nose_contact_distance(position.radius(name), position.table.nose_height)
    touches = distance - least < TOUCHING
    # Typed back, a ball that touches is never inside its cushion.
    centre = f"{ceil(distance)}" if touches else whole_mm(distance)
    edge = "touching" if touches else whole_mm(distance - radius)
    if lengths.units == "mm":
        return FromCushion(cushion, centre, edge)
    edge_in = "touching" if touches else fraction(distance - radius)
    return FromCushion(cushion, fraction(distance), edge_in, f"{centre} / {edge} mm")


def gap(position: Position, one: str, two: str) -> float:
    """Between two balls' surfaces. [mm]"""
    balls = position.balls
    apart = ball_contact_distance(position.radius(one), position.radius(two))
    return MM * (dist(balls[one], balls[two]) - apart)


@dataclass(frozen=True, slots=True)
class _Checks:
    """Third measurements.

    Attributes:
        position: of all balls
        met: the ball that the cue ball meets, or None
        singles: balls that are set one by one
        lengths: words
        shot: tells which pocket a ball falls into
    """

    position: Position
    met: str | None
    singles: tuple[str, ...]
    lengths: Lengths
    shot: Shot

    def words(self, name: str) -> str:
        """Of that ball: its spot, its pocket, or another ball."""
        told = [*self._spot(name), *self._pocket(name)]
        if not told or name == self.position.names[0]:
            told += self._ball(name)
        return "; ".join(told)

    def _spot(self, name: str) -> Iterator[str]:
        for spot, place in self.position.table.spots.items():
            if MM * dist(place, self.position.balls[name]) <= ON_SPOT:
                yield f"on the {spot} spot"
                return

    def _pocket(self, name: str) -> Iterator[str]:
        pocket = self.shot.potted(name)
        if name == self.met and pocket is not None:
            mouth = self.position.table.pocket(pocket).mouth_middle
            distance = MM * dist(mouth, self.position.balls[name])
            yield f"{pocket} pocket {_short(distance, self.lengths)}"

    def _ball(self, name: str) -> Iterator[str]:
        """The ball met for the cue ball; for others the nearest of those set before."""
        order = _in_order(list(self.singles), self)
        before = order[: order.index(name)] or order[1:]
        if name == self.position.names[0] and self.met is not None:
            before = [self.met]
        others = before or [one for one in self.position.names if one != name]
        if name == self.met and len(others) == 1:
            return  # the cue ball's own check says it
        if others:
            other = min(others, key=lambda one: gap(self.position, name, one))
            yield self._to_ball(name, other)

    def _to_ball(self, name: str, other: str) -> str:
        free = gap(self.position, name, other)
        if free < TOUCHING:
            return f"touching {with_article(other)}"
        centres = MM * _apart(self.position, name, other)
        told = f"{ball_words(other)} {_short(centres, self.lengths)}"
        return f"{told}, gap {_short(free, self.lengths) if free >= HALF else 'under 1 mm'}"


def _short(length_mm: float, lengths: Lengths) -> str:
    if lengths.units == "mm":
        return whole_mm(length_mm)
    return f"{fraction(length_mm)} in ({whole_mm(length_mm)} mm)"


def _apart(position: Position, one: str, two: str) -> float:
    a: Point = position.balls[one]
    return dist(a, position.balls[two])
