"""The [goal] of a position file: what the coach wants of the shot."""

from __future__ import annotations

from collections.abc import Callable

from stunline.equipment.model import Point
from stunline.files.toml_fields import NumberField, Section, length, number
from stunline.files.toml_lines import KeyPath
from stunline.files.words import Limits, listed, nearest_name, quoted, shown
from stunline.shot.goal import (
    DEMANDS,
    CircleArea,
    Gap,
    Goal,
    Meeting,
    NamedArea,
    NextBall,
    PolygonArea,
    RestArea,
    Span,
    StrikeRange,
)
from stunline.shot.position import ContactAim, PotAim, StrikePlan
from stunline.shot.position_file.balls_section import place_in
from stunline.shot.position_file.names import (
    ANY,
    THICKNESS_OR_MISS,
    Scene,
    any_names,
    balls_in_list,
    exactly_two,
    object_ball,
    pot,
    side_of_ball,
    thickness,
    too_many,
)
from stunline.shot.position_file.strike_section import HEIGHT, PACE, SIDE, check_miscue
from stunline.units import radians

_KEYS = (*DEMANDS, "vary", "player")
_MOST_CORNERS = 200  # of a polygon; every resting place is held against each
_MOST_CUSHIONS = 20
_FEWEST_CORNERS = 3
_CUT = NumberField("a cut angle", Limits(0.0, 90.0, unit="degrees"), "40.0")
_CUSHIONS = NumberField("a number of cushions", Limits(0.0, _MOST_CUSHIONS), "2")
_RADIUS = NumberField("the radius", Limits(0.0, 10_000.0, unit="mm", above_low=True), "150.0")
_VARIED_HEIGHT = NumberField(HEIGHT.name, HEIGHT.limits, "[-11.5, 11.5]")
_MEET_EXAMPLE = '{ ball = "red7", on = "right", thickness = [0.05, 0.6] }'
_REST_EXAMPLE = "rest = { circle = [889.0, 1784.5, 150.0] }"
_NEXT_EXAMPLE = '{ ball = "any red", cut = [0.0, 40.0] }'
_Reader = Callable[[object, KeyPath], float | None]


def read_goal(root: Section, scene: Scene, plan: StrikePlan | None = None) -> Goal | None:
    """The goal; None when the file has none. Faults are noted, and what the strike rules out."""
    section = root.section("goal", _KEYS, "[goal]")
    if section is None:
        return None
    if not any(key in section for key in DEMANDS):
        section.faults.add(
            section.path,
            "the goal demands nothing",
            given=listed(section) or "an empty table",
            allowed=f"one or more of {listed(DEMANDS)}",
            remedy=_REST_EXAMPLE,
        )
    goal = Goal(
        pot=pot(section, scene),
        meet=_meeting(section, scene),
        through=_gap(section, scene),
        rest=_rest(section, scene),
        next=_next_ball(section, scene),
        touch=balls_in_list(section, "touch", scene),
        miss=balls_in_list(section, "miss", scene),
        cushions=_cushions(section),
        in_off=section.flag("in_off", "in_off"),
        vary=_vary(section, scene),
        player=section.text("player", "the player", "club") or "",
    )
    _check_touch_and_miss(section, goal, plan)
    return goal


def _meeting(section: Section, scene: Scene) -> Meeting | None:
    entry = section.section("meet", ("ball", "on", "thickness"), _MEET_EXAMPLE)
    if entry is None:
        return None
    entry.require("ball", "the ball to meet", "a ball on the table", _MEET_EXAMPLE)
    ball = object_ball(entry["ball"], entry.at("ball"), scene) if "ball" in entry else None
    span: Span | None = (0.0, 1.0)
    if "thickness" in entry:
        span = _span(
            entry,
            "thickness",
            lambda value, path: thickness(value, path, entry.faults, THICKNESS_OR_MISS),
            "[0.05, 0.6]",
        )
    side = side_of_ball(entry)
    return Meeting(ball, span, side) if ball and span else None


def _gap(section: Section, scene: Scene) -> Gap | None:
    """Two balls on the table or spots, the white passing between."""
    two_names = _two_posts(scene)
    example = f"{{ between = {two_names} }}"
    entry = section.section("through", ("between",), example)
    if entry is None:
        return None
    entry.require("between", "what to pass between", "two balls or spots", example)
    if "between" not in entry:
        return None
    path = entry.at("between")
    two = exactly_two(entry["between"], path, "between", two_names, scene.faults)
    if two is None:
        return None
    first, second = (_post(name, (*path, index), scene) for index, name in enumerate(two))
    if first is None or second is None:
        return None
    if first == second:
        scene.faults.add(
            path,
            "the gap needs two different balls or spots",
            given=shown(entry["between"]),
            allowed="two different names",
            remedy=two_names,
        )
        return None
    return Gap((first, second))


