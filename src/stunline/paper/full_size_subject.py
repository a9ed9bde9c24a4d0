"""What full-size pages show: one shot or a ladder's rungs, and what of each is near.

Places in millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, dist, inf, sin

from stunline.drawing import path_marks, story
from stunline.drawing.ladder_plan import rung_labels
from stunline.drawing.marks import Circle, Curve, Layer, Line, Point, Role
from stunline.shot.ladder import Ladder
from stunline.shot.position import PotAim, StrikePlan
from stunline.shot.rung import Rung
from stunline.shot.shot import Phase, Shot
from stunline.units import inches_text

FIRST_STRETCH = 350.0  # of the white's way after contact, the part that a coach lays out [mm]
# Where the next ball is met a little later than that, so far if few pages are needed for it. [mm]
LONGEST_STRETCH = 600.0
APART = 3.0  # of contacts nearer than this only the first is drawn as a ring [mm]
REACHED = 0.1  # the stretch's end is where the next ball is met, rounding aside [mm]
CURVE_STEPS = 12  # points along a curve, for keeping words off it and for what must be shown

_UNITS = {"pace": " m/s", "height": " mm", "side": " mm", "distance": " mm", "thickness": " thick"}


@dataclass(frozen=True, slots=True)
class Way:
    """One rung: the white's first stretch after contact.

    Attributes:
        label: "1: 1.7 m/s"; "" when there is one shot only
        shot: as played
        contact: the white's first meeting, or None
        meeting: the ball met within the stretch, or None
        pieces: the stretch, phase by phase: sliding a curve, rolling a line
    """

    label: str
    shot: Shot
    contact: story.Contact | None
    meeting: story.Contact | None
    pieces: tuple[Curve | Line, ...]

    @property
    def points(self) -> list[Point]:
        """Along the stretch."""
        return [point for piece in self.pieces for point in along(piece)]


@dataclass(frozen=True, slots=True)
class Subject:
    """What is shown.

    Attributes:
        ways: one for each rung; the first one's position is the table's
        plan: what was asked for
        left_out: labels of rungs on another table, or whose contact is not like the others'
        in_inches: whether the file's lengths are shown in inches
    """

    ways: tuple[Way, ...]
    plan: StrikePlan
    left_out: tuple[str, ...] = ()
    in_inches: bool = False

    @property
    def shot(self) -> Shot:
        """The first."""
        return self.ways[0].shot

    @property
    def contact(self) -> story.Contact | None:
        """Of the first shot."""
        return self.ways[0].contact

    @property
    def white(self) -> Point:
        """Where it stands."""
        return story.start(self.shot, self.cue_ball)

    @property
    def cue_ball(self) -> str:
        """Its name."""
        return story.cue_ball(self.shot)

    def contacts(self) -> list[story.Contact]:
        """The rungs' first contacts, one for those that lie close together."""
        found: list[story.Contact] = []
        for way in self.ways:
            own = way.contact
            if own and all(dist(own.ghost, other.ghost) > APART for other in found):
                found.append(own)
        return found

    def pot_line(self) -> tuple[Point, Point] | None:
        """From the object ball's centre to the middle of its pocket, when it is to be potted."""
        if self.contact is None:
            return None
        ball, aim = self.contact.ball, self.plan.aim
        pocket = aim.pocket if isinstance(aim, PotAim) and aim.ball == ball else None
        pocket = pocket or self.shot.potted(ball)
        if pocket is None or not self.shot.position.table.pockets:
            return None
        middle = self.shot.position.table.pocket(pocket).mouth_middle
        return self.contact.ball_at, story.millimetres(middle)

    def pocket(self) -> str:
        """Its name, or ""."""
        aim = self.plan.aim
        if isinstance(aim, PotAim):
            return aim.pocket
        return (self.shot.potted(self.contact.ball) or "") if self.contact else ""


def of_shot(shot: Shot, plan: StrikePlan) -> Subject:
    """One shot."""
    return Subject((_way("", shot),), plan)


