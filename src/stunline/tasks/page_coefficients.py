"""What the page shows of a cloth's coefficients: value, bounds, and how far each is known.

The bounds shown are those that a document is held to: a file's own and, where narrower, the
page's. The page checks nothing itself; whatever is typed is read as a file is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from stunline.equipment.model import Cloth, SpeedDependentFriction
from stunline.files.words import Limits
from stunline.shot.position_file.coefficients_section import (
    BALL_FRICTION,
    FLAGS,
    NUMBERS,
    SPEED_DEPENDENT,
)
from stunline.tasks.page_bounds import LEAST_COEFFICIENTS

Row = dict[str, Any]
# In the order in which a shot meets them, each with the step of an arrow key, in its own unit.
_STEPS: Mapping[str, float] = {
    "sliding_friction": 0.01,
    "rolling_resistance": 0.001,
    "spin_deceleration": 0.5,
    "ball_restitution": 0.01,
    "ball_friction": 0.01,
    "cushion_restitution": 0.01,
    "cushion_friction": 0.01,
    "gravity": 0.01,
}
# Marks of sources in the data files, and what a coach is told by them.
_KNOWN_BY: Mapping[str, str] = {
    "S": "published",
    "R": "published",
    "M": "from memory",
    "A": "assumed",
    "P": "usual practice",
}
_MARK = re.compile(r" ?\[([A-Z])[^\]]*\]$")
# A constant to begin with where the cloth has a law of slip: the value at usual cuts, 0.06, as a
# file's own example has it. [M]
_USUAL_BALL_FRICTION = 0.06


def coefficient_rows(cloth: Cloth) -> list[Row]:
    """Each number of the profile with its unit, bounds, step and source."""
    return [_row(cloth, key, step) for key, step in _STEPS.items()]


def switch_rows(cloth: Cloth) -> list[Row]:
    """What is on or off: squirt, the pockets."""
    return [
        {"key": key, "words": _words(key), "value": bool(getattr(cloth.coefficients, key))}
        for key in FLAGS
    ]


def _row(cloth: Cloth, key: str, step: float) -> Row:
    field = BALL_FRICTION if key == "ball_friction" else NUMBERS[key]
    least = LEAST_COEFFICIENTS.get(key)
    limits = field.limits if least is None else Limits(least, field.limits.high, field.limits.unit)
    known_by, source = _source(cloth, key)
    return {
        "key": key,
        "words": _words(key),
        "unit": limits.unit,
        "least": limits.low,
        "most": limits.high,
        "allowed": limits.words(),
        "step": step,
        **_value(getattr(cloth.coefficients, key)),
        "known_by": known_by,
        "source": source,
    }


def _value(value: float | SpeedDependentFriction) -> Row:
    """The profile's number; for a law of slip its name, what it says, and a number instead."""
    if not isinstance(value, SpeedDependentFriction):
        return {"value": value, "law": None, "law_words": ""}
    slow, fast = value.floor + value.span, value.floor
    words = f"by slip, {slow:.2f} to {fast:.2f}"
    return {"value": _USUAL_BALL_FRICTION, "law": SPEED_DEPENDENT, "law_words": words}


def _source(cloth: Cloth, key: str) -> tuple[str, str]:
    """How the number is known, in a word; and where it is from."""
    sources = cloth.sources
    found = sources.get(key) or next(
        (one for name, one in sources.items() if name.startswith(f"{key}.")), None
    )
    if found is None:
        return "", ""
    mark = _MARK.search(found.source)
    known_by = _KNOWN_BY.get(mark[1], "") if mark else ""
    return known_by, _MARK.sub("", found.source)


def _words(key: str) -> str:
    return key.replace("_", " ")
