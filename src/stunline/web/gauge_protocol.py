"""Messages about gauging a table: records of the library, what was typed, plans, the fit.

Lengths are mm of the table from the left and from the near cushion. What was typed is text, as it
was typed; what is wrong with it is said and kept.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field

from stunline.web.protocol import FaultMessage, Message, Name, ShortText, writable

MOST_PLAYS = 100_000  # in an address; a record of the page holds far fewer
Number = Annotated[int, Field(ge=0, le=MOST_PLAYS)]
TypedText = Annotated[str, Field(max_length=60), AfterValidator(writable)]
TypedPlace = Annotated[list[TypedText], Field(min_length=2, max_length=2)]


class RecordRequest(Message):
    """A record is to be started. ``gap``: of the ramp's groove, 0 for a flat chute [mm]."""

    table: Name
    cloth: Name = ""
    full: bool = False
    gap: Annotated[float, Field(ge=0.0, le=100.0)] = 0.0
    title: Annotated[str, Field(max_length=200), AfterValidator(writable)] = ""


class ListedRecord(Message):
    """A record of the library. ``done``: plays with something written down."""

    name: str
    title: str
    date: str
    table: str
    done: int
    plays: int


class RecordList(Message):
    """All records, last changed first. ``cautions``: what to mind when one is begun."""

    records: list[ListedRecord]
    cautions: list[str]


class GaugedTable(Message):
    """The table of a record. ``cushions``: near, right, far, left. mm"""

    name: str
    title: str
    width: float
    length: float
    radius: float
    cushions: list[str]


class PlayShown(Message):
    """One play: the menu's words, and what was typed.

    ``entry``: texts by the keys of a record file; ``read``: keys of readings that the file has;
    ``missing``: those still asked for; ``faults``: by their key inside the play.
    """

    number: int
    name: str
    shot: str
    title: str
    tool: Literal["ramp", "cue", "fingers"]
    set_up: str
    do: str
    write_down: str
    tells: str
    caution: str
    readings: list[str]
    needed: list[str]
    entry: dict[str, Any]
    read: list[str]
    missing: list[str]
    faults: list[FaultMessage]
    state: Literal["open", "part", "faulty", "done"]


class RecordAnswer(Message):
    """A record as it stands in the library. ``order``: goes back with what was typed; ``more``:
    ids and titles of the whole menu; ``dozen``: ids of it that the record still lacks."""

    name: str
    revision: str
    order: str
    title: str
    date: str
    table: GaugedTable
    cloth: str
    gap: str
    cautions: list[str]
    more: list[tuple[str, str]]
    dozen: list[str]
    faults: list[FaultMessage]
    plays: list[PlayShown]


class TypedTouch(Message):
    """Where a cushion was touched."""

    cushion: ShortText = ""
    at: TypedText = ""


class TypedEntry(Message):
    """What was typed for one play; keys that are left out stay as they are."""

    white: TypedPlace | None = None
    object: TypedPlace | None = None
    aim: TypedText | None = None
    drop: TypedText | None = None
    white_rest: TypedPlace | None = None
    object_rest: TypedPlace | None = None
    white_cushion: TypedTouch | None = None
    time: TypedText | None = None
    timed_by: TypedText | None = None
    turns: TypedText | None = None


class EntryRequest(Message):
    """Write an entry. ``order``: of the record as it was when it was typed."""

    order: ShortText
    entry: TypedEntry


class AgainRequest(Message):
    """The same shot is played once more."""

    order: ShortText


class HeadRequest(Message):
    """What stands above the plays. ``gap``: of the ramp's groove as it was typed [mm]"""

    order: ShortText
    title: Annotated[str, Field(max_length=200), AfterValidator(writable)] = ""
    cloth: Name = ""
    gap: TypedText = ""


class ShotsRequest(Message):
    """More shots of the menu, by their ids, at the record's end."""

    order: ShortText
    shots: Annotated[list[ShortText], Field(min_length=1, max_length=20)]


class ShotPlan(Message):
    """A shot's plan as SVG, "" where it has none, with its window [mm] and the set-up by tape."""

    svg: str
    window: tuple[float, float, float, float]
    rows: list[list[str]]


class FitRequest(Message):
    """The record is to be fitted. ``to``: name of the table file to write then, or ""."""

    to: Name = ""


class CoefficientFitted(Message):
    """One coefficient, in words. ``prior``, ``now``: its 90 % intervals, in standard deviations
    of what was assumed before; ``told``: whether the measurements say more than that."""

    name: str
    meaning: str
    unit: str
    value: str
    interval: str
    before: str
    told: bool
    prior: tuple[float, float]
    now: tuple[float, float]


class PlayTold(Message):
    """Something about a play, by its number."""

    play: int
    words: str
    name: str = ""


class ShotAdvised(Message):
    """A shot of the menu worth playing next, and what is known once it has been played."""

    shot: str
    title: str
    words: str


class Advised(Message):
    """What to measure next. ``enough``: more shots would hardly narrow anything."""

    words: str
    enough: bool
    shots: list[ShotAdvised]


class GaugeGrowing(Message):
    """What a fit has come to. ``fitted`` is False until it has ended.

    ``revision``: of the record that was fitted; ``suspects``: readings left out; ``misses``:
    measured less expected; ``table``: the file that was written, or "".
    """

    fitted: bool
    revision: str
    plays: int
    readings: int
    rows: list[CoefficientFitted]
    headings: list[list[str]]
    suspects: list[PlayTold]
    misses: list[PlayTold]
    next: Advised
    table: str
