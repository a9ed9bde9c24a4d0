"""What to watch for: strain, the cloth, where the model ends; what applies, then two always."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees

from stunline.equipment.player import load_player
from stunline.paper.sheet_doubt import doubt_words
from stunline.paper.sheet_subject import Subject
from stunline.paper.sheet_words import counted, fouls
from stunline.shot.miscue import is_past_advised, miscue_chance
from stunline.shot.notes import POWER_STROKE, RAISED, RIGID_CUSHION_LIMIT, fastest_into_cushion
from stunline.shot.sentences import capital
from stunline.shot.words import with_article

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
    risky = [is_past_advised(one.position, one.strike.height, one.strike.side) for one in shots]
    if any(risky):
        one = f"The tip meets {with_article(subject.cue_ball)}"
        yield (
            f"{_which(risky, one, 'is struck', 'are struck')} past the advised limit: chalk; "
            f"{_slips(subject)}."
        )
    yield from _model_ends(subject)


def _slips(subject: Subject) -> str:
    """ "a club player's tip slips off on up to 35 % of strokes": at the worst of the rows."""
    player = load_player("")
    most = max(
        miscue_chance(one.position, one.strike.height, one.strike.side, player)
        for one in subject.shots
    )
    return f"a {player.name} player’s tip slips off on up to {100.0 * most:.0f} % of strokes"


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
