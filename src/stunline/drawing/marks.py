"""What a picture is made of: frozen marks in table millimetres, each with id, layer and role.

Frame: as the table's, ``x`` to the right along the baulk cushion and ``y`` up the table, in
millimetres. A mark says what it is for (its role), never a colour or a line width; the theme
turns roles into ink. What belongs to the sheet rather than to the table (letters, the title
block, a ruler) has its place in the same millimetres and its sizes in pixels, which come out as
1/96 inch or as large as the drawing says.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum

Point = tuple[float, float]


class Layer(Enum):
    """Marks that are shown, hidden and swapped together, from the bottom to the top."""

    # Members are single objects; the usual hash goes through the name, and a plan asks thousands.
    __hash__ = object.__hash__

    DOUBT = "doubt"
    TABLE = "table"
    DIMENSIONS = "dimensions"
    PATHS = "paths"
    BALLS = "balls"
    CONTACTS = "contacts"
    INSET = "inset"
    WAYS = "ways"
    LABELS = "labels"
    FRAME = "frame"
    KEY = "key"
    TITLE = "title"
    STRIP = "strip"


class Role(Enum):
    """What a mark is for. The value is the class name in SVG."""

    __hash__ = object.__hash__  # as a layer's

    # The table
    NOSE = "nose"
    CUSHION_BACK = "cushion-back"
    MARKING = "marking"
    SPOT = "spot"
    DROP = "drop"
    # Lines of the shot
    AIM = "aim"
    TANGENT = "tangent"
    SLIDING = "sliding"
    ROLLING = "rolling"
    LATER = "later"
    OBJECT_WAY = "object-way"
    TICK = "tick"
    GHOST = "ghost"
    GHOST_CROSS = "ghost-cross"
    CENTRES = "centres"
    LEAVES = "leaves"
    LEAVES_HEAD = "leaves-head"
    INSET_GROUND = "inset-ground"
    INSET_RING = "inset-ring"
    MEETING = "meeting"
    REST = "rest"
    # Many plays of one shot, and its way without one of its causes
    END = "end"
    END_MISSED = "end-missed"
    HALF = "half"
    # How far a shot may be off
    DOUBT = "doubt"
    DOUBT_EDGE = "doubt-edge"
    # What is asked of a shot
    GOAL = "goal"
    WITHOUT = "without"
    # A stroke that was really played
    MEANT = "meant"
    SEEN = "seen"
    OTHER_STROKE = "other-stroke"
    # Maps of outcomes
    MAP_GROUND = "map-ground"
    MAP_MET = "map-met"
    MAP_HATCH = "map-hatch"
    MAP_DOT = "map-dot"
    MAP_EDGE = "map-edge"
    SCATTER = "scatter"
    # Regions of the table, hatched by the kind of stroke, and their edges
    HATCH_FOLLOW = "hatch-follow"
    HATCH_STUN = "hatch-stun"
    HATCH_SCREW = "hatch-screw"
    HATCH_SIDE = "hatch-side"
    REGION_EDGE = "region-edge"
    OUTER_EDGE = "outer-edge"
    # Balls: one role for each tint
    BALL_WHITE = "ball-white"
    BALL_RED = "ball-red"
    BALL_YELLOW = "ball-yellow"
    BALL_GREEN = "ball-green"
    BALL_BROWN = "ball-brown"
    BALL_BLUE = "ball-blue"
    BALL_PINK = "ball-pink"
    BALL_BLACK = "ball-black"
    BALL_OTHER = "ball-other"
    PLATE = "plate"
    BALL_LETTER = "ball-letter"
    BALL_LETTER_WHITE = "ball-letter-white"
    BALL_LETTER_BLACK = "ball-letter-black"
    # The white's face
    FACE = "face"
    FACE_GRID = "face-grid"
    FACE_CENTRE = "face-centre"
    MISCUE = "miscue"
    SAFE = "safe"
    TIP = "tip"
    CUE_AXIS = "cue-axis"
    STRIKE_POINT = "strike-point"
    # Words and what serves them
    LABEL = "label"
    NOTE = "note"
    TANGENT_NOTE = "tangent-note"
    LEADER = "leader"
    DIMENSION = "dimension"
    # The sheet
    FRAME = "frame"
    RULE = "rule"
    SCALE_BAR = "scale-bar"
    SCALE_FILL = "scale-fill"
    KEY_TABLE = "key-table"
    KEY_CROP = "key-crop"
    TITLE = "title"
    SHEET_TEXT = "sheet-text"
    SHEET_NOTE = "sheet-note"
    # Pages at full size
    OUTLINE = "outline"
    CUT = "cut"
    OVERLAP = "overlap"
    # The strip
    BAND_PLAIN = "band-plain"
    BAND_SHADED = "band-shaded"
    BAND_TEXT = "band-text"
    RULER = "ruler"
    RUNG_MARK = "rung-mark"
    CHANGE = "change"


class Size(Enum):
    """The three sizes of letters, and that of the sign on a small ball. [px of 1/96 inch]"""

    SIGN = 9.0
    SMALL = 12.0
    BODY = 14.0
    TITLE = 18.0


class Anchor(Enum):
    """Which point of a text its place is. The value is SVG's word."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle, ``left ≤ right`` and ``bottom ≤ top``. [mm]"""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """[mm]"""
        return self.right - self.left

    @property
    def height(self) -> float:
        """[mm]"""
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        """[mm]"""
        return (self.left + self.right) / 2, (self.bottom + self.top) / 2

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Anticlockwise from the bottom left. [mm]"""
        return (
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
            (self.left, self.top),
        )

    def grown(self, margin: float) -> Box:
        """Wider by that margin on every side. [mm]"""
        return Box(self.left - margin, self.bottom - margin, self.right + margin, self.top + margin)

    def within(self, other: Box) -> Box:
        """The part of it that lies in the other, which it must meet. [mm]"""
        return Box(
            max(self.left, other.left),
            max(self.bottom, other.bottom),
            min(self.right, other.right),
            min(self.top, other.top),
        )

    def holds(self, point: Point) -> bool:
        """Whether the point lies in it or on its edge."""
        return self.left <= point[0] <= self.right and self.bottom <= point[1] <= self.top

    def contains(self, other: Box) -> bool:
        """Whether the other rectangle lies wholly in it."""
        return self.holds((other.left, other.bottom)) and self.holds((other.right, other.top))

    def overlap(self, other: Box) -> float:
        """Area in common. [mm²]"""
        across = min(self.right, other.right) - max(self.left, other.left)
        up = min(self.top, other.top) - max(self.bottom, other.bottom)
        return across * up if across > 0 and up > 0 else 0.0


def box_round(boxes: Sequence[Box]) -> Box:
    """The rectangle round several, of which there must be one. [mm]"""
    return Box(
        min(box.left for box in boxes),
        min(box.bottom for box in boxes),
        max(box.right for box in boxes),
        max(box.top for box in boxes),
    )


@dataclass(frozen=True, slots=True)
class Disc:
    """A round window. [mm]"""

    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from point to point. [mm]"""

    id: str
    layer: Layer
    role: Role
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight lines through points, open. [mm]"""

    id: str
    layer: Layer
    role: Role
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Polygon:
    """Straight lines through points, closed. [mm]

    Attributes:
        title: what it shows, for people who cannot see it and for who rests the pointer on it
    """

    id: str
    layer: Layer
    role: Role
    points: tuple[Point, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Curve:
    """One quadratic Bézier curve. [mm]"""

    id: str
    layer: Layer
    role: Role
    start: Point
    control: Point
    end: Point

    def at(self, part: float) -> Point:
        """The point at a part, 0 to 1, of its parameter. [mm]"""
        first, second, third = (1 - part) ** 2, 2 * part * (1 - part), part**2
        return (
            first * self.start[0] + second * self.control[0] + third * self.end[0],
            first * self.start[1] + second * self.control[1] + third * self.end[1],
        )


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle. [mm]"""

    id: str
    layer: Layer
    role: Role
    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class Arc:
    """A circle's arc, anticlockwise from the first angle to the second. [mm, rad]"""

    id: str
    layer: Layer
    role: Role
    centre: Point
    radius: float
    start_angle: float
    end_angle: float


