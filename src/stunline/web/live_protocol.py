"""Every message of the live socket, both ways, as types.

Units and bounds are those of ``protocol``, which has the messages over HTTP and what both share.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field

from stunline.web.protocol import (
    Document,
    EngineStatus,
    ErrorObject,
    FaultMessage,
    Message,
    Point,
    Theme,
    Value,
)

MOST_PINNED = 12  # pinned strikes drawn on one plan
MOST_WAYS = 3  # to a goal, drawn on one plan
LARGEST_PLAN = 8_192  # pixels of a plan on screen

StripKind = Literal["pace", "height"]
Window = tuple[float, float, float, float]


# --- from the page ------------------------------------------------------------------------


class PinnedStrike(Message):
    """A pinned strike: the keys of [strike] in which it differs from the document's."""

    pace: Value | None = None
    height: Value | None = None
    arrive: Value | None = None
    side: Value | None = None
    elevation: Value | None = None
    aim: Value | None = None


class WayStrike(PinnedStrike):
    """A strike that meets the goal, or that reaches a place, with the letter at its way's end."""

    letter: Annotated[str, Field(pattern="^[A-EX]$")]


class DrawingWish(Message):
    """How the plan is to be drawn.

    Attributes:
        window: part of the table that is seen, left, bottom, right, top; None: round the action
        size: of the plan on screen [px]
        theme: what it stands on
        pinned: strikes drawn lighter on the same plan
        ways: strikes that meet the goal, with their letters, in the layer of ways
        hidden: the answer is hidden: no ways after the strike
        words: labels are placed; not wanted while something moves, as it takes longest
        doubt: how far the shot may be off on this table; left out while something moves
        signs: small balls may hold letters smaller than all others; not for a class
        have: layers that the page holds, and the key: name → the hash that came with each
    """

    window: Window | None = None
    size: tuple[
        Annotated[float, Field(ge=50, le=LARGEST_PLAN)],
        Annotated[float, Field(ge=50, le=LARGEST_PLAN)],
    ] = (960.0, 640.0)
    theme: Theme = "light"
    pinned: list[PinnedStrike] = Field(default=[], max_length=MOST_PINNED)
    ways: list[WayStrike] = Field(default=[], max_length=MOST_WAYS)
    hidden: bool = False
    words: bool = True
    doubt: bool = False
    signs: bool = True
    have: dict[Annotated[str, Field(max_length=40)], Annotated[str, Field(max_length=40)]] = Field(
        default={}, max_length=40
    )


class PlayRequest(Message):
    """Play this document. A newer request takes the place of one that still waits.

    Attributes:
        play: number that the answer carries
        document: the position file as JSON
        strip: which strip is wanted after the play
        strip_width: of the strip on screen; None: as wide as the plan [px]
        second_ruler: paces stand on the strip in lengths too; a class has no room for it
        held: ball that is being dragged: its distances are shown
    """

    play: int = Field(ge=0, le=2**53)
    document: Document
    drawing: DrawingWish = DrawingWish()
    strip: StripKind | None = None
    strip_width: Annotated[float, Field(ge=50, le=LARGEST_PLAN)] | None = None
    second_ruler: bool = True
    held: Annotated[str, Field(max_length=40)] | None = None


# --- to the page --------------------------------------------------------------------------


class BallShown(Message):
    """A ball on the plan before the strike."""

    at: Point
    radius: float
    letter: str
    tint: str
    spot: str | None = None


class StrikePlayed(Message):
    """The strike as played: typed back, it is the same shot."""

    aim: float
    pace: float
    height: float
    side: float
    elevation: float
    lengths: float
    follow_ratio: float | None = None


class EventTold(Message):
    """An event in words."""

    time: float
    kind: str
    words: str
    at: Point
    ball: str | None = None


class PhaseShown(Message):
    """A stretch of a ball's way: place + velocity·t + acceleration·t²/2, t from ``start``.

    Unlike a strike's pace these are in mm, mm/s and mm/s², as the plan is.
    """

    model_config = ConfigDict(extra="allow")

    start: float
    end: float
    place: Point
    velocity: Point
    acceleration: Point
    motion: str


class DoubtTold(Message):
    """How far the shot may be off because the table's coefficients are in doubt.

    Attributes:
        sentences: what the brackets in the rows are, and what else happens on how many tables
    """

    sentences: list[str]


class PinnedPlayed(Message):
    """What a pinned strike comes to, or why it can't be played; numbered as on the plan."""

    number: int
    words: str
    played: bool


class LiveAnswer(Message):
    """A shot as played and drawn.

    Attributes:
        layers: those that the page doesn't hold yet, each a group that replaces the one of its id
        hashes: of every layer and of the key, to be sent back as ``have``
        key: the whole table, small, as a picture of its own; None when the page holds it
        goal_faults: what is wrong with [goal], for its fields; the shot is played all the same
    """

    model_config = ConfigDict(extra="allow")

    play: int
    window: Window
    scale: float
    layers: dict[str, str]
    hashes: dict[str, str]
    key: str | None
    balls: dict[str, BallShown]
    strike: StrikePlayed
    pinned: list[PinnedPlayed] = Field(default=[])
    sentence: str
    rows: list[tuple[str, str]]
    events: list[EventTold]
    phases: dict[str, list[PhaseShown]]
    notes: list[str]
    goal_faults: list[FaultMessage] = Field(default=[])
    duration: float
    pot: dict[str, Any] | None = None
    doubt: DoubtTold | None = None


class FreePlace(Message):
    """The nearest place where a ball that overlaps, or is in a cushion, can stand."""

    ball: str
    at: Point


class LiveFault(Message):
    """A document that can't be played: why, and the table and balls as far as they are known."""

    model_config = ConfigDict(extra="allow")

    play: int
    fault: ErrorObject
    window: Window | None = None
    scale: float | None = None
    layers: dict[str, str] = Field(default={})
    hashes: dict[str, str] = Field(default={})
    key: str | None = None
    balls: dict[str, BallShown] = Field(default={})
    nearest_free: FreePlace | None = None


class StripBand(Message):
    """A stretch of the strip in which the same happens."""

    model_config = ConfigDict(extra="allow")

    start: float
    end: float
    words: str


class StripAnswer(Message):
    """The strip asked for by the play of that number; may come after newer plays.

    ``start``, ``end``, ``bands``: in ``unit``, mm or m/s; the picture of a document in inches
    has its heights in inches.

    ``ruler``: where its start and its end stand, between them in proportion. [px]
    """

    model_config = ConfigDict(extra="allow")

    strip: int
    of: StripKind
    svg: str
    bands: list[StripBand]
    start: float
    end: float
    unit: str
    ruler: tuple[float, float]


class StripFault(Message):
    """The strip asked for by the play of that number can't be made: why."""

    strip: int
    fault: ErrorObject


class EngineNews(Message):
    """Sent when the socket opens, and whenever it changes."""

    engine: EngineStatus


class SocketFault(Message):
    """A message that could not be read. ``play``: its number, where that could be read."""

    play: int | None = None
    error: ErrorObject
