"""Every message between the page and its server, as types; the OpenAPI is made from them.

Lengths are mm of the table from the left and from the near cushion, angles degrees, paces m/s,
times s, as in position files. What the browser sends is bounded here, before anything reads it;
what the server sends is described here, and held to it by tests.
"""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

MOST_NAME = 400  # characters of a name as sent; the library's own limit is lower, and worded
MOST_TEXT = 1_000_000  # characters of a position file; the same as for a file on disk
MOST_VALUES = 4_000  # values in one document; 22 balls, a full ladder and a goal take a tenth
MOST_DEPTH = 8  # of lists and tables in one another; a position file needs five
MOST_PINNED = 12  # pinned strikes drawn on one plan
LARGEST_PLAN = 8_192  # pixels of a plan on screen
_LARGEST_NUMBER = 1e15  # of any unit; far beyond it TOML and JSON no longer agree on integers

Theme = Literal["light", "dark"]
StripKind = Literal["pace", "height"]
Point = tuple[float, float]
Window = tuple[float, float, float, float]


def _writable(text: str) -> str:
    """A text that can be written as UTF-8."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        raise ValueError("this holds half a character, which no file can keep") from None
    return text


def _bounded(document: dict[str, Any], with_null: bool) -> dict[str, Any]:
    """A document of values that a position file can hold, and not too many of them."""
    waiting: list[tuple[Any, int]] = [(document, 0)]
    seen = 0
    while waiting:
        value, depth = waiting.pop()
        seen += 1
        if depth > MOST_DEPTH or seen > MOST_VALUES:
            raise ValueError("this holds more than a position file ever needs")
        if isinstance(value, dict):
            waiting += [(one, depth + 1) for pair in value.items() for one in pair]
        elif isinstance(value, list):
            waiting += [(one, depth + 1) for one in value]
        elif value is not None or not with_null:
            _check_plain(value)
    return document


def _bounded_document(document: dict[str, Any]) -> dict[str, Any]:
    return _bounded(document, with_null=False)


def _bounded_state(state: dict[str, Any]) -> dict[str, Any]:
    return _bounded(state, with_null=True)


def _check_plain(value: Any) -> None:
    if value is None:
        raise ValueError("a position file has no null: leave the key out")
    if isinstance(value, str):
        _writable(value)
    elif not isinstance(value, bool) and not (
        isinstance(value, int | float) and math.isfinite(value) and abs(value) <= _LARGEST_NUMBER
    ):
        raise ValueError("this holds a number that is too large, or no number")


Text = Annotated[str, AfterValidator(_writable)]
Name = Annotated[str, Field(max_length=MOST_NAME), AfterValidator(_writable)]
ShortText = Annotated[str, Field(max_length=40), AfterValidator(_writable)]
Value = float | ShortText
Document = Annotated[dict[str, Any], AfterValidator(_bounded_document)]
State = Annotated[dict[str, Any], AfterValidator(_bounded_state)]


class Message(BaseModel):
    """What all messages share: unknown keys are refused, numbers are finite."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


# --- errors --------------------------------------------------------------------------------


class FaultMessage(Message):
    """One thing that was wrong, as everywhere in stunline's JSON."""

    what: str
    given: str = ""
    allowed: str = ""
    remedy: str = ""
    key: str = ""
    line: int | None = None
    file: str | None = None


class ErrorObject(Message):
    """What went wrong; ``kind`` as in the JSON of commands, or page: this server refuses."""

    kind: Literal["input", "unsolvable", "stunline", "page"]
    reason: str
    faults: list[FaultMessage] = Field(min_length=1)


class ErrorAnswer(Message):
    """The one shape of every answer that is an error."""

    error: ErrorObject


# --- the live socket: from the page --------------------------------------------------------


class PinnedStrike(Message):
    """A pinned strike: the keys of [strike] in which it differs from the document's."""

    pace: Value | None = None
    height: Value | None = None
    arrive: Value | None = None
    side: Value | None = None
    elevation: Value | None = None
    aim: Value | None = None


class DrawingWish(Message):
    """How the plan is to be drawn.

    Attributes:
        window: part of the table that is seen, left, bottom, right, top; None: round the action
        size: of the plan on screen [px]
        theme: what it stands on
        pinned: strikes drawn lighter on the same plan
        hidden: the answer is hidden: no ways after the strike
        words: labels are placed; not wanted while something moves, as it takes longest
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
    hidden: bool = False
    words: bool = True
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


# --- the live socket: to the page ----------------------------------------------------------


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
    pinned: list[PinnedPlayed] = []
    sentence: str
    rows: list[tuple[str, str]]
    events: list[EventTold]
    phases: dict[str, list[PhaseShown]]
    notes: list[str]
    duration: float
    pot: dict[str, Any] | None = None


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
    layers: dict[str, str] = {}
    hashes: dict[str, str] = {}
    key: str | None = None
    balls: dict[str, BallShown] = {}
    nearest_free: FreePlace | None = None


class StripBand(Message):
    """A stretch of the strip in which the same happens."""

    model_config = ConfigDict(extra="allow")

    start: float
    end: float
    words: str


class StripAnswer(Message):
    """The strip asked for by the play of that number; may come after newer plays.

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


