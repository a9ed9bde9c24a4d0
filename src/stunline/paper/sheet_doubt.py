"""How far a sheet's numbers may be off because the table's coefficients are in doubt."""

from __future__ import annotations

from math import inf, isinf

import numpy as np

from stunline.equipment.doubt import Doubt
from stunline.paper.sheet_lengths import Lengths
from stunline.paper.sheet_subject import Subject
from stunline.paper.sheet_varied import listed
from stunline.shot.band import SHARE, ShotBand
from stunline.shot.shot import Shot

MM = 1000.0
FAR = 300.0  # give or take more than this is no place to look at [mm]
_UNSURE = ", ± ?"
_FINE, _FINE_TO, _COARSE = 5.0, 50.0, 10.0  # steps that it is told in, and up to where [mm]
_MOST_ROWS = 2  # told one by one; a full sheet has no room for more
_ALIKE = 0.9  # a row is fine when it comes to the same on so many tables


def rest_doubt(shot: Shot, band: ShotBand | None) -> float:
    """How far from its place the white stops at most on 9 of 10 tables like this. [mm]

    Rounded to steps as it is told; 0 where nothing is in doubt or the white does not stop, infinite
    where it is too much to tell.
    """
    rest = shot.rest(shot.position.names[0])
    if band is None or rest is None or not band.doubt.names:
        return 0.0
    if band.whole is None or not band.rest_from_cushions:
        return inf
    away = MM * np.hypot(*(band.whole.rests - rest).T)
    within = float(np.quantile(away, SHARE, method="hazen"))
    if within > FAR:
        return inf
    step = _FINE if within <= _FINE_TO else _COARSE
    return max(step, step * round(within / step))


def give_or_take(shot: Shot, band: ShotBand | None, lengths: Lengths) -> str:
    """Behind where the white stops: ", ± 80"; ", ± ?" where that is too much to tell; or "".

    "Give or take" would break the rows' lines; ``sign_words`` says what the sign means.
    """
    within = rest_doubt(shot, band)
    if within == 0.0:
        return ""
    return _UNSURE if isinf(within) else f", ± {lengths.whole(within).removesuffix(' mm')}"


def row_doubts(subject: Subject) -> list[float]:
    """``rest_doubt`` of every row. [mm]"""
    bands = subject.bands or (None,) * len(subject.shots)
    return [rest_doubt(shot, one) for shot, one in zip(subject.shots, bands, strict=True)]


def sign_words(subject: Subject, lengths: Lengths) -> str:
    """What ± behind a place means, and ± ?; or "" where no row has either."""
    doubts = [one for one in row_doubts(subject) if one > 0.0]
    if not doubts:
        return ""
    which = _which(subject.bands[0].doubt)
    far = lengths.whole(FAR)
    if all(map(isinf, doubts)):
        return f"± ?: over {far} on tables {which}."
    over = f"; ± ?: over {far}" if any(map(isinf, doubts)) else ""
    return f"±: on 9 of 10 tables {which}{over}."


def doubt_words(subject: Subject) -> tuple[str, ...]:
    """One caution: which rows may come to something else on tables like this."""
    bands = subject.bands
    if not bands or not bands[0].doubt.names:
        return ()
    unsure = [
        (number, one.tables - one.same)
        for number, one in enumerate(bands, 1)
        if one.same < _ALIKE * one.tables
    ]
    if not unsure:
        return ()
    counts = [count for _, count in unsure]
    signed = any(row_doubts(subject))  # then ``sign_words`` has said which tables
    which = "such tables" if signed else f"tables {_which(bands[0].doubt)}"
    start = f"Of {bands[0].tables} {which},"
    if len(bands) == 1:
        return (f"{start} something else happens on {counts[0]}.",)
    if len(unsure) <= _MOST_ROWS:
        (first, count), *more = unsure
        told = [f"row {first} comes out otherwise on {count}"]
        told += [f"row {number} on {count}" for number, count in more]
        return (f"{start} {' and '.join(told)}.",)
    numbers = [str(number) for number, _ in unsure]
    rows = "each row" if len(numbers) == len(bands) else f"each of rows {listed(numbers)}"
    share = f"{min(counts)} to {max(counts)} of {bands[0].tables}"
    return (f"On {share} {which} {rows} comes out otherwise.",)


def _which(doubt: Doubt) -> str:
    if doubt.gauging is None:
        return "like this, never gauged"
    return f"as this one may be, gauged {doubt.gauging.date}".rstrip()
