"""What each cause gives, in sentences that a coach can read out."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from stunline.planning.attribution import Attribution
from stunline.planning.causes import Cause, Group
from stunline.planning.explaining import Explanation
from stunline.shot.sentences import capital
from stunline.shot.words import ball_words, thickness_words, with_article
from stunline.tasks.explain_shot import ExplainResult
from stunline.tasks.lines import length_words

_MM = 1000.0
# Two causes do the same work when each alone gives this much more than both are given. [-]
_EITHER_WOULD_DO = 1.25
# Causes that miss the whole by less than this part of it nearly add. [-]
_NEARLY_ADD = 0.02


@dataclass(frozen=True, slots=True)
class Measure:
    """How one kind of number is told.

    Attributes:
        factor: from SI to what is shown
        least: less than this is nothing, as shown
        words: of an amount, as shown
    """

    factor: float
    least: float
    words: Callable[[float], str]

    def told(self, amount: float) -> str:
        """Its size."""
        return self.words(abs(self.factor * amount))

    def is_nothing(self, amount: float) -> bool:
        """Whether it would be shown as nought."""
        return abs(self.factor * amount) < self.least


ANGLE = Measure(180.0 / math.pi, 0.05, lambda amount: f"{amount:.1f}°")


def length_measure(result: ExplainResult) -> Measure:
    """Lengths in the file's unit."""
    file = result.played.file
    return Measure(_MM, 0.5, lambda amount: length_words(file, amount))


def explain_sentences(result: ExplainResult) -> Iterator[str]:
    """Why the white goes where it goes: each a paragraph."""
    told = result.explanation
    main, measure = main_of(result)
    whole = _direction_words(told) if told.ends is not None else _run_words(result, measure)
    yield f"{whole} {_shares(told, main, measure)}".rstrip()
    if not told.causes:
        yield "Nothing acts on it: no follow, screw or side, and balls that neither rub nor lose."
    yield from _base_sentence(told, main, measure)
    yield from _spin_sentence(told, main, measure)
    yield from _interrupted(result)
    yield from _place_sentence(result)
    yield from _squirt_sentence(result)
    yield from _together_sentence(told, main, measure)
    yield from _held_sentence(told)


def main_of(result: ExplainResult) -> tuple[Attribution, Measure]:
    """What is told first: the direction, and of a straight shot the run."""
    told = result.explanation
    if told.ends is not None:
        return told.ends, ANGLE
    return told.forward, length_measure(result)


def _white(told: Explanation) -> str:
    return with_article(told.shot.position.names[0])


def _direction_words(told: Explanation) -> str:
    assert told.ends is not None
    white = capital(_white(told))
    if ANGLE.is_nothing(told.ends.whole):
        return f"{white} goes on along the tangent line."
    inside = told.ends.whole > 0.0
    ball = with_article(told.contact.ball)
    way = f"towards {ball}'s way" if inside else f"away from {ball}'s way"
    off = f"{ANGLE.told(told.ends.whole)} {'inside' if inside else 'outside'} the tangent line"
    return f"Once it rolls, {_white(told)} goes {off}, {way}."


def _run_words(result: ExplainResult, measure: Measure) -> str:
    told = result.explanation
    white = _white(told)
    full = (
        f"{capital(with_article(told.contact.ball))} is met too full for {white} to leave along "
        f"the tangent line. {capital(white)}"
    )
    if measure.is_nothing(told.forward.whole):
        return f"{full} stays where it is."
    way = "runs on" if told.forward.whole > 0.0 else "comes back"
    return f"{full} {way} {measure.told(told.forward.whole)}."


def _shares(told: Explanation, main: Attribution, measure: Measure) -> str:
    """ "Of these 31.2°, screw gives 30.1°, side 0.6°; restitution takes 0.5° back." """
    shares = _grouped(told, main)
    sign = -1.0 if main.whole < 0.0 else 1.0
    given = [one for one in shares if sign * one[1] > 0.0 and not measure.is_nothing(one[1])]
    taken = [one for one in shares if sign * one[1] < 0.0 and not measure.is_nothing(one[1])]
    if measure.is_nothing(main.whole):
        said = [f"{name} {_signed(share, measure)}" for name, share in given + taken]
        return f"What moves it cancels out: {', '.join(said)}." if said else ""
    if len(given) == 1 and not taken:
        return f"All of it is {given[0][0]}."
    parts = []
    if given:
        parts.append(_listed(given, "gives", measure))
    if taken:
        parts.append(_listed(taken, "takes", measure) + " back")
    return f"Of these {measure.told(main.whole)}, {'; '.join(parts)}." if parts else ""


