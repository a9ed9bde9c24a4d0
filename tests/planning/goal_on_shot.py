"""Whether one shot does what a goal says, from its events and by small steps along its way.

Nothing of what judges batches is used: another formulation, slow and plain.
"""

from __future__ import annotations

import itertools
import math

from stunline.equipment.model import Point
from stunline.shot.contact import contacts
from stunline.shot.goal import CircleArea, Goal, NamedArea, PolygonArea
from stunline.shot.position import Position
from stunline.shot.shot import EventKind, Shot

STEP = 5e-4  # [s]
RADIUS_SLACK = 2e-3  # a way told by steps is known to this [m]


def doubtful(goal: Goal, shot: Shot) -> bool:
    """Whether a number is so near its limit that steps can't tell on which side it is."""
    if goal.through is not None and abs(room(goal, shot)) < RADIUS_SLACK:
        return True
    at = shot.rest("white")
    return goal.rest is not None and at is not None and abs(outside(goal, shot, at)) < 1e-6


def met(goal: Goal, shot: Shot) -> bool:
    """Whether every demand holds."""
    own = contacts(shot, "white")
    others = [one for one in own[1:] if one.ball != own[0].ball]
    touched = {one.ball for one in own}
    cushions = sum(
        event.kind is EventKind.CUSHION and event.balls[0] == "white" for event in shot.events
    )
    rest = shot.rest("white")
    checks = []
    if goal.pot is not None:
        checks.append(shot.potted(goal.pot.ball) == goal.pot.pocket)
    if goal.meet is not None:
        fits = bool(others) and others[0].ball == goal.meet.ball
        if fits:
            least, most = goal.meet.thickness
            fits = least <= others[0].thickness <= most
            fits = fits and goal.meet.on in (None, others[0].on)
        checks.append(fits)
    if goal.through is not None:
        checks.append(room(goal, shot) > 0.0)
    if goal.rest is not None:
        checks.append(rest is not None and outside(goal, shot, rest) <= 0.0)
    if goal.touch:
        checks.append(set(goal.touch) <= touched)
    if goal.miss:
        checks.append(not set(goal.miss) & touched)
    if goal.cushions is not None:
        checks.append(goal.cushions[0] <= cushions <= goal.cushions[1])
    if goal.in_off is False:
        checks.append(shot.potted("white") is None)
    return all(checks)


def room(goal: Goal, shot: Shot) -> float:
    """The room to spare on the best leg that crosses the gap, by steps; negative for none. [m]"""
    assert goal.through is not None
    own = contacts(shot, "white")
    since = own[0].event.time if own else 0.0
    turns = [since] + [
        event.time
        for event in shot.events
        if event.time > since
        and "white" in event.balls
        and event.kind in (EventKind.BALL, EventKind.CLUSTER, EventKind.CUSHION, EventKind.JAW)
    ]
    best = -math.inf
    for begin, end in zip(turns, [*turns[1:], shot.duration], strict=True):
        places = [
            shot.place("white", begin + (end - begin) * k / max(1, math.ceil((end - begin) / STEP)))
            for k in range(math.ceil((end - begin) / STEP) + 1)
        ]
        posts = [_post(shot, name, begin) for name in goal.through.between]
        if any(_crosses(one, two, *posts) for one, two in itertools.pairwise(places)):
            best = max(
                best,
                min(
                    math.dist(place, post) - _apart(shot.position, name)
                    for place in places
                    for post, name in zip(posts, goal.through.between, strict=True)
                ),
            )
    return best


def _post(shot: Shot, name: str, time: float) -> Point:
    if name in shot.position.balls:
        return shot.place(name, time)
    return shot.position.table.spots[name]


def _apart(position: Position, name: str) -> float:
    white = position.radius("white")
    return 2.0 * white if name in position.balls else white


def _crosses(one: Point, two: Point, first: Point, second: Point) -> bool:
    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return (
        side(first, second, one) * side(first, second, two) < 0.0
        and side(one, two, first) * side(one, two, second) < 0.0
    )


def outside(goal: Goal, shot: Shot, place: Point) -> float:
    """How far outside of the area; of a polygon, its sign alone. [m]"""
    area, table = goal.rest, shot.position.table
    if isinstance(area, CircleArea):
        return math.dist(place, area.centre) - area.radius
    if isinstance(area, PolygonArea):
        # The angle that the corners are seen under, all round: a full turn from inside.
        turned = 0.0
        for one, two in zip(area.corners, (*area.corners[1:], area.corners[0]), strict=True):
            a = math.atan2(one[1] - place[1], one[0] - place[0])
            b = math.atan2(two[1] - place[1], two[0] - place[0])
            turned += math.remainder(b - a, 2.0 * math.pi)
        return 1.0 if abs(turned) < math.pi else -1.0
    assert isinstance(area, NamedArea)
    assert table.baulk_line is not None
    assert table.d_radius is not None
    if area.name == "D":
        away = math.dist(place, (0.5 * table.width, table.baulk_line)) - table.d_radius
        return max(away, place[1] - table.baulk_line)
    return place[1] - table.baulk_line
