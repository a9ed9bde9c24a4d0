"""A strike in words."""

from __future__ import annotations

from stunline.shot.aiming.pace import lengths_of
from stunline.shot.position import Strike
from stunline.shot.position_file import PositionFile
from stunline.tasks.lines import height_words, side_words
from stunline.units import degrees, millimetres


def strike_words(file: PositionFile, strike: Strike) -> str:
    """ "aim 39.12°, 2.40 m/s (5.1 lengths), 11.0 mm below centre, no side"."""
    words = (
        f"aim {degrees(strike.aim):.2f}°, {strike.pace:.2f} m/s "
        f"({lengths_of(file.position, strike.pace):.1f} lengths), "
        f"{height_words(file, millimetres(strike.height))}, "
        f"{side_words(file, millimetres(strike.side))}"
    )
    raised = degrees(strike.elevation)
    return f"{words}, cue raised {raised:.0f}°" if raised else words
