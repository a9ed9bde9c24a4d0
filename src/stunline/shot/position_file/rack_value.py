"""A rack in a position file: its name, or its name with the size of random gaps and a seed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stunline.equipment.loose_rack import loose_rack
from stunline.equipment.model import Point, Table
from stunline.files.toml_fields import Faults, NumberField, Section
from stunline.files.toml_lines import KeyPath
from stunline.files.words import Limits, shown

_KEYS = ("rack", "gaps", "seed")
# Wider gaps are no rack: a ball's width would be 52.
_WIDEST = 5.0
_GAPS = NumberField("the size of the gaps", Limits(0.0, _WIDEST, unit="mm"), "0.2")
_LARGEST_SEED = 2**31 - 1


@dataclass(frozen=True, slots=True)
class SetRack:
    """How a file sets up a group of balls.

    Attributes:
        rack: its name on the table
        gaps: the largest gap between neighbours [m]; 0 where they touch
        seed: of the gaps
    """

    rack: str
    gaps: float = 0.0
    seed: int = 0

    def places(self, table: Table) -> dict[str, Point]:
        """Where its balls stand. [m]"""
        return loose_rack(table.racks[self.rack], self.gaps, self.seed)


def read_set_rack(
    value: object, path: KeyPath, racks: Sequence[str], faults: Faults
) -> SetRack | None:
    """``"triangle"`` or ``{ rack = "triangle", gaps = 0.2, seed = 7 }``.

    None when the value is neither, without a fault noted; or with one, when it is the second
    with something wrong in it.
    """
    if isinstance(value, str) and value in racks:
        return SetRack(value)
    if not isinstance(value, dict) or not racks:
        return None
    entry = Section(value, path, faults, _KEYS)
    entry.require("rack", "the rack", "which rack it is", f'rack = "{racks[0]}"')
    rack = entry.name("rack", "the rack", tuple(racks))
    gaps = entry.length("gaps", _GAPS) if "gaps" in entry else 0.0
    seed = _seed(entry)
    if rack is None or gaps is None or seed is None:
        return None
    return SetRack(rack, gaps, seed)


def _seed(entry: Section) -> int | None:
    value = entry.get("seed") if "seed" in entry else 0
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= _LARGEST_SEED:
        return value
    entry.faults.add(
        entry.at("seed"),
        "the seed must be a whole number",
        given=shown(value),
        allowed=f"0 to {_LARGEST_SEED}: the same number gives the same gaps",
        remedy="seed = 1",
    )
    return None
