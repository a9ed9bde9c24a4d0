"""An explanation as lines of text: sentences first, then the numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stunline.planning.causes import Cause
from stunline.planning.explaining import Explanation
from stunline.shot.outcome import outcome
from stunline.shot.sentences import shot_sentence
from stunline.tasks.explain_shot import ExplainResult
from stunline.tasks.explain_words import ANGLE, Measure, explain_sentences, length_measure
from stunline.tasks.lines import columns, heading, height_words, length_words, side_words, wrapped

_MM = 1000.0
_HEAD = ("", "as it is", "gives", "alone", "counts", "without it")

HOW = (
    "Every play makes the same contact: the same ball, as thick, as fast; the cue is turned and the "
    "pace changed for it. Without a cause: tip at centre height, no side, no cloth before the ball, "
    "no squirt, smooth balls, balls that lose nothing. Gives: the cause's share, averaged over all "
    "orders in which the causes can be added (Shapley); the shares add up to the whole. Alone: with "
    "no other cause. Counts: how much less it is without this one only. + is inside the tangent "
    "line, towards the object ball."
)


def explain_lines(result: ExplainResult) -> Iterator[str]:
    """What ``stunline explain`` prints."""
    file, played = result.played.file, result.played
    yield from heading(file)
    yield ""
    yield from wrapped(
        shot_sentence(played.readouts, played.outcome, lambda mm: length_words(file, mm))
    )
    for sentence in explain_sentences(result):
        yield ""
        yield from wrapped(sentence)
    yield ""
    yield from columns([_HEAD, *share_rows(result)])
    yield ""
    yield from wrapped(HOW)


def share_rows(result: ExplainResult) -> Iterator[tuple[str, ...]]:
    """A row for each cause, then the base and the whole."""
    told = result.explanation
    main, measure = told.ends, ANGLE
    if main is None:
        main, measure = told.forward, length_measure(result)
    for k, cause in enumerate(told.causes):
        yield (
            ROW_WORDS[cause],
            as_it_is(result, cause),
            signed(main.parts[k], measure),
            signed(main.alone[k], measure),
            signed(main.missing[k], measure),
            _without_words(result, cause),
        )
    if not measure.is_nothing(main.base):
        yield "with none of them", "", signed(main.base, measure), "", "", ""
    yield "together", "", signed(main.whole, measure), "", "", _ends_words(told)


ROW_WORDS = {
    Cause.HEIGHT: "height",
    Cause.SIDE: "side",
    Cause.CLOTH: "cloth on the way",
    Cause.SQUIRT: "squirt",
    Cause.BALL_FRICTION: "ball friction",
    Cause.RESTITUTION: "ball restitution",
}


def as_it_is(result: ExplainResult, cause: Cause) -> str:
    """The cause's value in this shot."""
    file, shot, read = result.played.file, result.played.shot, result.played.readouts
    coefficients = shot.position.coefficients
    if cause is Cause.HEIGHT:
        return height_words(file, _MM * shot.strike.height)
    if cause is Cause.SIDE:
        return side_words(file, _MM * shot.strike.side)
    if cause is Cause.CLOTH:
        return f"{length_words(file, read.distance_to_contact_mm or 0.0)} to the ball"
    if cause is Cause.SQUIRT:
        return f"{abs(read.squirt_deg):.2f}° to the {'left' if read.squirt_deg > 0.0 else 'right'}"
    if cause is Cause.RESTITUTION:
        return f"{coefficients.ball_restitution:g}"
    friction = coefficients.ball_friction
    return f"{friction:g}" if isinstance(friction, float | int) else "falls with slip"


def signed(amount: float, measure: Measure) -> str:
    """ "+31.2°", "−0.4°", "0.0°"."""
    if measure.is_nothing(amount):
        return measure.told(0.0)
    return f"{'+' if amount > 0.0 else '−'}{measure.told(amount)}"


def _without_words(result: ExplainResult, cause: Cause) -> str:
    told = result.explanation
    k = told.causes.index(cause)
    moved = _MM * math.hypot(told.along.missing[k], told.forward.missing[k])
    words = outcome(told.without(cause)).words()
    if moved < 0.5:
        return f"{words}, the same"
    return f"{words}, {length_words(result.played.file, moved)} from there"


def _ends_words(told: Explanation) -> str:
    return outcome(told.shot).words()
