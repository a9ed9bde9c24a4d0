"""A record of gauging shots as the page shows it: each play with its words, entry and faults.

What is typed goes both ways as it was typed: a text that is wrong stands in the file as it is and
comes back with its fault beside it.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from stunline.calibration.menu import (
    BY_ID,
    CUSHION,
    FULL,
    MENU,
    OBJECT_REST,
    TIME,
    TURNS,
    WHITE_REST,
    GaugingShot,
)
from stunline.calibration.record import Play, Record, set_up_places
from stunline.calibration.record_file import ReadRecord, parse_open_record
from stunline.equipment.model import Table
from stunline.errors import Fault, InputError
from stunline.files.toml_lines import lines_of, parse_toml
from stunline.paper.record_words import CAUTIONS
from stunline.tasks.library import StoredPosition
from stunline.tasks.page_bounds import check_bounds
from stunline.tasks.save_names import ENDING
from stunline.units import degrees, millimetres

Shape = dict[str, Any]

PLACES = ("white", "object", WHITE_REST, OBJECT_REST)  # keys that are two lengths
_EMPTY = '""'  # what a fault was given where half of a place is still to be typed
_NOTHING = "nothing"  # what it was given where a key that is asked for is still missing
_ORDER_LENGTH = 16  # hexadecimal digits
# What a fault's remedy says of quotes is about a file; a field has none.
_QUOTES = re.compile(r", without quotes or unit$")


def read_record(stored: StoredPosition, folder: Path) -> ReadRecord:
    """The record that a file of the library holds, in order or not.

    Raises:
        InputError: it holds none, or a table that the page doesn't play on.
    """
    text = stored.text()
    values = parse_toml(text, stored.name + ENDING)
    if not isinstance(values.get("measured"), list):
        raise InputError([_no_record(stored.name)])
    check_bounds(values, folder)
    return parse_open_record(text, stored.name + ENDING, folder)


def order_of(text: str) -> str:
    """Changes when plays are added, taken out or moved: then their numbers mean others."""
    entries = parse_toml(text).get("measured")
    shots = [one.get("shot") if isinstance(one, dict) else None for one in _listed(entries)]
    return hashlib.sha256(json.dumps(shots, default=str).encode()).hexdigest()[:_ORDER_LENGTH]


def rest_of_the_dozen(text: str) -> list[str]:
    """Ids of the full dozen that the record has no play of."""
    left = list(FULL)
    for entry in _listed(parse_toml(text).get("measured")):
        if isinstance(entry, dict) and entry.get("shot") in left:
            left.remove(entry["shot"])
    return left


def record_shape(stored: StoredPosition, folder: Path) -> Shape:
    """The whole record for the page.

    Raises:
        InputError: see ``read_record``.
    """
    read, text = read_record(stored, folder), stored.text()
    record = read.record
    entries = _listed(parse_toml(text).get("measured"))
    faults, general = _faults_by_play(read.faults, text, len(entries))
    shown = {
        number: entry
        for number, entry in enumerate(entries)
        if isinstance(entry, dict) and _text(entry.get("shot")) in BY_ID
    }
    for number in set(range(len(entries))) - shown.keys():
        general += faults[number]
    known = {play.number: play for play in (*record.plays, *record.unplayed, *record.faulty)}
    return {
        "name": stored.name,
        "revision": stored.revision,
        "order": order_of(text),
        "title": record.title,
        "date": record.date,
        "table": table_shape(record),
        "cloth": record.cloth,
        "gap": _gap(text),
        "cautions": list(CAUTIONS),
        "more": [[shot.id, shot.title] for shot in MENU],
        "dozen": rest_of_the_dozen(text),
        "faults": [asdict(fault) for fault in general],
        "plays": [
            _play(number, entry, record.table, known.get(number), faults[number])
            for number, entry in shown.items()
        ],
    }


def table_shape(record: Record) -> Shape:
    """What the page needs to know to place a ball. mm"""
    table = record.table
    return {
        "name": record.table_name,
        "title": table.title,
        "width": millimetres(table.width),
        "length": millimetres(table.length),
        "radius": millimetres(table.balls[table.cue_ball].radius),
        "cushions": list(table.words.cushions),
    }


def play_state(play: Shape) -> str:
    """How far a play is: "open", "part", "faulty" or "done"."""
    if play["faults"]:
        return "faulty"
    if not play["read"]:
        return "open"
    return "part" if play["missing"] else "done"


def _play(
    number: int, entry: Mapping[str, Any], table: Table, play: Play | None, faults: list[Fault]
) -> Shape:
    shot = BY_ID[entry["shot"]]
    typed = _typed_entry(shot, entry, table)
    wrong = [one for one in faults if one.given not in (_EMPTY, _NOTHING)]
    half = [key for key in shot.readings if key in typed and _is_half(typed[key])]
    sound = set() if play is None else {one.kind for one in play.readings}
    if play is not None and play.turns:
        sound.add(TURNS)
    read = [key for key in shot.readings if key in entry]
    shape = {
        "number": number,
        "name": play.name if play else _text(entry.get("name")) or shot.title,
        "shot": shot.id,
        "title": shot.title,
        "tool": shot.tool,
        "set_up": shot.set_up,
        "do": shot.do,
        "write_down": shot.write_down,
        "tells": shot.tells,
        "caution": shot.caution,
        "readings": list(shot.readings),
        "needed": list(shot.needed),
        "entry": typed,
        "read": read,
        "missing": [key for key in shot.needed if key not in entry or key in half]
        + [key for key in half if key not in shot.needed],
        "faults": [_for_a_field(one) for one in wrong],
    }
    return {**shape, "state": play_state(shape)}


def _typed_entry(shot: GaugingShot, entry: Mapping[str, Any], table: Table) -> Shape:
    """Every key that the play may hold, as texts: what the file has, or how the menu sets it up."""
    typed: Shape = {}
    if shot.tool != "fingers":
        white, other = set_up_places(shot, table)
        typed["white"] = _typed_place(entry.get("white"), _in_mm(white))
        if other is not None:
            typed["object"] = _typed_place(entry.get("object"), _in_mm(other))
        typed["aim"] = typed_text(entry.get("aim", round(degrees(shot.aim), 1)))
    if shot.tool == "ramp":
        typed["drop"] = typed_text(entry.get("drop", round(millimetres(shot.drop))))
    for key in shot.readings:
        if key in PLACES:
            typed[key] = _typed_place(entry.get(key), ["", ""])
        elif key == CUSHION:
            touch = entry.get(key)
            parts = touch if isinstance(touch, dict) else {}
            typed[key] = {part: typed_text(parts.get(part)) for part in ("cushion", "at")}
        else:
            typed[key] = typed_text(entry.get(key))
    if TIME in shot.readings:
        typed["timed_by"] = typed_text(entry.get("timed_by", "hand"))
    return typed


def _typed_place(value: object, otherwise: list[str]) -> list[str]:
    if not isinstance(value, list) or len(value) != 2:
        return otherwise
    return [typed_text(one) for one in value]


def typed_text(value: object) -> str:
    """A file's value as one would type it: 1540.0 is "1540", a text is itself."""
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        return f"{value:.0f}"
    return str(value)


