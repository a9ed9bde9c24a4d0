"""A commented record file to start from: shots to play, with lines to fill in."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

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
_HEAD = """\
# A record of gauging shots. Lengths in mm, times in s; a length may also be a text, "35 1/2 in".
# A place is a ball's centre: [mm from the {left} cushion, mm from the {near} cushion], measured
# from the cushion's nose. Take the # off each line that you fill in; a shot may stay empty, and
# may be played several times: copy its block. Then: stunline gauge fit THIS-FILE
title = "My table"
# date = "2026-11-30"
table = "{table}"
cloth = "{cloth}"            # the profile that comes nearest: {cloths}

[ramp]
gap = 0.0                    # between the rails of a grooved ramp; 0 for a flat chute
"""


def new_record(full: bool = False, table: str = STANDARD) -> str:
    """The text for the quick check of three shots, or the full dozen.

    Raises:
        InputError: no such table.
    """
    known = load_table(table)
    words = known.words.cushions
    head = _HEAD.format(
        table=table, cloth=known.default_cloth().name, cloths=", ".join(known.cloths),
        left=words[3], near=words[0],
    )  # fmt: skip
    ids = FULL if full else QUICK
    blocks = ["\n".join(_block(BY_ID[name], known)) for name in ids]
    rest = ", ".join(shot.id for shot in MENU if shot.id not in ids)
    more = "\n".join(_comment(f"More shots of the menu: {rest}."))
    return "\n\n".join([head.rstrip(), *blocks, more]) + "\n"


def _block(shot: GaugingShot, table: Table) -> Iterator[str]:
    yield from _comment(f"{shot.title}: tells {shot.tells}.")
    yield from _comment(f"Set up: {shot.set_up}")
    yield from _comment(f"Do: {shot.do}")
    yield from _comment(f"Write down: {shot.write_down}")
    yield from _comment(f"Mind: {shot.caution}")
    yield "[[measured]]"
    yield f'shot = "{shot.id}"'
    yield from _set_up(shot, table)
    yield from (_LINES[key] for key in shot.readings)
    if TIME in shot.readings:
        yield '# timed_by = "hand"         # or "frames", counted on a film'


_LINES = {
    WHITE_REST: "# white_rest = [0, 0]",
    OBJECT_REST: "# object_rest = [0, 0]",
    CUSHION: '# white_cushion = { cushion = "right", at = 0 }  # mm along it',
    OBJECT_CUSHION: '# object_cushion = { cushion = "top", at = 0 }  # mm along it',
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
