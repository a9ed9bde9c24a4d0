"""The numbers that a coach names, read off a played shot.

Values here are for people and for the JSON: mm, degrees, m/s, each with its unit at the
end of its name. ``None`` means that it does not apply: no contact, no bend, potted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, fields
from typing import Any

from stunline.equipment.model import Point
from stunline.shot import plane
from stunline.shot.aiming.pace import lengths_of
from stunline.shot.aiming.pot_aim import PotWindow
from stunline.shot.bend import Bend, bend_after
from stunline.shot.contact import Contact, contact_at, first_contact
from stunline.shot.energy import energy_kept
from stunline.shot.outcome import outcome, surface_words
from stunline.shot.position import Side, StrikePlan
from stunline.shot.shot import MEETINGS, Event, EventKind, Shot
from stunline.shot.words import arrival_words, thickness_words

MM = 1000.0


def _read(unit: str, meaning: str) -> Any:
    return field(metadata={"unit": unit, "meaning": meaning})


@dataclass(frozen=True, slots=True)
class Readouts:
    """All read-outs of a shot. Each field's metadata holds its unit and meaning."""

    pace_lengths: float = _read("lengths", "the pace as lengths of this table and cloth")
    squirt_deg: float = _read("°", "the white's first direction off the aim, left positive")
    object_ball: str | None = _read("", "the ball that the white met first")
    contact_time_s: float | None = _read("s", "from the strike to that contact")
    distance_to_contact_mm: float | None = _read("mm", "from the white to the contact, straight")
    cut_angle_deg: float | None = _read(
        "°", "between the white's way just before contact and the line of centres"
    )
    thickness: float | None = _read("", "1 − sin(cut angle): 1 full, 0.5 half-ball, 0 a miss")
    thickness_words: str | None = _read("", "the same in words")
    met_on: Side | None = _read(
        "", "the side of the object ball that was met, seen along the white's way"
    )
    arrival_speed_m_s: float | None = _read("m/s", "of the white just before contact")
    follow_ratio: float | None = _read("", "Rω/v on arrival: 1 rolling, 0 stun, −0.4 screw 40 %")
    arrival: str | None = _read("", "the same in words")
    tangent_direction_deg: float | None = _read("°", "of the 90° line, from the table's +x")
    first_direction_deg: float | None = _read("°", "of the white just after contact")
    off_tangent_deg: float | None = _read(
        "°", "the first direction inside the 90° line: positive towards the object ball"
    )
    object_direction_deg: float | None = _read("°", "of the object ball just after contact")
    throw_deg: float | None = _read(
        "°", "the object ball's direction off the line of centres, left positive"
    )
    white_speed_after_m_s: float | None = _read("m/s", "of the white just after contact")
    object_speed_after_m_s: float | None = _read("m/s", "of the object ball just after contact")
    energy_kept: float | None = _read(
        "", "share of both balls' energy, spin included, left just after contact"
    )
    run_to_5mm_off_mm: float | None = _read(
        "mm", "run along the first direction until the white was 5 mm off it"
    )
    run_to_5deg_off_mm: float | None = _read(
        "mm", "run along the first direction until the white's way was turned 5°"
    )
    sliding_ended_after_mm: float | None = _read(
        "mm", "run after contact until sliding ended, along the path"
    )
    sliding_ended_at_mm: Point | None = _read("mm", "where that was")
    total_bend_deg: float | None = _read(
        "°", "from the first direction to the last before it met something, towards follow positive"
    )
    next_met: str | None = _read("", "the ball or cushion that the white met next")
    next_met_on: Side | None = _read("", "the side of that ball, seen along the white's way")
    next_met_thickness: float | None = _read("", "thickness of that second contact")
    next_met_at_mm: Point | None = _read("mm", "where the white's centre was then")
    next_met_speed_m_s: float | None = _read("m/s", "of the white just before")
    cushions: int = _read("", "cushions that the white met in all, jaws not counted")
    white_rest_mm: Point | None = _read("mm", "where the white rests")
    white_rest_from_cushions_mm: dict[str, float] | None = _read(
        "mm", "the same from the two nearest cushions, to the centre"
    )
    in_off: str | None = _read("", "the pocket that the white fell into")
    duration_s: float = _read("s", "from the strike until everything rests")
    pot_made: bool | None = _read("", "whether the ball asked for went into the pocket asked for")
    aim_window_deg: Point | None = _read(
        "°", "how far the aim may be off to the right and to the left for it to go in"
    )

    def as_dict(self) -> dict[str, Any]:
        """Name → value, points as [x, y], for the JSON."""
        return {
            each.name: list(value) if isinstance(value, tuple) else value
            for each in fields(self)
            for value in [getattr(self, each.name)]
        }