def _in_mm(place: tuple[float, float]) -> list[str]:
    return [f"{millimetres(one):.0f}" for one in place]


def _is_half(typed: object) -> bool:
    """Whether one part of a place or touch was typed and the other not."""
    parts = list(typed.values()) if isinstance(typed, dict) else typed
    return isinstance(parts, list) and any(parts) and not all(parts)


def _faults_by_play(
    faults: Sequence[Fault], text: str, count: int
) -> tuple[list[list[Fault]], list[Fault]]:
    """Those of each ``[[measured]]``, known by its lines, and those of the record as a whole."""
    found: list[list[Fault]] = [[] for _ in range(count)]
    general = []
    starts = _starts(text, count) if faults else []
    for fault in faults:
        of = [number for number, start in enumerate(starts) if start <= (fault.line or 0)]
        if fault.key.startswith("measured") and of:
            found[of[-1]].append(fault)
        else:
            general.append(fault)
    return found, general


def _starts(text: str, count: int) -> list[int]:
    lines = lines_of(text)
    return [lines.get(("measured", number), 1) for number in range(count)]


def _for_a_field(fault: Fault) -> Shape:
    """A fault with its key inside the play: "white_rest", "white_cushion.at"."""
    remedy = _QUOTES.sub("", fault.remedy)
    return {**asdict(fault), "key": fault.key.partition(".")[2], "remedy": remedy}


def _no_record(name: str) -> Fault:
    return Fault(
        "this file is no record of gauging shots",
        given=f'"{name}"',
        allowed="a record that was started here, or by: stunline gauge new",
        remedy="choose another record, or start a new one",
        key="name",
    )


def _gap(text: str) -> str:
    """Of the ramp's groove, as it stands in the file."""
    ramp = parse_toml(text).get("ramp")
    return typed_text(ramp.get("gap", 0)) if isinstance(ramp, dict) else "0"


def _listed(value: object) -> list[Any]:
    return value if isinstance(value, list) else []


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""
