"""A commented record file to start from: shots to play, with lines to fill in."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path

from stunline.calibration.menu import (
    BY_ID,
    CUSHION,
    FULL,
    MENU,
    OBJECT_CUSHION,
    OBJECT_REST,
    QUICK,
    TIME,
    TURNS,
    WHITE_REST,
    GaugingShot,
)
from stunline.calibration.record import object_ball, set_up_places
from stunline.equipment.based_on import STANDARD
from stunline.equipment.catalogue import load_table
from stunline.equipment.model import Table
from stunline.units import degrees, millimetres

_WIDTH = 96
_NO_DATE = '# date = "2026-11-30"'
_HEAD = """\
# A record of gauging shots. Lengths in mm, times in s; a length may also be a text, "35 1/2 in".
# A place is a ball's centre: [mm from the {left} cushion, mm from the {near} cushion], measured
# from the cushion's nose. Take the # off each line that you fill in; a shot may stay empty, and
# may be played several times: copy its block. Then: stunline gauge fit THIS-FILE
title = {title}
{date}
table = {table}
cloth = {cloth}            # the profile that comes nearest: {cloths}

[ramp]
gap = {gap:.1f}                    # between the rails of a grooved ramp; 0 for a flat chute
"""


def new_record(
    full: bool = False,
    table: str = STANDARD,
    *,
    title: str = "My table",
    date: str = "",
    cloth: str = "",
    gap: float = 0.0,
    folder: Path | None = None,
) -> str:
    """The text for the quick check of three shots, or the full dozen.

    Args:
        full: the dozen
        table: a shipped one or a file
        title: of the record, or "": the table’s own
        date: of the measurements, ISO 8601, or "": left to be filled in
        cloth: the profile that comes nearest, or "": the table's first
        gap: of the groove between the ramp's rails; 0 for a flat chute [mm]
        folder: where a table file stands

    Raises:
        InputError: no such table.
    """
    known = load_table(table, folder)
    words = known.words.cushions
    head = _HEAD.format(
        title=toml_text(title or known.title),
        date=f"date = {toml_text(date)}" if date else _NO_DATE,
        table=toml_text(table), cloth=toml_text(cloth or known.default_cloth().name),
        cloths=", ".join(known.cloths), gap=gap, left=words[3], near=words[0],
    )  # fmt: skip
    ids = FULL if full else QUICK
    blocks = ["\n".join(_block(BY_ID[name], known)) for name in ids]
    rest = ", ".join(shot.id for shot in MENU if shot.id not in ids)
    more = "\n".join(_comment(f"More shots of the menu: {rest}."))
    return "\n\n".join([head.rstrip(), *blocks, more]) + "\n"


def with_shots(text: str, ids: Sequence[str], table: Table) -> str:
    """A record's text with blocks for more shots of the menu at its end."""
    blocks = ["\n".join(_block(BY_ID[name], table)) for name in ids]
    return "\n\n".join([text.rstrip(), *blocks]) + "\n"


def toml_text(text: str) -> str:
    """A TOML text on one line: JSON's escapes are among TOML's."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _block(shot: GaugingShot, table: Table) -> Iterator[str]:
    yield from _comment(f"{shot.title}: tells {shot.tells}.")
    yield from _comment(f"Set up: {shot.set_up}")
    yield from _comment(f"Do: {shot.do}")
    yield from _comment(f"Write down: {shot.write_down}")
    yield from _comment(f"Mind: {shot.caution}")
    yield "[[measured]]"
    yield f'shot = "{shot.id}"'
    yield from _set_up(shot, table)
    near, _, _, left = table.words.cushions
    along = f"from the {left} or the {near} cushion"
    yield from (_LINES[key].replace("{along}", along) for key in shot.readings)
    if TIME in shot.readings:
        yield '# timed_by = "hand"         # or "frames", counted on a film'


_LINES = {
    WHITE_REST: "# white_rest = [0, 0]",
    OBJECT_REST: "# object_rest = [0, 0]",
    CUSHION: '# white_cushion = { cushion = "right", at = 0 }  # mm {along}',
    OBJECT_CUSHION: '# object_cushion = { cushion = "top", at = 0 }  # mm {along}',
    TIME: "# time = 0.0",
    TURNS: "# turns = 0",
}


def _set_up(shot: GaugingShot, table: Table) -> Iterator[str]:
    if shot.tool == "fingers":
        return
    white, other = set_up_places(shot, table)
    yield f"white = {_mm(white)}" + ("" if shot.tool == "cue" else "  # the ramp's foot")
    if other is not None:
        yield f"object = {_mm(other)}  # any other ball, {object_ball(table)} for one"
    yield f"aim = {degrees(shot.aim):.1f}  # degrees: 0 from left to right, 90 up the table"
    if shot.tool == "ramp":
        yield f"drop = {millimetres(shot.drop):.0f}  # of the ball's centre, release to foot"


def _mm(place: tuple[float, float]) -> str:
    return f"[{millimetres(place[0]):.0f}, {millimetres(place[1]):.0f}]"


def _comment(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="# ", subsequent_indent="#   ")
