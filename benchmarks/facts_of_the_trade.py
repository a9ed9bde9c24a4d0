"""What the trade says of cue-ball control, and the figures that the engine gives.

Prints the table of docs/facts.md from today's engine. Snooker 12 ft, match cloth, unless said.
Common practice, no source [P]: nothing in the engine is tuned to it.
"""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random
from statistics import median, quantiles

from stunline.equipment.catalogue import load_table
from stunline.equipment.model import Point
from stunline.errors import UnsolvableShotError
from stunline.planning.causes import Group
from stunline.planning.explaining import explain
from stunline.shot import plane
from stunline.shot.aiming.solve import Solver
from stunline.shot.bend import bend_after
from stunline.shot.contact import first_contact
from stunline.shot.play import play
from stunline.shot.position import (
    ContactAim,
    NamedHeight,
    PocketWeight,
    Position,
    PotAim,
    Strike,
    StrikePlan,
)
from stunline.shot.readouts import Readouts, readouts
from stunline.shot.shot import Shot

TABLE = load_table("snooker-12ft")
MATCH = TABLE.default_cloth().coefficients
RADIUS = TABLE.balls["white"].radius
REDS = dict(TABLE.racks["triangle"])
ROLLS_AT_ONCE = 0.4 * RADIUS  # [X] the white rolls off the tip
HALF_BALL = ContactAim("blue", 0.5, "right")
MM = 1000.0
TOUCHING = 1e-4  # [m] at rest a red this near to another is not free
RACKS = 500


def two_balls(apart: float, sliding_friction: float | None = None) -> Solver:
    """White and blue in the open, a way between their centres. [m]"""
    coefficients = MATCH
    if sliding_friction is not None:
        coefficients = replace(MATCH, sliding_friction=sliding_friction)
    balls = {"white": (0.5, 1.0), "blue": (0.5 + apart, 1.0)}
    return Solver(Position(TABLE, "match", coefficients, balls))


def told(solver: Solver, plan: StrikePlan) -> tuple[Shot, Readouts]:
    """Solved, played and read."""
    shot = solver.prepared.play(solver.solve(plan).strike)
    return shot, readouts(shot)


def rolling_pace(speed: float, way: float) -> float:
    """Pace off the tip with which a white that rolls at once has that speed after that way."""
    return math.sqrt(speed**2 + 2.0 * MATCH.rolling_resistance * MATCH.gravity * way)


def off_the_tangent_line() -> dict[float, list[float]]:
    """Thickness → the first way's angle inside the tangent line, max follow to max screw. [°]"""
    solver = two_balls(0.4)
    heights = [NamedHeight("max follow"), NamedHeight("centre"), NamedHeight("max screw")]
    return {
        thickness: [
            told(solver, StrikePlan(replace(HALF_BALL, thickness=thickness), 2.0, height))[
                1
            ].off_tangent_deg
            or 0.0
            for height in heights
        ]
        for thickness in (0.75, 0.5, 0.25, 0.125)
    }


def rolling_half_ball(speed: float, sliding_friction: float | None = None) -> Readouts:
    """A rolling white meets the blue half-ball with that speed. [m/s]"""
    apart = 0.4
    pace = rolling_pace(speed, apart - 2.0 * RADIUS * math.cos(math.radians(30.0)))
    plan = StrikePlan(HALF_BALL, pace, ROLLS_AT_ONCE)
    return told(two_balls(apart, sliding_friction), plan)[1]


def pocket_weight_slides() -> dict[float, float]:
    """Pot's length [m] → slide along the first way after half-ball at pocket weight. [mm]"""
    found = {}
    mouth, half = TABLE.pocket("top right").mouth_middle, math.sqrt(0.5)
    for length in (0.9, 1.2, 1.5):
        blue = (mouth[0] - length * half, mouth[1] - length * half)
        ghost = (blue[0] - 2.0 * RADIUS * half, blue[1] - 2.0 * RADIUS * half)
        way = math.radians(75.0)  # 30° off the line of the pot
        white = (ghost[0] - 0.5 * math.cos(way), ghost[1] - 0.5 * math.sin(way))
        solver = Solver(Position(TABLE, "match", MATCH, {"white": white, "blue": blue}))
        plan = StrikePlan(PotAim("blue", "top right"), PocketWeight(), ROLLS_AT_ONCE)
        found[length] = slide_along_first_way(told(solver, plan)[0])
    return found


