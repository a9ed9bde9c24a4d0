"""Reads a number with its unit and source, `{ value, unit, source }`, out of a table file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from stunline.equipment.model import Sourced
from stunline.files.toml_fields import NumberField, Section
from stunline.files.words import Limits
from stunline.units import MILLIMETRES_PER_INCH, MILLIMETRES_PER_METRE

GRAMS_PER_KILOGRAM = 1000.0


@dataclass(frozen=True, slots=True)
class Quantity:
    """A kind of number: the units it may be written in, and what it may be.

    Attributes:
        units: unit → how many SI units one of it is
        positive: whether zero is refused
        signed: whether a negative number is allowed
        most: largest value, in SI units
    """

    units: Mapping[str, float]
    positive: bool = True
    signed: bool = False
    most: float = 1e6

    def limits(self) -> Limits:
        """The limits that a written value is held to, whatever its unit."""
        if self.signed:
            return Limits()
        return Limits(low=0.0, above_low=self.positive)


PLAIN = Quantity({"1": 1.0})
PLAIN_OR_ZERO = Quantity({"1": 1.0}, positive=False)
SHARE = Quantity({"1": 1.0}, most=1.0)
SHARE_OR_ZERO = Quantity({"1": 1.0}, positive=False, most=1.0)
MASS = Quantity({"kg": 1.0, "g": 1.0 / GRAMS_PER_KILOGRAM}, most=100.0)
SPIN_CHANGE = Quantity({"rad/s²": 1.0}, positive=False, most=100.0)
ACCELERATION = Quantity({"m/s²": 1.0}, most=100.0)
PER_SPEED = Quantity({"s/m": 1.0}, positive=False)
ROWS = Quantity({"rows": 1.0}, most=20.0)
CUE_BALL_RADII = Quantity({"R": 1.0}, most=1.0)
LENGTH_UNITS = {
    "mm": 1.0 / MILLIMETRES_PER_METRE,
    "in": MILLIMETRES_PER_INCH / MILLIMETRES_PER_METRE,
    "m": 1.0,
}
LENGTH = Quantity(LENGTH_UNITS, most=100.0)


@dataclass(slots=True)
class Measures:
    """The measures read so far: a table's own lengths become units for later ones.

    Attributes:
        sources: dotted key → the number as written
        own_units: unit → metres, "R", "length", "width", "baulk line", "D radius"
    """

    sources: dict[str, Sourced] = field(default_factory=dict)
    own_units: dict[str, float] = field(default_factory=dict)

    def lengths(self, signed: bool = False) -> Quantity:
        """A length in mm, in, m or one of the table's own measures."""
        return Quantity({**LENGTH_UNITS, **self.own_units}, signed=signed, most=100.0)

    def read(
        self, section: Section, key: str, quantity: Quantity, extra: tuple[str, ...] = ()
    ) -> float | None:
        """The number in SI units; None with a fault noted when it is missing or wrong."""
        example = f'{{ value = 1.0, unit = "{next(iter(quantity.units))}", source = "…" }}'
        section.require(key, key.replace("_", " "), "a value, its unit and its source", example)
        entry = section.section(key, ("value", "unit", "source", *extra), example)
        if entry is None:
            return None
        for part in ("value", "unit", "source"):
            entry.require(part, f"the {part}", "a value, its unit and its source", example)
        what = f"the {key.replace('_', ' ')}"
        value = entry.number("value", NumberField(what, quantity.limits(), "1.0"))
        unit = entry.name("unit", "the unit", tuple(quantity.units))
        source = entry.text("source", "the source", "own measurement")
        if value is None or unit is None or source is None:
            return None
        return self._kept(entry, value, unit, source, quantity)

    def _kept(
        self, entry: Section, value: float, unit: str, source: str, quantity: Quantity
    ) -> float | None:
        """The value in SI units, its source noted; None when it is out of all proportion."""
        scale = quantity.units[unit]
        # Dividing by 1000 rounds once where multiplying by 0.001 would round twice.
        per_unit = round(1.0 / scale)
        exact = per_unit > 1 and 1.0 / per_unit == scale
        converted = value / per_unit if exact else value * scale
        if abs(converted) > quantity.most:
            most = Limits(-quantity.most if quantity.signed else 0.0, quantity.most)
            entry.faults.add(
                entry.at("value"),
                "the value is out of proportion",
                given=f"{value:g} {unit}",
                allowed=f"{most.words()} in SI units",
                remedy="check the value and its unit",
            )
            return None
        key = ".".join(str(part) for part in entry.path)
        self.sources[key] = Sourced(value, unit, source)
        return converted