def readouts(
    shot: Shot, plan: StrikePlan | None = None, window: PotWindow | None = None
) -> Readouts:
    """Everything that a coach names about this shot.

    Args:
        plan: what was asked for, so that a pot made or missed is told.
        window: the aims that pot, from ``solve``.
    """
    contact = first_contact(shot)
    values: dict[str, Any] = {each.name: None for each in fields(Readouts)}
    values |= _overall(shot)
    values["pot_made"] = outcome(shot, plan).pot_made
    if window is not None:
        minus, plus = window.aim - window.low, window.high - window.aim
        values["aim_window_deg"] = (math.degrees(minus), math.degrees(plus))
    if contact is not None:
        values |= _arriving(shot, contact)
        values |= _leaving(contact)
        values |= _bending(bend_after(shot, contact))
        values |= _next_met(shot, contact)
    return Readouts(**values)


def _overall(shot: Shot) -> dict[str, Any]:
    white = shot.position.names[0]
    rest = shot.rest(white)
    first = shot.events[0].after[white].velocity
    aim = (math.cos(shot.strike.aim), math.sin(shot.strike.aim))
    return {
        "pace_lengths": lengths_of(shot.position, shot.strike.pace),
        "squirt_deg": math.degrees(plane.angle_from(aim, first)),
        "cushions": sum(
            white in event.balls and event.kind is EventKind.CUSHION for event in shot.events
        ),
        "white_rest_mm": _mm(rest) if rest else None,
        "white_rest_from_cushions_mm": nearest_cushions_mm(shot, rest) if rest else None,
        "in_off": shot.potted(white),
        "duration_s": shot.duration,
    }


def _arriving(shot: Shot, contact: Contact) -> dict[str, Any]:
    start = shot.position.balls[shot.position.names[0]]
    return {
        "object_ball": contact.ball,
        "contact_time_s": contact.event.time,
        "distance_to_contact_mm": MM * plane.length(plane.between(start, contact.white_place)),
        "cut_angle_deg": math.degrees(contact.cut_angle),
        "thickness": contact.thickness,
        "thickness_words": thickness_words(contact.thickness),
        "met_on": contact.on,
        "arrival_speed_m_s": contact.white_before.speed,
        "follow_ratio": contact.follow_ratio,
        "arrival": arrival_words(contact.follow_ratio),
    }


def _leaving(contact: Contact) -> dict[str, Any]:
    first = contact.white_after.velocity
    inside = plane.angle_from(contact.tangent, first)
    # Towards the object ball is left of the tangent line when the ball lies to its left.
    towards = math.copysign(1.0, plane.cross(contact.tangent, contact.line_of_centres))
    return {
        "tangent_direction_deg": _direction(contact.tangent),
        "first_direction_deg": _direction(first),
        "off_tangent_deg": math.degrees(towards * inside),
        "object_direction_deg": _direction(contact.ball_after.velocity),
        "throw_deg": math.degrees(contact.throw),
        "white_speed_after_m_s": contact.white_after.speed,
        "object_speed_after_m_s": contact.ball_after.speed,
        "energy_kept": energy_kept(contact),
    }


def _bending(bend: Bend) -> dict[str, Any]:
    return {
        "run_to_5mm_off_mm": _mm_or_none(bend.run_to_5mm_off),
        "run_to_5deg_off_mm": _mm_or_none(bend.run_to_5deg_off),
        "sliding_ended_after_mm": _mm_or_none(bend.sliding_run),
        "sliding_ended_at_mm": _mm(bend.sliding_end) if bend.sliding_end else None,
        "total_bend_deg": math.degrees(bend.total),
    }


def _next_met(shot: Shot, contact: Contact) -> dict[str, Any]:
    white = shot.position.names[0]
    event = next_meeting(shot, contact.event)
    if event is None:
        return {}
    found: dict[str, Any] = {
        "next_met": surface_words(event),
        "next_met_at_mm": _mm(shot.place(white, event.time)),
        "next_met_speed_m_s": shot.motion_before(white, event).speed,
    }
    if event.kind in MEETINGS:
        second = contact_at(shot, event, white)
        found |= {
            "next_met": second.ball,
            "next_met_on": second.on,
            "next_met_thickness": second.thickness,
        }
    return found


def next_meeting(shot: Shot, after: Event) -> Event | None:
    """The white's next meeting with a ball, cushion or jaw after that event."""
    white = shot.position.names[0]
    events = iter(shot.events)
    for event in events:
        if event is after:
            break
    met = (*MEETINGS, EventKind.CUSHION, EventKind.JAW)
    return next((one for one in events if white in one.balls and one.kind in met), None)


def nearest_cushions_mm(shot: Shot, place: Point) -> dict[str, float]:
    """Distances from the nose lines of the two nearest cushions to a centre, nearest first."""
    table = shot.position.table
    x, y = place
    near, right, far, left = table.words.cushions
    along = min((left, x), (right, table.width - x), key=lambda one: one[1])
    up = min((near, y), (far, table.length - y), key=lambda one: one[1])
    return {name: MM * distance for name, distance in sorted((along, up), key=lambda one: one[1])}


def _direction(vector: Point) -> float:
    return math.degrees(plane.angle(vector))


def _mm(place: Point) -> Point:
    return MM * place[0], MM * place[1]


def _mm_or_none(distance: float | None) -> float | None:
    return None if distance is None else MM * distance
