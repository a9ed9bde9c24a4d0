"""A goal, a strike's margins and its chance, in words."""

from __future__ import annotations

from collections.abc import Iterator

from stunline.equipment.player import Player
from stunline.planning.margins import FirstFault, Margin
from stunline.planning.request import Request
from stunline.planning.scatter import Chance
from stunline.shot.goal import CircleArea, Goal, NamedArea, RestArea
from stunline.shot.outcome import count_of_cushions
from stunline.shot.position_file import PositionFile
from stunline.shot.words import with_article
from stunline.tasks.lines import fine_length_words, length_words
from stunline.units import degrees, millimetres

_MISSED_BY = ("soft", "firm")
_SIDES = {
    "aim": ("right", "left"),
    "pace": _MISSED_BY,
    "height": ("low", "high"),
    "side": ("left", "right"),
}


def goal_words(goal: Goal, file: PositionFile) -> str:
    """ "pot the black, top right; the white then meets red 7 on its left side"."""
    white = with_article(file.position.names[0])
    parts = list(_demands(goal, file, white))
    return "; ".join(parts)


def _demands(goal: Goal, file: PositionFile, white: str) -> Iterator[str]:
    if goal.pot is not None:
        yield f"pot {with_article(goal.pot.ball)}, {goal.pot.pocket}"
    if goal.meet is not None:
        low, high = goal.meet.thickness
        how = f" on its {goal.meet.on} side" if goal.meet.on else ""
        thick = "" if (low, high) == (0.0, 1.0) else f", thickness {low:g} to {high:g}"
        yield f"{white} then meets {with_article(goal.meet.ball)}{how}{thick}"
    if goal.through is not None:
        first, second = goal.through.between
        yield f"{white} passes between {with_article(first)} and {with_article(second)}"
    if goal.rest is not None:
        yield f"{white} rests {area_words(goal.rest, file)}"
    if goal.next is not None:
        balls = goal.next.balls
        ball = with_article(balls[0]) if len(balls) == 1 else f"one of {len(balls)} balls"
        low, high = (degrees(angle) for angle in goal.next.cut)
        yield f"{ball} can be potted next, cut {low:.0f} to {high:.0f}°"
    if goal.touch:
        yield f"{white} touches " + " and ".join(with_article(ball) for ball in goal.touch)
    if goal.miss:
        yield f"{white} misses " + " and ".join(with_article(ball) for ball in goal.miss)
    if goal.cushions is not None:
        few, many = goal.cushions
        yield count_of_cushions(many) if few == many else f"{few} to {many} cushions"
    if goal.in_off is False:
        yield "no in-off"


def area_words(area: RestArea, file: PositionFile) -> str:
    """ "within 150 mm of (889, 1784) mm", "in the D"."""
    if isinstance(area, CircleArea):
        x, y = (millimetres(value) for value in area.centre)
        radius = length_words(file, millimetres(area.radius))
        left, up = length_words(file, x), length_words(file, y)
        bottom, _, _, side = file.position.table.words.cushions
        return f"within {radius} of {left} from the {side} and {up} from the {bottom} cushion"
    if isinstance(area, NamedArea):
        words = file.position.table.words
        return "in the D" if area.name == "D" else f"in {words.behind_line}"
    return f"within an area of {len(area.corners)} corners"


def ranges_words(request: Request, file: PositionFile) -> str:
    """ "pace 0.80 to 3.00 m/s, height −12.0 to 12.0 mm, no side"."""
    ranges = request.ranges
    low, high = ranges.pace
    parts = [f"pace {low:.2f} m/s" if low == high else f"pace {low:.2f} to {high:.2f} m/s"]
    for name in ("height", "side"):
        low, high = (millimetres(value) for value in getattr(ranges, name))
        if low == high == 0.0:
            parts.append("centre height" if name == "height" else "no side")
        elif low == high:
            parts.append(f"{name} {fine_length_words(file, low)}")
        else:
            parts.append(
                f"{name} {fine_length_words(file, low)} to {fine_length_words(file, high)}"
            )
    return ", ".join(parts) + (" (the usual ranges)" if ranges.usual else "")


def player_words(player: Player, file: PositionFile) -> str:
    """The player, and how far off usual strokes are."""
    height = fine_length_words(file, millimetres(player.height))
    side = fine_length_words(file, millimetres(player.side))
    return (
        f"{player.title}: aim within {degrees(player.aim):.2f}°, pace {100.0 * player.pace:.0f} %, "
        f"height {height}, side {side} two times in three ({player.source})"
    )


def chance_words(chance: Chance) -> str:
    """ "7 in 10 (68 to 72 %)", "3 in 100 (2 to 4 %)", "no stroke in 4,096"."""
    low, high = (100.0 * end for end in chance.interval)
    if chance.hits == 0:
        return f"no stroke in {chance.plays:,}"
    if chance.share >= 0.995 and chance.hits < chance.plays:
        return f"99 in 100 ({low:.1f} to {high:.1f} %)"
    if chance.share >= 0.1:
        tenths = round(10.0 * chance.share)
        return f"{tenths} in 10 ({low:.0f} to {high:.0f} %)"
    return f"{max(round(100.0 * chance.share), 1)} in 100 ({low:.1f} to {high:.1f} %)"


def off_words(name: str, off: float, file: PositionFile) -> str:
    """ "0.08° left", "3 % firm", "2.1 mm high"."""
    word = _SIDES[name][off > 0.0]
    return f"{_amount(name, abs(off), file)} {word}"


def margin_words(name: str, margin: Margin, file: PositionFile) -> str:
    """ "0.19° right, 0.08° left"; "any" where nothing fails as far as was looked."""
    parts = []
    for off, word in zip((margin.minus, margin.plus), _SIDES[name], strict=True):
        parts.append(f"any {word}" if off is None else f"{_amount(name, off, file)} {word}")
    return ", ".join(parts)


def fault_words(fault: FirstFault, file: PositionFile) -> str:
    """ "3 % firm: meets the pink"."""
    return f"{off_words(fault.name, fault.off, file)}: {fault.what}"


def _amount(name: str, off: float, file: PositionFile) -> str:
    """Less than the last digit shows is told as that, never as nothing."""
    if name == "aim":
        return "under 0.01°" if degrees(off) < 0.005 else f"{degrees(off):.2f}°"
    if name == "pace":
        if off < 0.0005:
            return "under 0.1 %"
        return f"{100.0 * off:.0f} %" if off >= 0.0095 else f"{100.0 * off:.1f} %"
    if millimetres(off) < 0.05:
        return f"under {fine_length_words(file, 0.1)}"
    return fine_length_words(file, millimetres(off))


def option_kind_words(kind: str) -> str:
    """ "with side" for a stroke that has any; the others as they are called."""
    return "with side" if kind == "side" else kind
