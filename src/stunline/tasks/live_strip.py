"""The strip beside a live play: what each pace, or each height, does with all else held.

A pot is aimed again for each value, as a ladder does; a contact or an aim is held as the
document's own strike has it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from stunline.drawing.ladder_strip import strip_of_ladder
from stunline.drawing.page import FRAME_MARGIN
from stunline.drawing.screen_plan import screen_medium
from stunline.drawing.strip import drawing_of_strip
from stunline.drawing.strip_layout import UNIT_ROOM, Strip, StripMark
from stunline.drawing.svg import svg
from stunline.drawing.theme import THEMES
from stunline.errors import InputError, UnsolvableShotError
from stunline.shot.aiming.pot_along import PotAlong
from stunline.shot.aiming.solve import pace_of, solve
from stunline.shot.aiming.strike_limits import named_height, tip_limits
from stunline.shot.ladder import Band, Ladder, find_bands_at_once
from stunline.shot.outcome import Outcome
from stunline.shot.outcomes_at_once import OutcomesAtOnce
from stunline.shot.position import (
    Arrive,
    Height,
    LadderPlan,
    NamedHeight,
    Pace,
    Position,
    PotAim,
    StrikePlan,
)
from stunline.shot.rung import RungPlayer
from stunline.shot.strikes_along import TO_A_PIXEL
from stunline.tasks.error_shape import error_shape
from stunline.tasks.kept_bands import KeptBands, Varied
from stunline.tasks.live_document import check_document
from stunline.tasks.live_request import LiveRequest, StripOf, read_request
from stunline.tasks.pace_ruler import lengths_ruler
from stunline.units import MILLIMETRES_PER_INCH

# Values tried over the span, before changes are closed in on. Bands narrower than an 80th of
# it may be stepped over: on a strip as wide as a screen that is a finger's width.
SCANNED = 81
# Changes are closed in to this part of the span: half a pixel of a strip across a large screen.
CHANGE_TOLERANCE = 3e-4
# The same while something moves: half as many, and three pixels. What is at rest gets all.
MOVING_SCANNED = 41
MOVING_TOLERANCE = 2.5e-3
# Values over the span that are aimed first, for those at which the pot can't be made.
_AIMED_FIRST = 5
# Of words over narrow bands: as high as one with a legend, for which the page keeps the place.
_NARROW_ROWS = 2
# The span of paces: from a touch to a hard stroke, further only when the pace asked for lies
# beyond, so that the ruler stands still while the pace is slid. [m s⁻¹]
_SLOWEST, _VERY_SLOWEST = 0.4, 0.02
_FASTEST = (4.0, 6.0, 10.0, 15.0)


class _CancelledError(Exception):
    """The strip is no longer wanted."""


def live_strip(
    request: Mapping[str, Any],
    folder: Path | None = None,
    cancelled: Callable[[], bool] = lambda: False,
    kept: KeptBands | None = None,
) -> dict[str, Any] | None:
    """The strip for one message of the page.

    Args:
        request: as for ``live_play``, "strip" being "pace" or "height", "strip_width" its
            width on the screen [px]
        folder: as for ``live_play``
        cancelled: asked every few plays whether the strip is no longer wanted
        kept: where bands are looked up before they are played, and kept

    Returns:
        Plain data for JSON, with the key "fault" when there is none to show; None once
        cancelled, or when no strip was asked for.
    """
    asked = read_request(request)
    if asked.strip is None:
        return None
    read = check_document(asked.document, folder)
    if read.playable is None:
        return _fault(asked, InputError(read.faults))
    try:
        varied = _varied(read.playable.position, read.playable.plan, asked.strip)
        moving = not asked.words
        find = partial(bands_over, varied, cancelled, moving)
        bands = () if asked.hidden else (kept or KeptBands()).found(varied, moving, find)
        return _shown(asked, varied, bands)
    except UnsolvableShotError as refusal:
        return _fault(asked, refusal)
    except _CancelledError:
        return None


def _fault(asked: LiveRequest, error: InputError | UnsolvableShotError) -> dict[str, Any]:
    return {"strip": asked.play, "fault": error_shape(error)["error"]}


def bands_over(
    varied: Varied, cancelled: Callable[[], bool], moving: bool = False
) -> tuple[Band, ...]:
    """The bands over the span; coarser ones while something moves.

    Raises:
        UnsolvableShotError: the shot can't be solved at all.
        _CancelledError: as soon as ``cancelled`` says so.
    """
    ladder = LadderPlan(varied.vary, _aimed_first(varied))
    player = RungPlayer(varied.position, varied.plan, ladder, TO_A_PIXEL, PotAlong().solve)

    def look() -> None:
        if cancelled():
            raise _CancelledError

    look()
    outcomes_at = OutcomesAtOnce(player, varied.low, varied.high, look)
    scanned, tolerance = (
        (MOVING_SCANNED, MOVING_TOLERANCE) if moving else (SCANNED, CHANGE_TOLERANCE)
    )
    return find_bands_at_once(outcomes_at, varied.low, varied.high, scanned, tolerance)


def _varied(position: Position, plan: StrikePlan, vary: StripOf) -> Varied:
    """The plan with numbers where the strip needs them, and the span of the ruler."""
    if vary == "pace":
        pace = pace_of(position, plan)
        low = _SLOWEST if pace >= _SLOWEST else _VERY_SLOWEST
        high = next((one for one in _FASTEST if pace <= one), _FASTEST[-1])
        return Varied(position, plan, vary, low, high)
    if isinstance(plan.height, Arrive):
        plan = replace(plan, height=solve(position, plan).strike.height)
    if isinstance(plan.height, NamedHeight):
        plan = replace(plan, height=named_height(position, plan.height, plan.side))
    _, slips = tip_limits(position)
    most = math.sqrt(max(slips**2 - plan.side**2, 0.0))
    return Varied(position, plan, vary, -most, most)


def _aimed_first(varied: Varied) -> tuple[float | Pace | Height, ...]:
    """Values whose aim those are played along at which the pot can't be made.

    They are the ruler's own, so that the bands are the same wherever the pace is set. An aim
    that is held is held as the document's own strike has it.
    """
    if not isinstance(varied.plan.aim, PotAim):
        return (varied.plan.pace if varied.vary == "pace" else varied.plan.height,)
    step = (varied.high - varied.low) / (_AIMED_FIRST - 1)
    return tuple(varied.low + number * step for number in range(_AIMED_FIRST))


def _shown(asked: LiveRequest, varied: Varied, bands: tuple[Band, ...]) -> dict[str, Any]:
    strip = _strip(asked, varied, bands)
    width = asked.strip_width - 2 * FRAME_MARGIN
    shown = _in_inches(strip) if asked.in_inches and varied.vary == "height" else strip
    drawing = drawing_of_strip(shown, width, "strip", screen_medium((width, width)))
    return {
        "strip": asked.play,
        "of": varied.vary,
        "svg": svg(drawing, THEMES[asked.theme], embed_font=False),
        "bands": [
            {"start": band.start, "end": band.end, "words": band.words} for band in strip.bands
        ],
        "start": strip.start,
        "end": strip.end,
        "unit": strip.unit,
        # Where the ruler's ends stand: between them a value's place is in proportion. [px]
        "ruler": [FRAME_MARGIN + UNIT_ROOM, FRAME_MARGIN + width],
    }


def _strip(asked: LiveRequest, varied: Varied, bands: tuple[Band, ...]) -> Strip:
    is_pace = varied.vary == "pace"
    in_lengths = is_pace and asked.second_ruler
    second = lengths_ruler(varied.position, varied.low, varied.high) if in_lengths else None
    whole = bands or (Band(varied.low, varied.high, _UNTOLD),)
    ladder = Ladder(varied.position, varied.plan, varied.vary, (), whole, (), False)
    strip = strip_of_ladder(ladder, second, numbered=True)
    assert strip is not None
    return replace(
        strip,
        bands=strip.bands if bands else (),
        marks=_pinned(asked, strip),
        narrow_rows=_NARROW_ROWS,
    )


def _in_inches(strip: Strip) -> Strip:
    """The strip of a length, with its ruler in inches instead of millimetres."""
    inch = MILLIMETRES_PER_INCH
    return replace(
        strip,
        unit="in",
        start=strip.start / inch,
        end=strip.end / inch,
        bands=tuple(
            replace(one, start=one.start / inch, end=one.end / inch) for one in strip.bands
        ),
        marks=tuple(replace(one, value=one.value / inch) for one in strip.marks),
    )


# Stands where the answer is kept back; its words are never shown.
_UNTOLD = Outcome("", None, None, "", None, "")


def _pinned(asked: LiveRequest, strip: Strip) -> tuple[StripMark, ...]:
    """The pinned strikes' numbers, at their values."""
    assert asked.strip is not None
    values = (one.get(asked.strip) for one in asked.pinned)
    return tuple(
        StripMark(float(value), "", str(number))
        for number, value in enumerate(values, 1)
        if isinstance(value, int | float) and strip.start <= value <= strip.end
    )
