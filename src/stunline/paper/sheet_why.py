"""Why it works: the shot's own numbers in sentences. Each says only what its numbers say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from stunline.paper.sheet_lengths import Lengths
from stunline.paper.sheet_subject import Subject
from stunline.paper.sheet_varied import SAME_THICKNESS
from stunline.paper.sheet_words import FULL_BALL, rung_rows
from stunline.shot.bend import path_length
from stunline.shot.readouts import Readouts
from stunline.shot.sentences import capital
from stunline.shot.words import with_article

ALONG = 0.5  # nearer than this the white leaves along the tangent line [°]
NEAR = 6.0  # up to here it is said to leave close to it; common practice, no source [°]
STRAIGHT = 1.0  # less bend than this is none to the eye [°]
SAME = 1.5  # values that differ by no more are one value in words [°]
NO_SPIN = 0.05  # follow ratios smaller than this arrive without spin [-]
THIN = 0.3  # from here on the speed that the white keeps is worth a word [-]
LITTLE = 0.2  # the white keeps little of its speed below this share [-]
PARTLY = 0.03  # a squirt of more is worth a word [°]


def why(subject: Subject, lengths: Lengths) -> tuple[str, ...]:
    """The sentences, the most needed first."""
    met = [number for number, read in enumerate(subject.reads) if read.object_ball is not None]
    if not met:
        return tuple(_alone(subject))
    reads = [subject.reads[number] for number in met]
    if all((read.thickness or 0.0) >= FULL_BALL for read in reads):
        return tuple(_full(subject, reads))
    return tuple(_cut(subject, reads, lengths))


def _alone(subject: Subject) -> Iterator[str]:
    """The white meets no ball: how far it runs."""
    white, shots = subject.cue_ball, subject.shots
    runs = [sum(path_length(phase) for phase in shot.phases(white)) for shot in shots]
    table = subject.shot.position.table.length
    said = with_article(white)
    if len(runs) == 1:
        yield f"{capital(said)} runs {runs[0]:.2f} m in all, {runs[0] / table:.1f} table lengths."
    else:
        each = _listed([f"{run:.1f} m" for run in runs], _values(subject))
        yield f"{capital(said)} runs {each}; the table is {table:.2f} m long."
    slide = [phase for phase in shots[0].phases(white) if phase.motion == "sliding"]
    if slide and slide[0].start == 0.0:
        first = f" at {_values(subject)[0]}" if len(shots) > 1 else ""
        yield f"It slides for the first {path_length(slide[0]):.2f} m{first} and then rolls."


def _full(subject: Subject, reads: Sequence[Readouts]) -> Iterator[str]:
    """A full contact: no tangent line, the spin decides."""
    white = with_article(subject.cue_ball)
    ball = with_article(reads[0].object_ball or "")
    kept = _span([100.0 * _kept(read) for read in reads], "{:.0f}", " %")
    yield f"Met full, {ball} takes the speed: {white} keeps {kept} of its own."
    ratios = [read.follow_ratio or 0.0 for read in reads]
    if all(abs(ratio) <= NO_SPIN for ratio in ratios):
        yield "It arrives without spin, so nothing drives it on or back."
    elif all(ratio > NO_SPIN for ratio in ratios):
        yield "What roll it has left drives it on after the contact."
    elif all(ratio < -NO_SPIN for ratio in ratios):
        yield "Its backspin works against the cloth after the contact and brings it back."


def _cut(subject: Subject, reads: Sequence[Readouts], lengths: Lengths) -> Iterator[str]:
    yield _leaving(subject, reads)
    yield from _squirted(subject, reads)
    yield _bending(subject, reads)
    yield from _running(subject, reads, lengths)
    yield from _turned(subject, reads)
    kept = _span([100.0 * _kept(read) for read in reads], "{:.0f}", " %")
    if all((read.thickness or 1.0) < THIN for read in reads):
        yield f"So thin, it keeps {kept} of its speed."
    if all(_kept(read) < LITTLE for read in reads):
        yield f"So full, it keeps no more than {kept} of its speed."
    yield from _cushion(reads)


def _leaving(subject: Subject, reads: Sequence[Readouts]) -> str:
    """Against the tangent line; never nearer to it in words than in numbers."""
    white = capital(with_article(subject.cue_ball))
    ball = with_article(reads[0].object_ball or "")
    offs = [read.off_tangent_deg or 0.0 for read in reads]
    each = _at_every(subject, offs)
    if all(abs(off) < ALONG for off in offs):
        return f"{white} leaves along the tangent line{each}."
    if min(offs) < 0.0 < max(offs):
        return (
            f"{white} leaves between {-min(offs):.0f}° outside and {max(offs):.0f}° inside the "
            "tangent line."
        )
    side, way = ("inside", "towards") if max(offs) > 0.0 else ("outside", "away from")
    degrees = _span([abs(off) for off in offs], "{:.0f}", "°")
    if max(map(abs, offs)) <= NEAR:
        return f"{white} leaves close to the tangent line, {degrees} {side} it, {way} {ball}{each}."
    return f"{white} leaves {degrees} {side} the tangent line, {way} {ball}{each}."


def _bending(subject: Subject, reads: Sequence[Readouts]) -> str:
    """How its way turns after its first direction, and what turns it."""
    bends = [read.total_bend_deg or 0.0 for read in reads]
    ratios = [read.follow_ratio or 0.0 for read in reads]
    ended = all(read.sliding_ended_after_mm is not None for read in reads)
    until = "" if ended else " before it meets something or stops"
    each = _at_every(subject, bends)
    if all(abs(bend) < STRAIGHT for bend in bends):
        if all(abs(ratio) <= NO_SPIN for ratio in ratios):
            return "It arrives without spin, so its way stays straight."
        return f"Its way then stays straight{until}."
    degrees = _span([abs(bend) for bend in bends], "{:.0f}", "°")
    if all(bend > 0.0 for bend in bends):
        cause = "Its follow then" if all(ratio > NO_SPIN for ratio in ratios) else "It then"
        return f"{cause} bends its way forward by {degrees}{each}{until}."
    if all(bend < 0.0 for bend in bends):
        cause = "Its screw then" if all(ratio < -NO_SPIN for ratio in ratios) else "It then"
        return f"{cause} bends its way back by {degrees}{each}{until}."
    turns = [f"{abs(bend):.0f}° {'forward' if bend > 0.0 else 'back'}" for bend in bends]
    told = (
        _listed(turns, _values(subject)) if len(turns) == len(subject.reads) else ", ".join(turns)
    )
    return f"Its way then bends{until}: {told}."


def _running(subject: Subject, reads: Sequence[Readouts], lengths: Lengths) -> Iterator[str]:
    """How far it keeps to its first line."""
    runs = [read.run_to_5deg_off_mm for read in reads]
    known = [run for run in runs if run is not None]
    if len(known) != len(subject.reads):
        return
    if len(known) == 1:
        yield f"It is 5° off its first line after {lengths.whole(known[0])}."
    elif subject.ladder is not None and subject.ladder.vary == "pace":
        rises = all(one < two for one, two in pairwise(sorted(known)))
        told = _listed([lengths.whole(run) for run in known], _values(subject))
        yield f"It is 5° off its first line after {told}."
        same = _reach([read.thickness or 0.0 for read in reads]) < SAME_THICKNESS
        if rises and same and len({one.meets for one in subject.outcomes}) > 1:
            yield (
                "The contact is the same each time: how hard it is struck decides what it meets."
            )


def _turned(subject: Subject, reads: Sequence[Readouts]) -> Iterator[str]:
    """In all, from its way in to its way out, where the contact varies."""
    if subject.ladder is None or subject.ladder.vary != "thickness":
        return
    if any(read.sliding_ended_after_mm is None for read in reads):
        return
    turned = [
        90.0
        - sum(part or 0.0 for part in (one.cut_angle_deg, one.off_tangent_deg, one.total_bend_deg))
        for one in reads
    ]
    span = _span(turned, "{:.0f}", "°")
    hardly = " only" if _reach(turned) <= NEAR else ""
    yield f"In all it is turned by {span}{hardly}, while the cut goes from " + (
        f"{reads[0].cut_angle_deg:.0f}° to {reads[-1].cut_angle_deg:.0f}°."
    )


def _parts(read: Readouts) -> tuple[float | None, ...]:
    """What turns the white less than by a right angle. [°]"""
    return read.cut_angle_deg, read.off_tangent_deg, read.total_bend_deg


def _squirted(subject: Subject, reads: Sequence[Readouts]) -> Iterator[str]:
    """What side does before the contact."""
    squirts = [read.squirt_deg for read in reads]
    if max(map(abs, squirts)) < PARTLY:
        return
    if subject.ladder is not None and subject.ladder.vary == "side" and len(reads) > 1:
        thicknesses = [read.thickness or 0.0 for read in reads]
        if subject.ladder.aim_held and _reach(thicknesses) > SAME_THICKNESS:
            yield (
                f"Side turns its first direction off the aim (squirt), {_way(squirts[0])} at 1 and "
                f"{_way(squirts[-1])} at {len(squirts)}, so with one aim the contact moves: "
                f"{_part(reads[0])} at 1, {_part(reads[-1])} at {len(squirts)}."
            )
    elif len(reads) == 1:
        yield f"Side turns its first direction {_way(squirts[0])} off the aim (squirt)."


def _part(read: Readouts) -> str:
    return f"thickness {read.thickness:.2f} on the {read.met_on}"


def _way(squirt_deg: float) -> str:
    if abs(squirt_deg) < PARTLY:
        return "not at all"
    return f"{abs(squirt_deg):.1f}° to the {'left' if squirt_deg > 0.0 else 'right'}"


def _cushion(reads: Sequence[Readouts]) -> Iterator[str]:
    """The cushion that it meets next, when that is one for all."""
    met = {read.next_met for read in reads}
    name = next(iter(met))
    if len(met) == 1 and name is not None and name.endswith("cushion"):
        speeds = _span([read.next_met_speed_m_s or 0.0 for read in reads], "{:.1f}", " m/s")
        yield f"It comes to the {name} at {speeds}."


def _kept(read: Readouts) -> float:
    """Share of its speed that the white keeps in the contact."""
    before = read.arrival_speed_m_s or 0.0
    return (read.white_speed_after_m_s or 0.0) / before if before else 0.0


def _values(subject: Subject) -> list[str]:
    """Each rung's value, as its row has it."""
    return [row.value for row in rung_rows(subject, Lengths())]


def _listed(told: Sequence[str], values: Sequence[str]) -> str:
    """ "7 mm at 1.0 m/s, 20 mm at 1.7 m/s"; the unit once where all have the same."""
    return ", ".join(f"{one} at {value}" for one, value in zip(told, values, strict=True))


def _at_every(subject: Subject, values: Sequence[float]) -> str:
    """ " at every pace" where it holds."""
    if subject.ladder is None or len(values) < len(subject.reads) or _reach(values) > SAME:
        return ""
    return f" at every {subject.ladder.vary}"


def _reach(values: Sequence[float]) -> float:
    return max(values) - min(values)


def _span(values: Sequence[float], form: str, unit: str) -> str:
    """ "28°", "24 to 31°"."""
    low, high = form.format(min(values)), form.format(max(values))
    return f"{low}{unit}" if low == high else f"{low} to {high}{unit}"
