"""Where the white can go, and where it may stand beforehand, as lines of text."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from stunline.planning.examples import widest_circle
from stunline.planning.reach_at import Pointed
from stunline.planning.regions import KINDS, kind_of
from stunline.planning.strike_space import strike_of
from stunline.shot.miscue import is_past_advised, miscue_words
from stunline.shot.position import PotAim, Strike
from stunline.shot.position_file import PositionFile
from stunline.shot.words import with_article
from stunline.tasks.choose_strike import LETTERS
from stunline.tasks.lines import (
    columns,
    fine_length_words,
    heading,
    height_words,
    length_words,
    side_words,
    wrapped,
)
from stunline.tasks.reach_places import FromResult, ReachResult
from stunline.units import degrees, millimetres

_PERCENT = 100.0
_UNBROKEN = "\u00a0"  # between a number and its sign
_HEAD = ("", "kind", "rests at", "asks", "strike")


def example_name(number: int) -> str:
    """ "A", "D", … as on the plan: letters that no ball has."""
    return LETTERS[number]


def reach_lines(result: ReachResult) -> Iterator[str]:
    """What ``stunline reach`` prints."""
    yield from heading(result.file)
    yield ""
    if result.pointed is not None:
        yield from _pointed_lines(result, result.pointed)
        return
    yield from wrapped(_share_words(result))
    if result.examples:
        yield ""
        yield from columns([_HEAD, *_example_rows(result)])
    yield ""
    yield from wrapped(
        "Each place has the strike that asks least of those found. What a strike asks: how far the "
        "tip is from a plain follow (a fifth of the radius above centre), over the advised height, "
        "sideways counted 1.5 times; one for each doubling of the pace above 1.9 m/s or halving "
        "below 0.89; a quarter for stun, a half for screw, three quarters for side; one for "
        "meeting another ball on the way; one for 20° of elevation. The weights are assumptions."
    )
    said = _advised_words(result)
    if said:
        yield ""
        yield from wrapped(said)


def _advised_words(result: ReachResult) -> str:
    """What the outermost heights of the range risk, where they go past the advised limit."""
    ranges, position = result.reach.request.ranges, result.file.position
    outermost = max(ranges.height, key=abs)
    if not is_past_advised(position, outermost, 0.0):
        return ""
    return "At the end of the heights looked at: " + miscue_words(
        position, outermost, 0.0, lengths=lambda mm: fine_length_words(result.file, mm)
    ).removeprefix("The ").replace("tip is", "the tip is", 1)


def _share_words(result: ReachResult) -> str:
    file, reach = result.file, result.reach
    white = with_article(file.position.names[0])
    kinds = reach.kinds
    rest, over = int(reach.reached.sum()), int((reach.passed & ~reach.reached).sum())
    side = length_words(file, millimetres(reach.raster.cell))
    asked = _made_words(result)
    if rest == 0:
        return f"{asked} none of {reach.tried:,} strikes leaves {white} on the table."
    parts = [
        f"{KINDS[kind]} {100.0 * (kinds == kind).sum() / rest:.0f}{_UNBROKEN}%"
        for kind in range(len(KINDS))
        if (kinds == kind).any()
    ]
    return (
        f"{asked} {white} can rest on {_of_table(rest, len(kinds))} of the table: of that "
        f"{', '.join(parts)}. It can pass over another {_of_table(over, len(kinds))} on its way to "
        f"the next ball. Looked at in squares of {side}, with {reach.tried:,} strikes."
    )


def _of_table(count: int, cells: int) -> str:
    return f"{100.0 * count / cells:.0f}{_UNBROKEN}%"


def _made_words(result: ReachResult) -> str:
    asked = result.reach.request
    ranges = asked.ranges
    pace = _span_words(*ranges.pace, "{:.2f} m/s")
    up = [
        height_words(result.file, round(millimetres(one), 1)).removeprefix("at ")
        for one in ranges.height
    ]
    height = f"struck {' to '.join(dict.fromkeys(up))}"
    if isinstance(asked.aim, PotAim):
        what = f"{with_article(asked.aim.ball).capitalize()} to the {asked.aim.pocket} pocket"
    else:
        what = "With the file's aim"
    return ", ".join(part for part in (what, f"paces {pace}", height) if part) + ":"


def _span_words(low: float, high: float, form: str) -> str:
    return form.format(low) if low == high else f"{low:.2f} to {form.format(high)}"


def _example_rows(result: ReachResult) -> Iterator[tuple[str, ...]]:
    reach = result.reach
    for number, cell in enumerate(result.examples):
        x, y = (length_words(result.file, millimetres(one)) for one in reach.rests[cell])
        yield (
            example_name(number),
            KINDS[int(reach.kinds[cell])],
            f"{x} across, {y} up",
            f"{reach.demands[cell]:.1f}",
            strike_words(result.file, strike_of(reach.rows[cell]), result),
        )


def strike_words(file: PositionFile, strike: Strike, result: ReachResult | FromResult) -> str:
    """ "1.42 m/s (1.3 lengths), 5.2 mm above centre"."""
    parts = [
        f"{strike.pace:.2f} m/s ({result.lengths(strike.pace):.1f} lengths)",
        height_words(file, round(millimetres(strike.height), 1)),
    ]
    if is_past_advised(file.position, strike.height, strike.side):
        parts[-1] += " (past the advised limit)"
    if strike.side:
        parts.append(f"side {side_words(file, round(millimetres(strike.side), 1))}")
    if strike.elevation:
        parts.append(f"butt raised {degrees(strike.elevation):.0f}°")
    return ", ".join(parts)


def _pointed_lines(result: ReachResult, pointed: Pointed) -> Iterator[str]:
    file = result.file
    x, y = (length_words(file, millimetres(one)) for one in pointed.place)
    place = f"{x} across, {y} up"
    if pointed.strike is None or pointed.rest is None:
        yield from wrapped(f"{place}: no strike of the range makes the shot at all.")
        return
    strike = strike_words(file, pointed.strike, result)
    kind = kind_of(pointed.follow_ratio, pointed.strike.side)
    if pointed.is_there:
        off = fine_length_words(file, millimetres(pointed.away))
        yield from wrapped(
            f"{place}: {kind}, {strike}; aim {degrees(pointed.strike.aim):.3f}°. Played, "
            f"it rests {off} from there{_by_way_of(pointed)}; it asks {pointed.demand:.1f}."
        )
        return
    yield from wrapped(why_not(result, pointed, place, kind, strike))


def _by_way_of(pointed: Pointed) -> str:
    return f", off {with_article(pointed.meets)}" if pointed.meets else ""


def why_not(result: ReachResult, pointed: Pointed, place: str, kind: str, strike: str) -> str:
    """The sentence for a place at which nothing rests."""
    file = result.file
    assert pointed.rest is not None
    near = [length_words(file, millimetres(one)) for one in pointed.rest]
    away = length_words(file, millimetres(pointed.away))
    white = with_article(file.position.names[0])
    blocking = _ball_there(file, pointed)
    because = f", where {with_article(blocking)} stands" if blocking else ""
    told = (
        f"{place}: no strike found leaves {white} there{because}. The nearest place is {away} "
        f"away, {near[0]} across, {near[1]} up{_by_way_of(pointed)}: {kind}, {strike}."
    )
    if pointed.over is not None:
        told += f" It can pass over it: {strike_words(file, pointed.over, result)}."
    return told


def _ball_there(file: PositionFile, pointed: Pointed) -> str:
    """The ball that the place is covered by before the strike, or ""."""
    position = file.position
    white = position.names[0]
    for name in position.names[1:]:
        apart = position.radius(white) + position.radius(name)
        if np.hypot(*np.subtract(position.balls[name], pointed.place)) < apart:
            return name
    return ""


def from_lines(result: FromResult) -> Iterator[str]:
    """What ``stunline reach --from`` prints."""
    yield from heading(result.file)
    yield ""
    yield from wrapped(_from_words(result))
    circle = widest_circle(result.places.raster, result.places.safe)
    if circle is not None:
        yield ""
        yield from wrapped(_middle_words(result, *circle))


def _from_words(result: FromResult) -> str:
    places, file = result.places, result.file
    white = with_article(file.position.names[0])
    pace = f"{_PERCENT * places.pace_off:.0f}{_UNBROKEN}%"
    margins = f"the aim {degrees(places.aim_off):.2f}° and the pace {pace} off"
    safe, met = int(places.safe.sum()), int(places.met.sum())
    side = millimetres(places.raster.cell)
    area = (side / 1000.0) ** 2
    asked = places.request
    ball = with_article(getattr(asked.aim, "ball", ""))
    if met == 0:
        return (
            f"From nowhere on the table does a plain follow meet the goal ({places.plays:,} plays "
            f"from {int(places.tried.sum()):,} places, paces "
            f"{_span_words(*asked.ranges.pace, '{:.2f} m/s')})."
        )
    told = (
        f"A plain follow on {ball} meets the goal from {area * met:.2f} m² of the table, and still "
        f"does with {margins} from {area * safe:.2f} m² of it: leave {white} there. "
        f"Looked at every {length_words(file, side)}, with {places.plays:,} plays."
    )
    if safe == 0:
        told = (
            f"A plain follow on {ball} meets the goal from {area * met:.2f} m² of the table, but "
            f"from nowhere with {margins}. Smaller margins may do: --aim-off, --pace-off."
        )
    return told


def _middle_words(result: FromResult, cell: int, radius: float) -> str:
    places, file = result.places, result.file
    x, y = (length_words(file, millimetres(one)) for one in places.raster.middles()[cell])
    strike = strike_words(file, strike_of(places.rows[cell]), result)
    return (
        f"Its widest part: within {length_words(file, millimetres(radius))} of {x} across, {y} up. "
        f"From its middle: {strike}."
    )
