"""A shot in sentences, and its events in words."""

from __future__ import annotations

import math
from collections.abc import Callable

from stunline.shot.outcome import Outcome, surface_words
from stunline.shot.readouts import Readouts
from stunline.shot.shot import Event, EventKind
from stunline.shot.words import arrival_phrase, ball_words, with_article

# The white is said to leave along the tangent line when it is this near to it. [°]
# Common practice for cuts from 15° up; no source.
_ALONG_TANGENT = 6.0
# The white is said to nearly stop when it keeps less than this share of its speed, or when it
# is met this full: 1 − sin(cut) = 0.95 leaves it sin(cut) = 0.05 of it [X]. [-]
_NEARLY_STOPS = 0.05
_NEARLY_FULL = 0.95
# Follow ratios nearer to stun than this neither roll on nor come back by much. [-]
_NO_ROLL = 0.05
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
    if read.thickness is not None and read.thickness < _FULL_BALL:
        return f"{_contact_sentence(read, outcome)} {_way_sentence(read, outcome, lengths)}"
    return f"{_contact_sentence(read, outcome)} It {_ending(read, outcome, lengths)}."


# From here on a contact is called full and has no tangent line worth naming. [-]
_FULL_BALL = 0.98


def _contact_sentence(read: Readouts, outcome: Outcome) -> str:
    contact = f"{read.thickness_words}, cut {read.cut_angle_deg:.1f}°"
    arrives = f"arrives {arrival_phrase(read.follow_ratio or 0.0)}."
    if outcome.pot is not None:
        verb = "goes into" if outcome.pot_made else "misses"
        potting = f"{with_article(outcome.pot.ball)} {verb} the {outcome.pot.pocket} pocket"
        return capital(f"{potting}, {contact}; {with_article(outcome.cue_ball)} {arrives}")
    side = f" on its {read.met_on} side" if (read.thickness or 1.0) < _FULL_BALL else ""
    met = with_article(read.object_ball or "")
    return capital(f"{with_article(outcome.cue_ball)} meets {met}{side}, {contact}, and {arrives}")


def _way_sentence(read: Readouts, outcome: Outcome, lengths: LengthWords) -> str:
    if nearly_stops(read):
        speed = f"{read.white_speed_after_m_s or 0.0:.2f} m/s"
        return f"It nearly stops ({speed}){_from_there(read)}{_ending(read, outcome, lengths)}."
    steps = [f"It leaves {_leaving_words(read.off_tangent_deg or 0.0)}"]
    bend = read.total_bend_deg or 0.0
    if abs(bend) > _NO_BEND:
        if read.sliding_ended_after_mm is not None:
            steps.append(f"slides {lengths(read.sliding_ended_after_mm)}")
        way = "forward" if bend > 0.0 else "back"
        steps.append(f"bends {way} by {abs(bend):.0f}°")
    steps.append(_ending(read, outcome, lengths))
    return ", ".join(steps[:-1]) + f" and {steps[-1]}."


def nearly_stops(read: Readouts) -> bool:
    """Whether the contact takes so much of the white's speed that its line tells little."""
    if read.thickness is None or read.white_speed_after_m_s is None:
        return False
    left = read.white_speed_after_m_s / (read.arrival_speed_m_s or math.inf)
    return read.thickness >= _NEARLY_FULL or left < _NEARLY_STOPS


def _from_there(read: Readouts) -> str:
    """What its roll or its screw then makes of a white that nearly stopped."""
    ratio = read.follow_ratio or 0.0
    if abs(ratio) <= _NO_ROLL:
        return " and "
    return ", rolls on forward and " if ratio > 0.0 else ", screws back and "


def _leaving_words(off_tangent_deg: float) -> str:
    if abs(off_tangent_deg) <= _ALONG_TANGENT:
        off = f"{abs(off_tangent_deg):.0f}°"
        where = "inside" if off_tangent_deg > 0.0 else "outside"
        return "along the tangent line" + (f" ({off} {where} it)" if off != "0°" else "")
    where = "inside" if off_tangent_deg > 0.0 else "outside"
    return f"{abs(off_tangent_deg):.0f}° {where} the tangent line"


def _ending(read: Readouts, outcome: Outcome, lengths: LengthWords) -> str:
    if outcome.meets:
        side = f" on its {outcome.on} side" if outcome.on else ""
        return f"meets {with_article(outcome.meets)}{side}{_in_off(read)}"
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
    cushions = f"{count} cushion{'s' if count > 1 else ''} but no ball"
    met = cushions if count else "neither ball nor cushion"
    end = f"goes in-off, {read.in_off}" if read.in_off else f"rests{_rest(read, lengths)}"
    return capital(f"{with_article(outcome.cue_ball)} meets {met}, and {end}.")


# Balls of a cluster beyond the two that met that are still named one by one.
_NAMED_OF_A_CLUSTER = 2


def event_words(event: Event) -> str:
    """One event in words: "white meets black", "red 7 falls into the top right pocket"."""
    first = ball_words(event.balls[0])
    match event.kind:
        case EventKind.STRIKE:
            return f"{first} is struck"
        case EventKind.BALL:
            return f"{first} meets {ball_words(event.balls[1])}"
        case EventKind.CLUSTER:
            return f"{first} meets {_cluster_words(event)}, all at once"
        case EventKind.PRESS | EventKind.RELEASE:
            verb = "presses" if event.kind is EventKind.PRESS else "no longer presses"
            return f"{first} {verb} {_pressed_words(event)}"
        case EventKind.CUSHION | EventKind.JAW:
            return f"{first} meets the {surface_words(event)}"
        case EventKind.POCKET:
            return f"{first} falls into the {event.surface} pocket"
        case EventKind.ROLL:
            return f"{first} rolls"
        case EventKind.STOP:
            return f"{first} stops"
    return f"{first} stops spinning"


def _cluster_words(event: Event) -> str:
    """ "red 7 and red 4"; of a whole pack "red 7 and 14 balls in touch with it"."""
    met, *reached = map(ball_words, event.balls[1:])
    if len(reached) > _NAMED_OF_A_CLUSTER:
        return f"{met} and {len(reached)} balls in touch with it"
    return " and ".join([met, *reached])


def _pressed_words(event: Event) -> str:
    """ "red 3", "the left cushion": what a ball that stays in contact presses."""
    if len(event.balls) > 1:
        return ball_words(event.balls[1])
    return f"the {surface_words(event)}"


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]
