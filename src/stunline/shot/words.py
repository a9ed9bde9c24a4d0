"""What balls and numbers are called at the table."""

from __future__ import annotations

import re

from stunline.equipment.model import Cloth

# Thickness words of the trade with their thickness; common practice, no source.
_THICKNESSES = (
    (1.0, "full"),
    (0.75, "three-quarter-ball"),
    (0.5, "half-ball"),
    (0.25, "quarter-ball"),
    (0.125, "fine"),
)
# Nearer than this to a named thickness it is called just that. [-]
_AS_NAMED = 0.02
# Follow ratios nearer than this to stun or rolling are called so. [-]
_AS_CALLED = 0.05
# How sure a profile is that nobody has gauged.
UNMEASURED = "assumed, not measured on your table"


def doubt_words(cloth: Cloth) -> str:
    """How far a profile's numbers may be trusted: "gauged 2026-11-30", or that nobody did."""
    if cloth.gauging is None:
        return UNMEASURED
    return f"gauged {cloth.gauging.date}".rstrip()


def thickness_words(thickness: float) -> str:
    """ "half-ball", "a little fuller than half-ball", "thinner than fine"."""
    nearest, name = min(_THICKNESSES, key=lambda one: abs(one[0] - thickness))
    difference = thickness - nearest
    if abs(difference) <= _AS_NAMED:
        return name
    if nearest == _THICKNESSES[-1][0] and difference < 0.0:
        return "thinner than fine"
    return f"a little {'fuller' if difference > 0.0 else 'thinner'} than {name}"


def arrival_words(follow_ratio: float) -> str:
    """ "rolling", "stun", "screw 40 %", "part roll 60 %", "top 120 %"."""
    if abs(follow_ratio - 1.0) <= _AS_CALLED:
        return "rolling"
    if abs(follow_ratio) <= _AS_CALLED:
        return "stun"
    percent = f"{100.0 * abs(follow_ratio):.0f} %"
    if follow_ratio < 0.0:
        return f"screw {percent}"
    return f"part roll {percent}" if follow_ratio < 1.0 else f"top {percent}"


def arrival_phrase(follow_ratio: float) -> str:
    """The same behind "arrives": "rolling", "as stun", "with 40 % screw"."""
    words = arrival_words(follow_ratio)
    if words == "stun":
        return "as stun"
    name, _, percent = words.partition(" ")
    if name == "part":
        return f"with {percent.removeprefix('roll ')} of its roll"
    return f"with {percent} {name}" if percent else words


def ball_words(name: str) -> str:
    """ "red7" → "red 7", "9" → "9 ball", "cue-ball" → "cue ball"; other names as they are."""
    if name.isdecimal():
        return f"{name} ball"
    return re.sub(r"^([a-z]+)(\d+)$", r"\1 \2", name).replace("-", " ")


def with_article(name: str) -> str:
    """ "the black", "the 9 ball", "the top cushion"; "red 7" needs none."""
    words = ball_words(name)
    return words if words[-1:].isdigit() else f"the {words}"


def ball_in_file(name: str) -> str:
    """A ball in a message about a file: as it is written there; "ball 9" for a bare number."""
    return f"ball {name}" if name.isdecimal() else name
