"""What each cause gives, in sentences that a coach can read out.

Follow and screw are one thing at the ball, however they came about, so the shares of the tip's
height and of the cloth on the way are first told together, then apart.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from stunline.planning.attribution import Attribution
from stunline.planning.causes import Cause
from stunline.planning.explaining import Explanation
from stunline.shot.sentences import capital
from stunline.shot.words import ball_words, thickness_words, with_article
from stunline.tasks.explain_shot import ExplainResult
from stunline.tasks.lines import length_words

_MM = 1000.0
# Two causes do the same work when each alone gives this much more than both are given. [-]
_EITHER_WOULD_DO = 1.25

SPIN = (Cause.HEIGHT, Cause.CLOTH)


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
    if told.ends is not None:
        yield f"{_direction_words(told)} {_shares(told, told.ends, ANGLE)}"
    else:
        measure = length_measure(result)
        yield f"{_run_words(result, measure)} {_shares(told, told.forward, measure)}"
    main, measure = _main(result)
    yield from _spin_sentence(told, main, measure)
    yield from _interrupted(told)
    yield from _place_sentence(result)
    yield from _squirt_sentence(result)
    yield from _base_sentence(told, main, measure)
    yield from _together_sentence(told, main, measure)
    yield from _held_sentence(told)


def _main(result: ExplainResult) -> tuple[Attribution, Measure]:
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
    white = capital(_white(told))
    if measure.is_nothing(told.forward.whole):
        return f"{white} is met too full to leave along the tangent line, and stays where it is."
    way = "runs on" if told.forward.whole > 0.0 else "comes back"
    return (
        f"{white} is met too full to leave along the tangent line; "
        f"it {way} {measure.told(told.forward.whole)}."
    )


def _shares(told: Explanation, main: Attribution, measure: Measure) -> str:
    """ "Of these 31.2°, screw gives 30.1°, side 0.6°; restitution takes 0.5° back." """
    shares = _grouped(told, main)
    sign = -1.0 if main.whole < 0.0 else 1.0
    given = [one for one in shares if sign * one[1] > 0.0 and not measure.is_nothing(one[1])]
    taken = [one for one in shares if sign * one[1] < 0.0 and not measure.is_nothing(one[1])]
    if measure.is_nothing(main.whole):
        said = [f"{name} {_signed(share, measure)}" for name, share in given + taken]
        return f"What moves it cancels out: {', '.join(said)}." if said else ""
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
    """Names and shares, the two that make follow and screw together; the base by itself."""
    shares = dict(zip(told.causes, main.parts, strict=True))
    spin = sum(shares.pop(cause, 0.0) for cause in SPIN)
    found = [("follow" if spin > 0.0 else "screw", spin)]
    found += [(cause_words(cause), share) for cause, share in shares.items()]
    return [*found, (_base_words(told), main.base)]


def cause_words(cause: Cause) -> str:
    """What it is called in a sentence."""
    return {
        Cause.HEIGHT: "the tip's height",
        Cause.SIDE: "side",
        Cause.CLOTH: "the cloth on the way",
        Cause.SQUIRT: "squirt",
        Cause.BALL_FRICTION: "ball friction",
        Cause.RESTITUTION: "the balls' loss in the impact",
    }[cause]


def _base_words(told: Explanation) -> str:
    if told.held:
        return "what it brings to the contact"
    if told.contact.mass_ratio != 1.0:
        return "the white's other weight"
    return "the balls that touch"


def _spin_sentence(told: Explanation, main: Attribution, measure: Measure) -> Iterator[str]:
    """Where the follow or screw comes from."""
    if Cause.CLOTH not in told.causes:
        return
    cloth = told.causes.index(Cause.CLOTH)
    if Cause.HEIGHT not in told.causes:
        if not measure.is_nothing(main.parts[cloth]):
            yield (
                "It is struck at centre height, so all of its roll is what the cloth gives it on "
                "the way to the ball."
            )
        return
    height = told.causes.index(Cause.HEIGHT)
    struck, rubbed = main.parts[height], main.parts[cloth]
    above = told.shot.strike.height > 0.0
    hit = "above centre" if above else "below centre"
    if measure.is_nothing(struck) and measure.is_nothing(rubbed):
        return
    if struck * rubbed < 0.0:
        yield _worn_words(hit, struck, rubbed, measure)
    else:
        either = min(main.alone[height], main.alone[cloth], key=abs)
        more = ""
        if abs(either) * 2.0 > _EITHER_WOULD_DO * abs(struck + rubbed):
            more = (
                f" Either alone would do nearly as much, {measure.told(main.alone[height])} and "
                f"{measure.told(main.alone[cloth])}: over this way the white rolls by itself."
            )
        yield (
            f"Of the follow, {measure.told(struck)} comes from striking {hit} and "
            f"{measure.told(rubbed)} from the cloth, which makes it roll on the way.{more}"
        )


def _worn_words(hit: str, struck: float, rubbed: float, measure: Measure) -> str:
    """The cloth works against the tip."""
    way = "follow" if struck > 0.0 else "screw"
    off = f"Striking {hit} alone is worth {measure.told(struck)} of {way}"
    if abs(rubbed) > abs(struck):
        other = "roll" if rubbed > 0.0 else "screw"
        return (
            f"{off}; the cloth on the way to the ball takes it all off and gives {other}, "
            f"{measure.told(rubbed)} in all."
        )
    return f"{off}; the cloth on the way to the ball takes {measure.told(rubbed)} of it off again."


def _interrupted(told: Explanation) -> Iterator[str]:
    turned = told.turns_before_it_meets
    if turned is None or told.ends is None:
        return
    yield (
        f"It meets something before it rolls, {ANGLE.told(turned)} "
        f"{'inside' if turned >= 0.0 else 'outside'} the tangent line by then: the numbers are of "
        "the direction that it was turning to."
    )


def _place_sentence(result: ExplainResult) -> Iterator[str]:
    """How far off the tangent line it ends, where every play ends at the same thing."""
    told, measure = result.explanation, length_measure(result)
    if told.meets > 1:
        yield (
            f"Where it ends is not told apart here: among the {len(told.cases)} plays with and "
            f"without these causes the white next comes to {told.meets} different things."
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
        would = f"would meet {ball} {thickness_words(told.without_squirt)}"
    else:
        would = f"would not meet {ball} at all"
    yield (
        f"Squirt turns the white {abs(off):.2f}° to the {'left' if off > 0.0 else 'right'} of "
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
    if measure.is_nothing(main.interaction) or len(told.causes) < 2:
        return
    pairs = [
        (abs(main.pairs[one, two]), told.causes[two], told.causes[one])
        for one in range(len(told.causes))
        for two in range(one)
    ]
    _, first, second = max(pairs, key=lambda one: one[0])
    yield (
        f"Each alone, the causes would come to {_signed(main.base + sum(main.alone), measure)} "
        f"instead of {_signed(main.whole, measure)}; the rest is what they do to each other, above "
        f"all {cause_words(first)} and {cause_words(second)}, and is shared between them."
    )


def _held_sentence(told: Explanation) -> Iterator[str]:
    if told.held:
        yield (
            f"The way to the contact is not taken apart, since {told.held}: what was struck and "
            "what the cloth did to it count as brought to the contact."
        )