def _listed(shares: list[tuple[str, float]], verb: str, measure: Measure) -> str:
    shares = sorted(shares, key=lambda one: -abs(one[1]))
    first = f"{shares[0][0]} {verb} {measure.told(shares[0][1])}"
    rest = [f"{name} {measure.told(share)}" for name, share in shares[1:]]
    if not rest:
        return first
    return f"{', '.join([first, *rest[:-1]])} and {rest[-1]}"


def _signed(share: float, measure: Measure) -> str:
    return f"{'+' if share > 0.0 else '−'}{measure.told(share)}"


def _grouped(told: Explanation, main: Attribution) -> list[tuple[str, float]]:
    """Names and shares of the groups, and the base."""
    shares = zip(told.groups, main.groups.parts, strict=True)
    found = [(group_words(group, share), share) for group, share in shares]
    return [*found, (_base_words(told), main.base)]


def group_words(group: Group, share: float) -> str:
    """What it is called in a sentence."""
    return {
        Group.SPIN: "follow" if share >= 0.0 else "screw",
        Group.SIDE: "side",
        Group.SQUIRT: "squirt",
        Group.BALL_FRICTION: "ball friction",
        Group.RESTITUTION: "the balls' loss in the impact",
    }[group]


def _base_words(told: Explanation) -> str:
    if told.held:
        return "what it brings to the contact"
    if told.contact.mass_ratio != 1.0:
        return "the difference in weight"
    return "the ball that touches it"


def _spin_sentence(told: Explanation, main: Attribution, measure: Measure) -> Iterator[str]:
    """Where the follow or screw comes from."""
    if Cause.CLOTH not in told.causes:
        return
    cloth = told.causes.index(Cause.CLOTH)
    if Cause.HEIGHT not in told.causes:
        if not measure.is_nothing(main.causes.parts[cloth]):
            yield (
                "It is struck at centre height, so all of its roll is what the cloth gives it on "
                "the way to the ball."
            )
        return
    height = told.causes.index(Cause.HEIGHT)
    struck, rubbed = main.causes.parts[height], main.causes.parts[cloth]
    hit = "above centre" if told.shot.strike.height > 0.0 else "below centre"
    if measure.is_nothing(struck) and measure.is_nothing(rubbed):
        return
    if struck * rubbed < 0.0:
        yield _worn_words(hit, struck, rubbed, measure)
        return
    yield (
        f"Of the {group_words(Group.SPIN, struck + rubbed)}, {measure.told(struck)} comes from "
        f"striking {hit} and {measure.told(rubbed)} from the cloth on the way to the ball."
        f"{_either_words(told, main, measure)}"
    )


def _either_words(told: Explanation, main: Attribution, measure: Measure) -> str:
    """That the tip and the cloth do the same work, where they do."""
    height, cloth = (told.causes.index(cause) for cause in (Cause.HEIGHT, Cause.CLOTH))
    struck, rubbed = main.causes.alone[height], main.causes.alone[cloth]
    both = main.groups.alone[told.groups.index(Group.SPIN)]
    if abs(struck + rubbed) <= _EITHER_WOULD_DO * abs(both):
        return ""
    return (
        " They do the same work: struck so without the cloth it would be "
        f"{measure.told(struck)}, struck at centre height on this cloth {measure.told(rubbed)}."
    )


def _worn_words(hit: str, struck: float, rubbed: float, measure: Measure) -> str:
    """The cloth works against the tip."""
    way = "follow" if struck > 0.0 else "screw"
    given = (
        f"Striking {hit} gives {measure.told(struck)} of {way}; the cloth on the way to the ball"
    )
    if measure.is_nothing(struck + rubbed):
        return f"{given} takes it all off again, so that it arrives as stun."
    if abs(rubbed) > abs(struck):
        other = "roll" if rubbed > 0.0 else "screw"
        return f"{given} takes it all off and adds {measure.told(struck + rubbed)} of {other}."
    return f"{given} takes {measure.told(rubbed)} of it off again."


