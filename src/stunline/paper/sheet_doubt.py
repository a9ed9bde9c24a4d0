"""How far a sheet's numbers may be off because the table's coefficients are in doubt."""

from __future__ import annotations

import numpy as np

from stunline.equipment.doubt import Doubt
from stunline.paper.sheet_lengths import Lengths
from stunline.paper.sheet_subject import Subject
from stunline.shot.band import SHARE, ShotBand
from stunline.shot.shot import Shot

MM = 1000.0
_FAR = 300.0  # give or take more than this is no place to look at [mm]
_UNSURE = ", ± ?"
_FINE, _FINE_TO, _COARSE = 5.0, 50.0, 10.0  # steps that it is told in, and up to where [mm]
_MOST_ROWS = 2  # told one by one; a full sheet has no room for more
_ALIKE = 0.9  # a row is fine when it comes to the same on so many tables


def give_or_take(shot: Shot, band: ShotBand | None, lengths: Lengths) -> str:
    """Behind where the white stops: ", ± 80"; ", ± ?" where that is too much to tell; or "".

    "Give or take" would break the rows' lines; a caution says what the sign means.
    """
    rest = shot.rest(shot.position.names[0])
    if band is None or rest is None or not band.doubt.names:
        return ""
    if band.whole is None or not band.rest_from_cushions:
        return _UNSURE
    away = MM * np.hypot(*(band.whole.rests - rest).T)
    within = float(np.quantile(away, SHARE, method="hazen"))
    if within > _FAR:
        return _UNSURE
    step = _FINE if within <= _FINE_TO else _COARSE
    told = max(step, step * round(within / step))
    return f", ± {lengths.whole(told).removesuffix(' mm')}"


def doubt_words(subject: Subject) -> tuple[str, ...]:
    """One caution: whose doubt that is, and which rows may come to something else."""
    bands = subject.bands
    if not bands or not bands[0].doubt.names:
        return ()
    tables = bands[0].tables
    which = _which(bands[0].doubt)
    pairs = zip(subject.shots, bands, strict=True)
    ends = [give_or_take(shot, one, Lengths()) for shot, one in pairs]
    is_told = any(end not in ("", _UNSURE) for end in ends)
    said = f"±: give or take, on 9 of 10 tables {which}"
    if _UNSURE in ends:
        said += " (?: more)"
    unsure = [
        (number, one) for number, one in enumerate(bands, 1) if one.same < _ALIKE * one.tables
    ]
    elsewhere = _elsewhere(bands, [number for number, _ in unsure])
    if is_told:
        return (f"{said}; of {tables} {elsewhere}." if elsewhere else f"{said}.",)
    return (f"Of {tables} tables {which}, {elsewhere}.",) if elsewhere else ()


def _elsewhere(bands: tuple[ShotBand, ...], unsure: list[int]) -> str:
    """ "something else happens on 16 at row 1, 17 at row 2", or ""; of many rows the span."""
    if not unsure:
        return ""
    counts = [(number, bands[number - 1].tables - bands[number - 1].same) for number in unsure]
    if len(bands) == 1:
        return f"something else happens on {counts[0][1]}"
    if len(counts) > _MOST_ROWS:
        least, most = min(count for _, count in counts), max(count for _, count in counts)
        return f"something else happens on {least} to {most} at {len(counts)} of the rows"
    rows = [f"{count} at row {number}" for number, count in counts]
    return f"something else happens on {', '.join(rows)}"


def _which(doubt: Doubt) -> str:
    if doubt.gauging is None:
        return "like this, never gauged"
    return f"as this one may be, gauged {doubt.gauging.date}".rstrip()
