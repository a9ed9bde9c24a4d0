"""The record sheet of gauging: what to set up, what to do, and lines to write what came of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files

from stunline.calibration.menu import (
    CUSHION,
    OBJECT_CUSHION,
    OBJECT_REST,
    TIME,
    TURNS,
    WHITE_REST,
    GaugingShot,
)
from stunline.calibration.predict import Predictor
from stunline.calibration.record import Play, Record
from stunline.drawing.marks import Drawing
from stunline.drawing.set_up_plan import set_up_plan
from stunline.drawing.svg import svg
from stunline.drawing.theme import PAPER
from stunline.drawing.typesetting import typeset
from stunline.equipment.model import Table
from stunline.paper.record_words import CAUTIONS, set_up_rows
from stunline.paper.sheet_figures import in_mm
from stunline.paper.sheet_format import Format
from stunline.shot.shot import Shot

_PLAN_HEIGHT = 204.0  # [px]
_TOOLS = {"ramp": "ramp", "cue": "cue", "fingers": "fingers"}


@dataclass(frozen=True, slots=True)
class Entry:
    """One play on the sheet.

    Attributes:
        play: to be done
        shot: about as it will go, None for a twirl
        plan: of it
    """

    play: Play
    shot: Shot | None
    plan: Drawing | None


def entries(record: Record) -> tuple[Entry, ...]:
    """Every play of the record that is still to be measured, or all when none is left."""
    predictor = Predictor(record)
    found: list[Entry] = []
    for play in record.unplayed or record.plays:
        shot = None if play.shot.tool == "fingers" else predictor.expected(play)
        plan = None
        if shot is not None:
            name = f"set-up-{len(found)}"
            plan = set_up_plan(shot, _PLAN_HEIGHT, f"{play.shot.title}: set-up", name)
        found.append(Entry(play, shot, plan))
    return tuple(found)


def record_sheet_pdf(
    record: Record, plays: tuple[Entry, ...], form: Format, date: str, engine: str
) -> bytes:
    """The PDF."""
    drawn = {
        entry.plan.name: svg(entry.plan, PAPER, embed_font=False)
        for entry in plays
        if entry.plan is not None
    }
    filled = {
        "format": form.values(),
        "title": record.title or "Gauging a table",
        "table": f"{record.table.title}, {record.cloth} cloth to start from",
        "made": " · ".join(filter(None, [date and f"printed {date}", f"stunline {engine}"])),
        "cautions": [*CAUTIONS, *_along_words(record, plays)],
        "has_ramp": any(entry.play.shot.tool == "ramp" for entry in plays),
        "plays": [_values(entry, record.table) for entry in plays],
    }
    template = files("stunline.paper") / "templates" / "record.typ"
    return typeset(template.read_text(encoding="utf-8"), filled, drawn)


def _along_words(record: Record, plays: tuple[Entry, ...]) -> Iterator[str]:
    """From where a touch of a cushion is measured, where one is asked for."""
    near, _, _, left = record.table.words.cushions
    if any({CUSHION, OBJECT_CUSHION} & set(entry.play.shot.readings) for entry in plays):
        yield f"Where a ball touches a cushion: along it, from the {left} or the {near} cushion."


def _values(entry: Entry, table: Table) -> dict[str, object]:
    shot = entry.play.shot
    plan = entry.plan
    return {
        "title": shot.title,
        "id": entry.play.name,
        "tool": _TOOLS[shot.tool],
        "set_up": shot.set_up,
        "places": [] if entry.shot is None else set_up_rows(entry.play, entry.shot),
        "do": shot.do,
        "write_down": shot.write_down,
        "tells": shot.tells,
        "mind": shot.caution,
        "lines": _lines(shot, table),
        "plan": None
        if plan is None
        else {
            "name": plan.name,
            "width": in_mm(plan)[0],
            "alt": f"{plan.title}. {plan.description}",
        },
    }


def _lines(shot: GaugingShot, table: Table) -> list[list[str]]:
    """What is to be written: label, and the parts that each have a line of their own."""
    near, _, _, left = table.words.cushions
    place = [left, near]
    labels = {
        WHITE_REST: ["white rests", *place],
        OBJECT_REST: ["object ball rests", *place],
        CUSHION: ["white touches first", "cushion", "at"],
        OBJECT_CUSHION: ["object ball touches first", "cushion", "at"],
        TIME: ["time; the drop, if changed", "s", "drop"] if shot.tool == "ramp" else ["time", ""],
        TURNS: ["turns", ""],
    }
    return [labels[key] for key in shot.readings]
