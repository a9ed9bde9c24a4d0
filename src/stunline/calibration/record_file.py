"""A record file: TOML with one ``[[measured]]`` for each play of a gauging shot, in mm and s.

Every mistake is named by its line; what is wrong is left out, and the rest is still read.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from stunline.calibration.menu import (
    BY_ID,
    CUSHION,
    OBJECT_CUSHION,
    OBJECT_REST,
    TIME,
    TURNS,
    WHITE_REST,
)
from stunline.calibration.menu import GaugingShot as Shot
from stunline.calibration.record import FRAME_TIME, HAND_TIME, Play, Reading, Record, set_up_places
from stunline.calibration.record_places import Places
from stunline.calibration.tools import Ramp
from stunline.equipment.based_on import STANDARD, is_table_file
from stunline.equipment.catalogue import load_table
from stunline.equipment.missing_table import missing_table
from stunline.equipment.model import Table
from stunline.errors import Fault, InputError
from stunline.files.text_file import read_text_file
from stunline.files.toml_fields import Faults, NumberField, Section
from stunline.files.toml_lines import parse_toml
from stunline.files.words import Limits, kind_of, shown
from stunline.units import radians

_TOP_KEYS = ("title", "date", "table", "cloth", "ramp", "measured")
_KEYS = (
    "shot", "name", "white", "object", "aim", "drop", "timed_by",
    WHITE_REST, OBJECT_REST, CUSHION, OBJECT_CUSHION, TIME, TURNS,
)  # fmt: skip
_DROP = NumberField("the drop of the ball on the ramp", Limits(5.0, 400.0, "mm"), "100.0")
_GAP = NumberField("the gap of the groove", Limits(0.0, 45.0, "mm"), "30.0")
_TIME = NumberField("the time", Limits(0.1, 60.0, "s"), "6.4")
_TURNS = NumberField("the number of turns", Limits(1.0, 500.0), "32")
_AIM = NumberField("the aim", Limits(-360.0, 360.0, "degrees"), "90.0")
_TIMED_BY = {"hand": HAND_TIME, "frames": FRAME_TIME}
_EXAMPLE = '[[measured]] with shot = "roll-up" and white_rest = [889, 2650]'


@dataclass(frozen=True, slots=True)
class ReadRecord:
    """What a record file holds.

    Attributes:
        record: what could be read
        faults: what could not, with its lines
        source: the file's name
    """

    record: Record
    faults: tuple[Fault, ...]
    source: str


def read_record(path: str) -> ReadRecord:
    """The record of a file, and its mistakes.

    Raises:
        InputError: it can't be read at all, isn't TOML, or holds nothing that can be used.
    """
    text = read_text_file(path, "a record file")
    return parse_record(text, path, Path(path).parent)


def parse_record(text: str, source: str = "", folder: Path | None = None) -> ReadRecord:
    """The same of a text."""
    read = parse_open_record(text, source, folder)
    if not read.record.plays:
        raise InputError([*read.faults, _nothing(read.record)], source)
    return read


def read_open_record(path: str) -> ReadRecord:
    """A record that may still be without a single reading.

    Raises:
        InputError: it can't be read at all, or isn't TOML.
    """
    text = read_text_file(path, "a record file")
    return parse_open_record(text, path, Path(path).parent)


def parse_open_record(text: str, source: str = "", folder: Path | None = None) -> ReadRecord:
    """The same of a text."""
    faults = Faults()
    root = Section(parse_toml(text, source), (), faults, _TOP_KEYS)
    named = root.text("table", "the table", STANDARD)
    table = _table(root, named or STANDARD, folder, text, source)
    cloth = root.name("cloth", "the cloth", tuple(table.cloths)) or table.default_cloth().name
    plays, faulty = _plays(root, table)
    date = root.get("date")
    record = Record(
        table, cloth, tuple(play for play in plays if play.readings),
        title=root.text("title", "the title", "Table 3, after ironing") or "",
        date="" if date is None else str(date),
        ramp=_ramp(root, table),
        unplayed=tuple(play for play in plays if not play.readings),
        faulty=tuple(faulty),
        table_name=named or STANDARD,
    )  # fmt: skip
    found = faults.error(text, source).faults if len(faults) else ()
    return ReadRecord(record, found, source)


def _table(root: Section, named: str, folder: Path | None, text: str, source: str) -> Table:
    """The table, without which nothing else can be read."""
    try:
        return load_table(named, folder)
    except InputError as error:
        gone = missing_table(named, folder or Path()) if is_table_file(named) else None
        for fault in error.faults if gone is None else (gone,):
            root.faults.add(
                ("table",), fault.what, given=fault.given or shown(named),
                allowed=fault.allowed, remedy=fault.remedy,
            )  # fmt: skip
        raise root.faults.error(text, source) from None


def _nothing(record: Record) -> Fault:
    count = len(record.unplayed)
    return Fault(
        "nothing in this record can be used",
        given=f"{count} shots without a measurement" if count else "no [[measured]] at all",
        allowed="one [[measured]] or more, with what its shot asks to write down",
        remedy="play a shot, and take the # off the lines that you fill in",
    )


def _ramp(root: Section, table: Table) -> Ramp:
    section = root.section("ramp", ("gap",), "[ramp]")
    gap = None if section is None else section.length("gap", _GAP)
    if section is None or gap is None:
        return Ramp()
    radius = table.balls[table.cue_ball].radius
    if gap < 1.9 * radius:
        return Ramp(gap)
    section.faults.add(
        section.at("gap"), "the ball would fall through the groove",
        given=f"{1000 * gap:g} mm", allowed=f"less than {1900 * radius:.0f} mm",
        remedy="the clear width between the two rails; 0 for a flat chute",
    )  # fmt: skip
    return Ramp()


def _plays(root: Section, table: Table) -> tuple[list[Play], list[Play]]:
    """Plays in the file's order, those without a reading among them; and those all in error."""
    value = root.get("measured")
    if value is None:
        return [], []
    if not isinstance(value, list):
        root.faults.add(
            ("measured",),
            f"measured must be [[measured]], once for each play, not {kind_of(value)}",
            given=shown(value), allowed="double brackets", remedy=_EXAMPLE,
        )  # fmt: skip
        return [], []
    plays: list[Play] = []
    faulty: list[Play] = []
    names: list[str] = []
    for number, entry in enumerate(value):
        path = ("measured", number)
        if not isinstance(entry, dict):
            root.faults.add(
                path, f"a measurement must be a table of keys, not {kind_of(entry)}",
                given=shown(entry), allowed="[[measured]] and its keys", remedy=_EXAMPLE,
            )  # fmt: skip
            continue
        section = Section(entry, path, root.faults, _KEYS)
        section.require("shot", "the shot", "its id from the menu", 'shot = "roll-up"')
        known = section.name("shot", "the shot", tuple(BY_ID))
        if known is None:
            continue
        name = _unique(section.text("name", "the name", "roll-up, again") or known, names)
        before = len(root.faults)
        play = _play(section, BY_ID[known], table, name)
        # One whose only reading is a mistake is told as that, not as one still to be played.
        if play is not None:
            sound = play.readings or len(root.faults) == before
            (plays if sound else faulty).append(replace(play, number=number))
    return plays, faulty


