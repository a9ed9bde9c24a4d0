"""What the page asks for as anything moves, read from the message that the server has checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from stunline.drawing.marks import Box

StripOf = Literal["pace", "height"]
# A plan as large as a wall of screens; a larger one would only cost time. [px]
_SMALLEST_SIDE, _LARGEST_SIDE = 50.0, 8192.0
_USUAL_SIZE = (960.0, 600.0)  # [px]
MOST_PINNED = 12  # more ways than that on one plan can't be told apart
MOST_WAYS = 3  # to a goal; as on the plan of a choice


@dataclass(frozen=True, slots=True)
class LiveRequest:
    """One message of the page.

    Attributes:
        play: its number, given back with the answer
        document: the position file's values
        window: of the table, that the plan shows [mm]; None: framed on the action
        size: of the plan on the screen [px]
        theme: "light" or "dark"
        pinned: strikes beside the document's, each with the keys in which it differs
        ways: strikes that meet the goal, "letter" and the keys of a pinned one
        hidden: whether the answer is kept back: only table and balls are drawn
        words: whether labels are placed; not while something is being moved
        doubt: whether it is told and drawn how far the shot may be off on this table
        signs: whether small balls may hold letters smaller than all others
        have: layers that the page holds, name → the hash that came with them
        strip: what the strip varies, or None
        strip_width: of the strip on the screen [px]
        second_ruler: whether paces stand on the strip in lengths too
        held: the ball that is being moved, or None
    """

    play: int
    document: Mapping[str, object]
    window: Box | None = None
    size: tuple[float, float] = _USUAL_SIZE
    theme: str = "light"
    pinned: tuple[Mapping[str, object], ...] = ()
    ways: tuple[Mapping[str, object], ...] = ()
    hidden: bool = False
    words: bool = True
    doubt: bool = False
    signs: bool = True
    have: Mapping[str, str] = field(default_factory=dict)
    strip: StripOf | None = None
    strip_width: float = _USUAL_SIZE[0]
    second_ruler: bool = True
    held: str | None = None

    @property
    def in_inches(self) -> bool:
        """Whether the document shows its lengths in inches."""
        return self.document.get("units") == "in"


def read_request(request: Mapping[str, Any]) -> LiveRequest:
    """The message as data; what is left out is as usual."""
    drawing: Mapping[str, Any] = request.get("drawing") or {}
    size = drawing.get("size") or _USUAL_SIZE
    window = drawing.get("window")
    return LiveRequest(
        play=int(request.get("play") or 0),
        document=request.get("document") or {},
        window=_box(window) if window else None,
        size=(_side(size[0]), _side(size[1])),
        theme="dark" if drawing.get("theme") == "dark" else "light",
        pinned=tuple((drawing.get("pinned") or ())[:MOST_PINNED]),
        ways=tuple((drawing.get("ways") or ())[:MOST_WAYS]),
        hidden=bool(drawing.get("hidden")),
        words=bool(drawing.get("words", True)),
        doubt=bool(drawing.get("doubt")),
        signs=bool(drawing.get("signs", True)),
        have=drawing.get("have") or {},
        strip=request.get("strip"),
        strip_width=_side(request.get("strip_width") or size[0]),
        second_ruler=bool(request.get("second_ruler", True)),
        held=request.get("held"),
    )


def _box(window: list[float]) -> Box:
    left, bottom, right, top = (float(side) for side in window)
    return Box(min(left, right), min(bottom, top), max(left, right), max(bottom, top))


def _side(pixels: float) -> float:
    return min(max(float(pixels), _SMALLEST_SIDE), _LARGEST_SIDE)
