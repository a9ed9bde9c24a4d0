"""What a search for a goal found, as lines of text."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stunline.planning.option import Option
from stunline.planning.relax import Relaxation
from stunline.shot.aiming.strike_limits import tip_limits
from stunline.shot.miscue import is_past_advised, miscue_chance
from stunline.shot.words import arrival_phrase, with_article
from stunline.tasks.choose_strike import LETTERS, ChoiceResult
from stunline.tasks.goal_words import (
    chance_words,
    fault_words,
    goal_words,
    margin_words,
    option_kind_words,
    player_words,
    ranges_words,
)
from stunline.tasks.lines import (
    columns,
    fine_length_words,
    heading,
    height_words,
    length_words,
    side_words,
    wrapped,
)
from stunline.tasks.table_words import basis_words, table_line
from stunline.units import degrees, millimetres

_SLIPS_OFTEN = 0.05  # a miscue in so many strokes is told of [-]
_UNBROKEN = "\u00a0"  # between a number and its sign
_NAMES = ("aim", "pace", "height", "side")


def choice_lines(result: ChoiceResult) -> Iterator[str]:
    """What ``stunline choose`` prints."""
    choice, file = result.choice, result.file
    yield from heading(file)
    yield ""
    yield from columns(
        [
            ("goal", goal_words(choice.request.goal, file)),
            ("searched", f"{ranges_words(choice.request, file)}: {_count(result)}"),
            ("player", player_words(choice.request.player, file)),
        ]
    )
    if not choice.options:
        yield ""
        yield from _nothing(result)
        return
    for letter, option in zip(LETTERS, choice.options, strict=False):
        yield ""
        yield from _option_lines(result, letter, option)
    yield ""
    yield from wrapped(_closing(result))


def _count(result: ChoiceResult) -> str:
    choice = result.choice
    return f"{choice.met:,} of {choice.tried:,} strikes meet the goal"


def _closing(result: ChoiceResult) -> str:
    more = result.choice.more
    others = f" {more} smaller ways were not looked into." if more else ""
    return (
        "The chance is that of the player's strokes on the table as it is thought to be, with its "
        "95 % interval; each margin says how far that number may be off alone. "
        f"{_tables(result)}Best chance first; of near-equal ones the plainer stroke.{others}"
    )


def _tables(result: ChoiceResult) -> str:
    on_tables = result.choice.options[0].on_tables
    if on_tables is None:
        return ""
    return (
        f"On such tables: {basis_words(on_tables.doubt)}; the chance with the player's errors, "
        "which the order goes by, and on how many of the tables the strike does it without any. "
    )


def _option_lines(result: ChoiceResult, letter: str, option: Option) -> Iterator[str]:
    file = result.file
    edge = ""
    if option.is_knife_edge(result.choice.request.player):
        edge = ": a knife-edge that forgives next to nothing, not to be played for"
    yield f"{letter}  {chance_words(option.chance)}, {option_kind_words(option.kind)}{edge}"
    yield from columns(
        [
            ("strike", strike_words(result, option)),
            *(("tip", said) for said in _tip_words(result, option)),
            ("arrives", arrival_phrase(option.follow_ratio)),
            *(("on such tables", said) for said in _table_words(option)),
            *(
                (f"{name} may be", margin_words(name, option.margins[name], file))
                for name in _NAMES
            ),
            (
                "fails first",
                fault_words(option.fault, file) if option.fault else "nothing within reach",
            ),
        ]
    )


def _table_words(option: Option) -> Iterator[str]:
    if option.on_tables is not None:
        yield table_line(option.on_tables).replace(" %", f"{_UNBROKEN}%")


def _tip_words(result: ChoiceResult, option: Option) -> Iterator[str]:
    """Where the tip slips off often, or is further out than is advised."""
    file, strike = result.file, option.strike
    player = result.choice.request.player
    share = miscue_chance(file.position, strike.height, strike.side, player)
    slips = f"slips off on {100.0 * share:.0f} % of these strokes, counted in the chance"
    if is_past_advised(file.position, strike.height, strike.side):
        advised = fine_length_words(file, millimetres(tip_limits(file.position)[0]))
        yield f"past the advised limit of {advised}; {slips}"
    elif share >= _SLIPS_OFTEN:
        yield slips


def strike_words(result: ChoiceResult, option: Option) -> str:
    """ "1.93 m/s, 1.55 lengths, 6.2 mm above centre, no side"."""
    strike, file = option.strike, result.file
    parts = [
        f"{strike.pace:.2f} m/s",
        f"{result.lengths(strike.pace):.2f} lengths",
        height_words(file, round(millimetres(strike.height), 1)),
        side_words(file, round(millimetres(strike.side), 1)),
    ]
    if strike.elevation > 0.0:
        parts.append(f"butt raised {degrees(strike.elevation):.1f}°")
    return ", ".join(parts)


def _nothing(result: ChoiceResult) -> Iterator[str]:
    choice = result.choice
    if not choice.complete:
        yield from wrapped("Stopped before any strike that meets the goal was found.")
        return
    yield from wrapped("No strike of these meets the goal.")
    if not choice.relaxations:
        yield from wrapped(
            "No single demand or range helps when it alone gives way: ask for less in two of them."
        )
        return
    yield from wrapped("What would help, one at a time:")
    yield ""
    yield from columns([(one.what, relaxation_words(result, one)) for one in choice.relaxations])


def relaxation_words(result: ChoiceResult, one: Relaxation) -> str:
    """ "the area 42 mm larger: then 1.90 m/s, 3.0 mm above centre"."""
    file = result.file
    strike = one.strike
    then = ", ".join(
        [
            f"{strike.pace:.2f} m/s",
            height_words(file, round(millimetres(strike.height), 1)),
            side_words(file, round(millimetres(strike.side), 1)),
        ]
    )
    return f"{_given_way(result, one)}; then {then}"


def _given_way(result: ChoiceResult, one: Relaxation) -> str:
    file, goal = result.file, result.choice.request.goal
    white = with_article(file.position.names[0])
    length = length_words(file, math.ceil(millimetres(one.by)))
    if one.to is not None:
        value = (
            f"{one.to:.2f} m/s"
            if one.what == "pace"
            else fine_length_words(file, millimetres(one.to))
        )
        return f"{one.what} as far as {value}"
    if one.what == "pot":
        return f"the pot missed, the ball {degrees(one.by):.1f}° beside the middle of the pocket"
    if one.what == "meet":
        assert goal.meet is not None
        return f"{with_article(goal.meet.ball)} met otherwise, or missed: {length} further over"
    if one.what == "through":
        return f"the gap {length} wider on the side it passes"
    if one.what == "rest":
        return f"the area {length} larger"
    if one.what == "next":
        return f"a cut {degrees(one.by):.0f}° out of its range"
    if one.what == "touch":
        return f"a ball not touched, but passed at {length}"
    if one.what == "miss":
        return f"a ball touched, by {length}" if math.isfinite(one.by) else "a ball touched"
    if one.what == "cushions":
        count = int(one.by)
        return f"{count} cushion{'s' if count > 1 else ''} more or less"
    return f"{white} going in-off"