@dataclass(frozen=True, slots=True)
class Text:
    """A line of words.

    Attributes:
        at: the anchor on the baseline [mm]
        words: the text
        size: letter size [px]
        anchor: where along the text ``at`` is
        bold: whether in bold
        angle: turned anticlockwise about ``at`` [rad]
    """

    id: str
    layer: Layer
    role: Role
    at: Point
    words: str
    size: Size = Size.SMALL
    anchor: Anchor = Anchor.START
    bold: bool = False
    angle: float = 0.0


Mark = Line | Polyline | Polygon | Curve | Circle | Arc | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture.

    Attributes:
        marks: from the bottom to the top within each layer, words above all else of theirs
        view: what is shown [mm]
        scale: pixels for each millimetre of the table [px mm⁻¹]
        title: for people who cannot see it, a few words
        description: for people who cannot see it, a sentence or more
        windows: layers that are cut off at a rectangle or a disc [mm]
        name: goes before every id, so that two drawings can stand in one page
        pixel: how large a pixel comes out, letters and line widths with it [1/96 inch]
    """

    marks: tuple[Mark, ...]
    view: Box
    scale: float
    title: str
    description: str = ""
    windows: Mapping[Layer, Box | Disc] = field(default_factory=dict)
    name: str = "plan"
    pixel: float = 1.0
    _layers: Mapping[Layer, tuple[Mark, ...]] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        layers: dict[Layer, list[Mark]] = {layer: [] for layer in Layer}
        for mark in self.marks:
            layers[mark.layer].append(mark)
        object.__setattr__(self, "_layers", {layer: tuple(own) for layer, own in layers.items()})

    @property
    def width(self) -> float:
        """As it comes out. [1/96 inch]"""
        return self.view.width * self.scale * self.pixel

    @property
    def height(self) -> float:
        """As it comes out. [1/96 inch]"""
        return self.view.height * self.scale * self.pixel

    def of_layer(self, layer: Layer) -> tuple[Mark, ...]:
        """The layer's marks in order."""
        return self._layers[layer]
