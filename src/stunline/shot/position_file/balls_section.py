"""The [balls] of a position file: where each ball stands, and whether it can stand there."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from stunline.equipment.contact_distances import ball_contact_distance, nose_contact_distance
from stunline.equipment.model import Nose, Point, Table
from stunline.files.toml_fields import Faults, NumberField, Section, length
from stunline.files.toml_lines import KeyPath
from stunline.files.words import Limits, kind_of, listed, nearest_name, quoted, shown
from stunline.shot.position_file import touching
from stunline.shot.position_file.rack_value import SetRack, read_set_rack
from stunline.shot.words import ball_in_file, ball_words
from stunline.units import millimetres

# A place typed to a thousandth of a millimetre may round to just inside the cushion [m].
ROUNDING = 1e-6
_FARTHEST = 10_000.0  # mm; only keeps nonsense out of the sums, the cushions are checked after
_COORDINATE = NumberField("a coordinate", Limits(-_FARTHEST, _FARTHEST, unit="mm"), "889.0")


@dataclass(frozen=True, slots=True)
class PlacedBalls:
    """What [balls] says.

    Attributes:
        named: every ball that the file places, even where its place is faulty
        places: in the set's order, the cue ball first [m]
        racked: those that stand in a rack
        racks: key → how the file sets up that group
    """

    named: tuple[str, ...]
    places: Mapping[str, Point]
    racked: frozenset[str]
    racks: Mapping[str, SetRack] = field(default_factory=dict)


def read_balls(root: Section, table: Table) -> PlacedBalls:
    """Every ball's place, touching balls moved apart; faults are noted."""
    known = (*table.balls, *table.groups)
    white = ball_words(table.cue_ball)
    example = _white_example(table)
    root.require("balls", "[balls]", f"a place for the {white} at least", example)
    section = root.section("balls", known, example)
    if section is None:
        return PlacedBalls((table.cue_ball,), {}, frozenset())
    section.require(table.cue_ball, f"the {white}", "the ball that is struck", example)
    paths: dict[str, KeyPath] = {}
    places: dict[str, Point] = {}
    racks: dict[str, SetRack] = {}
    for key in section:
        if key in table.groups:
            _read_group(section, key, table, places, paths, racks)
        else:
            _note(key, section[key], section.at(key), table, places, paths, section.faults)
    racked = {name for one in racks.values() for name in table.racks[one.rack]}
    named = tuple(name for name in table.balls if name in paths or name == table.cue_ball)
    ordered = {name: places[name] for name in table.balls if name in places}
    before = len(section.faults)
    _check_cushions(ordered, paths, table, section.faults)
    _check_overlaps(ordered, paths, frozenset(racked), table, section.faults)
    if len(section.faults) == before:
        ordered = _settled(ordered, frozenset(racked), table, section)
    return PlacedBalls(named, ordered, frozenset(racked), racks)


def place_in(value: object, path: KeyPath, table: Table, faults: Faults) -> Point | None:
    """A place [m]: two lengths, or a spot's name. None with a fault noted."""
    if isinstance(value, str):
        return _spot(value, path, table, faults)
    if not isinstance(value, list) or len(value) != 2:
        count = f"a list of {len(value)}" if isinstance(value, list) else kind_of(value)
        faults.add(
            path,
            f"a place must be two numbers, not {count}",
            given=shown(value),
            allowed=f"[across, up] in mm, or a spot: {listed(table.spots)}",
            remedy=_two_of(value) or _place_example(table),
        )
        return None
    x = length(value[0], (*path, 0), _COORDINATE, faults)
    y = length(value[1], (*path, 1), _COORDINATE, faults)
    return None if x is None or y is None else (x, y)


# Places are typed to a hundredth of a millimetre; longer digits are a number of their own.
_MOST_DECIMALS = 2


def _two_of(value: object) -> str:
    """The place that numbers with decimal commas stand for: [317,5, 1484] or [317,5, 1484,5]."""
    if not isinstance(value, list) or not all(type(one) is int and one >= 0 for one in value):
        return ""
    texts = [str(one) for one in value]
    found: list[str] = []
    match texts:
        case [x, part, y, other] if max(len(part), len(other)) <= _MOST_DECIMALS:
            found = [f"[{x}.{part}, {y}.{other}]"]
        case [x, middle, last]:
            if len(middle) <= _MOST_DECIMALS:
                found.append(f"[{x}.{middle}, {last}]")
            if len(last) <= _MOST_DECIMALS:
                found.append(f"[{x}, {middle}.{last}]")
    return f"{' or '.join(found)}, with a point in the number" if found else ""


