"""A table file, TOML with a unit and a source beside every number, as a ``Table``.

The shape holds tables of other games: balls of several sizes, no pockets, no baulk line,
other noses, each game's own words. What a file leaves out is left out of the table, unless it
is ``based_on`` another.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from stunline.equipment.based_on import KEY, LEAVE_OUT, with_base
from stunline.equipment.cloth_profiles import read_cloths
from stunline.equipment.game_words import LINES, read_words
from stunline.equipment.measures import CUE_BALL_RADII, LENGTH, MASS, PLAIN, SHARE, Measures
from stunline.equipment.model import BallKind, Cue, Point, Table, Words
from stunline.equipment.pocket_geometry import PocketShape, boundary, plain_noses
from stunline.equipment.racks import read_groups, read_racks
from stunline.files.toml_fields import Faults, Section
from stunline.files.toml_lines import parse_toml

_TOP_KEYS = (
    KEY,
    LEAVE_OUT,
    "title",
    "game",
    "note",
    "cue_ball",
    "length_from",
    "words",
    "playing_area",
    "markings",
    "cushion",
    "pockets",
    "spots",
    "ball_sizes",
    "balls",
    "groups",
    "racks",
    "cue",
    "cloths",
)
_REQUIRED = ("title", "game", "cue_ball", "playing_area", "cushion", "balls", "cue", "cloths")
_BALL_EXAMPLE = 'white = { size = "standard", letter = "W", tint = "white" }'


@dataclass(frozen=True, slots=True)
class _Area:
    """The rectangle and its markings. [m]"""

    length: float
    width: float
    baulk_line: float | None
    d_radius: float | None


def parse_table(text: str, name: str, source: str = "", folder: Path | None = None) -> Table:
    """The table that a file describes.

    Args:
        text: the file's text
        name: that position files call it by
        source: the file's name, for messages
        folder: that a table file named in ``based_on`` stands in; None: only shipped ones

    Raises:
        InputError: with every fault and its line.
    """
    # A number taken over may become wrong by one that the file changes: that is then said
    # where the file names its base.
    faults = Faults(otherwise=(KEY,))
    above = (Path(source).resolve(),) if source else ()
    values = with_base(parse_toml(text, source), folder, faults, above)
    faults.raise_if_any(text, source)
    if values is None:
        raise AssertionError("a table without faults must have values")
    root = Section(values, (), faults, _TOP_KEYS)
    for key in _REQUIRED:
        root.require(key, f"{key}", "a table file's sections and titles", "see a shipped table")
    measures = Measures()
    table = _table(root, measures, name)
    faults.raise_if_any(text, source)
    if table is None:
        raise AssertionError("a table file without faults must give a table")
    return table


def _table(root: Section, measures: Measures, name: str) -> Table | None:
    """Every part in the order in which later ones need earlier ones."""
    cue, cloths = _cue(root, measures), read_cloths(root)
    area = _area(root, measures)
    balls = _balls(root, measures)
    cue_ball = root.name("cue_ball", "the cue ball", tuple(balls) or ("white",))
    if area is None or cue_ball not in balls:
        return None
    measures.own_units["R"] = balls[cue_ball].radius
    nose_height = _nose_height(root, measures, balls)
    words = read_words(root)
    edge = boundary(area.length, area.width, *_pocket_shapes(root, measures, area), words)
    spots = _spots(root, measures, area, words)
    _check_spots(root, balls, spots)
    groups = read_groups(root, tuple(balls))
    radii = {ball: kind.radius for ball, kind in balls.items()}
    racks = read_racks(root, measures, spots, groups, radii)
    length_from = root.name("length_from", "the spot", tuple(spots)) or ""
    if root.faults or cue is None or nose_height is None:
        return None
    return Table(
        name=name,
        title=str(root["title"]),
        game=str(root["game"]),
        length=area.length,
        width=area.width,
        nose_height=nose_height,
        baulk_line=area.baulk_line,
        d_radius=area.d_radius,
        spots=spots,
        noses=edge.noses,
        jaws=edge.jaws,
        pockets=edge.pockets,
        plain_noses=plain_noses(area.length, area.width, words),
        balls={cue_ball: balls[cue_ball], **balls},
        cue_ball=cue_ball,
        racks=racks,
        cue=cue,
        cloths=cloths,
        sources=measures.sources,
        groups=groups,
        note=root.text("note", "the note", "what is assumed") or "",
        words=words,
        length_from=length_from,
    )


def _area(root: Section, measures: Measures) -> _Area | None:
    root.text("title", "the title", "Snooker, 12 ft")
    root.text("game", "the game", "snooker")
    section = root.section("playing_area", ("length", "width"), "[playing_area]")
    if section is None:
        return None
    length = measures.read(section, "length", LENGTH)
    width = measures.read(section, "width", LENGTH)
    if length is None or width is None:
        return None
    measures.own_units.update({"length": length, "width": width})
    marks = _markings(root, measures)
    line = next((marks[key] for key in LINES if key in marks), None)
    return _Area(length, width, line, marks.get("d_radius"))


def _markings(root: Section, measures: Measures) -> dict[str, float]:
    """The line across the near end and the D's radius, which become units of length. [m]"""
    units = {**LINES, "d_radius": "D radius"}
    markings = root.section("markings", tuple(units), "[markings]")
    if markings is None:
        return {}
    if all(key in markings for key in LINES):
        markings.faults.add(
            markings.at("head_string"),
            "a table has one line across its near end",
            given="both baulk_line and head_string",
            allowed="one of the two",
            remedy="leave one of them out",
        )
    marks: dict[str, float] = {}
    for key in markings:
        mark = measures.read(markings, key, measures.lengths())
        if mark is not None:
            marks[key] = measures.own_units[units[key]] = mark
    return marks