def _two_posts(scene: Scene) -> str:
    """Two balls or spots of this table, as a file may name them."""
    names = (*scene.object_balls, *scene.table.spots, *scene.table.balls)
    return "[" + ", ".join(f'"{name}"' for name in tuple(dict.fromkeys(names))[:2]) + "]"


def _post(value: object, path: KeyPath, scene: Scene) -> str | None:
    """One side of a gap."""
    names = tuple(dict.fromkeys((*scene.object_balls, *scene.table.spots)))
    if isinstance(value, str) and value in names:
        return value
    near = nearest_name(value, names) if isinstance(value, str) else None
    scene.faults.add(
        path,
        "there is no such ball on the table, and no such spot",
        given=shown(value),
        allowed=listed(names),
        remedy=f'"{near}"' if near else "one of these names",
    )
    return None


def _rest(section: Section, scene: Scene) -> RestArea | None:
    """A circle, a polygon, the D or baulk."""
    value = section.get("rest")
    if value is None:
        return None
    if isinstance(value, str):
        return _named_area(value, section, scene)
    entry = section.section("rest", ("circle", "polygon"), _REST_EXAMPLE)
    if entry is None:
        return None
    if ("circle" in entry) == ("polygon" in entry):
        entry.faults.add(
            entry.path,
            "the resting place needs one shape",
            given="both circle and polygon" if "circle" in entry else "neither circle nor polygon",
            allowed=", ".join(["circle", "polygon", *_known_areas(scene)]),
            remedy=_REST_EXAMPLE,
        )
        return None
    return _circle(entry, scene) if "circle" in entry else _polygon(entry, scene)


def _named_area(name: str, section: Section, scene: Scene) -> NamedArea | None:
    known = _known_areas(scene)
    if name == "D" and "D" in known:
        return NamedArea("D")
    if name in known:
        return NamedArea("baulk")
    section.faults.add(
        section.at("rest"),
        "there is no area of that name on this table",
        given=shown(name),
        allowed=f"{quoted(known)}, or a circle or polygon" if known else "a circle or polygon",
        remedy=f'"{nearest_name(name, known)}"' if nearest_name(name, known) else _REST_EXAMPLE,
    )
    return None


def _known_areas(scene: Scene) -> list[str]:
    """The D and the area behind the line, in the game's words, where the table has them."""
    table = scene.table
    known = ["D"] if table.d_radius and table.baulk_line else []
    return known + ([table.words.behind_line] if table.baulk_line else [])


def _circle(entry: Section, scene: Scene) -> CircleArea | None:
    value, path = entry["circle"], entry.at("circle")
    if not isinstance(value, list) or len(value) != 3:
        entry.faults.add(
            path,
            "a circle must be three numbers",
            given=shown(value),
            allowed="[across, up, radius] in mm",
            remedy="[889.0, 1784.5, 150.0]",
        )
        return None
    radius = length(value[2], (*path, 2), _RADIUS, entry.faults)
    centre = _on_table(value[:2], path, scene)
    return None if radius is None or centre is None else CircleArea(centre, radius)


def _polygon(entry: Section, scene: Scene) -> PolygonArea | None:
    value, path = entry["polygon"], entry.at("polygon")
    if not isinstance(value, list) or len(value) < _FEWEST_CORNERS:
        entry.faults.add(
            path,
            "a polygon must be a list of three corners or more",
            given=shown(value),
            allowed="[[across, up], …] in mm",
            remedy="[[700.0, 1500.0], [1100.0, 1500.0], [889.0, 2000.0]]",
        )
        return None
    if len(value) > _MOST_CORNERS:
        too_many(entry, "polygon", len(value), _MOST_CORNERS, "corners enough for any area")
    read = [
        _on_table(corner, (*path, index), scene)
        for index, corner in enumerate(value[:_MOST_CORNERS])
    ]
    corners = tuple(corner for corner in read if corner is not None)
    if len(corners) < len(read):
        return None
    if _area(corners) == 0.0:
        entry.faults.add(
            path,
            "the polygon has no area",
            given=shown(value),
            allowed="corners that are not on one line, in order round the area",
            remedy="[[700.0, 1500.0], [1100.0, 1500.0], [889.0, 2000.0]]",
        )
        return None
    return PolygonArea(corners)


def _on_table(value: object, path: KeyPath, scene: Scene) -> Point | None:
    """A place on the playing area; a resting area must touch it, so its points stay there."""
    table = scene.table
    place = place_in(value, path, table, scene.faults)
    if place is None or (0.0 <= place[0] <= table.width and 0.0 <= place[1] <= table.length):
        return place
    scene.faults.add(
        path,
        "this place is off the table",
        given=shown(value),
        allowed=f"0 to {table.width * 1000:g} mm across, 0 to {table.length * 1000:g} mm up",
        remedy="a place between the cushions",
    )
    return None


def _area(corners: tuple[Point, ...]) -> float:
    """Twice the signed area. [m²]"""
    following = (*corners[1:], corners[0])
    return sum(
        one[0] * other[1] - other[0] * one[1] for one, other in zip(corners, following, strict=True)
    )