def _interrupted(result: ExplainResult) -> Iterator[str]:
    turned, next_met = result.explanation.turned, result.played.readouts.next_met
    if turned is None:
        return
    by_then = f"{ANGLE.told(turned)} {'inside' if turned >= 0.0 else 'outside'} the tangent line"
    if next_met is None:
        yield f"On its way something turned it otherwise, to {by_then}."
        return
    yield (
        f"It meets {with_article(next_met)} before it rolls, {by_then} by then: the numbers are of "
        "the direction that it was turning to."
    )


def _place_sentence(result: ExplainResult) -> Iterator[str]:
    """How far off the tangent line it ends, where every play ends at the same thing."""
    told, measure = result.explanation, length_measure(result)
    if told.meets > 1 and told.is_straight:
        yield (
            f"Without some of these causes {_white(told)} next comes to something else, which the "
            "table names; their shares hold that difference too."
        )
    elif told.meets > 1:
        yield (
            f"Where it ends can't be shared out in this way: with and without these causes "
            f"{_white(told)} next comes to {told.meets} different things. The table says to "
            "which."
        )
    elif told.ends is not None and not measure.is_nothing(told.forward.whole):
        side = "inside" if told.forward.whole > 0.0 else "outside"
        yield (
            f"Where it next meets something or rests it is {measure.told(told.forward.whole)} "
            f"{side} the tangent line. {_shares(told, told.forward, measure)}"
        )


def _squirt_sentence(result: ExplainResult) -> Iterator[str]:
    told = result.explanation
    if told.without_squirt is None:
        return
    off = result.played.readouts.squirt_deg
    ball = with_article(told.contact.ball)
    if told.without_squirt > 0.0:
        would = (
            f"would meet {ball} {thickness_words(told.without_squirt)}, thickness "
            f"{told.without_squirt:.2f} instead of {told.contact.thickness:.2f}"
        )
    else:
        would = f"would not meet {ball} at all"
    yield (
        f"Squirt turns {_white(told)} {abs(off):.2f}° to the {'left' if off > 0.0 else 'right'} of "
        f"the aim; the same aim without it {would}. The contact is held here, so squirt hardly "
        "counts among the shares."
    )


def _base_sentence(told: Explanation, main: Attribution, measure: Measure) -> Iterator[str]:
    if measure.is_nothing(main.base):
        return
    white, ball = ball_words(told.shot.position.names[0]), with_article(told.contact.ball)
    if told.held:
        return
    if told.contact.mass_ratio != 1.0:
        lighter = "lighter" if told.contact.mass_ratio > 1.0 else "heavier"
        why = f"the {white} is {lighter} than {ball}"
    else:
        why = f"{ball} touches another ball"
    yield f"{capital(measure.told(main.base))} would be left with none of the causes, since {why}."


def _together_sentence(told: Explanation, main: Attribution, measure: Measure) -> Iterator[str]:
    """What only their acting together makes."""
    if measure.is_nothing(main.interaction) or len(told.groups) < 2:
        return
    alone = _way_words(told, main.whole - main.interaction, measure)
    by_itself = f"Each by itself, they would come to {alone}"
    if abs(main.interaction) < _NEARLY_ADD * abs(main.whole):
        yield f"{by_itself}, nearly the same."
        return
    pairs = [
        (abs(main.pairs[one, two]), two, one)
        for one in range(len(told.groups))
        for two in range(one)
    ]
    _, first, second = max(pairs, key=lambda one: one[0])
    names = [group_words(told.groups[k], main.groups.parts[k]) for k in (first, second)]
    yield (
        f"{by_itself} instead of {_way_words(told, main.whole, measure)}. The rest is what "
        f"they do to each other, most of it {names[0]} and {names[1]}, and is shared between them."
    )


def _way_words(told: Explanation, amount: float, measure: Measure) -> str:
    """ "6.4° outside", of a straight shot "617 mm back"."""
    if measure.is_nothing(amount):
        return measure.told(0.0)
    ways = ("onwards", "back") if told.is_straight else ("inside", "outside")
    return f"{measure.told(amount)} {ways[amount < 0.0]}"


def _held_sentence(told: Explanation) -> Iterator[str]:
    if told.held:
        yield (
            f"The way to the contact is not taken apart, since {told.held}: what was struck and "
            "what the cloth did to it count as brought to the contact."
        )
