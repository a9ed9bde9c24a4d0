"""Documents for tests of live plays, and what is read back out of an answer."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from copy import deepcopy
from pathlib import Path
from typing import Any

from stunline.shot.position_file.shipped import shipped_position_path

Document = dict[str, Any]
SIZE = [920.0, 610.0]

_PATH = re.compile(r'<path id="(plan-[^"]+)"[^>]* d="([^"]+)"')
_NUMBER = r"-?[0-9]*\.?[0-9]+"


def shipped(name: str) -> Document:
    """A shipped position as the page holds it."""
    return tomllib.loads(Path(shipped_position_path(name)).read_text("utf-8"))


def asked(document: Mapping[str, Any], **more: Any) -> dict[str, Any]:
    """A message of the page; ``drawing`` holds further wishes of the drawing."""
    drawing = {"size": SIZE, **more.pop("drawing", {})}
    return {"play": 1, "document": deepcopy(dict(document)), "drawing": drawing, **more}


def with_strike(document: Document, **changes: Any) -> Document:
    """The document with other values of its strike."""
    return {**document, "strike": {**document["strike"], **changes}}


def drawn_paths(fragment: str) -> dict[str, str]:
    """Every path of a layer by its id, as SVG's path data."""
    return dict(_PATH.findall(fragment))


def points_of(path: str) -> list[tuple[float, float]]:
    """Start, control if any, end of a line or curve, in table mm with y up."""
    head, _, tail = path.removeprefix("M").partition("Q")
    if tail:
        numbers = [float(one) for one in re.findall(_NUMBER, f"{head} {tail}")]
        return [(x, -y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
    match = re.fullmatch(rf"({_NUMBER}) ?({_NUMBER})([LHV])(.+)", head)
    assert match is not None, path
    x, y = float(match[1]), float(match[2])
    end = [float(one) for one in re.findall(_NUMBER, match[4])]
    there = {"L": lambda: (end[0], end[1]), "H": lambda: (end[0], y), "V": lambda: (x, end[0])}
    u, v = there[match[3]]()
    return [(x, -y), (u, -v)]


def words_of(fragment: str) -> list[str]:
    """The words in a layer."""
    return re.findall(r"<text[^>]*>([^<]*)<", fragment)
