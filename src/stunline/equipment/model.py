"""What a table is, as frozen data in SI units.

Frame: origin at the left end of the baulk cushion's nose line, seen by a player at the
baulk end; ``x`` to the right along that line, ``y`` up the table, metres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from stunline.equipment.gauging import Gauging

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Sourced:
    """A number of the data files with the unit it was written in and where it is from."""

    value: float
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class SpeedDependentFriction:
    """Ball-on-ball friction that falls with slip: ``μ(u) = floor + span·exp(−decay·u)``.

    Attributes:
        floor: [-]
        span: [-]
        decay: [s m⁻¹]
    """

    floor: float
    span: float
    decay: float


@dataclass(frozen=True, slots=True)
class Coefficients:
    """Every coefficient that a position file may set, in SI units.

    Attributes:
        sliding_friction: ball on cloth, μ_s [-]
        rolling_resistance: μ_r [-]
        spin_deceleration: of the spin about the vertical [rad s⁻²]
        ball_restitution: ball on ball [-]
        ball_friction: ball on ball, a constant [-] or a law of slip
        cushion_restitution: energetic [-]
        cushion_friction: nose on ball [-]
        squirt: whether side turns the white's first direction off the aim
        pockets: whether the table's pockets are open; otherwise four plain cushions
        gravity: [m s⁻²]
    """

    sliding_friction: float
    rolling_resistance: float
    spin_deceleration: float
    ball_restitution: float
    ball_friction: float | SpeedDependentFriction
    cushion_restitution: float
    cushion_friction: float
    squirt: bool = True
    pockets: bool = True
    gravity: float = 9.81


@dataclass(frozen=True, slots=True)
class Cue:
    """The cue that strikes.

    Attributes:
        mass: [kg]
        tip_restitution: [-]
        tip_radius: of the dome [m]
        ball_to_end_mass: ball mass over the cue's effective end mass, for squirt [-]
        safe_offset: furthest contact from the centre advised, over R: "max follow", "max screw" [-]
        miscue_offset: furthest contact from the centre that may be asked for, over R [-]
    """

    mass: float
    tip_restitution: float
    tip_radius: float
    ball_to_end_mass: float
    safe_offset: float
    miscue_offset: float


@dataclass(frozen=True, slots=True)
class Cloth:
    """A cloth profile of a table: named coefficients and what the name means.

    Attributes:
        name: "match", "worn", "club"
        title: for people: "match cloth, new and fast"
        note: what is assumed
        coefficients: the numbers
        sources: for each number, by its key: value as written, unit, source
        gauging: what measurements say of it, or None where it was never gauged
    """

    name: str
    title: str
    note: str
    coefficients: Coefficients
    sources: Mapping[str, Sourced] = field(default_factory=dict)
    gauging: Gauging | None = None


@dataclass(frozen=True, slots=True)
class BallKind:
    """One ball of a game's set.

    Attributes:
        name: in files: "white", "red1", "black"
        letter: shown on the drawing: "W", "1", "B"
        tint: which tint and hatching the drawing gives it: "white", "red", "black", …
        radius: [m]
        mass: [kg]
        spot: name of the spot it stands on at the start, or ""
    """

    name: str
    letter: str
    tint: str
    radius: float
    mass: float
    spot: str = ""


@dataclass(frozen=True, slots=True)
class Nose:
    """A straight piece of cushion, by its nose line.

    Attributes:
        name: the cushion it belongs to, in the game's words: "baulk", "right", "top", "left"
        start, end: the nose line's ends, the playing area on its left side [m]
    """

    name: str
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Jaw:
    """The rounded end of a cushion, an arc of the nose line in plan.

    Attributes:
        pocket: name of the pocket it belongs to
        centre: of the arc [m]
        radius: of the arc [m]
        middle: direction from the centre to the middle of the arc [rad]
        half_angle: half the arc's opening [rad]
    """

    pocket: str
    centre: Point
    radius: float
    middle: float
    half_angle: float


@dataclass(frozen=True, slots=True)
class Pocket:
    """A pocket: a ball is potted when its centre crosses the drop circle.

    Attributes:
        name: "bottom left", …, in the game's words
        drop_centre: [m]
        drop_radius: [m]
        mouth: between the jaws at the fall [m]
        mouth_middle: the middle of that line, where a pot is aimed [m]
        inward: unit vector along the pocket's axis, from the pocket into the table
    """

    name: str
    drop_centre: Point
    drop_radius: float
    mouth: float
    mouth_middle: Point
    inward: Point


@dataclass(frozen=True, slots=True)
class Words:
    """What a game calls the parts of its table; snooker's words when a file gives none.

    Attributes:
        cushions: of the near end, the right side, the far end, the left side
        pockets: near left, near right, middle left, middle right, far left, far right
        line: across the near end: "baulk line", "head string"; "" on a table without one
        behind_line: the area between that line and the near cushion: "baulk", "kitchen"
    """

    cushions: tuple[str, str, str, str] = ("baulk", "right", "top", "left")
    pockets: tuple[str, str, str, str, str, str] = (
        "bottom left",
        "bottom right",
        "middle left",
        "middle right",
        "top left",
        "top right",
    )
    line: str = "baulk line"
    behind_line: str = "baulk"

    @property
    def near(self) -> str:
        """The cushion at the end that places are counted from."""
        return self.cushions[0]


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its balls, cue and cloth profiles.

    Attributes:
        name: in files: "snooker-12ft"
        title: for people
        game: "snooker", …
        length, width: of the playing area between the nose lines [m]
        nose_height: of the cushion's nose above the bed [m]
        baulk_line: the baulk line or head string, from the near cushion [m], or None
        d_radius: of the D [m], or None
        spots: name → place [m]
        noses, jaws, pockets: the boundary with pockets open
        plain_noses: the boundary when pockets are shut off or there are none
        balls: every ball of the game's set, by name, in the set's order; the cue ball is first
        cue_ball: its name: "white", "cue-ball"
        racks: "triangle" → ball → place, from the apex row by row [m]
        cue: the cue
        cloths: profiles by name, the default first
        sources: for each number of the table's own, by its dotted key
        groups: names of balls that a file may place together: "reds" → "red1", "red2", …
        note: what is assumed about this table, for people
        words: what the game calls the parts of the table
        length_from: the spot from which a length of pace is counted, or ""
    """

    name: str
    title: str
    game: str
    length: float
    width: float
    nose_height: float
    baulk_line: float | None
    d_radius: float | None
    spots: Mapping[str, Point]
    noses: tuple[Nose, ...]
    jaws: tuple[Jaw, ...]
    pockets: tuple[Pocket, ...]
    plain_noses: tuple[Nose, ...]
    balls: Mapping[str, BallKind]
    cue_ball: str
    racks: Mapping[str, Mapping[str, Point]]
    cue: Cue
    cloths: Mapping[str, Cloth]
    sources: Mapping[str, Sourced] = field(default_factory=dict)
    groups: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    note: str = ""
    words: Words = field(default_factory=Words)
    length_from: str = ""

    def pocket(self, name: str) -> Pocket:
        """The pocket of that name."""
        return next(pocket for pocket in self.pockets if pocket.name == name)

    def default_cloth(self) -> Cloth:
        """The profile used when a file names none."""
        return next(iter(self.cloths.values()))
