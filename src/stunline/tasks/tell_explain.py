"""An explanation as lines of text: sentences first, then the numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stunline.planning.causes import GROUP_OF, Cause, Group
from stunline.shot.outcome import outcome
from stunline.shot.sentences import shot_sentence
from stunline.shot.shot import Shot
from stunline.shot.words import arrival_words, ball_words
from stunline.tasks.explain_shot import ExplainResult
from stunline.tasks.explain_words import (
    Measure,
    explain_sentences,
    group_words,
    main_of,
)
from stunline.tasks.lines import columns, heading, height_words, length_words, side_words, wrapped

_MM = 1000.0
_HEAD = ("", "as it is", "gives", "alone", "taken away", "then next", "off by")

_HOW = (
    "Every play makes the same contact: the same ball, as thick, as fast; the cue is turned and "
    "the pace changed for it. Without a cause: tip at centre height, no side, no cloth before the "
    "ball, no squirt, smooth balls, balls that lose nothing. Gives: its share, averaged over all "
    "orders in which the causes can be added (Shapley; height and cloth one after the other), so "
    "that the shares add up. Alone: with no other. Taken away: how much goes when only it goes. "
)
_INSIDE = "+ is inside the tangent line, towards the object ball."
_ONWARDS = "+ is onwards, the object ball's way; − is back."


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
    if not result.explanation.causes:
        return
    yield ""
    yield from columns([_HEAD, *share_rows(result)])
    yield ""
    yield from wrapped(_HOW + (_ONWARDS if result.explanation.is_straight else _INSIDE))


def share_rows(result: ExplainResult) -> Iterator[tuple[str, ...]]:
    """A row for each group, below it its causes where it has several; base and whole."""
    told = result.explanation
    main, measure = main_of(result)
    for number, group in enumerate(told.groups):
        causes = [cause for cause in told.causes if GROUP_OF[cause] is group]
        if len(causes) == 1:
            yield _row(result, ROW_WORDS[causes[0]], as_it_is(result, causes[0]), causes)
            continue
        name = spin_words(main.groups.parts[number], measure)
        yield _row(result, name, arrival_words(told.contact.follow_ratio), causes)
        for cause in causes:
            yield _row(result, f"  {ROW_WORDS[cause]}", as_it_is(result, cause), [cause])
    if not measure.is_nothing(main.base):
        yield "with none of them", "", signed(main.base, measure), "", "", "", ""
    yield "together", "", signed(main.whole, measure), "", "", _end_words(told.shot), ""


def _row(result: ExplainResult, name: str, value: str, causes: Sequence[Cause]) -> tuple[str, ...]:
    """Of one cause, or of a whole group."""
    told = result.explanation
    main, measure = main_of(result)
    whole = [cause for cause in told.causes if GROUP_OF[cause] is GROUP_OF[causes[0]]]
    of_group = len(causes) == len(whole)
    shares = main.groups if of_group else main.causes
    k = told.groups.index(GROUP_OF[causes[0]]) if of_group else told.causes.index(causes[0])
    numbers = (shares.parts[k], shares.alone[k], shares.taken_away[k])
    return name, value, *(signed(one, measure) for one in numbers), *_without(result, causes)


def spin_words(share: float, measure: Measure) -> str:
    """ "follow", "screw", or both where there is neither."""
    if measure.is_nothing(share):
        return "follow or screw"
    return group_words(Group.SPIN, share)


ROW_WORDS = {
    Cause.HEIGHT: "height",
    Cause.SIDE: "side",
    Cause.CLOTH: "cloth",
    Cause.SQUIRT: "squirt",
    Cause.BALL_FRICTION: "ball friction",
    Cause.RESTITUTION: "ball restitution",
}


def as_it_is(result: ExplainResult, cause: Cause) -> str:
    """The cause's value in this shot."""
    file, shot, read = result.played.file, result.played.shot, result.played.readouts
    coefficients = shot.position.coefficients
    if cause is Cause.HEIGHT:
        return height_words(file, _MM * shot.strike.height).removesuffix(" centre")
    if cause is Cause.SIDE:
        return side_words(file, _MM * shot.strike.side)
    if cause is Cause.CLOTH:
        return f"over {length_words(file, read.distance_to_contact_mm or 0.0)}"
    if cause is Cause.SQUIRT:
        return f"{abs(read.squirt_deg):.2f}° {'left' if read.squirt_deg > 0.0 else 'right'}"
    if cause is Cause.RESTITUTION:
        return f"{coefficients.ball_restitution:.4g}"
    friction = coefficients.ball_friction
    return f"{friction:.4g}" if isinstance(friction, float | int) else "falls with slip"


def signed(amount: float, measure: Measure) -> str:
    """ "+31.2°", "−0.4°", "0.0°"."""
    if measure.is_nothing(amount):
        return measure.told(0.0)
    return f"{'+' if amount > 0.0 else '−'}{measure.told(amount)}"


def _without(result: ExplainResult, causes: Sequence[Cause]) -> tuple[str, str]:
    """What the white comes to without these, and how far from where it went."""
    told = result.explanation
    moved = _MM * told.moved_without(*causes)
    return _end_words(told.without(*causes)), length_words(result.played.file, moved)


def _end_words(shot: Shot) -> str:
    """ "red 7", "left cushion", "in-off top left", "rests"."""
    end = outcome(shot)
    if end.meets:
        jaw = end.meets.removeprefix("jaw of the ").removesuffix(" pocket")
        return ball_words(end.meets) if jaw == end.meets else f"{jaw} jaw"
    return f"in-off {end.in_off}" if end.in_off else "rests"
