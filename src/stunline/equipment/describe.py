"""A table's numbers as rows, each with its unit and source, for people to read and doubt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.model import Cloth, Sourced, Table
from stunline.units import millimetres


@dataclass(frozen=True, slots=True)
class DescribedNumber:
    """One number of a table.

    Attributes:
        part: of the table: "playing area", "cloth match"
        what: "length", "sliding friction"
        value: in ``unit``
        unit: as written in the data, "1" for a plain number
        source: where the number is from, with its mark
    """

    part: str
    what: str
    value: float
    unit: str
    source: str


def describe(table: Table) -> tuple[DescribedNumber, ...]:
    """Every number of a table: as written in its file, then those that follow from them."""
    rows = [_row(key, sourced) for key, sourced in table.sources.items()]
    for cloth in table.cloths.values():
        rows.extend(describe_cloth(cloth))
    rows.extend(_derived(table))
    return tuple(rows)


def describe_cloth(cloth: Cloth) -> tuple[DescribedNumber, ...]:
    """Every number of one profile."""
    return tuple(
        DescribedNumber(f"cloth {cloth.name}", _words(key), one.value, one.unit, one.source)
        for key, one in cloth.sources.items()
    )


def _row(key: str, sourced: Sourced) -> DescribedNumber:
    *parts, what = key.split(".")
    part = " ".join(_words(part) for part in parts)
    return DescribedNumber(part, _words(what), sourced.value, sourced.unit, sourced.source)


def _derived(table: Table) -> Iterator[DescribedNumber]:
    """What the engine uses and no file states."""
    radii = {ball.radius for ball in table.balls.values()}
    for radius in sorted(radii):
        distance = millimetres(nose_contact_distance(radius, table.nose_height))
        what = f"centre to nose line at contact, ball of {millimetres(2 * radius):g} mm"
        yield DescribedNumber("derived", what, distance, "mm", "R√(1 − (h/R − 1)²) [X]")
    for pocket in table.pockets:
        ends = [nose.start for nose in table.noses] + [nose.end for nose in table.noses]
        x, y = pocket.mouth_middle
        nearest = min(((end[0] - x) ** 2 + (end[1] - y) ** 2) ** 0.5 for end in ends)
        what = f"{pocket.name}: middle of the mouth to the nearest end of a straight nose"
        yield DescribedNumber("derived", what, millimetres(nearest), "mm", "tangent arcs [X]")


def _words(key: str) -> str:
    return key.replace("_", " ")
