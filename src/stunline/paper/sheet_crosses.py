"""What earns a cross in a box: the same facts that make two outcomes one, in plain words.

A row's white must meet what the row says, on whichever side unless rows differ in that alone. So
it is what ``shot/setting_error.py`` counts as well. A place to stop is asked for only where the
white meets nothing more, since that is then all that the row shows; and never
nearer than the table's doubt leaves it, or a true stroke might earn none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import dist, floor, inf, isinf

from stunline.paper.sheet_doubt import row_doubts
from stunline.paper.sheet_lengths import Lengths
from stunline.paper.sheet_places import EndPlace, end_place
from stunline.paper.sheet_subject import Subject
from stunline.paper.sheet_varied import listed
from stunline.paper.sheet_words import fouls
from stunline.shot.outcome import Outcome
from stunline.shot.position import PotAim
from stunline.shot.words import with_article

# How near to its place a white that meets nothing more must stop: a hand's breadth, less
# where rows' places lie closer together. Common practice, no source. [mm]
HAND = 100.0
LEAST = 25.0  # half a ball, which an eye can still judge [mm]
STEP = 5.0  # to which what lies between is rounded down [mm]


def cross_words(subject: Subject, lengths: Lengths) -> str:
    """What earns a cross, and which rows can't earn any."""
    earning = [number for number, out in enumerate(_failing(subject)) if not out]
    if not earning:
        return "As printed it is a foul or a missed pot: it earns no cross."
    told = ", and ".join(_demands(subject, earning, lengths))
    return " ".join([f"For a cross {told}.", *_without(subject, earning)])


def _failing(subject: Subject) -> list[bool]:
    """Which rows can't earn a cross: a foul, or a pot that is missed."""
    missed = [one.pot_made is False for one in subject.outcomes]
    return [foul or no_pot for foul, no_pot in zip(fouls(subject), missed, strict=True)]


def _demands(subject: Subject, earning: Sequence[int], lengths: Lengths) -> Iterator[str]:
    outcomes = [subject.outcomes[number] for number in earning]
    white, aim = with_article(subject.cue_ball), subject.plan.aim
    if all(not one.object_ball for one in outcomes):
        yield f"{white} {_alone(outcomes)}{_in_off(outcomes)}"
        return
    if isinstance(aim, PotAim):
        yield f"{with_article(aim.ball)} goes in"
        met = f"{white} then meets {_next(outcomes)}"
    else:
        balls = {one.object_ball for one in outcomes}
        first = with_article(balls.pop()) if len(balls) == 1 else "a ball"
        met = f"{white} meets {first} first and then {_next(outcomes)}"
    yield met + _stopping(subject, earning, lengths) + _in_off(outcomes)


def _in_off(outcomes: Sequence[Outcome]) -> str:
    """Where an in-off is asked for, in a game in which it scores; else that it is not."""
    if all(one.in_off for one in outcomes):
        return f", going in-off, {outcomes[0].in_off}" if len(outcomes) == 1 else ", going in-off"
    if any(one.in_off for one in outcomes):
        return ", going in-off where the row does"
    return ", without going in-off"


def _alone(outcomes: Sequence[Outcome]) -> str:
    if all(one.cushions is None for one in outcomes):
        return "meets no ball"
    if len(outcomes) == 1:
        return f"meets {outcomes[0].words()}"
    return "meets as many cushions as its row says"


def _next(outcomes: Sequence[Outcome]) -> str:
    met = {one.meets for one in outcomes}
    if len(met) > 1:
        return f"what its row says{_side_words(outcomes)}"
    name = met.pop()
    return with_article(name) if name else "nothing more"


def _side_words(outcomes: Sequence[Outcome]) -> str:
    """Whether the side counts: only where rows differ in nothing else."""
    pairs = {(one.meets, one.on) for one in outcomes if one.on}
    if not pairs:
        return ""
    alike = len(pairs) > len({meets for meets, _ in pairs})
    return ", on the side it says" if alike else ", on whichever side"


def _stopping(subject: Subject, earning: Sequence[int], lengths: Lengths) -> str:
    """How near to the place in its row it must stop, where it meets nothing more."""
    free = [n for n in earning if not subject.outcomes[n].meets and not subject.outcomes[n].in_off]
    if not free:
        return ""
    places = [place for n in free if (place := end_place(subject.shots[n], lengths))]
    doubts = row_doubts(subject)
    where = _within(stopping_reach(places), [doubts[n] for n in free], lengths, len(doubts) == 1)
    if len(free) < len(earning):
        return f" (where that is nothing: it {where})"
    return f", and {where}" if where.startswith("may") else f" and {where}"


def _within(reach: float, doubts: Sequence[float], lengths: Lengths, alone: bool) -> str:
    """ "stops within 100 mm of its place": never nearer than a true stroke may be off itself.

    Args:
        reach: asked for where the table is known [mm]
        doubts: of where each row's white stops [mm]
        alone: whether the sheet has a single shot
    """
    if all(map(isinf, doubts)):
        return "may stop anywhere, as that is too unsure"
    place = "its place" if alone else "the place in its row"
    told = f"stops within {lengths.whole(reach)} of {place}"
    if alone and doubts[0] > reach:
        off = lengths.whole(doubts[0])
        return f"stops within {off} of {place}, its ±"
    finite = [one for one in doubts if one < inf]
    if min(finite) > reach:
        told = "stops within the ± in its row"
    elif max(finite) > reach:
        told += ", or its ± if that is more"
    return f"{told}, anywhere at ± ?" if any(map(isinf, doubts)) else told


def stopping_reach(places: Sequence[EndPlace]) -> float:
    """A hand's breadth, or half the way to the nearest other place. [mm]"""
    halves = [dist(one.at, two.at) / 2 for one, two in combinations(places, 2)]
    nearest = floor(min([HAND, *halves]) / STEP) * STEP
    return max(LEAST, nearest)


def _without(subject: Subject, earning: Sequence[int]) -> Iterator[str]:
    """The rows that show a foul or a missed pot."""
    rows = [str(n) for n in range(1, len(subject.outcomes) + 1) if n - 1 not in earning]
    if len(rows) == 1:
        yield f"Row {rows[0]} shows how it fails, and earns none."
    elif rows:
        yield f"Rows {listed(rows)} show how it fails, and earn none."