def slide_along_first_way(shot: Shot) -> float:
    """From the contact to the end of sliding, along the first way. [mm]"""
    contact = first_contact(shot)
    assert contact is not None
    end = bend_after(shot, contact).sliding_end
    assert end is not None
    first = plane.unit(contact.white_after.velocity)
    return MM * plane.dot(first, plane.between(contact.white_place, end))


def bend_with_side() -> dict[str, float]:
    """Follow or screw → how far half the most side moves the end of the slide, over its way. [%]"""
    solver = two_balls(0.3)
    found = {}
    for name, height in (("rolling", ROLLS_AT_ONCE), ("screw", -0.374 * RADIUS)):
        ends: list[Point] = []
        for side in (0.0, 0.25 * RADIUS, -0.25 * RADIUS):
            shot, _ = told(solver, StrikePlan(HALF_BALL, 2.5, height, side))
            contact = first_contact(shot)
            assert contact is not None
            end = bend_after(shot, contact).sliding_end
            assert end is not None
            ends.append(plane.between(contact.white_place, end))
        moved = [plane.length(plane.between(ends[0], end)) for end in ends[1:]]
        found[name] = 100.0 * max(moved) / plane.length(ends[0])
    return found


def share_of_side(height: float, pace: float) -> list[tuple[float, float]]:
    """Right, then left half of the most side: its share of the turn, and what goes with it. [%]

    The turn is from the tangent line to where the white goes once it rolls; half-ball, from 0.3 m.
    """
    solver = two_balls(0.3)
    found = []
    for side in (0.25 * RADIUS, -0.25 * RADIUS):
        shot, _ = told(solver, StrikePlan(HALF_BALL, pace, height, side))
        explained = explain(shot)
        assert explained.ends is not None
        groups, k = explained.ends.groups, explained.groups.index(Group.SIDE)
        per_cent = 100.0 / explained.ends.whole
        found.append((per_cent * groups.parts[k], per_cent * groups.taken_away[k]))
    return found


def bend_of_two_millimetres(sign: float) -> dict[float, float]:
    """Way to the blue [m] → change of a half-ball's bend from 11.1 to 13.1 mm off centre. [°]"""
    found = {}
    for apart in (0.3, 0.5, 0.8):
        solver = two_balls(apart)
        bends = [
            told(solver, StrikePlan(HALF_BALL, 2.5, sign * height))[1].total_bend_deg or 0.0
            for height in (0.0111, 0.0131)
        ]
        found[apart] = abs(bends[1] - bends[0])
    return found


def rack(random: Random, gap: float) -> dict[str, Point]:
    """The triangle with gaps between its reds: from none to twice that mean. [m]

    Its places are spread from the apex, and each red then stands anywhere within half a gap.
    """
    apex_x, apex_y = REDS["red1"]
    wider = 1.0 + gap / (2.0 * RADIUS)
    found = {}
    for name, (x, y) in REDS.items():
        way, off = random.uniform(0.0, 2.0 * math.pi), 0.5 * gap * math.sqrt(random.random())
        found[name] = (
            apex_x + (x - apex_x) * wider + off * math.cos(way),
            apex_y + (y - apex_y) * wider + off * math.sin(way),
        )
    return found


def end_red_half_ball(gap: float, racks: int) -> tuple[list[float], list[float]]:
    """Quartiles over racks: reds freed, and the white's rest from where the end red stood. [m]

    Freed: moved by more than two ball widths, and touching none. A rolling white comes from
    anywhere behind the left end red of the back row and meets it half-ball at 1.7 to 1.9 m/s.
    """
    freed, away = [], []
    for seed in range(racks):
        random = Random(seed)
        reds = rack(random, gap)
        shot = _end_red_shot(random, reds)
        if shot is None:
            continue  # another red is in the way on that side
        rests = {name: shot.last_place(name) for name in reds}
        freed.append(sum(_freed(name, reds, rests) for name in reds))
        away.append(math.dist(shot.last_place("white"), reds["red11"]))
    return quantiles(freed, n=4), quantiles(away, n=4)