EngineState = Literal["starting", "compiling", "ready", "failed"]


class EngineStatus(Message):
    """Whether the engine can play yet, and what it does meanwhile."""

    state: EngineState
    words: str


class EngineNews(Message):
    """Sent when the socket opens, and whenever it changes."""

    engine: EngineStatus


class SocketFault(Message):
    """A message that could not be read. ``play``: its number, where that could be read."""

    play: int | None = None
    error: ErrorObject


# --- the library -----------------------------------------------------------------------------


class ListedPosition(Message):
    """A position in the list.

    Attributes:
        changed: when the file was last changed, ISO 8601 with its zone; None: it is shipped
        revision: hash of its content
        shipped: comes with stunline; saving it makes a copy in the library
        fault: one sentence where it is not in order
    """

    name: str
    title: str
    table: str
    changed: str | None
    revision: str
    shipped: bool
    fault: str | None = None


class LeftOut(Message):
    """A file of the folder that is not in the list, and why."""

    file: str
    why: str


class PositionList(Message):
    """The library."""

    folder: str
    positions: list[ListedPosition]
    left_out: list[LeftOut]


class PositionAnswer(Message):
    """One position. ``document``: None when the text is not TOML; ``fault``: it isn't in order."""

    name: str
    revision: str
    shipped: bool
    document: dict[str, Any] | None
    text: str
    fault: ErrorObject | None = None


class SaveRequest(Message):
    """Save under the name in the address. ``revision``: the one last seen; None: a new file."""

    document: Document
    revision: Annotated[str, Field(max_length=100)] | None = None


class Saved(Message):
    """Where something now stands. ``note``: what the user should know, or ""."""

    name: str
    revision: str
    note: str = ""


class Conflict(Message):
    """The file had been changed meanwhile: it stands as it was, and what was sent is beside it."""

    error: ErrorObject
    mine: Saved
    theirs: Saved


class NewName(Message):
    """A name to take. For a duplicate None: the server finds one."""

    to: Name | None = None


class UndoAnswer(Message):
    """What undoes a deletion."""

    undo: str


class ReadRequest(Message):
    """The text of a dropped file, or a position from elsewhere as a document."""

    text: Annotated[Text, Field(max_length=MOST_TEXT)] | None = None
    document: Document | None = None


class ReadAnswer(Message):
    """A position read and in order. Nothing is saved."""

    document: dict[str, Any]
    text: str


# --- pages and pictures -----------------------------------------------------------------------


ExportKind = Literal["sheet", "fullsize", "svg", "png", "pdf"]


class ExportRequest(Message):
    """What is to be made of the document."""

    document: Document
    kind: ExportKind
    paper: Literal["a4", "a3", "letter"] = "a4"
    large_print: bool = False
    date: ShortText = ""


JobState = Literal["waiting", "running", "done", "failed", "cancelled"]


class JobAnswer(Message):
    """A long job. ``words``: what it does now; ``done``: how much of it, 0 to 1."""

    job: str
    state: JobState
    words: str
    done: float
    file: str | None = None
    error: ErrorObject | None = None


class TableShown(Message):
    """A table with its set of balls. mm"""

    model_config = ConfigDict(extra="allow")

    name: str
    title: str
    game: str
    length: float
    width: float
    nose_height: float
    line: float | None
    d_radius: float | None
    cue_ball: str
    cloths: list[dict[str, str]]
    spots: dict[str, Point]
    racks: dict[str, dict[str, Point]]


class TablesAnswer(Message):
    """Every table that a position may name."""

    tables: list[TableShown]


# --- the page itself ------------------------------------------------------------------------


class PageState(Message):
    """What the page wants to find again; the server only keeps it."""

    state: State


class PageStateAnswer(Message):
    """The page's state as kept, and what this start is about.

    Attributes:
        open: name of the position that ``stunline open FILE`` named, or None
        folder: the library's
        version: of stunline
        engine: whether it can play yet
    """

    state: dict[str, Any]
    open: str | None
    folder: str
    version: str
    engine: EngineStatus
