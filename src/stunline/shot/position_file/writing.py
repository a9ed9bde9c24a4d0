"""Writes a position in memory as a position file."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from pathlib import Path

from stunline.equipment.based_on import is_table_file, table_names
from stunline.equipment.model import Coefficients, Point, SpeedDependentFriction
from stunline.shot.goal import Goal, NamedArea, PolygonArea, RestArea, Span
from stunline.shot.happened import CushionMet, Happened
from stunline.shot.position import (
    Aim,
    Arrive,
    ContactAim,
    DirectAim,
    Height,
    LadderPlan,
    Lengths,
    NamedHeight,
    Pace,
    PocketWeight,
    Position,
    PotAim,
)
from stunline.shot.position_file import PositionFile
from stunline.shot.position_file.coefficients_section import NUMBERS, SPEED_DEPENDENT
from stunline.shot.position_file.names import any_names
from stunline.shot.position_file.played_section import PLAYED
from stunline.shot.position_file.rack_value import SetRack
from stunline.shot.position_file.strike_section import ARRIVE_WORDS, POCKET_WEIGHT
from stunline.shot.reading_error import TIMED_BY
from stunline.units import degrees, millimetres, shortest

# A ball nearer to its place in a rack than this stands there: touching balls are moved apart by
# roundings when a file is read. [m]
_IN_ITS_RACK = 1e-6


def to_toml(file: PositionFile) -> str:
    """A position file's text, which reads back as the same position and plan.

    Every coefficient is written out, so that the text means the same when a profile changes.
    """
    position, plan = file.position, file.plan
    lines = [f"title = {text(file.title)}"] if file.title else []
    lines += [
        f"table = {text(_table_name(position))}",
        f"cloth = {text(position.cloth)}",
        f"units = {text(file.units)}",
        "",
        "[coefficients]",
        *_coefficient_lines(position.coefficients),
        "",
        "[balls]",
        *_ball_lines(file),
        "",
        "[strike]",
        _aim(plan.aim),
        f"pace = {_pace(plan.pace)}",
        _height_line(plan.height),
        f"side = {_mm(plan.side)}",
        f"elevation = {shortest(degrees(plan.elevation))}",
    ]
    if file.ladder is not None:
        lines += ["", "[ladder]", *_ladder_lines(file.ladder)]
    if file.goal is not None:
        lines += ["", "[goal]", *_goal_lines(file.goal, position)]
    if file.happened is not None:
        lines += ["", f"[{PLAYED}]", *_happened_lines(file.happened, position)]
    return "\n".join(lines) + "\n"


def _ball_lines(file: PositionFile) -> list[str]:
    """Racks by their names while their balls stand there, the other balls by their places."""
    position = file.position
    racks = {
        key: rack
        for key, rack in file.racks.items()
        if all(
            name in position.balls and math.dist(place, position.balls[name]) < _IN_ITS_RACK
            for name, place in rack.places(position.table).items()
        )
    }
    racked = {name for rack in racks.values() for name in position.table.racks[rack.rack]}
    singles = {name: place for name, place in position.balls.items() if name not in racked}
    return [
        *(f"{name} = {_place(place)}" for name, place in singles.items()),
        *(f"{key} = {_rack(rack)}" for key, rack in racks.items()),
    ]


def _rack(rack: SetRack) -> str:
    if rack.gaps == 0.0:
        return text(rack.rack)
    return f"{{ rack = {text(rack.rack)}, gaps = {_mm(rack.gaps)}, seed = {rack.seed} }}"


def _table_name(position: Position) -> str:
    """As a file names it: a table of one's own by its file, which stands beside the position."""
    name = position.table.name
    return name if name in table_names() else f"{name}.toml"


def text(words: str) -> str:
    """Words as a TOML text."""
    escapes = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}
    safe = [
        escapes.get(one) or (one if one.isprintable() else f"\\U{ord(one):08x}") for one in words
    ]
    return f'"{"".join(safe)}"'


def _coefficient_lines(coefficients: Coefficients) -> list[str]:
    lines = [f"{key} = {shortest(getattr(coefficients, key))}" for key in NUMBERS]
    friction = coefficients.ball_friction
    law = isinstance(friction, SpeedDependentFriction)
    lines.append(f"ball_friction = {text(SPEED_DEPENDENT) if law else friction}")
    lines.append(f"squirt = {_flag(coefficients.squirt)}")
    lines.append(f"pockets = {_flag(coefficients.pockets)}")
    return lines


def _aim(aim: Aim) -> str:
    if isinstance(aim, PotAim):
        return f"pot = {_pot(aim)}"
    if isinstance(aim, DirectAim):
        return f"aim = {shortest(degrees(aim.angle))}"
    return f"contact = {_contact(aim)}"


def _pot(aim: PotAim) -> str:
    return f"{{ ball = {text(aim.ball)}, pocket = {text(aim.pocket)} }}"


def _contact(aim: ContactAim) -> str:
    on = f", on = {text(aim.on)}" if aim.on else ""
    return f"{{ ball = {text(aim.ball)}, thickness = {shortest(aim.thickness)}{on} }}"


def _pace(pace: Pace) -> str:
    if isinstance(pace, PocketWeight):
        return text(POCKET_WEIGHT)
    if isinstance(pace, Lengths):
        return text(f"{pace.value:.12f}".rstrip("0").rstrip(".") + " lengths")
    return shortest(pace)


