"""Positions with a pot or contact and a goal that some strike of theirs meets, from a seed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random

from random_positions import MATCH, RADIUS, REACH, TABLE
from stunline.equipment.player import load_player
from stunline.errors import UnsolvableShotError
from stunline.planning.aim_field import AimField
from stunline.planning.request import request
from stunline.shot.aiming.solve import solve
from stunline.shot.contact import contacts
from stunline.shot.goal import CircleArea, Gap, Goal, Meeting, NextBall, PolygonArea, StrikeRange
from stunline.shot.play import play
from stunline.shot.position import ContactAim, Position, PotAim, StrikePlan
from stunline.shot.shot import Shot

NAMES = ("white", "red1", "blue", "pink", "black", "red2", "red3")
PACES, HEIGHTS = (0.7, 3.2), (-0.012, 0.012)
VARY = StrikeRange(PACES, HEIGHTS, None)


@dataclass(frozen=True)
class Task:
    """What a search is given, and a strike that was the goal's model."""

    position: Position
    plan: StrikePlan
    goal: Goal


def random_position(random: Random, balls: int) -> Position:
    """That many balls, none touching another or in a pocket's mouth."""
    places: list[tuple[float, float]] = []
    while len(places) < balls:
        place = (
            random.uniform(REACH, TABLE.width - REACH),
            random.uniform(REACH, TABLE.length - REACH),
        )
        if all(math.dist(place, other) > 3.0 * RADIUS for other in places) and all(
            math.dist(place, pocket.drop_centre) > 0.15 for pocket in TABLE.pockets
        ):
            places.append(place)
    return Position(TABLE, "match", MATCH, dict(zip(NAMES, places, strict=False)))


def random_task(random: Random) -> Task:
    """A goal that is cut from what a random strike does."""
    while True:
        position = random_position(random, random.randint(3, 7))
        plan = StrikePlan(_aim(random), random.uniform(*PACES), random.uniform(*HEIGHTS), 0.0, 0.0)
        try:
            shot = play(position, solve(position, plan).strike)
            goal = _goal(random, plan, shot)
            if goal is not None:
                asked = request(position, plan, goal, load_player("club"))
                AimField(asked, asked.ranges)
                return Task(position, plan, goal)
        except UnsolvableShotError:
            continue  # the way is blocked, perhaps only for a cue that must be raised


def _aim(random: Random) -> PotAim | ContactAim:
    if random.random() < 0.6:
        return PotAim("red1", random.choice([pocket.name for pocket in TABLE.pockets]))
    return ContactAim("red1", random.uniform(0.2, 0.9), random.choice(["left", "right"]))


def _goal(random: Random, plan: StrikePlan, shot: Shot) -> Goal | None:
    own = contacts(shot, "white")
    others = [one for one in own if one.ball != "red1"]
    rest = shot.rest("white")
    pot = plan.aim if isinstance(plan.aim, PotAim) else None
    if pot is not None and shot.potted(pot.ball) != pot.pocket:
        return None
    kind = random.choice(["meet", "rest", "polygon", "through", "miss", "next", "cushions"])
    if kind == "meet" and others and others[0] is own[1]:
        thick = others[0].thickness
        span = (max(thick - 0.3, 0.0), min(thick + 0.3, 1.0))
        return Goal(pot=pot, meet=Meeting(others[0].ball, span, others[0].on), vary=VARY)
    if rest is None:
        return None
    if kind == "rest":
        return Goal(pot=pot, rest=CircleArea(rest, random.uniform(0.08, 0.2)), vary=VARY)
    if kind == "polygon":
        size = random.uniform(0.1, 0.25)
        corners = tuple((rest[0] + size * x, rest[1] + size * y) for x, y in _CORNERS)
        return Goal(pot=pot, rest=PolygonArea(corners), in_off=False, vary=VARY)
    if kind == "through" and len(shot.position.balls) > 3:
        pair = random.sample(list(shot.position.names[2:]), 2)
        goal = Goal(pot=pot, through=Gap((pair[0], pair[1])), vary=VARY)
        from planning.goal_on_shot import room

        return goal if room(goal, shot) > 0.01 else None
    if kind == "miss":
        return Goal(pot=pot, miss=shot.position.names[2:], in_off=False, vary=VARY)
    if kind == "next":
        return Goal(pot=pot, next=NextBall(("black",), (0.0, math.radians(50.0))), vary=VARY)
    if kind == "cushions":
        return Goal(pot=pot, cushions=(1, 2), in_off=False, vary=VARY)
    return None


_CORNERS = ((-1.0, -0.6), (0.8, -0.9), (1.1, 0.5), (-0.2, 1.0))
