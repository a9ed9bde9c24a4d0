"""What changes from row to row of a ladder, and what stays as it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stunline.paper.sheet_subject import Subject

SAME = 0.05  # heights and sides that differ by less look the same in tenths [mm]
SAME_PACE = 0.005  # paces that differ by less look the same in hundredths [m/s]
SAME_THICKNESS = 0.02  # contacts that differ by less are one contact to the eye [-]
MM = 1000.0  # in a metre


def changing(subject: Subject) -> tuple[str, ...]:
    """What the pupil changes: the ladder's own first, then what was solved anew with it."""
    if subject.ladder is None:
        return ()
    vary = subject.ladder.vary
    if vary == "thickness":
        return ("contact",)  # aimed anew of itself
    return (vary, *(name for name in _differing(subject) if name != vary))


def staying(subject: Subject) -> tuple[str, ...]:
    """What the pupil keeps."""
    changes = changing(subject)
    aim = "aim" if _keeps_aim(subject) else "contact"
    if aim == "contact" and "aim" in changes:
        return tuple(name for name in ("pace", "height", "side") if name not in changes)
    return tuple(name for name in (aim, "pace", "height", "side") if name not in changes)


def changing_words(subject: Subject) -> str:
    """ "only the pace changes"; "the pace and the height change"."""
    changes = changing(subject)
    if len(changes) == 1:
        return f"only the {changes[0]} changes"
    return f"{listed([f'the {name}' for name in changes])} change"


def staying_words(subject: Subject) -> str:
    """ "contact, height and side stay as they are", or ""."""
    stays = staying(subject)
    return f"{listed(stays)} {'stay as they are' if len(stays) > 1 else 'stays'}" if stays else ""


def _keeps_aim(subject: Subject) -> bool:
    ladder = subject.ladder
    if ladder is None or subject.read.object_ball is None:
        return True
    return ladder.aim_held and ladder.vary != "thickness"


def _differing(subject: Subject) -> Iterator[str]:
    """Of the strikes as they were solved."""
    strikes = [shot.strike for shot in subject.shots]
    if _reach([MM * one.height for one in strikes]) >= SAME:
        yield "height"
    if _reach([MM * one.side for one in strikes]) >= SAME:
        yield "side"
    if _reach([one.pace for one in strikes]) >= SAME_PACE:
        yield "pace"
    thicknesses = [one.thickness for one in subject.reads if one.thickness is not None]
    if not _keeps_aim(subject) and thicknesses and _reach(thicknesses) >= SAME_THICKNESS:
        yield "aim"


def _reach(values: list[float]) -> float:
    return max(values) - min(values)


def listed(names: Sequence[str]) -> str:
    """ "contact, height and side"."""
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last
