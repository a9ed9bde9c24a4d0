"""A contact seen through a round window: both balls, the lines through them, the first ways.

One piece of code for the inset in a plan and for the contact's own figure.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import acos, asin, cos, degrees, hypot, sin
from typing import TYPE_CHECKING

from stunline.drawing import path_marks, story
from stunline.drawing.ball_marks import letter, plate, tint_of
from stunline.drawing.marks import Circle, Layer, Line, Mark, Point, Polygon, Role, Size
from stunline.drawing.page import Page

if TYPE_CHECKING:
    from stunline.shot.shot import Shot

ARROW_HEAD, ARROW_HALF = 11.0, 4.5  # length and half the width of the arrow's head [px]
ARROW_REACH = 0.74  # from the ghost's centre to the arrow's tip, in the window's radius
CENTRES_BEYOND = 1.7  # the line of centres runs so far past the ball's centre, in its radius,
APART_FROM = 2.0  # when the ball is thrown by this much; else to its edge, clear of the dashes [°]
ALONG = 0.5  # degrees: nearer than this the white leaves along the tangent line
STILL = 1e-6  # slower than this a ball has no direction [m s⁻¹]


@dataclass(frozen=True, slots=True)
class Motions:
    """How the white came to a contact and how both left it. Velocities in m s⁻¹.

    Attributes:
        before: the white's velocity just before
        motion_before: "sliding" or "rolling"
        leaving: the white's first velocity, or None where it first stays in its place
        struck: the other ball's first velocity, or None where it does not move at once
    """

    before: Point
    motion_before: str
    leaving: Point | None
    struck: Point | None


@dataclass(frozen=True, slots=True)
class Lens:
    """Places on the table into places in the window.

    Attributes:
        looks_at: the place shown in the middle [mm]
        middle: the window's middle in the drawing [mm]
        power: magnification against the drawing around it [-]
        radius: of the window [px]
    """

    looks_at: Point
    middle: Point
    power: float
    radius: float

    def __call__(self, point: Point) -> Point:
        return (
            self.middle[0] + self.power * (point[0] - self.looks_at[0]),
            self.middle[1] + self.power * (point[1] - self.looks_at[1]),
        )


def motions(shot: Shot, contact: story.Contact) -> Motions:
    """The motions at that contact."""
    white = story.cue_ball(shot)
    before = shot.motion_before(white, contact.event).velocity
    came = [phase for phase in shot.phases(white) if phase.start < contact.time]
    return Motions(
        before=(before[0], before[1]),
        motion_before=came[-1].motion if came else "sliding",
        leaving=_first_velocity(shot, white, contact.time),
        struck=_first_velocity(shot, contact.ball, contact.time),
    )


def between(contact: story.Contact) -> Point:
    """The middle between both balls' centres. [mm]"""
    (x, y), (ball_x, ball_y) = contact.ghost, contact.ball_at
    return (x + ball_x) / 2, (y + ball_y) / 2


def cut_angle(before: Point, centres: Point) -> float:
    """Between the white's velocity just before and the line of centres. [rad]"""
    along = _dot(before, centres) / hypot(*before)
    return acos(min(1.0, max(-1.0, along)))


def inside_degrees(leaving: Point, centres: Point) -> float:
    """How far the white leaves inside the tangent line, towards the ball that it met. [°]"""
    return degrees(asin(min(1.0, max(-1.0, _dot(leaving, centres) / hypot(*leaving)))))


def throw_degrees(struck: Point, centres: Point) -> float:
    """From the line of centres to the ball's first direction, left positive. [°]"""
    x, y = centres
    return degrees(asin(min(1.0, max(-1.0, (x * struck[1] - y * struck[0]) / hypot(*struck)))))


def leaving_words(leaving: Point, centres: Point) -> str:
    """How the white leaves, against the tangent line; inside is towards the ball met."""
    inside = inside_degrees(leaving, centres)
    if abs(inside) < ALONG:
        return "leaves along the tangent line"
    side = "inside" if inside > 0 else "outside"
    return f"leaves {abs(inside):.0f}° {side} the tangent line"


def contact_view(
    shot: Shot, contact: story.Contact, lens: Lens, page: Page, prefix: str
) -> Iterator[Mark]:
    """Everything inside the window, from the bottom to the top, on the inset's layer.

    Args:
        shot: as played
        contact: of the white with a ball
        lens: what is shown where
        page: where it is drawn
        prefix: goes before the marks' ids
    """
    moved, radius = motions(shot, contact), page.mm(lens.radius)
    yield Circle(f"{prefix}-ground", Layer.INSET, Role.INSET_GROUND, lens.middle, radius)
    yield from _ball(shot, contact, lens, page, prefix)
    yield from _lines(shot, contact, lens, page, prefix)
    if moved.struck is not None:
        yield from _struck_way(shot, contact, moved.struck, lens, page, prefix)
    yield from _letter(shot, contact, lens, page, prefix)
    ghost, ring = lens(contact.ghost), story.radius(shot, story.cue_ball(shot)) * lens.power
    role = Role.SLIDING if moved.motion_before == "sliding" else Role.ROLLING
    came = stepped(ghost, moved.before, -2 * radius)
    yield Line(f"{prefix}-way", Layer.INSET, role, came, ghost)
    yield Circle(f"{prefix}-ghost", Layer.INSET, Role.GHOST, ghost, ring)
    if moved.leaving is not None:
        yield from arrow(ghost, moved.leaving, ARROW_REACH * lens.radius, page, prefix)