def clearance(place: Point, nose: Nose) -> float:
    """Distance of a place from a nose line, positive on the playing area's side. [m]"""
    along = (nose.end[0] - nose.start[0], nose.end[1] - nose.start[1])
    away = (place[0] - nose.start[0], place[1] - nose.start[1])
    return (along[0] * away[1] - along[1] * away[0]) / math.hypot(*along)


def inside_cushions(place: Point, radius: float, table: Table) -> Point:
    """The nearest place at which a ball of that radius clears every nose line. [m]"""
    least = nose_contact_distance(radius, table.nose_height)
    x, y = place
    for nose in table.plain_noses:
        short = least - clearance((x, y), nose)
        if short > 0.0:
            along = (nose.end[0] - nose.start[0], nose.end[1] - nose.start[1])
            whole = math.hypot(*along)
            x, y = x - short * along[1] / whole, y + short * along[0] / whole
    return (x, y)


def _white_example(table: Table) -> str:
    middle = millimetres(0.5 * table.width)
    return f"{table.cue_ball} = [{middle:.1f}, {millimetres(0.2 * table.length):.1f}]"


def _place_example(table: Table) -> str:
    middle, up = millimetres(0.5 * table.width), millimetres(0.5 * table.length)
    return f"[{middle:.1f}, {up:.1f}], in mm from the left and from the {table.words.near} cushion"


def _spot(value: str, path: KeyPath, table: Table, faults: Faults) -> Point | None:
    if value in table.spots:
        return table.spots[value]
    near = nearest_name(value, tuple(table.spots))
    faults.add(
        path,
        "there is no spot of that name",
        given=shown(value),
        allowed=f"a spot: {listed(table.spots) or 'this table has none'}; or [across, up] in mm",
        remedy=f'"{near}"' if near else _place_example(table),
    )
    return None


def _note(
    name: str,
    value: object,
    path: KeyPath,
    table: Table,
    places: dict[str, Point],
    paths: dict[str, KeyPath],
    faults: Faults,
) -> None:
    """Notes one ball's place."""
    if not _claimed(name, value, path, paths, faults):
        return
    place = place_in(value, path, table, faults)
    if place is not None:
        places[name] = place


def _claimed(
    name: str, value: object, path: KeyPath, paths: dict[str, KeyPath], faults: Faults
) -> bool:
    """Whether the ball is placed here for the first time; if not, a fault is noted."""
    if name not in paths:
        paths[name] = path
        return True
    faults.add(
        path,
        f"{ball_in_file(name)} is placed twice",
        given=shown(value),
        allowed="one place for each ball",
        remedy=f"leave out one of the two places of {ball_in_file(name)}",
    )
    return False


def _read_group(
    section: Section,
    group: str,
    table: Table,
    places: dict[str, Point],
    paths: dict[str, KeyPath],
    set_up: dict[str, SetRack],
) -> None:
    """A rack such as ``reds = "triangle"``, or a list of places for red1, red2, … in order."""
    value, path, members = section[group], section.at(group), table.groups[group]
    racks = [name for name, rack in table.racks.items() if set(rack) <= set(members)]
    before = len(section.faults)
    rack = read_set_rack(value, path, racks, section.faults)
    if rack is not None:
        set_up[group] = rack
        for name, place in rack.places(table).items():
            if _claimed(name, value, path, paths, section.faults):
                places[name] = place
    elif len(section.faults) > before:
        for name in members:  # so that naming one of them is not a second fault
            paths.setdefault(name, path)
    elif (
        isinstance(value, list) and value and not any(isinstance(one, list | str) for one in value)
    ):
        first = members[0]
        for name in members:  # so that naming one of them is not a second fault
            paths.setdefault(name, path)
        section.faults.add(
            path,
            f"{group} needs a list of places, each in its own brackets",
            given=shown(value),
            allowed=_placings(racks)
            + f"a list of at most {len(members)} places, for {listed(members)} in order",
            remedy=f"{group} = [{shown(value)}], or {first} = {shown(value)}"
            if len(value) == 2
            else f"{group} = [{_place_words(_middle(table))}]",
        )
    elif isinstance(value, list) and len(value) <= len(members):
        for index, (name, place) in enumerate(zip(members, value, strict=False)):
            _note(name, place, (*path, index), table, places, paths, section.faults)
    else:
        for name in members:  # so that naming one of them is not a second fault
            paths.setdefault(name, path)
        near = nearest_name(value, racks) if isinstance(value, str) else None
        long = isinstance(value, list)
        section.faults.add(
            path,
            f"there are more places for {group} than balls in the set"
            if long
            else f"this placing of {group} is not known",
            given=f"{len(value)} places" if isinstance(value, list) else shown(value),
            allowed=_placings(racks) + f"a list of at most {len(members)} places",
            remedy=f'"{near or racks[0]}"'
            if racks and not long
            else f"a list such as [{_place_words(_middle(table))}]",
        )


