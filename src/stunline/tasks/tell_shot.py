"""A shot as lines of text: the sentence before the numbers, each number with its unit."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stunline.shot.notes import notes
from stunline.shot.position_file import PositionFile
from stunline.shot.readouts import Readouts
from stunline.shot.sentences import event_words, nearly_stops, shot_sentence
from stunline.shot.shot import Event, EventKind, Shot, StopReason
from stunline.shot.words import ball_words, with_article
from stunline.tasks.band_words import Brackets, doubt_sentences
from stunline.tasks.lines import (
    columns,
    heading,
    height_words,
    length_words,
    side_words,
    wrapped,
)
from stunline.tasks.play_shot import ShotResult

Row = tuple[str, str]
# Squirt below this would be shown as nought. [°]
_NO_SQUIRT = 0.005
# The same of the bend. [°]
_NO_BEND = 0.05


def shot_lines(result: ShotResult) -> Iterator[str]:
    """What ``stunline shot`` prints."""
    file, read = result.file, result.readouts
    yield from heading(file)
    yield ""
    yield from wrapped(shot_sentence(read, result.outcome, lambda mm: length_words(file, mm)))
    yield ""
    yield from columns(number_rows(result))
    for said in doubt_sentences(result.band) if result.band is not None else ():
        yield ""
        yield from wrapped(said)
    yield ""
    yield from event_lines(result.shot, file, read.object_ball)
    if result.shot.stop_reason is not StopReason.AT_REST:
        yield ""
        yield from wrapped(result.shot.stop_reason.words)
    for note in notes(result.shot, file.plan):
        yield ""
        yield from wrapped(note)


def number_rows(result: ShotResult) -> Iterator[Row]:
    """Every row, in groups with an empty row between them."""
    file, read = result.file, result.readouts
    off = Brackets(file, result.band)
    yield from _strike_rows(result)
    yield "", ""
    if read.object_ball is not None:
        yield from _contact_rows(file, read, off)
        yield "", ""
        yield from _after_rows(file, read, off)
        yield "", ""
    yield from _end_rows(file, read, off)


def _strike_rows(result: ShotResult) -> Iterator[Row]:
    file, read, strike = result.file, result.readouts, result.shot.strike
    yield "aim", f"{math.degrees(strike.aim):.3f}° anticlockwise from left → right"
    yield "pace", f"{strike.pace:.2f} m/s = {read.pace_lengths:.2f} lengths"
    height = height_words(file, 1000.0 * strike.height)
    yield "contact point", f"{height}, {side_words(file, 1000.0 * strike.side)}"
    if strike.elevation:
        yield "butt raised", f"{math.degrees(strike.elevation):.1f}°"
    if abs(read.squirt_deg) >= _NO_SQUIRT:
        side = "left" if read.squirt_deg > 0.0 else "right"
        yield "squirt", f"{abs(read.squirt_deg):.2f}° to the {side}"
    if read.aim_window_deg is not None:
        yield "goes in if aimed within", f"±{min(read.aim_window_deg):.3f}°"


def _contact_rows(file: PositionFile, read: Readouts, off: Brackets) -> Iterator[Row]:
    way = length_words(file, read.distance_to_contact_mm or 0.0)
    yield "contact after", f"{way}, {read.contact_time_s:.2f} s"
    yield "cut angle", f"{read.cut_angle_deg:.1f}°{off.number('cut_angle_deg', 1)}"
    thickness = f"{read.thickness:.2f}{off.number('thickness', 2)}"
    yield "thickness", f"{thickness}, {read.thickness_words}, on its {read.met_on} side"
    arrives = f"{read.arrival}, Rω/v {read.follow_ratio:.2f}{off.number('follow_ratio', 2)}"
    at = f"{read.arrival_speed_m_s:.2f} m/s{off.number('arrival_speed_m_s', 2)}"
    yield "arrives", f"{arrives}, at {at}"


def _after_rows(file: PositionFile, read: Readouts, off: Brackets) -> Iterator[Row]:
    ball = ball_words(read.object_ball or "")
    inside = read.off_tangent_deg or 0.0
    white = ball_words(file.position.names[0])
    speeds = read.white_speed_after_m_s, read.object_speed_after_m_s
    names = "white_speed_after_m_s", "object_speed_after_m_s"
    for told, speed, name in zip((white, ball), speeds, names, strict=True):
        yield f"{told} after contact", f"{speed:.2f} m/s{off.number(name, 2)}"
    leaves = f"{abs(inside):.1f}° {'inside' if inside >= 0.0 else 'outside'} the tangent line"
    leaves += off.ways("off_tangent_deg", 1, ("outside", "inside"))
    yield "leaves", f"{leaves}, but nearly stops" if nearly_stops(read) else leaves
    yield "throw", f"{abs(read.throw_deg or 0.0):.2f}°{off.size('throw_deg', 2)}"
    runs = {
        f"{_first_bend_words(file)} off its first line": "run_to_5mm_off_mm",
        "turned by 5°": "run_to_5deg_off_mm",
        "sliding ended": "sliding_ended_after_mm",
    }
    for told, name in runs.items():
        yield told, _after(file, getattr(read, name), off.length(name))
    bend = _bend_words(read.total_bend_deg or 0.0)
    yield "total bend", bend + off.ways("total_bend_deg", 1, ("back", "forward"))
    kept = f"{100.0 * (read.energy_kept or 0.0):.1f} %"
    yield "energy kept in the contact", kept + off.number("energy_kept", 1, 100.0)


def _first_bend_words(file: PositionFile) -> str:
    """ "5 mm", or as many inches: how far off the line the bend is first told."""
    return "5 mm" if file.units == "mm" else length_words(file, 5.0)


def _bend_words(bend_deg: float) -> str:
    if abs(bend_deg) < _NO_BEND:
        return "none"
    return f"{abs(bend_deg):.1f}° {'forward' if bend_deg > 0.0 else 'back'}"


def _after(file: PositionFile, length_mm: float | None, off: str) -> str:
    if length_mm is None:
        return "not before it met something or stopped"
    return f"after {length_words(file, length_mm)}{off}"


def _end_rows(file: PositionFile, read: Readouts, off: Brackets) -> Iterator[Row]:
    if read.next_met:
        met = ball_words(read.next_met)
        if read.next_met_on:
            met += f" on its {read.next_met_on} side, thickness {read.next_met_thickness:.2f}"
            met += off.number("next_met_thickness", 2)
        speed = f"{read.next_met_speed_m_s:.2f} m/s{off.number('next_met_speed_m_s', 2)}"
        yield "met next", f"{met}, at {speed}"
    white = file.position.names[0]
    yield f"cushions met by {with_article(white)}", str(read.cushions)
    if read.in_off:
        yield "in-off", read.in_off
    elif read.white_rest_from_cushions_mm:
        places = [
            f"{length_words(file, distance)} from the {name} cushion{off.from_cushion(name)}"
            for name, distance in read.white_rest_from_cushions_mm.items()
        ]
        yield f"{ball_words(white)} rests", ", ".join(places)
    yield "all at rest after", f"{read.duration_s:.1f} s{off.number('duration_s', 1)}"


# Events told in the terminal; the JSON has them all.
_MOST_EVENTS = 12


def event_lines(shot: Shot, file: PositionFile, object_ball: str | None) -> Iterator[str]:
    """What happens to the white and the object ball, and what falls: when and where."""
    told = [event for event in shot.events if is_told(event, shot, object_ball)][:_MOST_EVENTS]
    near, _, _, left = shot.position.table.words.cushions
    rows = [("time", f"from {left}", f"from {near}", "")]
    for event in told:
        across, up = (length_words(file, 1000.0 * one) for one in event.at)
        rows.append((f"{event.time:.3f} s", across, up, event_words(event)))
    widths = [max(map(len, cells)) for cells in zip(*rows, strict=True)][:-1]
    for row in rows:
        cells = [cell.rjust(width) for cell, width in zip(row, widths, strict=False)]
        yield "  ".join(["", *cells, row[-1]]).rstrip()
    more = len(shot.events) - len(told)
    if more:
        yield f"  and {more} more event{'s' if more > 1 else ''}, all of them in --json"


def is_told(event: Event, shot: Shot, object_ball: str | None) -> bool:
    """Whether a teller of the shot mentions it: the white's, the object ball's, and what falls."""
    concerned = shot.position.names[0] in event.balls or object_ball in event.balls
    return concerned or event.kind is EventKind.POCKET
