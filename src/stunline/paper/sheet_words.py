"""A sheet's words: what the position shows, the strike, the rungs, face and contact."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stunline.drawing.contact_figure import contact_words
from stunline.drawing.face import face_words
from stunline.drawing.ladder_strip import rung_labels
from stunline.paper.sheet_doubt import give_or_take
from stunline.paper.sheet_lengths import Lengths
from stunline.paper.sheet_places import end_place
from stunline.paper.sheet_subject import Subject
from stunline.paper.sheet_varied import SAME_THICKNESS, changing_words
from stunline.shot.position import Aim, ContactAim, PotAim
from stunline.shot.readouts import Readouts
from stunline.shot.sentences import capital
from stunline.shot.shot import Shot
from stunline.shot.words import arrival_phrase, arrival_words, thickness_words, with_article

COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
MM = 1000.0
IN_OFF_SCORES = "English billiards"  # the game in which an in-off is a scoring stroke
FULL_BALL = 0.98  # from here on a contact has no side worth naming [-]
SAME_HEIGHT = 0.05  # heights that differ by less look the same in tenths [mm]


@dataclass(frozen=True, slots=True)
class RungWords:
    """A row of "Play it".

    Attributes:
        value: what is set, "1.7 m/s"
        second: the same in another unit, or what it leads to: "1.3 lengths"
        outcome: "meets red 7 on its left side"
        place: where the white ends, "stops 712 mm from left, 484 from top", or ""
    """

    value: str
    second: str
    outcome: str
    place: str = ""


def counted(count: int) -> str:
    """ "five", "12"."""
    return COUNTS[count] if count < len(COUNTS) else str(count)


def lead(subject: Subject) -> str:
    """One line: what the position shows."""
    white = with_article(subject.cue_ball)
    varies_thickness = subject.ladder is not None and subject.ladder.vary == "thickness"
    wish = _wish(subject.plan.aim, white, subject.read, varies_thickness)
    if subject.ladder is None:
        if fouls(subject)[0]:
            return f"{wish}. Struck as here {white} goes in-off: a foul, not a shot to practise."
        said = subject.outcomes[0].sentence()
        return f"{wish}; {said}." if subject.outcomes[0].object_ball else f"{wish}."
    times, vary = counted(len(subject.shots)), subject.ladder.vary
    if vary == "side" and not subject.ladder.aim_held:
        told = f"{wish}, {times} times; change the side and aim again: side turns the line."
    else:
        told = f"{wish}, {times} times; {changing_words(subject)}."
    if all(one.meets for one in subject.outcomes) and len(set(subject.outcomes)) > 1:
        told += f" It decides what {white} meets next."
    return told


def fouls(subject: Subject) -> tuple[bool, ...]:
    """Which shots end in-off in a game in which that is a foul."""
    scores = subject.shot.position.table.game == IN_OFF_SCORES
    return tuple(bool(one.in_off) and not scores for one in subject.outcomes)


def _wish(aim: Aim, white: str, read: Readouts, varies_thickness: bool) -> str:
    if isinstance(aim, PotAim):
        return f"Pot {with_article(aim.ball)} into the {aim.pocket} pocket"
    if isinstance(aim, ContactAim):
        side = f" on its {aim.on} side" if aim.on and aim.thickness < FULL_BALL else ""
        thickness = "" if varies_thickness else f" {thickness_words(aim.thickness)}"
        return f"Meet {with_article(aim.ball)}{thickness}{side}"
    if read.object_ball:
        return f"Play {white} along its line, into {with_article(read.object_ball)}"
    return f"Play {white} along its line"


def strike_words(subject: Subject, lengths: Lengths) -> str:
    """The strike, without what the ladder varies."""
    shot, varied = subject.shot, subject.ladder.vary if subject.ladder else ""
    face = face_words(shot.strike, shot.position.table, lengths)
    parts = [_aim_words(subject, varied)]
    height, side = place_words(shot, lengths)
    if varied != "height":
        parts.append(_height(subject, height))
    if varied != "side":
        parts.append(side)
    if varied != "pace":
        parts.append(f"{shot.strike.pace:.2f} m/s = {subject.read.pace_lengths:.1f} lengths")
    if not face.cue.startswith("level"):
        parts.append(face.cue)
    parts.append(_arrival(subject))
    return capital(", ".join(filter(None, parts))) + "."


def place_words(shot: Shot, lengths: Lengths) -> tuple[str, str]:
    """Where the tip meets the white: "10.5 mm above centre", "no side"."""
    words = face_words(shot.strike, shot.position.table, lengths).contact
    height, _, side = words.removeprefix("contact ").partition(", ")
    return height, side or "no side"


def _height(subject: Subject, first: str) -> str:
    """The first height; where each rung's was solved, from which to which."""
    heights = [MM * shot.strike.height for shot in subject.shots]
    if max(heights) - min(heights) < SAME_HEIGHT:
        return first
    return "height as in each row"


def _aim_words(subject: Subject, varied: str) -> str:
    """How full the ball is met, and whether that holds for every rung."""
    ladder, read = subject.ladder, subject.read
    if read.object_ball is None:
        return f"{with_article(subject.cue_ball)} alone"
    first = met_words(read)
    if varied == "thickness":
        return f"{with_article(read.object_ball)} on its {read.met_on} side"
    thicknesses = [one.thickness for one in subject.reads if one.thickness is not None]
    if ladder is None or max(thicknesses) - min(thicknesses) < SAME_THICKNESS:
        return first
    if ladder.aim_held:
        return f"aim as for 1, which meets {first}, and keep that aim"
    return f"{first} at 1, aim again for each row"


