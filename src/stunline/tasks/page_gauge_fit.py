"""The fit of a record as it grows, for the page: coefficients narrowing from what was assumed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from scipy.stats import norm

from stunline.calibration.advice import advise
from stunline.calibration.fit import Fit, fit
from stunline.calibration.posterior import LEVEL, Estimate, estimates, residuals, rolling_by_heading
from stunline.calibration.record_file import parse_record
from stunline.calibration.table_writing import table_text
from stunline.calibration.targets import standard_targets
from stunline.equipment.catalogue import load_table
from stunline.errors import Fault
from stunline.tasks.library import Library, TakenNameError, open_library
from stunline.tasks.page_record_shape import read_record
from stunline.tasks.page_records import check_size
from stunline.tasks.save_durably import put_new
from stunline.tasks.save_names import ENDING, clean_name, shown_name
from stunline.tasks.tell_gauge import HEADINGS, READINGS, figure, misses_words
from stunline.units import millimetres

Grow = Callable[[str, float, dict[str, Any]], None]
_REACH = float(norm.ppf(0.5 + 0.5 * LEVEL))  # of an interval, in standard deviations
_STAGES = 4  # words that a fit says, of about equal length


class _OvertakenError(Exception):
    """A newer entry asks for another fit."""


def fit_for_page(
    folder: Path,
    name: str,
    to: str,
    grow: Grow,
    stopped: Callable[[], bool] = lambda: False,
) -> None:
    """Fit a record of the library as it stands now; write the gauged table if a name is given.

    Args:
        folder: the library's
        name: of the record
        to: the name of the table file to write, or ""
        grow: told what is being done, how much of it is, and what there is
        stopped: asked between the steps; once true nothing more is told

    Raises:
        InputError: nothing in the record can be used; or the table's name is taken.
    """
    library = open_library(str(folder))
    if to:
        check_table_name(library, to)
    stored = library.read(name)
    check_size(len(read_record(stored, folder).record.plays))
    record = parse_record(stored.text(), stored.name + ENDING, folder).record
    empty = _told_nothing(stored.revision)
    steps = 0

    def told(words: str) -> None:
        nonlocal steps
        grow(words, steps / _STAGES, empty)
        steps += 1
        if stopped():
            raise _OvertakenError

    try:
        found = fit(record, told)
    except _OvertakenError:
        return
    file = _write(library, found, stored.name, to) if to else ""
    grow("done", 1.0, {**fitted_shape(found, stored.revision), "table": file})


def check_table_name(library: Library, to: str) -> None:
    """Refuse a name that no new table can have.

    Raises:
        TakenNameError: there is a file of that name; it is never written over.
        InputError: no file can have that name.
    """
    if library.holds(to):
        raise _taken(to)


def _write(library: Library, found: Fit, record: str, to: str) -> str:
    """The table file's name, once it stands in the library and can be read."""
    name = clean_name(to)
    with library.locked():
        try:
            put_new(table_text(found, record + ENDING).encode(), library.path(name))
        except FileExistsError:
            raise _taken(to) from None
    load_table(name + ENDING, library.folder)
    return name + ENDING


def fitted_shape(found: Fit, revision: str) -> dict[str, Any]:
    """A fit as the page shows it; bars in standard deviations of what was assumed before."""
    record = found.record
    numbers = {play.name: play.number for play in record.plays}
    centres = found.shared.tolist()
    deviations = np.sqrt(np.diag(found.shared_covariance)).tolist()
    rows = zip(estimates(found), centres, deviations, strict=True)
    misses = residuals(found)
    return {
        "fitted": True,
        "revision": revision,
        "plays": len(record.plays),
        "readings": record.readings,
        "rows": [_row(one, centre, deviation) for one, centre, deviation in rows],
        "headings": [
            [HEADINGS[heading], figure(value), _interval(low, high)]
            for heading, (value, low, high) in rolling_by_heading(found).items()
        ],
        "suspects": [
            {
                "play": numbers[one.play],
                "name": one.play,
                "words": f"{READINGS[one.reading]}: {one.surprise:.0f} errors off the others",
            }
            for one in misses
            if one.surprise is not None
        ],
        "misses": [
            {
                "play": numbers[one.play],
                "words": f"{READINGS[one.reading]} {_true_minus(misses_words(one))}",
            }
            for one in misses
        ],
        "next": _next(found),
        "table": "",
    }


def _next(found: Fit) -> dict[str, Any]:
    """What to measure next, for four plain shots on this table."""
    advice = advise(found, standard_targets(found.predictor))
    band = f"±{millimetres(advice.band):.0f} mm"
    return {
        "words": f"Where the white ends in plain shots is known to {band} (90\u00a0%).",
        "enough": advice.enough,
        "shots": [
            {
                "shot": one.shot.id,
                "title": one.shot.title,
                "words": f"then ±{millimetres(one.band):.0f} mm",
            }
            for one in advice.best
        ],
    }


def _row(one: Estimate, centre: float, deviation: float) -> dict[str, Any]:
    return {
        "name": one.name.replace("_", " "),
        "meaning": one.meaning,
        "unit": one.unit,
        "value": _true_minus(figure(one.value)),
        "interval": _interval(one.low, one.high),
        "before": f"{figure(one.prior_value)}, {_interval(one.prior_low, one.prior_high)}",
        "told": one.told,
        "prior": [-_REACH, _REACH],
        "now": [centre - _REACH * deviation, centre + _REACH * deviation],
    }


def _interval(low: float, high: float) -> str:
    return _true_minus(f"{figure(low)} to {figure(high)}")


def _true_minus(numbers: str) -> str:
    return numbers.replace("-", "−")


def _told_nothing(revision: str) -> dict[str, Any]:
    return {
        "fitted": False,
        "revision": revision,
        "plays": 0,
        "readings": 0,
        "rows": [],
        "headings": [],
        "suspects": [],
        "misses": [],
        "next": {"words": "", "enough": False, "shots": []},
        "table": "",
    }


def _taken(name: str) -> TakenNameError:
    fault = Fault(
        "the library already holds a file of that name, and nothing was written",
        given=shown_name(name),
        allowed="a name that is free",
        remedy="another name",
        key="to",
    )
    return TakenNameError([fault])