def _end_red_shot(random: Random, reds: dict[str, Point]) -> Shot | None:
    end, apart = reds["red11"], 0.45
    way = math.radians(random.uniform(-90.0, 90.0))
    white = (end[0] - apart * math.cos(way), end[1] - apart * math.sin(way))
    solver = Solver(Position(TABLE, "match", MATCH, {"white": white, **reds}))
    pace = rolling_pace(random.uniform(1.7, 1.9), 0.4)
    aim = ContactAim("red11", 0.5, random.choice(("left", "right")))
    try:
        return told(solver, StrikePlan(aim, pace, ROLLS_AT_ONCE))[0]
    except UnsolvableShotError:
        return None


def _freed(name: str, reds: dict[str, Point], rests: dict[str, Point]) -> bool:
    nearest = min(math.dist(rests[name], rests[other]) for other in reds if other != name)
    moved = math.dist(rests[name], reds[name])
    return moved > 4.0 * RADIUS and nearest > 2.0 * RADIUS + TOUCHING


def full_into_the_back_row(speed: float, gap: float = 0.0, racks: int = 1) -> float:
    """The white's rest from the pack's middle, after full contact with the back row's. [m]

    The median over racks.
    """
    found = []
    for seed in range(racks):
        reds = rack(Random(seed), gap)
        middle = reds["red13"]
        position = Position(TABLE, "match", MATCH, {"white": (middle[0], middle[1] + 0.3), **reds})
        shot = play(position, Strike(-0.5 * math.pi, speed, ROLLS_AT_ONCE))
        centre = (middle[0], sum(place[1] for place in reds.values()) / len(reds))
        found.append(math.dist(shot.last_place("white"), centre))
    return median(found)


def main() -> None:
    """Print every figure."""
    for thickness, angles in off_the_tangent_line().items():
        print(f"off the tangent line, thickness {thickness}: {max(angles):.2f}° at most")
    for speed in (0.5, 1.0, 2.0, 4.0):
        read = rolling_half_ball(speed)
        print(
            f"rolling half-ball at {speed} m/s: 5 mm off after {read.run_to_5mm_off_mm:.1f} mm, "
            f"5° after {read.run_to_5deg_off_mm:.2f} mm, slid {read.sliding_ended_after_mm:.1f} mm"
        )
    for length, slide in pocket_weight_slides().items():
        print(f"pocket weight over {length} m: slides {slide:.1f} mm along its first way")
    for name, share in bend_with_side().items():
        print(f"half the most side, {name}: the end of the slide moves by {share:.1f} % of the way")
    rolling, screw = ("rolling", ROLLS_AT_ONCE), ("full screw", -0.43 * RADIUS)
    for (name, height), pace in ((rolling, 1.0), (rolling, 2.5), (screw, 2.5)):
        shares = "; ".join(
            f"{share:+.1f} % of the turn, {taken_away:+.1f} % when only it is taken away"
            for share, taken_away in share_of_side(height, pace)
        )
        print(f"half the most side, right; left, {name}, {pace} m/s: {shares}")
    for sign, name in ((-1.0, "below"), (1.0, "above")):
        for apart, change in bend_of_two_millimetres(sign).items():
            print(f"11.1 → 13.1 mm {name} centre, blue at {apart} m: bend changes by {change:.2f}°")
    for friction in (0.1, 0.2, 0.4):
        read = rolling_half_ball(1.0, friction)
        print(
            f"sliding friction {friction}: slid {read.sliding_ended_after_mm:.1f} mm, "
            f"bent by {read.total_bend_deg:.3f}° in all"
        )
    for gap in (0.0, 5e-5, 2e-4, 1e-3):
        freed, away = end_red_half_ball(gap, RACKS)
        print(
            f"gaps of {MM * gap:g} mm, end red half-ball: {freed[0]:g}, {freed[1]:g}, {freed[2]:g} "
            f"reds freed (quartiles), white {away[0]:.2f}, {away[1]:.2f}, {away[2]:.2f} m away"
        )
        off = full_into_the_back_row(1.8, gap, RACKS)
        print(f"full into the back row at 1.8 m/s: the white rests {off:.3f} m off the middle")


if __name__ == "__main__":
    main()
