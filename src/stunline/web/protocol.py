"""Every message over HTTP, and what all messages share, as types; the OpenAPI is made from them.

Those of the live socket are in ``live_protocol``, those of what takes long in ``jobs_protocol``.

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
_LARGEST_NUMBER = 1e15  # of any unit; far beyond it TOML and JSON no longer agree on integers

Theme = Literal["light", "dark"]
Point = tuple[float, float]


def writable(text: str) -> str:
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
        writable(value)
    elif not isinstance(value, bool) and not (
        isinstance(value, int | float) and math.isfinite(value) and abs(value) <= _LARGEST_NUMBER
    ):
        raise ValueError("this holds a number that is too large, or no number")


Text = Annotated[str, AfterValidator(writable)]
Name = Annotated[str, Field(max_length=MOST_NAME), AfterValidator(writable)]
ShortText = Annotated[str, Field(max_length=40), AfterValidator(writable)]
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


# --- the engine ----------------------------------------------------------------------------


EngineState = Literal["starting", "compiling", "ready", "failed"]


class EngineStatus(Message):
    """Whether the engine can play yet, and what it does meanwhile."""

    state: EngineState
    words: str


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


# --- tables and players ----------------------------------------------------------------------


class PlayerShown(Message):
    """A player: ``words`` for the scatter of the strokes, and ``source`` where that is from."""

    name: str
    title: str
    words: str
    source: str


class PlayersAnswer(Message):
    """Every shipped player."""

    players: list[PlayerShown]


class CoefficientShown(Message):
    """One number of a cloth profile, in ``unit``.

    ``least``, ``most``, ``allowed``: what a document may set instead; ``step``: of an arrow key;
    ``law``: the name of the law that the profile has in place of the number, ``law_words`` what it
    says; ``known_by``: "published", "from memory", "assumed"; ``source``: where it is from.
    """

    key: str
    words: str
    unit: str
    least: float
    most: float
    allowed: str
    step: float
    value: float
    law: str | None
    law_words: str
    known_by: str
    source: str


class SwitchShown(Message):
    """What a cloth profile has on or off."""

    key: str
    words: str
    value: bool


class ClothShown(Message):
    """A cloth profile with its numbers."""

    name: str
    title: str
    note: str
    numbers: list[CoefficientShown]
    switches: list[SwitchShown]


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
    cloths: list[ClothShown]
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