def _balls(root: Section, measures: Measures) -> dict[str, BallKind]:
    """The set, in the file's order."""
    sizes = _ball_sizes(root, measures)
    keys = ("size", "letter", "tint", "spot")
    balls: dict[str, BallKind] = {}
    for name, entry in root.tables("balls", keys, _BALL_EXAMPLE).items():
        for key in ("size", "letter", "tint"):
            entry.require(key, f"the {key}", "a size, a letter and a tint", _BALL_EXAMPLE)
        size = entry.name("size", "the size", tuple(sizes))
        letter = entry.text("letter", "the letter", "W")
        tint = entry.text("tint", "the tint", "white")
        spot = entry.text("spot", "the spot", "black")
        radius, mass = sizes.get(size or "", (None, None))
        if radius and mass and letter and tint:
            balls[name] = BallKind(name, letter, tint, radius, mass, spot or "")
    return balls


def _ball_sizes(root: Section, measures: Measures) -> dict[str, tuple[float | None, float | None]]:
    """Radius [m] and mass [kg] of each kind of ball."""
    sizes: dict[str, tuple[float | None, float | None]] = {}
    entries = root.tables("ball_sizes", ("diameter", "mass"), "[ball_sizes.standard]")
    for name, entry in entries.items():
        diameter = measures.read(entry, "diameter", LENGTH)
        mass = measures.read(entry, "mass", MASS)
        sizes[name] = (diameter / 2.0 if diameter else None, mass)
    return sizes


def _nose_height(root: Section, measures: Measures, balls: dict[str, BallKind]) -> float | None:
    """Height of the nose [m]; every ball must meet it between the bed and its own top."""
    cushion = root.section("cushion", ("nose_height",), "[cushion]")
    if cushion is None:
        return None
    nose_height = measures.read(cushion, "nose_height", measures.lengths())
    smallest = min((ball.radius for ball in balls.values()), default=0.0)
    if nose_height is not None and nose_height >= 2.0 * smallest:
        root.faults.add(
            ("cushion", "nose_height"),
            "the nose is above the top of a ball",
            given=f"{nose_height * 1000:g} mm",
            allowed=f"less than {2000 * smallest:g} mm, the smallest ball's diameter",
            remedy="about 0.65 of the diameter",
        )
    return nose_height


