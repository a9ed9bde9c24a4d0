"""Results as lines of text: the sentence before the numbers, each number with its unit."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stunline.shot.ladder import Band
from stunline.shot.outcome import ball_words
from stunline.shot.position import LadderVariable
from stunline.shot.position_file import PositionFile
from stunline.shot.readouts import Readouts
from stunline.shot.sentences import event_words, shot_sentence
from stunline.shot.shot import Shot, StopReason
from stunline.tasks.climb_ladder import LadderResult
from stunline.tasks.play_shot import ShotResult
from stunline.tasks.shapes import in_file_unit

Row = tuple[str, str]
_MM_PER_INCH = 25.4


def length_words(file: PositionFile, length_mm: float) -> str:
    """A length in the unit that the file asks for."""
    return f"{length_mm:.0f} mm" if file.units == "mm" else f"{length_mm / _MM_PER_INCH:.2f} in"


def fine_length_words(file: PositionFile, length_mm: float) -> str:
    """A length with the digits that the tip's height is set by."""
    return f"{length_mm:.1f} mm" if file.units == "mm" else f"{length_mm / _MM_PER_INCH:.3f} in"


def heading(file: PositionFile) -> list[str]:
    """Title; table and profile with how sure it is."""
    position = file.position
    cloth = position.table.cloths[position.cloth]
    own = "" if position.coefficients == cloth.coefficients else ", the file's own coefficients"
    return [
        position.title or "Untitled position",
        f"{position.table.title}, {cloth.name} cloth{own}: assumed, not gauged; no band is known",
    ]


def shot_lines(result: ShotResult) -> Iterator[str]:
    """What ``stunline shot`` prints."""
    file, read = result.file, result.readouts
    yield from heading(file)
    yield ""
    yield shot_sentence(read, result.outcome, lambda mm: length_words(file, mm))
    yield ""
    yield from rows(_strike_rows(result))
    if read.object_ball is not None:
        yield ""
        yield from rows(_contact_rows(file, read))
        yield ""
        yield from rows(_after_rows(file, read))
    yield ""
    yield from rows(_end_rows(file, read))
    yield ""
    yield from event_lines(result.shot, file)
    yield from stop_lines(result.shot)


def rows(pairs: Iterator[Row]) -> Iterator[str]:
    """Two columns."""
    for name, value in pairs:
        yield f"  {name:<28}{value}"


def _strike_rows(result: ShotResult) -> Iterator[Row]:
    file, read, strike = result.file, result.readouts, result.shot.strike
    yield "aim", f"{math.degrees(strike.aim):.3f}° from the baulk cushion's left to right"
    yield "pace", f"{strike.pace:.2f} m/s = {read.pace_lengths:.2f} lengths"
    yield "contact point", tip_words(file, strike.height, strike.side)
    if strike.elevation:
        yield "butt raised", f"{math.degrees(strike.elevation):.1f}°"
    if read.squirt_deg:
        side = "left" if read.squirt_deg > 0.0 else "right"
        yield "squirt", f"{abs(read.squirt_deg):.2f}° to the {side}"
    if read.aim_window_deg is not None:
        yield "goes in if aimed within", f"±{min(read.aim_window_deg):.3f}°"


def tip_words(file: PositionFile, height: float, side: float) -> str:
    """ "10.5 mm above centre, no side"."""
    up = fine_length_words(file, 1000.0 * abs(height))
    across = fine_length_words(file, 1000.0 * abs(side))
    vertical = (
        "at centre height"
        if height == 0.0
        else f"{up} {'above' if height > 0.0 else 'below'} centre"
    )
    horizontal = "no side" if side == 0.0 else f"{across} {'right' if side > 0.0 else 'left'}"
    return f"{vertical}, {horizontal}"


def _contact_rows(file: PositionFile, read: Readouts) -> Iterator[Row]:
    way = length_words(file, read.distance_to_contact_mm or 0.0)
    yield "contact after", f"{way}, {read.contact_time_s:.2f} s"
    yield "cut angle", f"{read.cut_angle_deg:.1f}°"
    yield "thickness", f"{read.thickness:.2f}, {read.thickness_words}, on its {read.met_on} side"
    arrives = f"{read.arrival}, Rω/v {read.follow_ratio:.2f}"
    yield "arrives", f"{arrives}, at {read.arrival_speed_m_s:.2f} m/s"


