"""A shot in sentences, and its events in words."""

from __future__ import annotations

from collections.abc import Callable

from stunline.shot.outcome import Outcome, ball_words, surface_words
from stunline.shot.readouts import Readouts
from stunline.shot.shot import Event, EventKind

# The white is said to leave along the tangent line when it is this near to it. [°]
# Common practice for cuts from 15° up; no source.
_ALONG_TANGENT = 6.0
# Less bend than this is not worth a word. [°]
_NO_BEND = 1.0

LengthWords = Callable[[float], str]


def in_mm(length_mm: float) -> str:
    """ "148 mm": the way lengths are shown unless a file asks for inches."""
    return f"{length_mm:.0f} mm"


def shot_sentence(read: Readouts, outcome: Outcome, lengths: LengthWords = in_mm) -> str:
    """What happens, in the order in which a coach tells it."""
    if read.object_ball is None:
        return _without_contact(read, outcome, lengths)
    parts = [_contact_sentence(read, outcome)]
    if read.thickness is not None and read.thickness < _FULL_BALL:
        parts.append(_way_sentence(read, outcome, lengths))
    else:
        parts.append(_full_sentence(read, outcome, lengths))
    return " ".join(parts)


# From here on a contact is called full and has no tangent line worth naming. [-]
_FULL_BALL = 0.98


def _contact_sentence(read: Readouts, outcome: Outcome) -> str:
    ball = ball_words(read.object_ball or "")
    if outcome.pot_made:
        opening = f"{ball} to {outcome.pot.split(' to ', 1)[1]}"
    elif outcome.pot_made is False:
        opening = f"{ball} misses {outcome.pot.split(' to ', 1)[1]}"
    else:
        opening = f"{ball} met"
        if read.thickness is not None and read.thickness < _FULL_BALL:
            opening += f" on its {read.met_on} side"
    text = f"{opening}, cut {read.cut_angle_deg:.1f}°, {read.thickness_words}, "
    return capital(text + f"arrives {_arrival(read)}.")


def _arrival(read: Readouts) -> str:
    words = read.arrival or ""
    return f"with {words}" if words.startswith(("screw", "part", "top")) else words


def _way_sentence(read: Readouts, outcome: Outcome, lengths: LengthWords) -> str:
    off = read.off_tangent_deg or 0.0
    near = abs(off) <= _ALONG_TANGENT
    where = "along the tangent line" if near else f"{off:.0f}° inside the tangent line"
    steps = [f"The white leaves {where}"]
    bend = read.total_bend_deg or 0.0
    if read.sliding_ended_after_mm is not None and abs(bend) > _NO_BEND:
        steps.append(f"slides {lengths(read.sliding_ended_after_mm)}")
    if abs(bend) > _NO_BEND:
        way = "forward" if bend > 0.0 else "back"
        steps.append(f"bends {way} by {abs(bend):.0f}°")
    steps.append(_ending(read, outcome, lengths))
    return ", ".join(steps[:-1]) + f" and {steps[-1]}."


def _full_sentence(read: Readouts, outcome: Outcome, lengths: LengthWords) -> str:
    return f"The white {_ending(read, outcome, lengths)}."


def _ending(read: Readouts, outcome: Outcome, lengths: LengthWords) -> str:
    if outcome.meets:
        text = outcome.sentence().removeprefix("the white ").split(";")[0]
        return text.split(" and goes in-off")[0] + _in_off(read)
    if read.in_off:
        return f"goes in-off, {read.in_off}"
    return f"rests{_rest(read, lengths)}"


def _in_off(read: Readouts) -> str:
    return f", then goes in-off, {read.in_off}" if read.in_off else ""


def _rest(read: Readouts, lengths: LengthWords) -> str:
    if not read.white_rest_from_cushions_mm:
        return ""
    places = [
        f"{lengths(distance)} from the {name} cushion"
        for name, distance in read.white_rest_from_cushions_mm.items()
    ]
    return " " + " and ".join(places)


def _without_contact(read: Readouts, outcome: Outcome, lengths: LengthWords) -> str:
    count = read.cushions
    cushions = "no cushion" if count == 0 else f"{count} cushion{'s' if count > 1 else ''}"
    if read.in_off:
        return f"The white meets no ball and {cushions}, and goes in-off, {read.in_off}."
    return f"The white meets no ball and {cushions}, and rests{_rest(read, lengths)}."


def event_words(event: Event) -> str:
    """One event in words: "white meets black", "red 7 falls: top right"."""
    first = ball_words(event.balls[0])
    match event.kind:
        case EventKind.STRIKE:
            return f"{first} is struck"
        case EventKind.BALL:
            return f"{first} meets {ball_words(event.balls[1])}"
        case EventKind.CUSHION | EventKind.JAW:
            return f"{first} meets the {surface_words(event)}"
        case EventKind.POCKET:
            return f"{first} falls: {event.surface}"
        case EventKind.ROLL:
            return f"{first} rolls"
        case EventKind.STOP:
            return f"{first} stops"
    return f"{first} stops spinning"


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]