def _next_ball(section: Section, scene: Scene) -> NextBall | None:
    entry = section.section("next", ("ball", "cut"), _NEXT_EXAMPLE)
    if entry is None:
        return None
    any_one = "".join(f' or "{name}",' for name in any_names(scene.table))
    allowed = f"a ball on the table,{any_one}".removesuffix(",")
    entry.require("ball", "the next ball", allowed, _NEXT_EXAMPLE)
    balls = _next_balls(entry["ball"], entry.at("ball"), scene) if "ball" in entry else ()
    cut: Span | None = (0.0, radians(_CUT.limits.high))
    if "cut" in entry:
        degrees = _span(
            entry, "cut", lambda value, path: number(value, path, _CUT, entry.faults), "[0.0, 40.0]"
        )
        cut = None if degrees is None else (radians(degrees[0]), radians(degrees[1]))
    return NextBall(balls, cut) if balls and cut else None


def _next_balls(value: object, path: KeyPath, scene: Scene) -> tuple[str, ...]:
    """One ball, or with "any red" every ball of the group that is on the table."""
    groups = any_names(scene.table)
    if not isinstance(value, str) or value not in groups:
        one = object_ball(value, path, scene)
        return (one,) if one else ()
    balls = tuple(name for name in groups[value] if name in scene.object_balls)
    if not balls:
        scene.faults.add(
            path,
            f"there is no {value.removeprefix(ANY)} on the table",
            given=shown(value),
            allowed=listed(scene.object_balls) or f"no ball: only {scene.white} is on the table",
            remedy="place one in [balls], or name another ball",
        )
    return balls


def _cushions(section: Section) -> tuple[int, int] | None:
    def whole(value: object, path: KeyPath) -> float | None:
        count = number(value, path, _CUSHIONS, section.faults)
        if count is None or count == int(count):
            return count
        section.faults.add(
            path,
            "cushions are counted in whole numbers",
            given=shown(value),
            allowed=f"0 to {_MOST_CUSHIONS}",
            remedy=str(int(count)),
        )
        return None

    span = _span(section, "cushions", whole, "[0, 2]") if "cushions" in section else None
    return None if span is None else (int(span[0]), int(span[1]))


def _vary(section: Section, scene: Scene) -> StrikeRange:
    """How far a search may go; each a number or [least, most]."""
    example = "{ pace = [0.8, 3.0], height = [-11.5, 11.5], side = 0.0 }"
    entry = section.section("vary", ("pace", "height", "side"), example)
    if entry is None:
        return StrikeRange()
    faults = entry.faults
    readers: dict[str, tuple[_Reader, str]] = {
        "pace": (lambda value, path: number(value, path, PACE, faults), "[0.8, 3.0]"),
        "height": (
            lambda value, path: length(value, path, _VARIED_HEIGHT, faults),
            "[-11.5, 11.5]",
        ),
        "side": (lambda value, path: length(value, path, SIDE, faults), "[-5.0, 5.0]"),
    }
    spans = {
        key: _span(entry, key, reader, example) if key in entry else None
        for key, (reader, example) in readers.items()
    }
    for key in ("height", "side"):
        for offset in spans[key] or ():
            up, across = (offset, 0.0) if key == "height" else (0.0, offset)
            check_miscue(up, across, scene, entry.at(key))
    return StrikeRange(spans["pace"], spans["height"], spans["side"])


def _span(section: Section, key: str, read: _Reader, example: str) -> Span | None:
    """A number, or a list of the least and the most; None with a fault noted."""
    value, path = section[key], section.at(key)
    if not isinstance(value, list):
        one = read(value, path)
        return None if one is None else (one, one)
    two = exactly_two(value, path, f"{key} as a range", example, section.faults)
    if two is None:
        return None
    least, most = read(two[0], (*path, 0)), read(two[1], (*path, 1))
    if least is None or most is None:
        return None
    if least > most:
        section.faults.add(
            path,
            "the range runs backwards",
            given=shown(value),
            allowed="[least, most]",
            remedy=f"[{shown(two[1])}, {shown(two[0])}]",
        )
        return None
    return (least, most)


def _check_touch_and_miss(section: Section, goal: Goal, plan: StrikePlan | None) -> None:
    """A ball cannot be both touched and missed; the strike's own is touched."""
    wanted = set(goal.touch)
    wanted.update([goal.meet.ball] if goal.meet else [], [goal.pot.ball] if goal.pot else [])
    if plan is not None and goal.pot is None and isinstance(plan.aim, PotAim | ContactAim):
        wanted.add(plan.aim.ball)
    for name in goal.miss:
        if name in wanted:
            section.faults.add(
                section.at("miss"),
                f"{name} is both to be met and to be missed",
                given=f'"{name}"',
                allowed="balls that no other demand asks to be met",
                remedy=f"leave {name} out of miss",
            )