def _unique(name: str, names: list[str]) -> str:
    count = names.count(name)
    names.append(name)
    return f"{name} ({count + 1})" if count else name


def _play(section: Section, shot: Shot, table: Table, name: str) -> Play | None:
    places, before = Places(section, table), len(section.faults)
    white, other = set_up_places(shot, table)
    white = places.place("white") or white
    if shot.object is not None:
        other = places.place("object") or other
    aim = section.number("aim", _AIM)
    drop = section.length("drop", _DROP)
    turns = section.number("turns", _TURNS) or 0.0
    # What was read of a shot that was set up differently than is known says nothing.
    known = len(section.faults) == before
    readings = _readings(section, shot, places)
    _strangers(section, shot)
    if readings or turns:
        for key in shot.needed:
            section.require(key, f"{key} of {name}", shot.write_down.rstrip("."), f"add {key}")
    if shot.tool == "fingers" and not turns:
        readings = []
    if not places.apart(white, other, "object") or not known:
        return None
    return Play(
        name, shot, white, other,
        shot.aim if aim is None else radians(aim),
        shot.drop if drop is None else drop,
        tuple(readings), turns,
    )  # fmt: skip


def _readings(section: Section, shot: Shot, places: Places) -> list[Reading]:
    """What was read, of what this shot's reading may be."""
    found: list[Reading | None] = []
    for kind in shot.readings:
        if kind in (WHITE_REST, OBJECT_REST):
            found.append(places.rest(kind))
        elif kind in (CUSHION, OBJECT_CUSHION):
            found.append(places.touch(kind))
        elif kind == TIME:
            by = section.name("timed_by", "the way of timing", tuple(_TIMED_BY)) or "hand"
            time = _positive(section)
            found.append(None if time is None else Reading(TIME, (time,), _TIMED_BY[by]))
    readings = [one for one in found if one is not None]
    rests = {one.kind: one.values for one in readings if len(one.values) == 2}
    if len(rests) == 2 and not places.apart(rests[WHITE_REST], rests[OBJECT_REST], OBJECT_REST):
        return [one for one in readings if one.kind not in rests]
    return readings


def _positive(section: Section) -> float | None:
    """The time. [s]"""
    value = section.get(TIME)
    if not isinstance(value, (int, float)) or isinstance(value, bool) or value >= 0.0:
        return section.number(TIME, _TIME)
    section.faults.add(
        section.at(TIME), "the time is negative", given=f"{shown(value)} s",
        allowed=_TIME.allowed(), remedy=f"{-value:g}, if the sign slipped in",
    )  # fmt: skip
    return None


def _strangers(section: Section, shot: Shot) -> None:
    """Readings that this shot has none of are said, not lost in silence."""
    for key in (WHITE_REST, OBJECT_REST, CUSHION, OBJECT_CUSHION, TIME, TURNS):
        if key in section and key not in shot.readings:
            section.faults.add(
                section.at(key), f"{shot.id} has no {key}", given=shown(section[key]),
                allowed=", ".join(shot.readings), remedy="leave it out, or name another shot",
            )  # fmt: skip