def of_ladder(ladder: Ladder, in_inches: bool = False) -> Subject:
    """Every rung on the first one's table; another table's pages would have other cushions."""
    rungs = zip(rung_labels(ladder), ladder.rungs, strict=True)
    table = ladder.rungs[0].shot.position.table
    unit = _UNITS.get(ladder.vary, "")
    every = [
        _way(f"{number}: {_inches(rung, unit, in_inches)}{label}{unit}", rung.shot)
        for number, (label, rung) in enumerate(rungs, 1)
    ]
    ways = [way for way in every if way.shot.position.table == table]
    most_direct = min(_cushions_first(way) for way in ways)
    alike = [way for way in ways if _cushions_first(way) == most_direct]
    left_out = tuple(way.label for way in every if way not in alike)
    return Subject(tuple(alike), ladder.plan, left_out, in_inches)


def _inches(rung: Rung, unit: str, in_inches: bool) -> str:
    """ "5/16 in, ", before a length in millimetres, where the file is in inches."""
    if not in_inches or unit != " mm":
        return ""
    return f"{inches_text(float(str(rung.value)))}, ".replace("-", "−")


def _cushions_first(way: Way) -> float:
    """Cushions that the white meets before its first ball; infinitely many without a ball."""
    if way.contact is None:
        return inf
    white = story.cue_ball(way.shot)
    return sum(
        event.kind.value in ("cushion", "jaw") and white in event.balls
        for event in way.shot.events
        if event.time < way.contact.time
    )


def along(piece: Curve | Line) -> list[Point]:
    """Points along a piece, both ends included."""
    if isinstance(piece, Line):
        return [piece.start, piece.end]
    return [piece.at(step / CURVE_STEPS) for step in range(CURVE_STEPS + 1)]


def first_direction(shot: Shot) -> Point:
    """Unit vector of the cue's line."""
    return cos(shot.strike.aim), sin(shot.strike.aim)


def reaching_next_balls(subject: Subject) -> Subject:
    """With the stretches that end a little short of the next ball led on to it."""
    return replace(subject, ways=tuple(_reaching(way) for way in subject.ways))


def _reaching(way: Way) -> Way:
    if way.meeting is not None or story.next_meeting(way.shot) is None:
        return way
    longer = _way(way.label, way.shot, LONGEST_STRETCH)
    return longer if longer.meeting is not None else way


def _way(label: str, shot: Shot, most: float = FIRST_STRETCH) -> Way:
    contact = next(iter(story.contacts(shot)), None)
    meeting = story.next_meeting(shot)
    until = meeting.time if meeting else shot.duration
    pieces = tuple(_stretch(shot, (contact.time if contact else 0.0, until), most))
    reached = pieces[-1].end if pieces else None
    met = meeting if meeting and reached and dist(reached, meeting.ghost) < REACHED else None
    return Way(label, shot, contact, met, pieces)


def _stretch(shot: Shot, times: tuple[float, float], most: float) -> Iterator[Curve | Line]:
    """The white's phases between two times, cut off where they have run long enough."""
    (since, until), left = times, most
    for number, phase in enumerate(shot.phases(story.cue_ball(shot)), 1):
        early = phase.start < since - path_marks.TIME_EPSILON
        late = phase.end > until + path_marks.TIME_EPSILON
        if early or late or phase.motion == "spinning" or left <= 0:
            continue
        piece, left = _cut(phase, f"stretch-{number}", left)
        if dist(piece.start, piece.end) > path_marks.SHORTEST_DRAWN:
            yield piece


def _cut(phase: Phase, name: str, left: float) -> tuple[Curve | Line, float]:
    """The phase, or so much of it as is left; and what is left after it."""
    whole = path_marks.curve_of(phase, name, Layer.PATHS, Role.SLIDING)
    points = [whole.at(step / CURVE_STEPS) for step in range(CURVE_STEPS + 1)]
    length = sum(dist(one, two) for one, two in pairwise(points))
    part = min(1.0, left / length) if length > 0 else 1.0
    if phase.motion == "rolling":
        end = _between(whole.start, whole.end, part)
        return Line(name, Layer.PATHS, Role.ROLLING, whole.start, end), left - length
    # The first part of a quadratic curve is one too: its control lies that part along.
    control = _between(whole.start, whole.control, part)
    curve = Curve(name, Layer.PATHS, Role.SLIDING, whole.start, control, whole.at(part))
    return curve, left - length


def _between(start: Point, end: Point, part: float) -> Point:
    return start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])


def ring(name: str, role: Role, at: Point, radius: float) -> Circle:
    """A ball's outline."""
    return Circle(name, Layer.BALLS, role, at, radius)
