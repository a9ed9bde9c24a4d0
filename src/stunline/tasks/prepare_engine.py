"""Have the engine compiled before it is asked to play."""

from __future__ import annotations

from collections.abc import Callable


def prepare_engine(report: Callable[[str], None]) -> bool:
    """Compile in a child process if this machine has not yet; whether that was needed."""
    from stunline.shot import compiled

    if compiled.is_compiled():
        return False
    compiled.compile_in_child(report)
    return True
