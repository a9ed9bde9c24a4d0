"""Full-size pages measured as a printer is told to draw them.

Lengths are in millimetres. The tolerances are those that the docs promise: 0.05 mm, 0.02°.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, degrees, dist, pi, sin
from random import Random

import pytest

from paper.full_size_pages import SHIPPED, Made, TilePage, of_file, of_strike
from paper.pdf_reading import Point, direction
from random_positions import random_shot
from stunline.drawing.marks import Role
from stunline.paper.full_size import Wishes
from stunline.paper.full_size_marks import aims, told_by_lines
from stunline.paper.full_size_sheets import OVERLAP, PAPERS
from stunline.shot.contact import first_contact

LENGTH, ANGLE = 0.05, 0.02
UNPRINTABLE = 7.9  # kept free; 8 mm less the width of a line
SEEDS = range(50)
RING = 2.0  # radius of the ringed crosses by which neighbours are laid together

PAGES = [("a4", name) for name in SHIPPED] + [
    (paper, "edge-of-the-pack") for paper in PAPERS if paper != "a4"
]


def random_made(seed: int) -> Made:
    """One of the fifty, on a paper that changes with the seed."""
    position, strike = random_shot(seed)
    around = Random(seed).choice([None, None, "contact", "white"])
    return of_strike(position, strike, Wishes(list(PAPERS)[seed % len(PAPERS)], around))


@pytest.mark.parametrize(("paper", "name"), PAGES)
def test_pages_of_shipped_positions_are_true(paper: str, name: str) -> None:
    assert faults(of_file(name, paper)) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_pages_of_random_positions_are_true(seed: int) -> None:
    assert faults(random_made(seed)) == []


@pytest.mark.parametrize("around", ["contact", "white", "all"])
def test_pages_around_something_else_are_true(around: str) -> None:
    made = of_file("stun-and-hold", "a4", around)
    assert made.full.around == around
    assert faults(made) == []


def faults(made: Made) -> list[str]:
    """Everything on the pages that is not as promised."""
    found = []
    for number, page in enumerate(made.pages):
        found += [f"page {number}: {fault}" for fault in sheet_faults(made, number)]
        found += [f"page {number}: {a!r} on {b!r}" for a, b in page.overlapping_words()]
    for tile in made.tiles:
        found += [f"{tile.tile.name}: {fault}" for fault in ball_faults(made, tile)]
        found += [f"{tile.tile.name}: {fault}" for fault in registration_faults(made, tile)]
        found += [f"{tile.tile.name}: {fault}" for fault in angle_faults(made, tile)]
    found += cut_off(made)
    found += overlap_faults(made)
    return found + unnamed(made)


# --- every sheet ----------------------------------------------------------------------


def sheet_faults(made: Made, number: int) -> list[str]:
    """Bars, letters, margins, fonts of one page."""
    page = made.pages[number]
    found = [f"{words} in the margin" for words in page.words_outside(UNPRINTABLE)]
    level, upright = bars(made, number)
    if len(level) != 1 or len(upright) != 1:
        found.append(f"{len(level)} level and {len(upright)} upright bars")
    found += [f"a bar of {bar}" for bar in (*level, *upright) if abs(bar - 100.0) > LENGTH]
    if page.smallest_letters() < 9.0 - 1e-3:  # single precision
        found.append(f"letters of {page.smallest_letters()} pt")
    if not page.fonts or not all(page.fonts.values()):
        found.append(f"fonts {page.fonts}")
    if page.images:
        found.append("a picture in pixels")
    letters = "".join(page.copied.split())
    if "100.0mmacross?" not in letters or "100.0mmup?" not in letters:
        found.append("words that can't be copied")
    return found


def bars(made: Made, number: int) -> tuple[list[float], list[float]]:
    """Lengths of the level and of the upright check bars: lines of their width near 100 mm."""
    level, upright = [], []
    for start, end, path in made.pages[number].lines:
        across, up = abs(end[0] - start[0]), abs(end[1] - start[1])
        if path.dash or not 0.2 < path.width < 0.28:
            continue
        if 99.0 < across < 101.0 and up < 0.01:
            level.append(across)
        if 99.0 < up < 101.0 and across < 0.01:
            upright.append(up)
    return level, upright


# --- balls ----------------------------------------------------------------------------


def ball_faults(made: Made, tile: TilePage) -> list[str]:
    """Every outline that reaches into the field is there, in its place and size."""
    found = []
    for name, at, radius in outlines(made):
        field = tile.tile.field
        nearest = (
            min(max(at[0], field.left), field.right),
            min(max(at[1], field.bottom), field.top),
        )
        if dist(nearest, at) > radius - 1.0:
            continue
        near = [one for one, _ in tile.rounds() if dist(one.centre, at) < 1.0 and one.radius > 5]
        if not any(
            dist(one.centre, at) <= LENGTH and abs(one.radius - radius) <= LENGTH for one in near
        ):
            found.append(f"{name} should be at {at} with {radius}; found {near}")
    return found


def outlines(made: Made) -> list[tuple[str, Point, float]]:
    """Of the balls that the pages claim to show: where the position itself puts them."""
    shot = made.full.scene.subject.shot
    found = []
    for ball in made.full.scene.balls:
        if ball.there_at_start:
            x, y = shot.position.balls[ball.ball]
            at = (1000.0 * x, 1000.0 * y)
        else:
            at = ball.at
        found.append((ball.name, at, 1000.0 * shot.position.radius(ball.ball)))
    contact = first_contact(shot)
    shown = [ball for ball in made.full.scene.balls if not ball.there_at_start]
    if contact is not None and shown:
        x, y = contact.white_place
        assert dist(shown[0].at, (1000.0 * x, 1000.0 * y)) < 1e-6
    return found


# --- registration ---------------------------------------------------------------------


def registration_faults(made: Made, tile: TilePage) -> list[str]:
    """Nose lines, spots, tape crosses and aligning rings stand where the table has them."""
    found = []
    table = made.full.scene.subject.shot.position.table
    bed = (1000.0 * table.width, 1000.0 * table.length)
    for start, end in tile.lines(Role.NOSE):
        straight = [abs(start[axis] - end[axis]) < 0.01 for axis in (0, 1)]
        axis = straight.index(True) if any(straight) else None
        if axis is None or min(abs(start[axis]), abs(start[axis] - bed[axis])) > LENGTH:
            found.append(f"a nose line from {start} to {end}")
    crosses = crossings(tile)
    registration = made.full.scene.registration
    places = [(name, at) for name, at in registration.spots]
    places += [(point.name, point.at) for point in registration.tape]
    for name, at in places:
        if tile.tile.field.holds(at) and not any(dist(at, c) <= LENGTH for c in crosses):
            found.append(f"no cross for {name} at {at}")
    return found


def crossings(tile: TilePage) -> list[Point]:
    """Middles of upright lines that a level line of the same length crosses in its middle."""
    lines = list(tile.lines(Role.SPOT))
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in lines]
    return [one for one in middles if sum(dist(one, other) < 0.02 for other in middles) >= 2]


# --- angles ---------------------------------------------------------------------------


def angle_faults(made: Made, tile: TilePage) -> list[str]:
    """Tangent line at right angles to the line of centres; aim and pot in their directions."""
    found = []
    subject = made.full.scene.subject
    contacts = subject.contacts()
    for start, end in tile.lines(Role.TANGENT):
        off = min(
            apart(direction(start, end), degrees_of(c.ghost, c.ball_at) + 90.0) for c in contacts
        )
        if off > ANGLE:
            found.append(f"a tangent line {off}° off")
    aims = [degrees(way.shot.strike.aim) for way in subject.ways]
    for start, end in tile.lines(Role.AIM):
        if min(apart(direction(start, end), aim) for aim in aims) > ANGLE:
            found.append(f"a line of aim at {direction(start, end)}°")
    line = subject.pot_line()
    if line is not None:
        table = subject.shot.position.table
        x, y = table.pocket(subject.pocket()).mouth_middle
        contact = first_contact(subject.shot)
        assert contact is not None
        ball = contact.ball_place
        wanted = degrees_of((1000 * ball[0], 1000 * ball[1]), (1000 * x, 1000 * y))
        for start, end in tile.lines(Role.OBJECT_WAY):
            if apart(direction(start, end), wanted) > ANGLE:
                found.append(f"a line of the pot at {direction(start, end)}°")
    return found


def degrees_of(one: Point, two: Point) -> float:
    return direction(one, two)


def apart(one: float, two: float) -> float:
    """Between two lines, whichever way they point. [degrees]"""
    return abs((one - two + 90.0) % 180.0 - 90.0)


# --- tiles ----------------------------------------------------------------------------


def cut_off(made: Made) -> list[str]:
    """Outlines of which a part is on no page."""
    found = []
    for name, at, radius in outlines(made):
        clips = []
        for tile in made.tiles:
            for one, path in tile.rounds():
                if dist(one.centre, at) <= LENGTH and abs(one.radius - radius) <= LENGTH:
                    left, bottom = tile.at((path.clip.left, path.clip.bottom))
                    right, top = tile.at((path.clip.right, path.clip.top))
                    clips.append((left, bottom, right, top))
        for step in range(72):
            x = at[0] + radius * cos(2 * pi * step / 72)
            y = at[1] + radius * sin(2 * pi * step / 72)
            if not any(c[0] <= x <= c[2] and c[1] <= y <= c[3] for c in clips):
                found.append(f"{name} is cut off at {x:.1f}, {y:.1f}")
                break
    return found


def overlap_faults(made: Made) -> list[str]:
    """What one of two neighbours shows in the part they share, the other shows as well."""
    found = []
    for one in made.tiles:
        for two in made.tiles:
            beside = (two.tile.row - one.tile.row, two.tile.column - one.tile.column)
            if beside not in ((0, 1), (1, 0)):
                continue
            shared = one.tile.field.within(two.tile.field)
            if min(shared.width, shared.height) < OVERLAP - 1e-6:
                found.append(f"{one.tile.name} and {two.tile.name} share {shared}")
            for a, b in ((one, two), (two, one)):
                missing = [
                    circle
                    for circle, _ in a.rounds()
                    if touches(circle.centre, circle.radius, shared)
                    and not any(
                        dist(circle.centre, other.centre) <= LENGTH
                        and abs(circle.radius - other.radius) <= LENGTH
                        for other, _ in b.rounds()
                    )
                ]
                found += [f"{b.tile.name} lacks {circle} of {a.tile.name}" for circle in missing]
            rings = [c for c, _ in one.rounds() if abs(c.radius - RING) < 0.1]
            if sum(shared.holds(ring.centre) for ring in rings) < 2:
                found.append(f"{one.tile.name} and {two.tile.name}: no two rings")
    return found


def touches(centre: Point, radius: float, box: object) -> bool:
    """Whether a circle's line runs through a rectangle, with a tenth to spare."""
    points = [
        (centre[0] + radius * cos(pi * k / 36), centre[1] + radius * sin(pi * k / 36))
        for k in range(72)
    ]
    return any(box.grown(-0.1).holds(point) for point in points)  # type: ignore[attr-defined]


