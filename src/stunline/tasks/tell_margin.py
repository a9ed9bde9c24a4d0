"""How much a strike forgives, as lines of text."""

from __future__ import annotations

from collections.abc import Iterator

from stunline.equipment.player import Player
from stunline.planning.margins import FARTHEST, NAMES, FirstFault, Margin
from stunline.planning.scatter import Chance
from stunline.planning.table_doubt import TableChance
from stunline.shot.position_file import PositionFile
from stunline.tasks.goal_words import goal_words, player_words
from stunline.tasks.lines import (
    columns,
    fine_length_words,
    heading,
    wrapped,
)
from stunline.tasks.margin_of_strike import MarginResult
from stunline.tasks.strike_words import strike_words
from stunline.tasks.table_words import basis_words, table_rows
from stunline.units import degrees, millimetres

_PERCENT = 100.0
# Kinds of fault rarer than this are told together. [-]
_LEAST_SHARE = 0.001
_MOST_ROWS = 10
_TENTHS = 10
_RARE = 0.1  # rarer than this is not told in figures [%]
# What the two ways of each number are called: less, more.
WAYS = {
    "aim": ("to the right", "to the left"),
    "pace": ("softer", "firmer"),
    "height": ("lower", "higher"),
    "side": ("to the left", "to the right"),
}


def margin_lines(result: MarginResult) -> Iterator[str]:
    """What ``stunline margin`` prints."""
    file, study = result.file, result.study
    yield from heading(file)
    yield ""
    yield from columns(
        [
            ("goal", _goal(result)),
            ("strike", strike_words(file, result.strike)),
            ("player", player_words(study.asked.player, file)),
        ]
    )
    yield ""
    yield from _chance_lines(result)
    yield ""
    if study.margins is None:
        yield from wrapped(
            f"This strike misses the goal even without any error: {study.alone}. So it has no "
            "margins: change the strike, or let stunline choose look for one."
        )
    else:
        yield "Off alone, the goal still met:"
        yield ""
        yield from columns(margin_rows(file, study.margins, study.asked.strike.pace))
        yield ""
        yield from wrapped(first_fault_words(file, study.fault, study.asked.player))
    if study.on_tables is not None:
        yield ""
        yield from table_lines(study.on_tables, study.margins is not None)
    if study.played:
        yield ""
        yield "What goes wrong, of all strokes:"
        yield ""
        yield from columns([*kind_rows(result)])
        yield ""
        yield from wrapped(
            "Errors of aim, pace, height and side are drawn together, each by its own deviation "
            f"from the middle (seed {study.asked.seed}). A share is followed by its 95 % interval."
        )


def table_lines(one: TableChance, meets: bool) -> Iterator[str]:
    """The table's doubt, told apart from the player's errors.

    Args:
        meets: whether the strike without error meets the goal
    """
    yield from wrapped(f"On tables that this one may be ({basis_words(one.doubt)}):")
    yield ""
    yield from columns(table_rows(one, meets))


def _goal(result: MarginResult) -> str:
    words = goal_words(result.asked.goal, result.file)
    return f"{words} (no [goal]: held to what the strike does)" if result.own else words


def _chance_lines(result: MarginResult) -> Iterator[str]:
    study = result.study
    if not study.played:
        yield "Nothing was played with errors yet."
        return
    chance = study.chance
    if not chance.hits:
        yield f"Chance: none of {chance.plays:,} strokes meet the goal."
        return
    words = f"Chance: {share_words(chance)}; {chance.hits:,} of {chance.plays:,} strokes meet it"
    yield from wrapped(f"{words}, {in_ten(chance.share)}.")


def in_ten(share: float) -> str:
    """ "about 7 in 10"; "less than 1 in 10" below half a tenth, "nearly 10 in 10" near 1."""
    tenths = round(_TENTHS * share)
    if tenths == 0:
        return "never" if share == 0.0 else "less than 1 in 10"
    if tenths == _TENTHS:
        return "always" if share == 1.0 else "nearly 10 in 10"
    return f"about {tenths} in 10"


def share_words(chance: Chance) -> str:
    """ "21 %, 20 to 22"."""
    low, high = chance.interval
    percent = _PERCENT * chance.share
    if 0.0 < percent < _RARE:
        return f"under {_RARE} %"
    digits = 0 if percent >= 10.0 or chance.hits == 0 else 1
    return f"{percent:.{digits}f} %, {_PERCENT * low:.{digits}f} to {_PERCENT * high:.{digits}f}"


def margin_rows(
    file: PositionFile, margins: dict[str, Margin], pace: float
) -> Iterator[tuple[str, ...]]:
    """Each number, by how much it may be off one way or the other, and what fails beyond."""
    for number, name in enumerate(NAMES):
        margin = margins[name]
        sides = (margin.minus, margin.fault_minus), (margin.plus, margin.fault_plus)
        for way, (off, what) in zip(WAYS[name], sides, strict=True):
            beyond = FARTHEST[number]
            told = f"up to {off_words(file, name, off, pace)}" if off is not None else "any"
            fails = (
                f"then {what}"
                if what
                else f"looked as far as {off_words(file, name, beyond, pace)}"
            )
            yield (name, way, told, fails)


def off_words(file: PositionFile, name: str, off: float, pace: float) -> str:
    """A margin in its own unit: degrees, per cent with m/s, or a length; cut off, not rounded."""
    if name == "aim":
        return f"{_cut(degrees(off), 3)}°"
    if name == "pace":
        return f"{_cut(_PERCENT * off, 1)} % ({_cut(off * pace, 2)} m/s)"
    return fine_length_words(file, millimetres(off), 1)


def _cut(value: float, decimals: int) -> str:
    """Towards zero: a margin that is told still holds."""
    scale = 10.0**decimals
    return f"{int(value * scale + 1e-9) / scale:.{decimals}f}"


def first_fault_words(file: PositionFile, fault: FirstFault | None, player: Player) -> str:
    """ "First to fail: 0.7 mm to the left: the black misses the pocket"."""
    if fault is None:
        return "No error of this player alone spoils it as far as was looked."
    deviation = {name: getattr(player, name) for name in NAMES}[fault.name]
    way = WAYS[fault.name][fault.off > 0.0]
    off = abs(fault.off)
    told = (
        f"{_PERCENT * off:.0f} %" if fault.name == "pace" else off_words(file, fault.name, off, 0.0)
    )
    name = "" if fault.name == "pace" else f"{fault.name} "
    times = off / deviation
    return (
        f"First to fail: {name}{told} {way}, {times:.1f} of this player's deviations: {fault.what}."
    )


def kind_rows(result: MarginResult) -> Iterator[tuple[str, ...]]:
    """What goes wrong how often."""
    few = 0
    kinds = result.study.kinds()
    if not kinds:
        yield ("nothing", "")
    for number, kind in enumerate(kinds):
        if (kind.chance.share < _LEAST_SHARE or number >= _MOST_ROWS) and number > 0:
            few += kind.chance.hits
            continue
        yield (share_words(kind.chance), kind.words)
    if few:
        yield (share_words(Chance(few, result.study.played)), "anything else")
