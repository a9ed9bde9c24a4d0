"""Teaching cue-ball control with real computation.

    >>> import stunline
    >>> read = stunline.read_position("edge-of-the-pack")   # a file, or a shipped position
    >>> result = stunline.play_shot(read)                   # solved, played, with its read-outs
    >>> ladder = stunline.climb_ladder(read)                # the same with one thing changed

Each name is imported when it is first used. In a notebook results show themselves as pictures.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from stunline import notebook

if TYPE_CHECKING:
    from stunline.tasks.climb_ladder import climb_ladder
    from stunline.tasks.play_shot import play_shot
    from stunline.tasks.read_position import read_position

__version__ = "0.1.0"
__all__ = ["__version__", "climb_ladder", "play_shot", "read_position"]

_HOMES = {
    "climb_ladder": "stunline.tasks.climb_ladder",
    "play_shot": "stunline.tasks.play_shot",
    "read_position": "stunline.tasks.read_position",
}

notebook.register()


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'stunline' has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