def unnamed(made: Made) -> list[str]:
    """Balls, rungs and tape points whose words are on no tile."""
    text = " ".join(tile.page.copied for tile in made.tiles).replace("\r\n", " ")
    text = " ".join(text.split())
    words = " ".join(w.text for tile in made.tiles for w in tile.page.words)
    shown = made.full.scene.balls
    by_lines = told_by_lines(made.full.scene.subject)
    named = [ball for ball in shown if ball.there_at_start or not by_lines]
    wanted = [line for ball in named for line in ball.name_lines]
    if by_lines:
        wanted += [f"line of aim {'/'.join(aim.rungs)}" for aim in aims(made.full.scene.subject)]
    for way in made.full.scene.subject.ways:
        if way.points and any(tile.tile.field.holds(way.points[-1]) for tile in made.tiles):
            wanted.append(way.label)
    wanted += [f"tape point {point.name}" for point in made.full.scene.registration.tape]
    return [f"no words {one!r}" for one in wanted if one not in words and one not in text]


def between(start: Point, end: Point) -> list[Point]:
    parts = [k / 200 for k in range(201)]
    return [(start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1])) for t in parts]


def test_lines_run_on_over_an_edge() -> None:
    made = of_file("edge-of-the-pack-low")
    by_name = {tile.tile.name: tile for tile in made.tiles}
    roles = (Role.AIM, Role.TANGENT, Role.ROLLING)
    for first, second in (("A2", "A3"), ("A3", "B3")):
        shared = by_name[first].tile.field.within(by_name[second].tile.field)
        one, two = (list(by_name[name].lines(*roles)) for name in (first, second))
        for start, end in one:
            inside = any(shared.holds(point) for point in between(start, end))
            twins = [line for line in two if dist(start, line[0]) < LENGTH > dist(end, line[1])]
            assert bool(twins) or not inside


def test_the_bars_ticks_are_a_centimetre_apart() -> None:
    page = of_file("edge-of-the-pack").pages[1]
    xs = sorted(
        start[0]
        for start, end, path in page.lines
        if not path.dash and abs(start[0] - end[0]) < 0.01 and 2.5 < abs(start[1] - end[1]) < 6.5
        and start[1] < 30.0
    )  # fmt: skip
    assert len(xs) >= 11
    assert all(abs(two - one - 10.0) < LENGTH for one, two in pairwise(xs[:11]))
