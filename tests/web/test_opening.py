"""The opening shot kept in the package is what the engine gives."""

from __future__ import annotations

import json
import math
import re
from typing import Any

import pytest

from stunline.tasks.page_opening import THEMES, compute_opening, kept_opening
from stunline.web.live_protocol import LiveAnswer

NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e-?\d+)?")
# Machines may differ in the last bits of a play, and so in the last figure of a place.
ABSOLUTE = 2e-3


def differences(kept: Any, now: Any, at: str = "$") -> list[str]:
    """Where two answers differ by more than rounding."""
    if isinstance(kept, dict) and isinstance(now, dict) and kept.keys() == now.keys():
        return [one for key in kept for one in differences(kept[key], now[key], f"{at}.{key}")]
    if isinstance(kept, list) and isinstance(now, list) and len(kept) == len(now):
        pairs = enumerate(zip(kept, now, strict=True))
        return [one for i, (a, b) in pairs for one in differences(a, b, f"{at}[{i}]")]
    if isinstance(kept, str) and isinstance(now, str):
        same_words = NUMBER.sub("#", kept) == NUMBER.sub("#", now)
        numbers = zip(NUMBER.findall(kept), NUMBER.findall(now), strict=False)
        return [] if same_words and all(_near(float(a), float(b)) for a, b in numbers) else [at]
    if isinstance(kept, int | float) and isinstance(now, int | float):
        return [] if _near(kept, now) else [at]
    return [] if kept == now else [at]


def _near(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=1e-6, abs_tol=ABSOLUTE)


def test_the_comparison_sees_a_moved_line_and_a_changed_word() -> None:
    kept = {"a": ['<line x1="1.5"/>', 2.0]}
    assert differences(kept, {"a": ['<line x1="1.5001"/>', 2.0]}) == []
    assert differences(kept, {"a": ['<line x1="1.6"/>', 2.0]}) == ["$.a[0]"]
    assert differences(kept, {"a": ['<path x1="1.5"/>', 2.0]}) == ["$.a[0]"]
    assert differences(kept, {"a": ['<line x1="1.5"/>', 2.1]}) == ["$.a[1]"]


@pytest.mark.parametrize("theme", THEMES)
def test_the_kept_opening_is_what_the_engine_gives(theme: str) -> None:
    kept = json.loads(kept_opening(theme))
    now = json.loads(json.dumps(compute_opening(theme)))
    for part in (kept, now):
        part.pop("hashes")  # of texts that may differ in a last figure
    told = "run tools/make_opening.py when the engine or the drawing has changed"
    assert differences(kept, now) == [], told


@pytest.mark.parametrize("theme", THEMES)
def test_it_has_the_shape_of_a_live_answer(theme: str) -> None:
    kept = json.loads(kept_opening(theme))
    assert LiveAnswer.model_validate(kept).sentence