def _placings(racks: Sequence[str]) -> str:
    """The racks that a group may be set up as, and how one with gaps is written."""
    if not racks:
        return ""
    return f'{quoted(racks)}, {{ rack = "{racks[0]}", gaps = 0.2, seed = 1 }}, or '


def _check_cushions(
    places: Mapping[str, Point], paths: Mapping[str, KeyPath], table: Table, faults: Faults
) -> None:
    """Every centre must clear every nose line."""
    for name, place in places.items():
        least = nose_contact_distance(table.balls[name].radius, table.nose_height)
        near = min(table.plain_noses, key=lambda nose: clearance(place, nose))
        distance = clearance(place, near)
        if distance < least - ROUNDING:
            off = distance < 0.0
            faults.add(
                paths[name],
                f"{ball_in_file(name)} is off the table"
                if off
                else f"{ball_in_file(name)} is inside the {near.name} cushion",
                given=f"{_place_words(place)}, {abs(millimetres(distance)):.2f} mm "
                + (f"beyond the {near.name} cushion" if off else "from its nose line"),
                allowed=f"a centre at least {millimetres(least):.3f} mm from every nose line",
                remedy=_place_words(inside_cushions(place, table.balls[name].radius, table)),
            )


def _check_overlaps(
    places: Mapping[str, Point],
    paths: Mapping[str, KeyPath],
    racked: frozenset[str],
    table: Table,
    faults: Faults,
) -> None:
    """No two balls may overlap by more than a rounding; a fault for each pair."""
    radii = {name: table.balls[name].radius for name in places}
    ranks = _ranks(places, racked, table)
    for one in touching.overlaps(places, radii):
        if one.depth <= touching.TOUCHING_TOLERANCE:
            continue
        least = ball_contact_distance(radii[one.first], radii[one.second])
        moved = one.second if ranks[one.second] <= ranks[one.first] else one.first
        kept = one.first if moved == one.second else one.second
        faults.add(
            paths[moved],
            f"{ball_in_file(one.first)} and {ball_in_file(one.second)} overlap by "
            f"{millimetres(one.depth):.2f} mm",
            given=f"centres {millimetres(least - one.depth):.2f} mm apart",
            allowed=f"at least {millimetres(least):.2f} mm, or up to "
            f"{millimetres(touching.TOUCHING_TOLERANCE):g} mm less, which counts as touching",
            remedy=_apart(places[kept], places[moved], least, moved, radii[moved], table),
        )


def _apart(kept: Point, moved: Point, least: float, name: str, radius: float, table: Table) -> str:
    """Where to put the second ball so that the two touch, when the table has room there."""
    distance = math.dist(kept, moved)
    if distance == 0.0:
        return f"move {ball_in_file(name)}: both stand on the same place"
    scale = least / distance
    place = (kept[0] + scale * (moved[0] - kept[0]), kept[1] + scale * (moved[1] - kept[1]))
    if math.dist(inside_cushions(place, radius, table), place) > ROUNDING:
        return f"move {ball_in_file(name)} away"
    return f"{name} = {_place_words(place)}, where the two touch"


def _settled(
    places: dict[str, Point], racked: frozenset[str], table: Table, section: Section
) -> dict[str, Point]:
    """The places with roundings undone: balls clear of the cushions and of one another."""
    radii = {name: table.balls[name].radius for name in places}

    def confine(name: str, place: Point) -> Point:
        return inside_cushions(place, radii[name], table)

    inside = {name: confine(name, place) for name, place in places.items()}
    apart = touching.moved_apart(inside, radii, _ranks(places, racked, table), confine)
    if apart is not None:
        return apart
    section.faults.add(
        section.path,
        "these balls are wedged: they cannot be moved apart until they touch",
        given=f"{len(places)} balls",
        allowed="room for every ball between its neighbours and the cushions",
        remedy="move one of the balls in the tightest group by a hundredth of a millimetre",
    )
    return inside


def _ranks(places: Mapping[str, Point], racked: frozenset[str], table: Table) -> dict[str, int]:
    """Who gives way to whom: the white and the rack move last."""
    return {
        name: touching.RACKED
        if name in racked
        else touching.CUE_BALL
        if name == table.cue_ball
        else touching.ORDINARY
        for name in places
    }


def _middle(table: Table) -> Point:
    return (0.5 * table.width, 0.5 * table.length)


def _place_words(place: Point) -> str:
    """ "[600.00, 3060.00]"; the hundredth of a millimetre is what files are typed to."""
    return f"[{millimetres(place[0]):.2f}, {millimetres(place[1]):.2f}]"
