"""Which stroke was really played, in a coach's words."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from stunline.planning.seen import WHITE
from stunline.planning.stroke_prior import BAD_TIMES, NUMBERS
from stunline.planning.stroke_ways import Estimate, StrokeWay
from stunline.shot.happened import Happened
from stunline.shot.outcome import count_of_cushions, outcome
from stunline.shot.position_file import PositionFile
from stunline.shot.sentences import capital
from stunline.shot.shot import EventKind
from stunline.shot.words import with_article
from stunline.tasks.goal_words import off_words
from stunline.tasks.lines import length_words
from stunline.tasks.played_stroke import PlayedResult
from stunline.units import millimetres

# The order in which a coach speaks of them.
TOLD_ORDER = ("pace", "height", "side", "aim")
CANNOT_BE_TOLD = "can't be told from this"
_PERCENT = 100.0
_FEW = 50.0  # independent strokes: fewer leave an interval's ends off by a third of a deviation


def sentences(result: PlayedResult) -> Iterator[str]:
    """What is told, in a sentence or two: first the stroke, then what can't be told."""
    if not result.found.explained:
        yield from _unexplained(result)
        return
    if len(result.ways) > 1:
        either = [
            f"{_stroke_words(result.file, way)} ({_PERCENT * way.share:.0f} %; "
            f"{way_words(result, way)})"
            for way in result.ways
        ]
        yield f"You struck it either {', or '.join(either)}."
    else:
        yield f"You struck it {_stroke_words(result.file, result.whole)}."
    unknown = [one.name for one in in_order(result.whole) if not one.told]
    if unknown:
        what = " and ".join(unknown) if len(unknown) < 3 else ", ".join(unknown)
        yield f"{capital(what)}: {CANNOT_BE_TOLD}: as thought before, or hardly better."


def in_order(way: StrokeWay) -> list[Estimate]:
    """Its numbers, as a coach speaks of them."""
    return [way.number(name) for name in TOLD_ORDER]


def _stroke_words(file: PositionFile, way: StrokeWay) -> str:
    """ "12 % firm and 2.0 mm high"; where nothing is sure, what is likely or that nothing is."""
    told = [one for one in in_order(way) if one.told]
    sure = _joined(file, [one for one in told if one.off])
    if sure:
        return sure
    likely = _joined(file, [one for one in told if one.leans])
    if likely:
        return f"probably {likely}, though it may have been as it was meant"
    return "as it was meant, as far as this tells"


def _joined(file: PositionFile, numbers: list[Estimate]) -> str:
    words = [off_words(one.name, one.value, file) for one in numbers]
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def short_words(result: PlayedResult, way: StrokeWay) -> str:
    """The stroke as a label, "12 % firm, 2.0 mm high"; "as struck" where nothing is sure."""
    told = [one for one in in_order(way) if one.off or one.leans]
    words = ", ".join(off_words(one.name, one.value, result.file) for one in told)
    return words or "as it likely went"


def way_words(result: PlayedResult, way: StrokeWay) -> str:
    """ "the white meets red 7 on its left side, 2 cushions"."""
    shot = result.shot(way.best)
    came = outcome(shot, result.file.plan)
    if came.cushions is not None:
        return came.sentence()
    white = result.file.position.names[WHITE]
    met = sum(one.kind is EventKind.CUSHION and white in one.balls for one in shot.events)
    return f"{came.sentence()}, {count_of_cushions(met)}"


def _unexplained(result: PlayedResult) -> Iterator[str]:
    file = result.file
    white = with_article(file.position.names[WHITE])
    near, _, _, left = file.position.table.words.cushions
    yield (
        "No stroke near the one that was meant does what was seen, on any table that this may be. "
        f"The nearest is {_all_off(file, result)}: {nearest_words(result)}."
    )
    yield (
        f"Was a place written down right, from the {left} and from the {near} cushion, and is it "
        f"{white}'s? Did the balls stand where the file says, and is [strike] the strike that was "
        "meant?"
    )


def _all_off(file: PositionFile, result: PlayedResult) -> str:
    best = result.found.strokes[result.found.nearest]
    told = dict(zip(NUMBERS, best.tolist(), strict=True))
    return ", ".join(off_words(name, told[name], file) for name in TOLD_ORDER)


def nearest_words(result: PlayedResult) -> str:
    """How the nearest stroke differs from what was seen."""
    found, file = result.found, result.file
    number = found.nearest
    white = with_article(file.position.names[WHITE])
    parts = [outcome(result.shot(number), file.plan).sentence()]
    rest, wanted = found.rests[number], result.happened.white_rest
    if np.isnan(rest[0]):
        parts.append(f"{white} goes in")
    elif wanted is not None:
        off = length_words(file, millimetres(math.dist(rest.tolist(), wanted)))
        parts.append(f"{white} ends {off} from there")
    broken = int(found.broken[number])
    if broken:
        parts.append(f"{broken} of the plain facts {'is' if broken == 1 else 'are'} otherwise")
    return "; ".join(parts)


def happened_words(result: PlayedResult) -> str:
    """ "the white at rest 712 mm from the left and 1484 mm from the baulk cushion"."""
    return "; ".join(_happened(result.happened, result.file, result.found.asked.object_ball))


def _happened(one: Happened, file: PositionFile, ball: str) -> Iterator[str]:
    white = with_article(file.position.names[WHITE])
    near, _, _, left = file.position.table.words.cushions

    def place(at: tuple[float, float]) -> str:
        across, up = (length_words(file, millimetres(value)) for value in at)
        return f"{across} from the {left} and {up} from the {near} cushion"

    if one.white_rest is not None:
        yield f"{white} at rest {place(one.white_rest)}"
    if one.white_passed is not None:
        yield f"{white} passing {place(one.white_passed)}"
    if one.object_rest is not None:
        yield f"{with_article(ball)} at rest {place(one.object_rest)}"
    if one.met:
        yield f"{white} touched {_names(one.met)}"
    if one.missed:
        yield f"{white} missed {_names(one.missed)}"
    if one.cushion is not None:
        name = file.position.table.words.cushions[one.cushion.number]
        at = one.cushion.at
        where = "" if at is None else f", {length_words(file, millimetres(at))} along it"
        yield f"{white} then at the {name} cushion{where}"
    if one.potted:
        yield f"{_names(one.potted)} potted"
    if one.not_potted:
        yield f"{_names(one.not_potted)} not potted"
    if one.in_off is not None:
        yield "in-off" if one.in_off else "no in-off"
    if one.time is not None:
        yield f"all at rest after {one.time:g} s"


def _names(balls: tuple[str, ...]) -> str:
    return " and ".join(with_article(ball) for ball in balls)


def basis_words(result: PlayedResult) -> str:
    """What the intervals rest on."""
    found = result.found
    gauged = found.doubt.gauging is not None
    if not found.doubt.names:
        tables = "on the table as the file has it, taken as exact"
    elif gauged:
        tables = "on tables drawn from what gauging left in doubt"
    else:
        tables = (
            "on tables drawn from what cloths differ by, since this one was not gauged: "
            "gauging it narrows them"
        )
    rough = "" if found.effective >= _FEW else ": so few that the intervals are rough"
    return (
        f"Intervals hold the truth in nine cases of ten, {tables}. Before anything was seen, nine "
        f"strokes of ten are supposed to be as this player's, one of ten {BAD_TIMES:.0f} times as "
        f"far off. Places are read to 5 mm. {len(found.strokes):,} strokes, worth "
        f"{found.effective:.0f} independent ones, of {found.plays:,} plays{rough}."
    )
