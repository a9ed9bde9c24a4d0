"""Ctrl-C as a wish to stop: what was found until then is kept."""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType


@contextmanager
def stopped_by_hand() -> Iterator[Callable[[], bool]]:
    """Within, the first Ctrl-C only makes the function that is given return True; a second one
    interrupts as usual."""
    asked = threading.Event()

    def note(_number: int, _frame: FrameType | None) -> None:
        if asked.is_set():
            raise KeyboardInterrupt
        asked.set()

    if threading.current_thread() is not threading.main_thread():
        yield asked.is_set
        return
    before = signal.signal(signal.SIGINT, note)
    try:
        yield asked.is_set
    finally:
        signal.signal(signal.SIGINT, before)