def _after_rows(file: PositionFile, read: Readouts) -> Iterator[Row]:
    ball = ball_words(read.object_ball or "")
    yield "white after contact", f"{read.white_speed_after_m_s:.2f} m/s"
    yield f"{ball} after contact", f"{read.object_speed_after_m_s:.2f} m/s"
    yield "leaves inside the 90° line", f"{read.off_tangent_deg:.1f}°"
    yield "throw", f"{abs(read.throw_deg or 0.0):.2f}°"
    yield "5 mm off its first line", _after(file, read.run_to_5mm_off_mm)
    yield "turned by 5°", _after(file, read.run_to_5deg_off_mm)
    yield "sliding ended", _after(file, read.sliding_ended_after_mm)
    yield "total bend", f"{read.total_bend_deg:.1f}°"
    yield "energy kept in the contact", f"{100.0 * (read.energy_kept or 0.0):.1f} %"


def _after(file: PositionFile, length_mm: float | None) -> str:
    if length_mm is None:
        return "not before it met something"
    return f"after {length_words(file, length_mm)}"


def _end_rows(file: PositionFile, read: Readouts) -> Iterator[Row]:
    if read.next_met:
        met = ball_words(read.next_met)
        if read.next_met_on:
            met += f" on its {read.next_met_on} side, thickness {read.next_met_thickness:.2f}"
        yield "met next", f"{met}, at {read.next_met_speed_m_s:.2f} m/s"
    yield "cushions", str(read.cushions)
    if read.in_off:
        yield "in-off", read.in_off
    elif read.white_rest_from_cushions_mm:
        places = [
            f"{length_words(file, distance)} from the {name} cushion"
            for name, distance in read.white_rest_from_cushions_mm.items()
        ]
        yield "white rests", ", ".join(places)


# Events told in the terminal; the JSON has them all.
_MOST_EVENTS = 12


def event_lines(shot: Shot, file: PositionFile) -> Iterator[str]:
    """What happens, when and where; the first dozen."""
    yield f"  {'time':>8}  {'left':>8}  {'baulk':>8}"
    for event in shot.events[:_MOST_EVENTS]:
        left, up = (length_words(file, 1000.0 * one) for one in event.at)
        yield f"  {event.time:6.3f} s  {left:>8}  {up:>8}  {event_words(event)}"
    if len(shot.events) > _MOST_EVENTS:
        yield f"  … and {len(shot.events) - _MOST_EVENTS} events more; --json has them all"


def stop_lines(shot: Shot) -> Iterator[str]:
    """Why the run ended, where that is worth a word."""
    if shot.stop_reason is not StopReason.AT_REST:
        yield ""
        yield shot.stop_reason.words


def ladder_lines(result: LadderResult) -> Iterator[str]:
    """What ``stunline ladder`` prints."""
    ladder, file = result.ladder, result.file
    yield from heading(file)
    yield ""
    held = "the aim is held" if ladder.aim_held else "the aim is solved again for each"
    yield f"The same shot at {len(ladder.rungs)} values of {ladder.vary}; {held}."
    yield ""
    for rung in ladder.rungs:
        told = rung.outcome.sentence() + (f" ({rung.reason})" if rung.reason else "")
        yield f"  {value_words(result, rung.value):<24}{told}"
    if ladder.bands:
        yield ""
        yield f"What each {ladder.vary} does"
        yield ""
        for band in ladder.bands:
            yield f"  {span_words(result, band):<40}{band.outcome.sentence()}"


def value_words(result: LadderResult, value: float | str | None) -> str:
    """One value with its unit; a pace in lengths too."""
    vary = result.ladder.vary
    if value is None:
        return "solved"
    if isinstance(value, str):
        return value
    if vary == "pace":
        return f"{value:.2f} m/s = {result.lengths(value):.1f} lengths"
    return number_words(value, vary)


def number_words(value: float, vary: LadderVariable) -> str:
    """ "10.5 mm", "0.50"."""
    shown = in_file_unit(value, vary)
    return f"{shown:.1f} mm" if vary in ("height", "side", "distance") else f"{shown:.3f}"


def span_words(result: LadderResult, band: Band) -> str:
    """ "from 1.45 to 2.02 m/s (1.1 to 1.6 lengths)"."""
    vary = result.ladder.vary
    if vary == "pace":
        low, high = result.lengths(band.start), result.lengths(band.end)
        return f"from {band.start:.2f} to {band.end:.2f} m/s ({low:.2f} to {high:.2f} lengths)"
    return f"from {number_words(band.start, vary)} to {number_words(band.end, vary)}"
