"""The first page: how to print, lay, mark and lift; what is printed; a map of the pages. [mm]"""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from stunline.drawing.marks import Anchor, Box, Circle, Drawing, Layer, Line, Mark, Point, Role
from stunline.drawing.page import PIXELS_PER_MM
from stunline.paper.full_size_frame import BAR, BAR_IN, Heading, bars, text
from stunline.paper.full_size_marks import every_ball
from stunline.paper.full_size_page import Scene
from stunline.paper.full_size_registration import ON_SPOT, straight_noses
from stunline.paper.full_size_sheets import MARGIN, OVERLAP, SIDE, Paper

MAP_WIDTH, MAP_HEIGHT = 66.0, 62.0  # of the map on the guide, at most [mm]
MAP_ROOM = 2.0  # round it, for lines that lie on its edge [mm]
LONGEST_WORD = 24  # letters that fit on a line of the title, however wide
PRINTED = " ●"  # behind a ball's name on the guide: its outline is on a page
READINGS = (97.0, 98.0, 99.0, 99.5, 100.5, 101.0, 102.0)  # of a check bar that is wrong [mm]


def guide_frame(paper: Paper, heading: Heading) -> Drawing:
    """The check bars, along the lower and the right edge of the upright sheet."""
    level = MARGIN + 10.0, MARGIN + 5.0
    upright = paper.width - MARGIN - SIDE + BAR_IN, MARGIN + 26.0
    return Drawing(
        marks=tuple(bars(level, upright, heading)),
        view=Box(0.0, 0.0, paper.width, paper.height),
        scale=PIXELS_PER_MM,
        title=heading.title,
        description="Two check bars of 100 mm.",
        name="guide",
    )


def guide_map(scene: Scene) -> Drawing:
    """The pages as they lie together, with balls and nose lines."""
    whole = scene.tiling.whole
    scale = min(MAP_WIDTH / whole.width, MAP_HEIGHT / whole.height)
    marks = list(_map_marks(scene, scale))
    view = Box(0.0, 0.0, whole.width * scale, whole.height * scale)
    return Drawing(
        marks=tuple(marks),
        view=view.grown(MAP_ROOM),
        scale=PIXELS_PER_MM,
        title="Map of the pages",
        description=f"How the {len(scene.tiling.tiles)} pages lie together.",
        windows={Layer.TABLE: view},
        name="map",
    )


def _map_marks(scene: Scene, scale: float) -> Iterator[Mark]:
    whole = scene.tiling.whole

    def small(point: Point) -> Point:
        return (point[0] - whole.left) * scale, (point[1] - whole.bottom) * scale

    for number, (_, start, end) in enumerate(straight_noses(scene.subject), 1):
        yield Line(f"nose-{number}", Layer.TABLE, Role.NOSE, small(start), small(end))
    for ball in scene.balls:
        role = Role.OUTLINE if ball.there_at_start else Role.GHOST
        yield Circle(ball.id, Layer.BALLS, role, small(ball.at), ball.radius * scale)
    for tile in scene.tiling.tiles:
        field = tile.field
        corners = [small(corner) for corner in field.corners]
        box = Box(*corners[0], *corners[2])
        for number, (one, two) in enumerate(zip(box.corners, _turned(box.corners), strict=True)):
            yield Line(f"{tile.name}-{number}", Layer.FRAME, Role.RULE, one, two)
        inset = OVERLAP * scale + 3.2
        at = box.left + OVERLAP * scale + 1.0, box.top - inset
        yield text(f"{tile.name}-words", at, tile.name, Anchor.START, role=Role.LABEL, bold=True)


def _turned(corners: tuple[Point, ...]) -> tuple[Point, ...]:
    return (*corners[1:], corners[0])


