"""The record sheet of gauging: what to set up, what to do, and lines to write what came of it."""

from __future__ import annotations

from dataclasses import dataclass
from importlib.resources import files
from math import degrees

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
from stunline.paper.set_up import from_cushions
from stunline.paper.sheet_figures import in_mm
from stunline.paper.sheet_format import Format
from stunline.paper.sheet_lengths import Lengths
from stunline.shot.shot import Shot
from stunline.units import millimetres

_PLAN_HEIGHT = 204.0  # [px]
_ABOUT = 50  # an expected resting place is told to this. [mm]
_TOOLS = {"ramp": "ramp", "cue": "cue", "fingers": "fingers"}
_CAUTIONS = (
    "Measure from the cushion’s nose to the ball’s centre: lay the tape on the cloth beside the "
    "ball, and add half a ball to what you read at its edge.",
    "Ask the club before you mark its cloth; set a ball only once the tape is off the table.",
    "Film the table and not the people: where others, above all children, may come into the "
    "picture, ask them or those who care for them first, and keep to local rules.",
)


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
        "cautions": _CAUTIONS,
        "has_ramp": any(entry.play.shot.tool == "ramp" for entry in plays),
        "plays": [_values(entry, record.table) for entry in plays],
    }
    template = files("stunline.paper") / "templates" / "record.typ"
    return typeset(template.read_text(encoding="utf-8"), filled, drawn)


def _values(entry: Entry, table: Table) -> dict[str, object]:
    shot = entry.play.shot
    plan = entry.plan
    return {
        "title": shot.title,
        "id": entry.play.name,
        "tool": _TOOLS[shot.tool],
        "set_up": shot.set_up,
        "places": _places(entry),
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


def _places(entry: Entry) -> list[list[str]]:
    """Tape measurements of the balls, the aim and the drop; none of a twirl."""
    if entry.shot is None:
        return []
    shot, play = entry.shot, entry.play
    rows = []
    lengths = Lengths("mm")
    for number, ball in enumerate(shot.position.names):
        what = "object ball" if number else "ramp’s foot" if play.shot.tool == "ramp" else "white"
        both = from_cushions(shot.position, ball, lengths)
        rows.append([what, ", ".join(f"{one.cushion} {one.centre}" for one in both) + " mm"])
    rows.append(["aim", f"{degrees(play.aim):.0f}° (0 to the right, 90 up the table)"])
    if play.shot.tool == "ramp":
        rows[-1][1] += f"; the ball’s centre drops by {millimetres(play.drop):.0f} mm"
    end = shot.rest(shot.position.names[0])
    if end is not None:
        near, _, _, left = shot.position.table.words.cushions
        x, y = (round(millimetres(value) / _ABOUT) * _ABOUT for value in end)
        rows.append(["expected", f"the white rests about {left} {x}, {near} {y} mm"])
    return rows


def _lines(shot: GaugingShot, table: Table) -> list[list[str]]:
    """What is to be written: label, and the parts that each have a line of their own."""
    near, _, _, left = table.words.cushions
    place = [left, near]
    labels = {
        WHITE_REST: ["white rests", *place],
        OBJECT_REST: ["object ball rests", *place],
        CUSHION: ["white touches first", "cushion", "along"],
        OBJECT_CUSHION: ["object ball touches first", "cushion", "along"],
        TIME: ["time", ""],
        TURNS: ["turns", ""],
    }
    return [labels[key] for key in shot.readings]