def _pocket_shapes(
    root: Section, measures: Measures, area: _Area
) -> tuple[PocketShape | None, PocketShape | None]:
    """Corner and middle, None where the table has none."""
    section = root.section("pockets", ("corner", "middle"), "[pockets.corner]")
    if section is None:
        return None, None
    corner, middle = (_pocket_shape(section, measures, kind) for kind in ("corner", "middle"))
    along = (corner.corner_setback() if corner else 0.0) + (
        middle.middle_setback() if middle else 0.0
    )
    across = corner.corner_setback() if corner else 0.0
    if along >= area.length / 2.0 or across >= area.width / 2.0:
        root.faults.add(
            section.path,
            "the pockets leave no straight cushion between them",
            given=f"nose ends {along * 1000:g} mm short in each half of a side",
            allowed=f"less than {area.length * 500:g} mm",
            remedy="narrower mouths or smaller jaw radii",
        )
        return None, None
    return corner, middle


def _pocket_shape(section: Section, measures: Measures, kind: str) -> PocketShape | None:
    keys = ("mouth", "jaw_radius", "drop_radius")
    entry = section.section(kind, keys, f"[pockets.{kind}]")
    if entry is None:
        return None
    mouth, jaw, drop = (measures.read(entry, key, measures.lengths()) for key in keys)
    return PocketShape(mouth, jaw, drop) if mouth and jaw and drop else None


def _spots(root: Section, measures: Measures, area: _Area, words: Words) -> dict[str, Point]:
    """Spots by name. [m]"""
    near, right, far, left = words.cushions
    spots: dict[str, Point] = {}
    for name, entry in root.tables("spots", ("across", "up"), "[spots.black]").items():
        x = _from_an_edge(entry, measures, "across", (left, right, "centre"), area.width)
        y = _from_an_edge(entry, measures, "up", (near, far, "centre"), area.length)
        if x is not None and y is not None:
            spots[name] = (x, y)
    return spots


def _from_an_edge(
    entry: Section, measures: Measures, key: str, edges: tuple[str, str, str], whole: float
) -> float | None:
    """A coordinate [m], given from the near edge, the far edge or the centre."""
    distance = measures.read(entry, key, measures.lengths(signed=True), extra=("from",))
    value = entry.get(key)
    edge = value.get("from", edges[0]) if isinstance(value, dict) else edges[0]
    if distance is None:
        return None
    place = {edges[0]: distance, edges[1]: whole - distance, edges[2]: whole / 2.0 + distance}
    if not isinstance(edge, str) or edge not in place or not 0.0 <= place[edge] <= whole:
        entry.faults.add(
            entry.at(key),
            "this place is not on the table",
            given=f"{distance * 1000:g} mm from {edge}",
            allowed=f"0 to {whole * 1000:g} mm from {edges[0]}, {edges[1]} or {edges[2]}",
            remedy="check the value and the edge it is counted from",
        )
        return None
    return place[edge]


def _check_spots(root: Section, balls: dict[str, BallKind], spots: dict[str, Point]) -> None:
    for name, ball in balls.items():
        if ball.spot and ball.spot not in spots:
            root.faults.add(
                ("balls", name, "spot"),
                "the ball's spot is not on the table",
                given=f'"{ball.spot}"',
                allowed=", ".join(spots) or "no spots: the file has none",
                remedy=f"add [spots.{ball.spot}], or leave the spot out",
            )


def _cue(root: Section, measures: Measures) -> Cue | None:
    keys = {
        "mass": MASS,
        "tip_restitution": SHARE,
        "tip_radius": LENGTH,
        "ball_to_end_mass": PLAIN,
        "safe_offset": CUE_BALL_RADII,
        "miscue_offset": CUE_BALL_RADII,
    }
    section = root.section("cue", tuple(keys), "[cue]")
    if section is None:
        return None
    read = {key: measures.read(section, key, quantity) for key, quantity in keys.items()}
    numbers = {key: value for key, value in read.items() if value is not None}
    return Cue(**numbers) if len(numbers) == len(keys) else None
