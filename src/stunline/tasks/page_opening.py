"""The opening shot, played and drawn beforehand: there before the engine is.

``tools/make_opening.py`` writes it; a test holds it to what the engine gives.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from stunline.shot.position_file.shipped import shipped_position_path
from stunline.tasks.document import document_of

NAME = "edge-of-the-pack"
THEMES = ("light", "dark")
SIZE = (960.0, 640.0)  # of the plan that is drawn; the page scales it to its own [px]
_FOLDER = Path(__file__).parent / "opening"


def opening_path(theme: str) -> Path:
    """Where it is kept."""
    return _FOLDER / f"opening-{theme}.json"


def kept_opening(theme: str) -> bytes:
    """As it was computed beforehand: JSON."""
    return opening_path(theme).read_bytes()


def opening_request(theme: str) -> dict[str, Any]:
    """What the page would ask for."""
    return {
        "play": 0,
        "document": document_of(shipped_position_path(NAME).read_text(encoding="utf-8")),
        "drawing": {"size": list(SIZE), "theme": theme, "doubt": True},
    }


def compute_opening(theme: str) -> dict[str, Any]:
    """A live answer, with the document that it answers."""
    from stunline.tasks.live_play import live_play

    request = opening_request(theme)
    return {**live_play(request), "name": NAME, "document": request["document"]}


def as_text(opening: dict[str, Any]) -> str:
    """As it is kept."""
    return json.dumps(opening, ensure_ascii=False, allow_nan=False, separators=(",", ":")) + "\n"