def _height_line(height: Height) -> str:
    if isinstance(height, Arrive):
        words = {ratio: word for word, ratio in ARRIVE_WORDS.items()}
        ratio = height.follow_ratio
        return f"arrive = {text(words[ratio]) if ratio in words else shortest(ratio)}"
    return f"height = {_height(height)}"


def _height(height: object) -> str:
    return text(height.name) if isinstance(height, NamedHeight) else _mm(_number(height))


def _ladder_lines(ladder: LadderPlan) -> list[str]:
    values = ", ".join(_rung(ladder.vary, value) for value in ladder.values)
    return [f"vary = {text(ladder.vary)}", f"values = [{values}]"]


def _rung(vary: str, value: object) -> str:
    if isinstance(value, str):
        return text(Path(value).name if is_table_file(value) else value)
    if vary == "height":
        return _height(value)
    if isinstance(value, (Lengths, PocketWeight)):
        return _pace(value)
    return _mm(_number(value)) if vary in ("side", "distance") else shortest(_number(value))


def _goal_lines(goal: Goal, position: Position) -> list[str]:
    lines = [f"pot = {_pot(goal.pot)}"] if goal.pot else []
    if goal.meet:
        on = f", on = {text(goal.meet.on)}" if goal.meet.on else ""
        span = _span(goal.meet.thickness, shortest)
        lines.append(f"meet = {{ ball = {text(goal.meet.ball)}{on}, thickness = {span} }}")
    if goal.through:
        lines.append(f"through = {{ between = {_names(goal.through.between)} }}")
    if goal.rest:
        lines.append(f"rest = {_rest(goal.rest, position)}")
    lines += [f"{key} = {_names(names)}" for key, names in _lists(goal) if names]
    if goal.cushions:
        lines.append(f"cushions = [{goal.cushions[0]}, {goal.cushions[1]}]")
    if goal.in_off is not None:
        lines.append(f"in_off = {_flag(goal.in_off)}")
    if goal.player:
        lines.append(f"player = {text(goal.player)}")
    return lines + _next_and_vary_lines(goal, position)


def _next_and_vary_lines(goal: Goal, position: Position) -> list[str]:
    lines = []
    if goal.next:
        ball = text(_next_ball(goal.next.balls, position))
        cut = _span(goal.next.cut, lambda angle: shortest(degrees(angle)))
        lines.append(f"next = {{ ball = {ball}, cut = {cut} }}")
    spans = [("pace", goal.vary.pace, shortest), ("height", goal.vary.height, _mm)]
    spans.append(("side", goal.vary.side, _mm))
    varied = [f"{key} = {_span(span, write)}" for key, span, write in spans if span]
    return lines + ([f"vary = {{ {', '.join(varied)} }}"] if varied else [])


def _next_ball(balls: tuple[str, ...], position: Position) -> str:
    """One ball, or the name for any of them."""
    if len(balls) == 1:
        return balls[0]
    return next(
        name
        for name, group in any_names(position.table).items()
        if balls == tuple(one for one in group if one in position.balls)
    )


def _lists(goal: Goal) -> list[tuple[str, tuple[str, ...]]]:
    return [("touch", goal.touch), ("miss", goal.miss)]


def _rest(rest: RestArea, position: Position) -> str:
    if isinstance(rest, NamedArea):
        baulk = position.table.words.behind_line
        return text(baulk if rest.name == "baulk" else rest.name)
    if isinstance(rest, PolygonArea):
        return f"{{ polygon = [{', '.join(_place(corner) for corner in rest.corners)}] }}"
    x, y = rest.centre
    return f"{{ circle = [{_mm(x)}, {_mm(y)}, {_mm(rest.radius)}] }}"


def _happened_lines(happened: Happened, position: Position) -> list[str]:
    places = (
        ("white_rest", happened.white_rest),
        ("white_passed", happened.white_passed),
        ("object_rest", happened.object_rest),
    )
    lists = (
        ("white_met", happened.met),
        ("white_missed", happened.missed),
        ("potted", happened.potted),
        ("not_potted", happened.not_potted),
    )
    lines = [f"{key} = {_place(place)}" for key, place in places if place is not None]
    lines += [f"{key} = {_names(names)}" for key, names in lists if names]
    if happened.cushion is not None:
        lines.append(f"white_cushion = {_cushion(happened.cushion, position)}")
    if happened.in_off is not None:
        lines.append(f"in_off = {_flag(happened.in_off)}")
    if happened.time is not None:
        lines.append(f"time = {shortest(happened.time)}")
        by = {error: way for way, error in TIMED_BY.items()}
        lines.append(f"timed_by = {text(by[happened.time_error])}")
    return lines


def _cushion(met: CushionMet, position: Position) -> str:
    name = text(position.table.words.cushions[met.number])
    return name if met.at is None else f"{{ cushion = {name}, at = {_mm(met.at)} }}"


def _span(span: Span, write: Callable[[float], str]) -> str:
    return f"[{write(span[0])}, {write(span[1])}]"


def _place(place: Point) -> str:
    return f"[{_mm(place[0])}, {_mm(place[1])}]"


def _names(names: Iterable[str]) -> str:
    return f"[{', '.join(text(name) for name in names)}]"


def _mm(length: float) -> str:
    return shortest(millimetres(length))


def _flag(value: bool) -> str:
    return "true" if value else "false"


def _number(value: object) -> float:
    if isinstance(value, float):
        return value
    raise TypeError(f"a rung of this kind is a number, not {value!r}")
