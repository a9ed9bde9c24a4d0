"""Reads a table file's cloth profiles: named sets of coefficients, the default first."""

from __future__ import annotations

from stunline.equipment.gauging import read_gauging
from stunline.equipment.measures import (
    ACCELERATION,
    PER_SPEED,
    PLAIN_OR_ZERO,
    SHARE,
    SHARE_OR_ZERO,
    SPIN_CHANGE,
    Measures,
)
from stunline.equipment.model import Cloth, Coefficients, SpeedDependentFriction
from stunline.files.toml_fields import Section

_NUMBERS = {
    "sliding_friction": SHARE,
    "rolling_resistance": SHARE,
    "spin_deceleration": SPIN_CHANGE,
    "ball_restitution": SHARE,
    "cushion_restitution": SHARE,
    "cushion_friction": SHARE_OR_ZERO,
    "gravity": ACCELERATION,
}
_FRICTION_LAW = {"floor": SHARE_OR_ZERO, "span": PLAIN_OR_ZERO, "decay": PER_SPEED}
_KEYS = ("title", "note", "ball_friction", "gauging", *_NUMBERS)


def read_cloths(root: Section) -> dict[str, Cloth]:
    """Profiles by name, in the file's order."""
    entries = root.tables("cloths", _KEYS, "[cloths.match]")
    if root.get("cloths") == {}:
        root.faults.add(
            root.at("cloths"),
            "there is no cloth profile",
            given="an empty table",
            allowed="one or more, the default first",
            remedy="add [cloths.match] as in a shipped table",
        )
    read = {name: _cloth(entry, name) for name, entry in entries.items()}
    return {name: cloth for name, cloth in read.items() if cloth is not None}


def _cloth(entry: Section, name: str) -> Cloth | None:
    measures = Measures()
    read = {key: measures.read(entry, key, quantity) for key, quantity in _NUMBERS.items()}
    ball_friction = _ball_friction(entry, measures)
    title = entry.text("title", "the title", "match cloth, new and fast") or name
    note = entry.text("note", "the note", "what is assumed") or ""
    gauging = read_gauging(entry)
    numbers = {key: value for key, value in read.items() if value is not None}
    if ball_friction is None or len(numbers) < len(_NUMBERS):
        return None
    prefix = ".".join(str(part) for part in entry.path) + "."
    sources = {key.removeprefix(prefix): source for key, source in measures.sources.items()}
    coefficients = Coefficients(
        sliding_friction=numbers["sliding_friction"],
        rolling_resistance=numbers["rolling_resistance"],
        spin_deceleration=numbers["spin_deceleration"],
        ball_restitution=numbers["ball_restitution"],
        ball_friction=ball_friction,
        cushion_restitution=numbers["cushion_restitution"],
        cushion_friction=numbers["cushion_friction"],
        gravity=numbers["gravity"],
    )
    return Cloth(name, title, note, coefficients, sources, gauging)


def _ball_friction(entry: Section, measures: Measures) -> float | SpeedDependentFriction | None:
    """A constant like any other number, or the three numbers of the law of slip."""
    value = entry.get("ball_friction")
    if not (isinstance(value, dict) and set(value) & set(_FRICTION_LAW)):
        return measures.read(entry, "ball_friction", SHARE_OR_ZERO)
    law = entry.section("ball_friction", tuple(_FRICTION_LAW), "[cloths.match.ball_friction]")
    if law is None:
        return None
    read = {key: measures.read(law, key, quantity) for key, quantity in _FRICTION_LAW.items()}
    numbers = {key: number for key, number in read.items() if number is not None}
    return SpeedDependentFriction(**numbers) if len(numbers) == len(_FRICTION_LAW) else None
