"""The JSON of how far a shot, or a ladder's steps, may be off."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from stunline.shot.band import Interval, ShotBand
from stunline.shot.ladder_band import LadderBand, Step
from stunline.shot.outcome import Outcome
from stunline.shot.readouts import Readouts
from stunline.tasks.doubt_shape import doubt_shape
from stunline.units import millimetres

Shape = dict[str, Any]
_NAMES = tuple(each.name for each in fields(Readouts))


def band_shape(band: ShotBand) -> Shape:
    """The block ``doubt`` of a shot: whose doubt, intervals by read-out, where else it ends."""
    intervals = band.readouts
    return {
        **doubt_shape(band.doubt, band.tables),
        "same": band.same,
        "others": [{"tables": count, **outcome_shape(other)} for other, count in band.others],
        "intervals": {
            name: interval_shape(intervals[name]) for name in _NAMES if name in intervals
        },
        "rest": _rest(band),
    }


def _rest(band: ShotBand) -> Shape | None:
    """Where the white rests on the tables on which it meets the same."""
    whole, region = band.whole, band.rest_region
    if whole is None or region is None:
        return None
    at = band.rest_from_cushions
    return {
        "tables": len(whole.rests),
        "played": whole.plays,
        "x": interval_shape(at["x"]),
        "y": interval_shape(at["y"]),
        "region": [[millimetres(x), millimetres(y)] for x, y in region.tolist()],
    }


def interval_shape(one: Interval | None) -> Shape | None:
    """The middle 90 %."""
    return None if one is None else {"low": one.low, "high": one.high, "tables": one.tables}


def steps_shape(band: LadderBand) -> list[Shape]:
    """From each rung to the next."""
    return [_step(number, step) for number, step in enumerate(band.steps)]


def _step(number: int, step: Step) -> Shape:
    return {
        "from": number,
        "to": number + 1,
        "moved": step.moved_mm,
        "moved_interval": interval_shape(step.moved),
        "further": step.run_mm,
        "further_interval": interval_shape(step.run),
    }


def outcome_shape(outcome: Outcome) -> Shape:
    """What a shot comes to."""
    return {
        "object_ball": outcome.object_ball or None,
        "pot_made": outcome.pot_made,
        "meets": outcome.meets or None,
        "on": outcome.on,
        "in_off": outcome.in_off or None,
        "cushions": outcome.cushions,
        "words": outcome.sentence(),
    }