def guide_values(scene: Scene, heading: Heading, tiles: int) -> dict[str, object]:
    """What the first page's template is filled with."""
    sheet = scene.tiling.sheet
    paper = sheet.paper
    names = [tile.name for tile in scene.tiling.tiles]
    return {
        "title": heading.title,
        "heading": breakable(heading.title),
        "table": heading.table,
        "paper": {"title": paper.title, "width": paper.width, "height": paper.height},
        "turned": "landscape" if sheet.landscape else "portrait",
        "pages": names[0] if tiles == 1 else f"{', '.join(names[:-1])} and {names[-1]}",
        "tiles": tiles,
        "overlap": scene.ground.length_words(OVERLAP),
        "lay": lay_words(scene),
        "balls": _ball_rows(scene),
        "near": scene.ground.cushions[0],
        "rungs_out": ", ".join(scene.subject.left_out),
        "from": [scene.ground.side, scene.ground.end],
        "in_inches": scene.ground.in_inches,
        "readings": [[f"{r:.1f}", f"{setting(r):.1f}"] for r in READINGS],
        "map_width": min(MAP_WIDTH, _map_width(scene)) + 2 * MAP_ROOM,
    }


def breakable(words: str) -> str:
    """The words with places to break in those that are too long for a line."""
    return " ".join(
        word if len(word) <= LONGEST_WORD else "\u200b".join(word) for word in words.split(" ")
    )


def setting(reading: float) -> float:
    """The printer's scale that cures a reading of the check bar at 100 %. [%; mm]"""
    return 100.0 * BAR / reading


def _map_width(scene: Scene) -> float:
    whole = scene.tiling.whole
    return whole.width * min(MAP_WIDTH / whole.width, MAP_HEIGHT / whole.height)


def _ball_rows(scene: Scene) -> list[list[str]]:
    ground = scene.ground
    printed = {ball.id for ball in scene.balls}
    return [
        [ball.name + (PRINTED if ball.id in printed else ""), *ground.row(ball.at)]
        for ball in every_ball(scene.subject)
    ]


def lay_words(scene: Scene) -> list[str]:
    """How these pages are set on the table, a sentence or two each."""
    found = scene.registration
    words = []
    if found.noses:
        cushions = " and the ".join(found.noses)
        many = len(found.noses) > 1
        words.append(
            f"Slide the paper under the {cushions} cushion{'s' if many else ''} until the heavy "
            f"line{'s lie' if many else ' lies'} straight under the nose’s edge, seen from "
            "straight above. Cut off along the dotted line what won’t go under."
        )
    words += _spots_sentences(scene)
    if found.tape:
        words.append(_tape_sentence(scene))
    return words


def _spots_sentences(scene: Scene) -> Iterator[str]:
    """Spots that lie free first, then those that a printed ball stands on."""
    free, taken = [], []
    for name, at in scene.registration.spots:
        on = [ball.name for ball in scene.balls if dist(ball.at, at) < ON_SPOT]
        if on:
            taken.append(f"The {on[0]} stands on the {name} spot: its centre cross lies there.")
        else:
            free.append(f"the {name} spot")
    punch = "Punch a hole in the cross before you lay the page, and look through."
    if free:
        yield f"The cross so named lies on {' and '.join(free)}. {punch}"
    for number, words in enumerate(taken):
        yield words if free or number else f"{words} {punch}"


def _tape_sentence(scene: Scene) -> str:
    ground, (one, two) = scene.ground, scene.registration.tape
    told = "; ".join(f"{p.name} {', '.join(ground.whole_lines(p.at))}" for p in (one, two))
    start = {
        "two cushions": "Then check with a tape",
        "one cushion": "The other way is set with a tape, both points checked",
        "tape": "No cushion is near enough: set the paper with a tape, both points checked",
    }[scene.registration.best]
    unit = "inches and mm" if ground.in_inches else "mm"
    apart = f"between the two {ground.length(dist(one.at, two.at))}"
    return f"{start}: {told} ({apart}). All in {unit}, from the nose lines."
