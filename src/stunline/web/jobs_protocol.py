"""Messages about what takes long: what is asked for, and what there is of it as it grows.

Units and bounds are those of ``protocol``, which has what all messages share.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from stunline.tasks.page_bounds import MOST_PAGE_RACKS, WIDEST_PAGE_GAPS
from stunline.web.gauge_protocol import GaugeGrowing
from stunline.web.protocol import Document, ErrorObject, Message, Point, ShortText, Theme

# --- pages and pictures -----------------------------------------------------------------------


ExportKind = Literal["sheet", "fullsize", "svg", "png", "pdf"]


class ExportRequest(Message):
    """What is to be made of the document."""

    document: Document
    kind: ExportKind
    paper: Literal["a4", "a3", "letter"] = "a4"
    large_print: bool = False
    date: ShortText = ""


class PackRequest(Message):
    """The document's pack is opened so many times. ``gaps``: the largest [mm], or as usual."""

    document: Document
    gaps: Annotated[float, Field(ge=0.0, le=WIDEST_PAGE_GAPS)] | None = None
    racks: Annotated[int, Field(ge=1, le=MOST_PAGE_RACKS)] = 2_000


class PackGrowing(Message):
    """What the plays have come to until now.

    ``rows``: a name, then words for plays, freed, on next, stuck, in-off; ``rest``: where the
    white ends; ``ends``: places of it. [mm]
    """

    gaps: float
    plays: int
    rows: list[list[str]]
    rest: str
    ends: list[Point]


class ChoiceRequest(Message):
    """The strikes for the document's goal are searched, with the goal's own ranges and player."""

    document: Document


class StrikeNumbers(Message):
    """A strike in numbers."""

    aim: float
    pace: float
    height: float
    side: float
    elevation: float


class OptionTold(Message):
    """One way to the goal, in numbers and in words.

    ``tables``: its chance on the tables that this one may be, or ""; ``fault``: the error that
    spoils it soonest, or ""; ``way``: the white's from its first contact
    on, to its ``end``. [mm]
    """

    letter: str
    strike: StrikeNumbers
    words: str
    kind: str
    arrives: str
    chance: str
    tables: str
    fault: str
    way: list[Point]
    end: Point


class HelpTold(Message):
    """What would help when no strike meets the goal: a demand or range that gives way."""

    what: str
    words: str
    strike: StrikeNumbers


class ChoiceGrowing(Message):
    """What a search has come to. ``found`` is False until it has ended or was stopped.

    ``complete``: whether it was left to end; ``more``: smaller ways that were not looked into.
    """

    found: bool
    options: list[OptionTold]
    help: list[HelpTold]
    complete: bool = False
    goal: str = ""
    searched: str = ""
    count: str = ""
    more: int = 0


# --- maps: what a strike forgives, where the white can go, why it goes there -----------------


Place = tuple[float, float, int, float, float, float, float, float]


class MapRequest(Message):
    """A map of the document's strike or pot is made, in the inks of a theme."""

    document: Document
    theme: Theme = "light"


class OnTables(Message):
    """Chances on the tables that this one may be. ``basis``: what is known of it; ``rows``: of how
    the ball is struck and the chance."""

    basis: str
    rows: list[list[str]]


class ForgivesGrowing(Message):
    """What the plays of a strike have come to.

    ``own``: the document has no goal, and ``goal`` is what the strike does; ``chance``, ``in_ten``:
    in words, "" before anything was played; ``alone``: why it fails without any error, or "";
    ``margins``: rows of number, way, how far it may be off, what fails then; ``first``: the error
    that spoils it soonest; ``kinds``: rows of share and what goes wrong; ``map``: of the white's
    face, as SVG.
    """

    goal: str
    own: bool
    meant: str
    player: str
    chance: str
    in_ten: str
    plays: int
    alone: str
    tables: OnTables | None
    margins: list[list[str]]
    first: str
    kinds: list[list[str]]
    map: str


class ReachGrowing(Message):
    """Where the white can go. ``layer``: of the plan, as SVG; ``kinds``: of strokes.

    ``shares``: rows of a kind and the part of the table that it is the plainest for; ``places``,
    once it has ended: where the white rests, number of the kind, and the least demanding strike
    that brings it there: aim, pace, height, side, elevation.
    """

    layer: str
    shares: list[list[str]]
    tried: str
    kinds: list[str]
    places: list[Place]


class PlayedGrowing(Message):
    """Which stroke was really played.

    ``told_back``: sentences; ``seen``: what it is told from; ``rows``: number, likely, 90 %
    interval, the one before; ``map``: the white's face with likely contacts, ``layer``: the ways
    on the plan, as SVG.
    """

    told_back: list[str]
    seen: str
    rows: list[list[str]]
    basis: str
    map: str
    layer: str


class ExplainRequest(Message):
    """The document's shot is to be explained."""

    document: Document


class Explained(Message):
    """Why the white goes where it goes.

    ``rows``: cause, its value, what it gives, gives alone, takes away with it, what is met next
    without it, how far off the white then comes; ``straight``: of the run, not of the direction.
    """

    sentences: list[str]
    rows: list[list[str]]
    straight: bool


# --- a job -------------------------------------------------------------------------------------


JobState = Literal["waiting", "running", "done", "failed", "cancelled"]


class JobAnswer(Message):
    """A long job. ``words``: what it does now; ``done``: how much of it, 0 to 1."""

    job: str
    state: JobState
    words: str
    done: float
    file: str | None = None
    growing: (
        PackGrowing
        | ChoiceGrowing
        | ForgivesGrowing
        | ReachGrowing
        | PlayedGrowing
        | GaugeGrowing
        | None
    ) = None
    error: ErrorObject | None = None
