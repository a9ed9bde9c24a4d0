"""What a plan tells of a shot: first contact, the ball met next, where balls come to rest.

Places in millimetres, times in seconds; read off a ``Shot``, whose numbers are SI.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations
from math import hypot
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

from stunline.drawing.marks import Box, Point
from stunline.shot.words import ball_words

if TYPE_CHECKING:
    from stunline.shot.shot import Event, Shot

MILLIMETRES = 1000.0  # in a metre
MEETINGS = ("ball", "cluster")  # kinds of event at which balls meet
CUSHION_DEPTH = 50.0  # of a cushion behind its nose, as drawn; no rule of the game gives it [mm]
TOUCHING = 2.0  # balls with a smaller gap belong together, to the eye [mm]
MOVED = 1.0  # a ball that came to rest nearer to its start than this has not moved, to the eye [mm]


@dataclass(frozen=True, slots=True)
class Contact:
    """The white meeting a ball.

    Attributes:
        event: in which they met
        ball: the ball met
        ghost: the white's centre at that moment [mm]
        ball_at: that ball's centre [mm]
    """

    event: Event
    ball: str
    ghost: Point
    ball_at: Point

    @property
    def time(self) -> float:
        """Since the strike. [s]"""
        return self.event.time

    @property
    def centres(self) -> Point:
        """Unit vector from the white's centre to the ball's."""
        across, up = self.ball_at[0] - self.ghost[0], self.ball_at[1] - self.ghost[1]
        length = hypot(across, up)
        return across / length, up / length


# A plan asks for these many times. Kept as long as the shot itself, which never changes.
_CONTACTS: WeakKeyDictionary[Shot, tuple[Contact, ...]] = WeakKeyDictionary()
_NEIGHBOURS: WeakKeyDictionary[Shot, dict[str, list[str]]] = WeakKeyDictionary()


def millimetres(place: tuple[float, ...]) -> Point:
    """A place in metres in millimetres."""
    return float(place[0]) * MILLIMETRES, float(place[1]) * MILLIMETRES


def cue_ball(shot: Shot) -> str:
    """Name of the ball that was struck."""
    return shot.position.table.cue_ball


def white_words(shot: Shot) -> str:
    """What the game calls the ball that was struck: "white", "cue ball"."""
    return ball_words(cue_ball(shot))


def radius(shot: Shot, ball: str) -> float:
    """Of that ball. [mm]"""
    return shot.position.radius(ball) * MILLIMETRES


def contacts(shot: Shot) -> tuple[Contact, ...]:
    """Every meeting of the white with a ball, in time's order."""
    found = _CONTACTS.get(shot)
    if found is None:
        white = cue_ball(shot)
        found = _CONTACTS[shot] = tuple(
            _contact(shot, event, white)
            for event in shot.events
            if event.kind.value in MEETINGS and white in event.balls[:2]
        )
    return found


def next_meeting(shot: Shot) -> Contact | None:
    """The first ball that the white meets after the object ball, if it meets one."""
    found = contacts(shot)
    if not found:
        return None
    first = found[0]
    return next((later for later in found[1:] if later.ball != first.ball), None)


def told_until(shot: Shot) -> float:
    """When the story proper ends: at the next ball met, or with the shot. [s]"""
    meeting = next_meeting(shot)
    return meeting.time if meeting else shot.duration


def pack_of(shot: Shot, ball: str) -> tuple[str, ...]:
    """That ball and every ball that touches it, directly or through others."""
    beside = _beside(shot)
    found, fresh = [ball], [ball]
    while fresh:
        near = [name for name in beside[fresh.pop(0)] if name not in found]
        found += near
        fresh += near
    return tuple(found)


def _beside(shot: Shot) -> Mapping[str, list[str]]:
    """Each ball's neighbours that touch it."""
    found = _NEIGHBOURS.get(shot)
    if found is None:
        found = _NEIGHBOURS[shot] = {name: [] for name in shot.position.balls}
        rows = [(name, *start(shot, name), radius(shot, name)) for name in found]
        for (one, x, y, r), (two, u, v, s) in combinations(rows, 2):
            reach = r + s + TOUCHING
            if abs(u - x) < reach and hypot(u - x, v - y) < reach:
                found[one].append(two)
                found[two].append(one)
    return found


def place(shot: Shot, ball: str, time: float) -> Point:
    """Of that ball at that time. [mm]"""
    return millimetres(shot.place(ball, time))


def rest(shot: Shot, ball: str) -> Point | None:
    """Where that ball comes to rest, or None when it is potted. [mm]"""
    at = shot.rest(ball)
    return None if at is None else millimetres(at)


def start(shot: Shot, ball: str) -> Point:
    """Where that ball stood. [mm]"""
    return millimetres(shot.position.balls[ball])


def moved(shot: Shot, ball: str) -> bool:
    """Whether that ball came to rest somewhere else."""
    at, before = rest(shot, ball), start(shot, ball)
    return at is not None and hypot(at[0] - before[0], at[1] - before[1]) > MOVED


def playing_area(shot: Shot) -> Box:
    """Between the nose lines. [mm]"""
    table = shot.position.table
    return Box(0.0, 0.0, table.width * MILLIMETRES, table.length * MILLIMETRES)


def table_box(shot: Shot) -> Box:
    """The playing area with its cushions. [mm]"""
    return playing_area(shot).grown(CUSHION_DEPTH + 20.0)


def box_of(points: list[Point], margin: float) -> Box:
    """The upright rectangle round points, grown by a margin. [mm]"""
    across, up = [point[0] for point in points], [point[1] for point in points]
    return Box(min(across), min(up), max(across), max(up)).grown(margin)


def _contact(shot: Shot, event: Event, white: str) -> Contact:
    ball = next(name for name in event.balls[:2] if name != white)
    time = event.time
    return Contact(event, ball, place(shot, white, time), place(shot, ball, time))
