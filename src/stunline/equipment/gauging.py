"""What is known of a cloth that was gauged: values with their covariance, as plain data.

In a table file this is ``[cloths.NAME.gauging]``, written by ``stunline gauge fit -o``.
"""

from __future__ import annotations

from dataclasses import dataclass

from stunline.files.toml_fields import NumberField, Section
from stunline.files.words import Limits, kind_of, shown

SCALES = ("log", "logit", "plain")
_KEYS = ("date", "record", "measurements", "names", "scales", "values", "told", "covariance")
_COUNT = NumberField("the number of measurements", Limits(1.0, 1e6), "12")
_REDO = "write the file again with: stunline gauge fit FILE -o TABLE.toml"
_MOST_ASYMMETRY = 1e-6  # of a covariance, over its largest number


@dataclass(frozen=True, slots=True)
class Gauging:
    """A posterior.

    Attributes:
        date: of the record, as written, or ""
        record: its title
        measurements: how many readings it holds
        names: of the unknowns
        scales: on which each is normal: "log", "logit" or "plain"
        values: the most likely
        told: whether the measurements said more of it than the prior
        covariance: on the scales
    """

    date: str
    record: str
    measurements: int
    names: tuple[str, ...]
    scales: tuple[str, ...]
    values: tuple[float, ...]
    told: tuple[bool, ...]
    covariance: tuple[tuple[float, ...], ...]


def read_gauging(entry: Section) -> Gauging | None:
    """The gauging of a cloth profile; None when there is none, or with faults noted."""
    section = entry.section("gauging", _KEYS, "[cloths.match.gauging]")
    if section is None:
        return None
    for key in _KEYS[2:]:
        section.require(key, key, "as written by gauging", _REDO)
    before = len(section.faults)
    count = section.number("measurements", _COUNT)
    names = _row(section, "names", str, None)
    size = None if names is None else len(names)
    scales = _row(section, "scales", str, size)
    values = _row(section, "values", float, size)
    told = _row(section, "told", bool, size)
    covariance = _covariance(section, size)
    if scales is not None and not set(scales) <= set(SCALES):
        _refuse(section, "scales", "each scale must be log, logit or plain")
    if len(section.faults) > before or None in (count, names, scales, values, told, covariance):
        return None
    assert count and names and scales and values and told and covariance
    return Gauging(
        str(section.get("date") or ""), str(section.get("record") or ""), int(count),
        names, scales, values, told, covariance,
    )  # fmt: skip


def _row(section: Section, key: str, kind: type, size: int | None) -> tuple | None:  # type: ignore[type-arg]
    value = section.get(key)
    if key not in section:
        return None
    numbers = (int, float) if kind is float else (kind,)
    good = isinstance(value, list) and value and all(isinstance(one, numbers) for one in value)
    if not isinstance(value, list) or not good or (size is not None and len(value) != size):
        _refuse(section, key, f"{key} must be a list, one for each of the names")
        return None
    return tuple(kind(one) for one in value)


def _covariance(section: Section, size: int | None) -> tuple[tuple[float, ...], ...] | None:
    value = section.get("covariance")
    if size is None or value is None:
        return None
    square = isinstance(value, list) and len(value) == size and all(
        isinstance(row, list)
        and len(row) == size
        and all(isinstance(one, (int, float)) and not isinstance(one, bool) for one in row)
        for row in value
    )  # fmt: skip
    if not square:
        _refuse(section, "covariance", "the covariance must be a square of numbers")
        return None
    rows = tuple(tuple(float(one) for one in row) for row in value)  # type: ignore[attr-defined]
    largest = max(abs(one) for row in rows for one in row)
    symmetric = all(
        abs(rows[i][j] - rows[j][i]) <= _MOST_ASYMMETRY * largest
        for i in range(size)
        for j in range(i)
    )
    if not symmetric or any(rows[i][i] <= 0.0 for i in range(size)):
        _refuse(section, "covariance", "a covariance is symmetric, its diagonal above 0")
        return None
    return rows


def _refuse(section: Section, key: str, what: str) -> None:
    value = section.get(key)
    section.faults.add(
        section.at(key), what, given=f"{kind_of(value)}: {shown(value)}",
        allowed="as many as there are names", remedy=_REDO,
    )  # fmt: skip
