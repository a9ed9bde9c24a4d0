"""What to watch for: strain, the cloth, where the model ends; what applies, then two always."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees, hypot

from stunline.paper.sheet_doubt import doubt_words
from stunline.paper.sheet_subject import Subject
from stunline.paper.sheet_words import counted, fouls
from stunline.shot.notes import POWER_STROKE, RAISED, RIGID_CUSHION_LIMIT, fastest_into_cushion
from stunline.shot.sentences import capital
from stunline.shot.words import with_article

ROUNDING = 1e-9  # a contact on the safe limit is within it

ALWAYS = (
    "Ask the club before you mark its cloth. Set with the tape, lift it, then play.",
    "Local rules and the advice of a licensed coach come first.",
)


def cautions(subject: Subject) -> tuple[str, ...]:
    """The sentences, what may hurt first."""
    return (*_applying(subject), *doubt_words(subject), *ALWAYS)


def _applying(subject: Subject) -> Iterator[str]:
    shots = subject.shots
    foul = fouls(subject)
    if any(foul):
        gone = _which(foul, "The shot goes", "goes", "go")
        yield f"{gone} in-off: a foul, not a result to aim for."
    firm = [shot.strike.pace >= POWER_STROKE for shot in shots]
    if any(firm):
        fastest = max(shot.strike.pace for shot in shots)
        yield (
            f"{_which(firm, 'A power stroke', 'is a power stroke', 'are power strokes')} (up to "
            f"{fastest:.1f} m/s): warm up first, stop if wrist, elbow or back complains, and ask a "
            "coach or physician; keep people and glass away from the table’s end."
        )
    raised = max(shot.strike.elevation for shot in shots)
    if raised > RAISED:
        white = capital(with_article(subject.cue_ball))
        yield (
            f"The butt is raised by {degrees(raised):.0f}°: ask the club before striking down on "
            f"its cloth. {white}’s hop is not computed."
        )
    risky = [_offset(subject, number) for number in range(len(shots))]
    if any(risky):
        one = f"The tip meets {with_article(subject.cue_ball)}"
        yield (
            f"{_which(risky, one, 'is struck', 'are struck')} past the safe limit: chalk, and "
            "expect a miscue now and then."
        )
    yield from _model_ends(subject)


def _offset(subject: Subject, number: int) -> bool:
    """Whether that strike is further out than is advised."""
    shot = subject.shots[number]
    radius = shot.position.radius(subject.cue_ball)
    safe = shot.position.table.cue.safe_offset * radius
    return hypot(shot.strike.height, shot.strike.side) > safe + ROUNDING


def _model_ends(subject: Subject) -> Iterator[str]:
    fast = [fastest_into_cushion(shot) > RIGID_CUSHION_LIMIT for shot in subject.shots]
    if any(fast):
        yield (
            f"{_which(fast, 'A cushion', 'meets a cushion', 'meet a cushion')} faster than "
            f"{RIGID_CUSHION_LIMIT} m/s straight into it: what follows is less sure."
        )


def _which(holds: Sequence[bool], alone: str, singular: str, plural: str) -> str:
    """ "A power stroke" of one shot; "Rungs 4 and 5 are power strokes" of a ladder."""
    if len(holds) == 1:
        return alone
    numbers = [str(number) for number, one in enumerate(holds, 1) if one]
    if len(numbers) == len(holds) == 2:
        return f"Both rungs {plural}"
    if len(numbers) == len(holds):
        return f"All {counted(len(numbers))} rungs {plural}"
    if len(numbers) == 1:
        return f"Rung {numbers[0]} {singular}"
    return f"Rungs {', '.join(numbers[:-1])} and {numbers[-1]} {plural}"