def met_words(read: Readouts) -> str:
    """ "half-ball on the left side of the red"."""
    ball = with_article(read.object_ball or "")
    if (read.thickness or 0.0) >= FULL_BALL:
        return f"{read.thickness_words} on {ball}"
    return f"{read.thickness_words} on the {read.met_on} side of {ball}"


def _arrival(subject: Subject) -> str:
    """How the white arrives, from the first rung to the last."""
    ratios = [one.follow_ratio for one in subject.reads if one.follow_ratio is not None]
    if not ratios:
        return ""
    first, last = arrival_phrase(ratios[0]), arrival_phrase(ratios[-1])
    if len({arrival_words(ratio) for ratio in ratios}) == 1:
        return f"arrives {first}"
    if subject.ladder is not None and subject.ladder.vary in ("height", "distance"):
        return ""  # each rung's row says it
    return f"arrives {first} at 1, {last} at {len(subject.shots)}" if first != last else ""


def rung_rows(subject: Subject, lengths: Lengths) -> tuple[RungWords, ...]:
    """Every rung of the ladder; without one the shot itself."""
    if subject.ladder is None:
        return (RungWords("", "", _outcome(subject, 0), _place(subject, 0, lengths)),)
    labels = rung_labels(subject.ladder)
    seconds = _seconds(subject)
    return tuple(
        RungWords(
            _value(subject, number, label, lengths),
            second,
            _outcome(subject, number),
            _place(subject, number, lengths),
        )
        for number, (label, second) in enumerate(zip(labels, seconds, strict=True))
    )


def _value(subject: Subject, number: int, label: str, lengths: Lengths) -> str:
    assert subject.ladder is not None
    height, side = place_words(subject.shots[number], lengths)
    match subject.ladder.vary:
        case "pace":
            return f"{label} m/s"
        case "height":
            return height
        case "side":
            return side
        case "distance":
            return lengths(MM * float(str(subject.ladder.rungs[number].value)))
    return label


def _seconds(subject: Subject) -> Sequence[str]:
    """The second column of every rung."""
    assert subject.ladder is not None
    reads = subject.reads
    if subject.ladder.vary == "pace":
        tenths = [f"{read.pace_lengths:.1f}" for read in reads]
        apart = len(set(tenths)) == len({round(read.pace_lengths, 2) for read in reads})
        told = tenths if apart else [f"{read.pace_lengths:.2f}" for read in reads]
        heights = _solved_heights(subject)
        return [
            f"{one} length{'' if float(one) == 1.0 else 's'}{height}"
            for one, height in zip(told, heights, strict=True)
        ]
    if subject.ladder.vary in ("height", "distance"):
        return [
            "" if read.follow_ratio is None else arrival_words(read.follow_ratio) for read in reads
        ]
    return [_cut_words(read) for read in reads]


def _solved_heights(subject: Subject) -> list[str]:
    """Each rung's height behind a comma, where they differ; its own words would be too long."""
    heights = [MM * shot.strike.height for shot in subject.shots]
    if max(heights) - min(heights) < SAME_HEIGHT:
        return [""] * len(heights)
    return [f", {abs(one):.1f} mm {'above' if one > 0.0 else 'below'}" for one in heights]


def _cut_words(read: Readouts) -> str:
    if read.cut_angle_deg is None:
        return ""
    side = f" {read.met_on}" if (read.thickness or 0.0) < FULL_BALL else ""
    return f"cut {read.cut_angle_deg:.0f}°{side}"


def _outcome(subject: Subject, number: int) -> str:
    white = with_article(subject.cue_ball)
    words = subject.outcomes[number].sentence().removeprefix(f"{white} ")
    reason = subject.ladder.rungs[number].reason if subject.ladder else ""
    return f"{words} ({reason})" if reason else words


def _place(subject: Subject, number: int, lengths: Lengths) -> str:
    """Where the white ends."""
    shot = subject.shots[number]
    place = end_place(shot, lengths)
    if place is None:
        return ""
    band = subject.bands[number] if subject.bands else None
    return place.words + give_or_take(shot, band, lengths)


def face_lines(subject: Subject, lengths: Lengths) -> tuple[str, ...]:
    """Below the face: the contact first."""
    shot = subject.shot
    words = face_words(shot.strike, shot.position.table, lengths)
    cue = shot.position.table.cue
    radius = MM * shot.position.radius(subject.cue_ball)
    safe, miscue = (radius * offset for offset in (cue.safe_offset, cue.miscue_offset))
    safe_words, miscue_words = (lengths.fine(one) for one in (safe, miscue))
    limits = f"advised to {safe_words}, miscue past {miscue_words}"
    raised = words.cue.removesuffix(", seen along the cue")
    if len({(one.strike.height, one.strike.side) for one in subject.shots}) > 1:
        return (
            f"{capital(with_article(subject.cue_ball))}’s face, full size",
            limits,
            f"{raised}; grid 5 mm",
        )
    contact = capital(words.contact.removeprefix("contact "))
    dot = words.axis.removeprefix("cue axis ")
    point = f"point the cue at the dot, {dot}: it then touches at the cross"
    return (contact, point, limits, f"{raised}; full size, grid 5 mm")


def contact_lines(subject: Subject) -> tuple[str, ...]:
    """Below the magnified contact: how full first; nothing where no ball is met."""
    words = contact_words(subject.shot)
    if words is None:
        return ()
    rung = "" if subject.ladder is None else " (1)"
    cut = words.cut.rpartition(", ")[2]
    leaving = words.leaving.removeprefix("the white ")
    return (capital(words.thickness) + rung, f"{cut}, {leaving}", words.throw)
