"""Where the white ends, told as a pupil can check it at the table: by a spot, or with a tape."""

from __future__ import annotations

from dataclasses import dataclass
from math import dist

from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.model import Point
from stunline.paper.sheet_lengths import Lengths
from stunline.shot.readouts import nearest_cushions_mm
from stunline.shot.shot import Shot

MM = 1000.0  # in a metre
ON_SPOT = 5.0  # a ball hides a spot that is so near to the mark under its centre [mm]
AGAINST = 1.0  # a ball nearer than this to a cushion is told as against it [mm]


@dataclass(frozen=True, slots=True)
class EndPlace:
    """Where a white came to rest.

    Attributes:
        at: its centre [mm]
        words: "stops 712 mm from left, 484 from top"
    """

    at: Point
    words: str


def end_place(shot: Shot, lengths: Lengths) -> EndPlace | None:
    """The place; None for a white that fell into a pocket."""
    white = shot.position.names[0]
    rest = shot.rest(white)
    if rest is None:
        return None
    told = _beside_a_spot(shot, rest) or _from_cushions(shot, rest, lengths)
    return EndPlace((MM * rest[0], MM * rest[1]), f"stops {told}")


def _beside_a_spot(shot: Shot, rest: Point) -> str:
    """ "beside the blue spot", where the ball's edge is nearer to it than a radius."""
    table = shot.position.table
    if not table.spots:
        return ""
    name = min(table.spots, key=lambda spot: dist(table.spots[spot], rest))
    away = dist(table.spots[name], rest)
    if MM * away <= ON_SPOT:
        return f"on the {name} spot"
    beside = away <= 2 * shot.position.radius(shot.position.names[0])
    return f"beside the {name} spot" if beside else ""


def _from_cushions(shot: Shot, rest: Point, lengths: Lengths) -> str:
    position = shot.position
    white = position.names[0]
    least = MM * nose_contact_distance(position.radius(white), position.table.nose_height)
    told, against = [], []
    for name, distance in nearest_cushions_mm(shot, rest).items():
        if distance - least < AGAINST:
            against.append(name)
        else:
            told.append((lengths.whole(distance), name))
    if len(against) == 2:
        return f"against the {against[0]} and the {against[1]} cushion"
    if against:
        return f"against the {against[0]} cushion, {told[0][0]} from {told[0][1]}"
    (one, first), (two, second) = told
    return f"{one.rpartition(' ')[0]} from {first}, {two} from {second}"