def arrow(
    start: Point, along: Point, length: float, page: Page, prefix: str, layer: Layer = Layer.INSET
) -> Iterator[Mark]:
    """The white's first direction; length in pixels."""
    tip = stepped(start, along, page.mm(length))
    neck = stepped(tip, along, -page.mm(ARROW_HEAD))
    across = (-along[1], along[0])
    left, right = (stepped(neck, across, sign * page.mm(ARROW_HALF)) for sign in (1, -1))
    yield Line(f"{prefix}-leaves", layer, Role.LEAVES, start, neck)
    yield Polygon(f"{prefix}-leaves-head", layer, Role.LEAVES_HEAD, (left, tip, right))


def stepped(point: Point, along: Point, distance: float) -> Point:
    """The point moved by that distance in a direction. [mm]"""
    length = hypot(along[0], along[1])
    return point[0] + along[0] / length * distance, point[1] + along[1] / length * distance


def _lines(
    shot: Shot, contact: story.Contact, lens: Lens, page: Page, prefix: str
) -> Iterator[Line]:
    """The line of aim, the tangent line and the line of centres."""
    reach, layer, ghost = page.mm(2 * lens.radius), Layer.INSET, lens(contact.ghost)
    aim = (cos(shot.strike.aim), sin(shot.strike.aim))
    # The point of the line of aim that is nearest to the ghost.
    white = story.start(shot, story.cue_ball(shot))
    ahead = _dot((contact.ghost[0] - white[0], contact.ghost[1] - white[1]), aim)
    near = lens(stepped(white, aim, ahead))
    yield Line(
        f"{prefix}-aim", layer, Role.AIM, stepped(near, aim, -reach), stepped(near, aim, reach)
    )
    tangent = path_marks.tangent_direction(shot, contact)
    back, front = (stepped(ghost, tangent, sign * reach) for sign in (-1, 1))
    yield Line(f"{prefix}-tangent", layer, Role.TANGENT, back, front)
    struck = motions(shot, contact).struck
    thrown = struck is not None and abs(throw_degrees(struck, contact.centres)) >= APART_FROM
    beyond = story.radius(shot, contact.ball) * lens.power * (CENTRES_BEYOND if thrown else 1.0)
    end = stepped(lens(contact.ball_at), contact.centres, beyond)
    yield Line(f"{prefix}-centres", layer, Role.CENTRES, ghost, end)


def _ball(
    shot: Shot, contact: story.Contact, lens: Lens, page: Page, prefix: str
) -> Iterator[Mark]:
    size = story.radius(shot, contact.ball) * lens.power
    tint, at = tint_of(shot, contact.ball), lens(contact.ball_at)
    yield Circle(f"{prefix}-ball", Layer.INSET, tint, at, size)


def _letter(
    shot: Shot, contact: story.Contact, lens: Lens, page: Page, prefix: str
) -> Iterator[Mark]:
    at, ball = lens(contact.ball_at), contact.ball
    yield from plate(shot, page, ball, at, Size.BODY, Layer.INSET, f"{prefix}-plate")
    yield letter(shot, page, ball, at, Size.BODY, Layer.INSET, f"{prefix}-letter")


def _struck_way(
    shot: Shot, contact: story.Contact, struck: Point, lens: Lens, page: Page, prefix: str
) -> Iterator[Mark]:
    """The ball's first direction, from its edge outwards."""
    edge = story.radius(shot, contact.ball) * lens.power
    centre = lens(contact.ball_at)
    start = stepped(centre, struck, edge)
    end = stepped(centre, struck, edge + page.mm(2 * lens.radius))
    yield Line(f"{prefix}-object-way", Layer.INSET, Role.OBJECT_WAY, start, end)


def _first_velocity(shot: Shot, ball: str, time: float) -> Point | None:
    """A ball's velocity as it sets off at that time, or None if it does not. [m s⁻¹]"""
    for phase in shot.phases(ball):
        if abs(phase.start - time) <= path_marks.TIME_EPSILON:
            velocity = phase.velocity[0], phase.velocity[1]
            if phase.motion != "spinning" and hypot(*velocity) > STILL:
                return velocity
    return None


def _dot(one: Point, two: Point) -> float:
    return one[0] * two[0] + one[1] * two[1]
